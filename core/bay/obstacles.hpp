// SPDX-License-Identifier: GPL-3.0-or-later
// What stands in the bay in one of its states: keep-outs and the spigots of ports, where they are then.
#pragma once

#include <bellmouth/bay/nearest.hpp>
#include <bellmouth/bay/scan_surface.hpp>
#include <bellmouth/bay/solids.hpp>

#include <optional>
#include <variant>
#include <vector>

namespace bellmouth::bay {

struct Obstacle {
  Neighbour neighbour;
  std::variant<BoxSolid, CylinderSolid, SphereSolid, HalfSpaceSolid, ScanSurface> solid;
  const build::MachineId* body_of = nullptr; ///< the machine whose body it is
  double required_m = 0, doubt_m = 0;
  double share = 0; ///< of the engine's movement: 0 or 1

  [[nodiscard]] bool is_scan() const { return std::holds_alternative<ScanSurface>(solid); }
  /// No point of its surface is nearer to the point than this.
  [[nodiscard]] double no_nearer_than(const Vector& point) const;
};
[[nodiscard]] std::vector<Obstacle> obstacles(const build::Build& build, const build::BayState* state);

/// Where a stretch comes nearest to an obstacle. A distance that is not below `cutoff` need not be the least.
/// `hint`: a point of a scan's surface from which the stretch may not be far; none is no worse than that.
[[nodiscard]] Touch nearest_to(const Obstacle& obstacle, const Stretch& stretch, double cutoff,
                               const std::optional<Vector>& hint);

} // namespace bellmouth::bay
