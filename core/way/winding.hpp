// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <bellmouth/mesh.hpp>

namespace bellmouth::way {

/// How often a surface goes round a point: 1 inside a closed one whose triangles turn left seen from
/// outside, 0 outside. The sum of the solid angles that the triangles cover (van Oosterom & Strackee 1983;
/// Jacobson, Kavan & Sorkine-Hornung 2013).
[[nodiscard]] double winding_number(const mesh::Surface& surface, const mesh::Point& point);
/// Whichever way its triangles turn.
[[nodiscard]] bool is_inside(const mesh::Surface& surface, const mesh::Point& point);
/// Six times the volume that the surface holds, below zero where its triangles turn right.
[[nodiscard]] double six_volumes(const mesh::Surface& surface);

} // namespace bellmouth::way
