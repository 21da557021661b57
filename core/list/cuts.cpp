// SPDX-License-Identifier: GPL-3.0-or-later
// Cut list.
#include "parts.hpp"

#include <algorithm>
#include <cassert>
#include <variant>

namespace bellmouth::list {
namespace {

EndWork work_on(const joint::End& end, const joint::Joint& joint) {
  using Form = build::Connection::Kind;
  if (end.flexible)
    return EndWork::hose;
  if (end.connection.kind == Form::flange)
    return EndWork::flange;
  if (end.connection.kind == Form::thread)
    return EndWork::thread;
  if (joint.kind == joint::Kind::weld)
    return end.beaded ? EndWork::bead_weld : EndWork::weld;
  return end.beaded ? EndWork::bead : EndWork::plain;
}

/// What comes off a stock item's length or leg.
std::optional<double> off(const std::optional<double>& stated_m, double wanted_m) {
  return stated_m ? std::optional(std::max(*stated_m - wanted_m, 0.0)) : std::nullopt;
}

/// Cutting a hose down from what is bought.
class Trimmer {
public:
  Trimmer(const build::StockItem& item, CutLine& line) : item_(item), line_(line) {}

  void operator()(const build::Hose& s) { straight(s.length_m); }
  void operator()(const build::HumpHose& s) { straight(s.length_m); }
  void operator()(const build::HoseReducer& s) { straight(s.length_m); }
  void operator()(const build::HoseElbow& s) {
    constexpr double same_m = 0.25e-3;
    const double first_m = item_.bore_m.value_or(s.bore_in_m);
    const double second_m = item_.bore_out_m.value_or(first_m);
    const auto fits = [](const std::optional<double>& stated_m, double wanted_m) {
      return !stated_m || wanted_m <= *stated_m + same_m;
    };
    const bool as_it_lies = std::abs(first_m - s.bore_in_m) <= same_m &&
                            std::abs(second_m - s.bore_out_m) <= same_m && fits(item_.leg_in_m, s.leg_in_m) &&
                            fits(item_.leg_out_m, s.leg_out_m);
    line_.trim_in_m = off(as_it_lies ? item_.leg_in_m : item_.leg_out_m, s.leg_in_m);
    line_.trim_out_m = off(as_it_lies ? item_.leg_out_m : item_.leg_in_m, s.leg_out_m);
  }
  template <class S> void operator()(const S&) {} // rigid: by the buying plan

private:
  void straight(double length_m) {
    if (item_.per == build::Per::metre || !item_.length_m)
      return;
    line_.trim_in_m = 0.0;
    line_.trim_out_m = off(item_.length_m, length_m);
  }

  const build::StockItem& item_;
  CutLine& line_;
};

CutLine cut_line(const Work& work, build::PieceRef ref, const build::Piece& piece, const joint::Row& row,
                 const joint::Joint& before, const joint::Joint& behind) {
  CutLine line;
  line.piece = std::move(ref);
  line.title = build::title(piece);
  line.material = piece.material;
  line.shape = piece.shape;
  line.cut_length_m = build::full_length_m(piece.shape);
  line.centreline_length_m = row.centreline_length_m;
  line.engagement_in_m = before.engagement_m;
  line.engagement_out_m = behind.engagement_m;
  line.in = work_on(before.downstream, before);
  line.out = work_on(behind.upstream, behind);
  if (build::is_flexible(piece.shape))
    if (const build::StockItem* const item = item_for(work, piece))
      std::visit(Trimmer(*item, line), piece.shape);
  return line;
}

} // namespace

void list_cuts(const Work& work, Lists& lists) {
  std::size_t solid = 0;
  for (const joint::RunFit& fit : work.fits)
    solid += fit.joints.size() - 1;
  lists.cuts.reserve(solid);
  for (std::size_t i = 0; i < work.runs.size(); ++i) {
    const build::Run& run = *work.runs[i];
    const joint::RunFit& fit = work.fits[i];
    std::size_t joint = 0; // the one before the row
    for (std::size_t row = 0; row < run.pieces.size(); ++row) {
      const build::Piece& piece = run.pieces[row];
      if (build::is_fitting(piece.shape))
        continue;
      lists.cuts.push_back(cut_line(work, reference(work, run, row), piece, fit.rows[row], fit.joints[joint],
                                    fit.joints[joint + 1]));
      ++joint;
    }
  }
}

} // namespace bellmouth::list
