// SPDX-License-Identifier: GPL-3.0-or-later
// Where a tube could pass at all: shortest paths over a grid of the bay, along which places that are too near
// to something are dear (A*: Hart, Nilsson, Raphael 1968). What bends can do is not asked here; the paths
// give polygons to begin with where drawn ones find no way.
#pragma once

#include "chain.hpp"
#include "corners.hpp"
#include "random.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace bellmouth::way {

/// A polyline from port to port.
using Path = std::vector<Vector>;

/// Moves a point to where there is more room, by so much at most [m], and says what it still lacks [m].
using Easing = std::function<double(Vector& point, double most_m)>;

/// A path of least cost; unset where there is none within the grid. `liking` 0 is the straightest; more makes
/// some regions dearer than others, as drawn, so that other passages are found.
[[nodiscard]] std::optional<Path> passage(const Problem& problem, const FreeSpace& space, double radius_m,
                                          const Easing& ease, double liking, Random& random);

/// Corners for so many turns (two or more) whose polygon keeps nearest to the path, by the sum of squares.
[[nodiscard]] Corners corners_along(const Problem& problem, const Path& path, std::size_t turns);

} // namespace bellmouth::way
