// SPDX-License-Identifier: GPL-3.0-or-later
// Bosses and flanges: where they sit, and the hole for them.
#include "parts.hpp"

#include <bellmouth/build/fittings.hpp>
#include <bellmouth/joint/threads.hpp>
#include <bellmouth/list/text.hpp>

#include <cassert>
#include <variant>

namespace bellmouth::list {
namespace {

std::optional<double> hole_m(const build::Shape& shape) {
  if (const auto* const flange = std::get_if<build::ValveFlange>(&shape))
    return flange->bore_m;
  const joint::Thread* const thread = joint::find_thread(std::get<build::SensorBoss>(shape).thread);
  return thread != nullptr ? std::optional(thread->major_diameter_m) : std::nullopt;
}

double clocking_rad(const build::Shape& shape) {
  if (const auto* const flange = std::get_if<build::ValveFlange>(&shape))
    return flange->clocking_rad;
  return std::get<build::SensorBoss>(shape).clocking_rad;
}

/// Straight before the bend of a host; its whole length where it does not bend.
double before_bend_m(const build::Shape& host, double length_m) {
  return std::visit(
      [&](const auto& s) {
        if constexpr (requires { s.leg_in_m; })
          return s.leg_in_m;
        else
          return length_m;
      },
      host);
}

} // namespace

void list_fittings(const Work& work, Lists& lists) {
  for (std::size_t i = 0; i < work.runs.size(); ++i) {
    const build::Run& run = *work.runs[i];
    for (std::size_t row = 0; row < run.pieces.size(); ++row) {
      const build::Piece& piece = run.pieces[row];
      if (!build::is_fitting(piece.shape))
        continue;
      assert(work.fits[i].rows[row].host);
      const std::size_t on = work.fits[i].rows[row].host.value_or(row);
      const build::Shape& host = run.pieces[on].shape;
      const double length_m = build::full_length_m(host);
      FittingLine& line = lists.fittings.emplace_back();
      line.piece = reference(work, run, row);
      line.host = reference(work, run, on);
      line.title = build::title(piece);
      line.size = size_text(piece.shape);
      line.position_m = build::position_m(piece.shape);
      line.from_outlet_m = length_m - line.position_m;
      line.clocking_rad = shorter_way_rad(clocking_rad(piece.shape));
      const double share = length_m > 0 ? line.position_m / length_m : 0.0;
      line.diameter_m =
          (1 - share) * build::outer_diameter_in_m(host) + share * build::outer_diameter_out_m(host);
      line.round_m = line.clocking_rad * line.diameter_m / 2;
      // In and behind a bend it counts from that bend.
      const bool before = line.position_m <= before_bend_m(host, length_m);
      line.reference = reference_before(work, run, before ? on : on + 1);
      line.hole_m = hole_m(piece.shape);
    }
  }
}

} // namespace bellmouth::list
