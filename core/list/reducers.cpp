// SPDX-License-Identifier: GPL-3.0-or-later
// Changes of bore along the runs: tapers, and steps where two tubes of different bore meet.
#include "parts.hpp"

#include <cmath>
#include <numbers>

namespace bellmouth::list {
namespace {

/// Two bores that differ by less are one: walls of 1.5 and 1.65 mm on one outside diameter (common practice,
/// no source found).
constexpr double smallest_step_m = 0.5e-3;
/// Ends of one piece that differ by less are meant to be of one bore.
constexpr double smallest_taper_m = 0.05e-3;

bool tapers(const build::Shape& shape) {
  return std::abs(build::bore_in_m(shape) - build::bore_out_m(shape)) > smallest_taper_m;
}

/// Full angle of a straight taper; a step is 180 degrees.
double included_angle_rad(double bore_in_m, double bore_out_m, double length_m) {
  return length_m > 0 ? 2 * std::atan(std::abs(bore_out_m - bore_in_m) / 2 / length_m) : std::numbers::pi;
}

class Schedule {
public:
  Schedule(const Work& work, const build::Run& run, std::vector<ReducerLine>& lines)
      : work_(work), run_(run), lines_(lines) {}

  void taper(std::size_t row, double length_m) {
    const build::Piece& piece = run_.pieces[row];
    add(row, std::string(build::title(piece)), build::bore_in_m(piece.shape), build::bore_out_m(piece.shape),
        std::max(length_m, 0.0));
    if (!piece.stock.text.empty())
      lines_.back().stock = piece.stock;
  }
  void step(std::size_t row, const char* what, const joint::End& upstream, const joint::End& downstream) {
    if (std::abs(upstream.bore_m - downstream.bore_m) > smallest_step_m)
      add(row, what, upstream.bore_m, downstream.bore_m, 0.0);
  }

private:
  void add(std::size_t row, std::string title, double bore_in_m, double bore_out_m, double length_m) {
    ReducerLine line;
    line.piece = reference(work_, run_, row);
    line.title = std::move(title);
    line.bore_in_m = bore_in_m;
    line.bore_out_m = bore_out_m;
    line.length_m = length_m;
    line.included_angle_rad = included_angle_rad(bore_in_m, bore_out_m, length_m);
    lines_.push_back(std::move(line));
  }

  const Work& work_;
  const build::Run& run_;
  std::vector<ReducerLine>& lines_;
};

} // namespace

void list_reducers(const Work& work, Lists& lists) {
  for (std::size_t i = 0; i < work.runs.size(); ++i) {
    const build::Run& run = *work.runs[i];
    const joint::RunFit& fit = work.fits[i];
    Schedule schedule(work, run, lists.reducers);
    for (std::size_t j = 0; j < fit.joints.size(); ++j) {
      const joint::Joint& joint = fit.joints[j];
      if (joint.kind ==
          joint::Kind::weld) // a run without pieces has no row to point at: its port stands for it
        schedule.step(joint.downstream.row.value_or(joint.upstream.row.value_or(0)), "step at a weld",
                      joint.upstream, joint.downstream);
      if (!joint.downstream.row)
        continue;
      const std::size_t row = *joint.downstream.row;
      const build::Shape& shape = run.pieces[row].shape;
      if (tapers(shape)) {
        schedule.taper(row, fit.rows[row].centreline_length_m);
      } else if (build::is_flexible(shape)) {
        const joint::Joint& behind = fit.joints[j + 1];
        if (joint.kind == joint::Kind::hose && behind.kind == joint::Kind::hose)
          schedule.step(row, "step inside a hose", joint.upstream, behind.downstream);
      }
    }
  }
}

} // namespace bellmouth::list
