// SPDX-License-Identifier: GPL-3.0-or-later
// Where a stretch comes nearest to the surface of a mesh.
#pragma once

#include <bellmouth/bay/nearest.hpp>
#include <bellmouth/bay/solids.hpp>
#include <bellmouth/bay/stretch.hpp>
#include <bellmouth/mesh.hpp>

#include <optional>

namespace bellmouth::bay {

/// A mesh as it lies in the bay.
struct ScanSurface {
  const mesh::Tree* tree;
  mesh::Placement placement;
  BoxSolid hull; ///< holds all of it
};
/// The tree must outlive it.
[[nodiscard]] ScanSurface scan_surface(const mesh::Tree& tree, const mesh::Placement& placement);

/// Where a stretch comes nearest to something.
struct Touch {
  Low low;
  Vector on_obstacle{};
};
/// Straights exactly; arcs by chords that leave them by no more than `sagitta_m`, the place found then taken
/// on the arc. Of the surface no inside is known: the distance goes on to minus the radius. One that is not
/// below `cutoff` need not be the least. `hint`: a point of the surface from which the stretch may not be
/// far; none is no worse than that.
[[nodiscard]] Touch nearest_to(const ScanSurface& scan, const Stretch& stretch, double cutoff,
                               const std::optional<Vector>& hint = std::nullopt,
                               double sagitta_m = usual_sagitta_m);

} // namespace bellmouth::bay
