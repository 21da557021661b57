// SPDX-License-Identifier: GPL-3.0-or-later
// Whether each run meets its ports, in place and in size, and what holds it up.
#include "context.hpp"
#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace bellmouth::check {

namespace {

using enum Severity;

void check_meeting(Context& c, const RunView& run) {
  if (!*run.meeting) {
    const bool from = !run.from->pose, to = !run.to->pose;
    c.add_at_run(
        Id::port_not_measured, note, run,
        from && to ? fmt::format("Ports {} and {} are not measured.", words(run.from->id.text),
                                 words(run.to->id.text))
                   : fmt::format("Port {} is not measured.", words((from ? run.from : run.to)->id.text)),
        "Until both ends have a place and a direction, nothing says whether the run meets its port.");
    return;
  }
  const auto& meeting = **run.meeting;
  const bool apart = above(meeting.gap_m, c.limits.end_gap_m);
  const bool askew = above(meeting.angle_rad, c.limits.end_angle_rad);
  if (apart || askew)
    c.add_at_run(
        Id::run_does_not_meet, caution, run,
        fmt::format("The run ends {} from port {} and {} off its axis; {} and {} are allowed.",
                    quantity::write_fixed(quantity::Dimension::length, meeting.gap_m, "mm", 1),
                    words(run.to->id.text), degrees(meeting.angle_rad), millimetres(c.limits.end_gap_m),
                    degrees(c.limits.end_angle_rad)),
        "Hoses take up little. Change a length, an angle or a clocking, or measure the ports again.");
}

void check_bore(Context& c, const RunView& run) {
  double least_m = 0;
  std::optional<std::size_t> at;
  for (std::size_t row = 0; row < run.rows(); ++row) {
    if (build::is_fitting(run.shape(row)))
      continue;
    const double bore_m = std::min(build::bore_in_m(run.shape(row)), build::bore_out_m(run.shape(row)));
    if (!at || bore_m < least_m) {
      least_m = bore_m;
      at = row;
    }
  }
  // A run that begins at a narrow port cannot help being narrow there.
  const double ports_m = std::min(run.from->bore_m, run.to->bore_m);
  if (at && below(least_m, c.limits.bore_share * ports_m))
    c.add_at_row(
        Id::smaller_than_port, caution, run, *at,
        fmt::format("A bore of {} between ports of {} and {}.", millimetres(least_m),
                    millimetres(run.from->bore_m), millimetres(run.to->bore_m)),
        "The duct restricts more than what it joins. Take a tube with at least the smaller port's bore.");
}

void check_support(Context& c, const RunView& run) {
  double length_m = 0;
  std::size_t first = 0;
  const auto finish = [&] {
    if (above(length_m, c.limits.support_m))
      c.add_at_row(
          Id::long_unsupported, note, run, first,
          fmt::format("{} of rigid duct from here to the next hose.", millimetres(length_m)),
          fmt::format(
              "Hoses do not carry it. Plan {} with a lined clip on the side that its stiffer end belongs to.",
              length_m <= 2 * c.limits.support_m
                  ? std::string("a bracket")
                  : fmt::format("{} brackets", std::floor(length_m / c.limits.support_m))));
    length_m = 0;
  };
  for (std::size_t row = 0; row < run.rows(); ++row) {
    if (build::is_flexible(run.shape(row))) {
      finish();
    } else if (build::is_rigid(run.shape(row))) {
      if (length_m == 0)
        first = row;
      length_m += run.fit->rows[row].centreline_length_m;
    }
  }
  finish();
}

} // namespace

void check_placing(Context& c) {
  for (const auto& run : c.runs) {
    check_meeting(c, run);
    check_bore(c, run);
    check_support(c, run);
  }
}

} // namespace bellmouth::check
