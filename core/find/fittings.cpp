// SPDX-License-Identifier: GPL-3.0-or-later
// Bosses and flanges of the rows that a way replaces, put onto its own.
#include "pieces.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

namespace bellmouth::find {
namespace {

/// Beside a weld or the beginning of an arc, and between two fittings, centre to centre: common practice, no
/// source found.
constexpr double from_weld_m = 12e-3, apart_m = 40e-3;

/// A straight part of a rigid row that a fitting's centre may lie on.
struct Room {
  std::size_t row;
  double from_m, to_m; ///< on the row's centreline, from its inlet end
  double starts_m;     ///< where that is on the way
  [[nodiscard]] double length_m() const { return to_m - from_m; }
};

std::vector<Room> rooms_of(const build::Run& run, const joint::RunFit& fit, std::size_t first,
                           std::size_t last) {
  std::vector<Room> rooms;
  double starts_m = 0;
  const double from_hose_m = trade::defaults().fitting_from_hose_m;
  for (std::size_t row = first; row < last; ++row) {
    const build::Shape& shape = run.pieces[row].shape;
    if (build::is_rigid(shape)) {
      double covered_in_m = 0, covered_out_m = 0;
      for (const joint::Joint& joint : fit.joints) {
        if (joint.kind != joint::Kind::hose)
          continue;
        if (joint.downstream.row == row)
          covered_in_m = joint.engagement_m;
        if (joint.upstream.row == row)
          covered_out_m = joint.engagement_m;
      }
      const auto edge_m = [&](double covered_m) {
        return covered_m > 0 ? covered_m + from_hose_m : from_weld_m;
      };
      const double length_m = build::full_length_m(shape);
      const bay::Track track = bay::track(shape, 0, 0);
      const auto offer = [&](double from_m, double to_m) {
        if (to_m >= from_m)
          rooms.push_back({row, from_m, to_m, starts_m});
      };
      if (track.angle_rad > 0) {
        offer(edge_m(covered_in_m), track.straight_in_m - from_weld_m);
        offer(length_m - track.straight_out_m + from_weld_m, length_m - edge_m(covered_out_m));
      } else {
        offer(edge_m(covered_in_m), length_m - edge_m(covered_out_m));
      }
    }
    starts_m += fit.rows[row].centreline_length_m;
  }
  return rooms;
}

} // namespace

void put_on(const build::Build& build, build::Run& run, std::size_t first, std::size_t last,
            const std::vector<build::Piece>& fittings, const std::vector<double>& shares) {
  if (fittings.empty())
    return;
  const joint::RunFit fit = joint::fit(build, run);
  std::vector<Room> rooms = rooms_of(run, fit, first, last);
  double whole_m = 0;
  for (std::size_t row = first; row < last; ++row)
    whole_m += fit.rows[row].centreline_length_m;
  std::map<std::size_t, std::vector<std::pair<double, build::Piece>>, std::greater<>> by_host; // last first
  for (std::size_t i = 0; i < fittings.size() && !rooms.empty(); ++i) {
    const double wanted_m = shares[i] * whole_m;
    // Where there is ample room before where there is hardly any; then the nearest.
    const auto worse = [&](const Room& room) {
      const double there_m = std::clamp(wanted_m - room.starts_m, room.from_m, room.to_m);
      return std::pair(room.length_m() < from_weld_m, std::abs(room.starts_m + there_m - wanted_m));
    };
    const auto best = std::ranges::min_element(rooms, {}, worse);
    const Room room = *best;
    const double spare_m = std::min(from_weld_m / 2, room.length_m() / 2);
    const double position_m =
        std::clamp(wanted_m - room.starts_m, room.from_m + spare_m, room.to_m - spare_m);
    build::Piece piece = fittings[i];
    std::visit(
        [&](auto& shape) {
          if constexpr (requires { shape.position_m; })
            shape.position_m = position_m;
        },
        piece.shape);
    by_host[room.row].emplace_back(position_m, std::move(piece));
    rooms.erase(best);
    for (const auto& [from_m, to_m] :
         {std::pair(room.from_m, position_m - apart_m), std::pair(position_m + apart_m, room.to_m)})
      if (to_m >= from_m)
        rooms.push_back({room.row, from_m, to_m, room.starts_m});
  }
  for (auto& [host, placed] : by_host) {
    std::ranges::stable_sort(placed, {}, &std::pair<double, build::Piece>::first);
    auto at = run.pieces.begin() + static_cast<std::ptrdiff_t>(host) + 1;
    for (auto& [position_m, piece] : placed)
      at = run.pieces.insert(at, std::move(piece)) + 1;
  }
}

} // namespace bellmouth::find
