// SPDX-License-Identifier: GPL-3.0-or-later
// Cut list and fittings.
#include "parts.hpp"
#include "text.hpp"

#include <spdlog/fmt/fmt.h>

#include <cassert>
#include <iterator>
#include <string_view>
#include <variant>

namespace bellmouth::list {
namespace {

/// How an end is made ready for its joint.
std::string_view treatment(const joint::End& end, const joint::Joint& joint) {
  if (end.flexible)
    return "hose";
  if (joint.kind == joint::Kind::weld)
    return end.beaded ? "bead, weld" : "weld";
  return end.beaded ? "bead" : "plain";
}

/// What the maker has to know besides the length.
class NoteWriter {
public:
  explicit NoteWriter(std::string& out) : out_(out) {}

  void operator()(const build::TubeBend& s) { turn(s.angle_rad, s.radius_m, s.clocking_rad); }
  void operator()(const build::HoseElbow& s) { turn(s.angle_rad, s.radius_m, s.clocking_rad); }
  void operator()(const build::MitredBend& s) {
    const joint::Wedge wedge = joint::wedge(s.outer_diameter_m, s.radius_m, s.angle_rad, s.joints);
    turn(s.angle_rad, s.radius_m, s.clocking_rad);
    put(", cuts at {} deg", in_deg(wedge.cut_angle_rad));
    if (s.joints > 1)
      put(", {} x wedge {} long side, {} short side", s.joints - 1, in_tenths(wedge.long_side_m),
          in_tenths(wedge.short_side_m));
  }
  template <class S> void operator()(const S&) {} // straight: nothing besides the length

private:
  void turn(double angle_rad, double radius_m, double clocking_rad) {
    put("{} deg, centre-line radius {}, clocking {} deg", in_deg(angle_rad), in_tenths(radius_m),
        in_deg(clocking_rad));
  }
  template <class... Ts> void put(fmt::format_string<Ts...> format, Ts&&... values) {
    fmt::format_to(std::back_inserter(out_), format, std::forward<Ts>(values)...);
  }

  std::string& out_;
};

CutLine cut_line(build::PieceRef ref, const build::Piece& piece, const joint::Row& row,
                 const joint::Joint& before, const joint::Joint& behind) {
  CutLine line;
  line.piece = std::move(ref);
  line.title = build::title(piece);
  line.size = size_text(piece.shape);
  line.cut_length_m = build::full_length_m(piece.shape);
  line.centreline_length_m = row.centreline_length_m;
  line.engagement_in_m = before.engagement_m;
  line.engagement_out_m = behind.engagement_m;
  line.ends.append(treatment(before.downstream, before))
      .append(" / ")
      .append(treatment(behind.upstream, behind));
  std::visit(NoteWriter(line.note), piece.shape);
  return line;
}

FittingLine fitting_line(build::PieceRef ref, build::PieceRef host, const build::Piece& piece) {
  FittingLine line;
  line.piece = std::move(ref);
  line.host = std::move(host);
  line.title = build::title(piece);
  line.size = size_text(piece.shape);
  std::visit(
      [&](const auto& s) {
        if constexpr (requires { s.position_m; }) {
          line.position_m = s.position_m;
          line.clocking_rad = s.clocking_rad;
        }
      },
      piece.shape);
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
      if (build::is_fitting(piece.shape)) {
        assert(fit.rows[row].host);
        lists.fittings.push_back(fitting_line(reference(work, run, row),
                                              reference(work, run, fit.rows[row].host.value_or(row)), piece));
        continue;
      }
      lists.cuts.push_back(cut_line(reference(work, run, row), piece, fit.rows[row], fit.joints[joint],
                                    fit.joints[joint + 1]));
      ++joint;
    }
  }
}

} // namespace bellmouth::list
