// SPDX-License-Identifier: GPL-3.0-or-later
// What is drawn: points with normals and the triangles between them.
#pragma once

#include "scene/vector.hpp"

#include <bellmouth/mesh.hpp>

#include <array>
#include <cstdint>
#include <vector>

namespace bellmouth::ui::scene {

using mesh::Extent;

/// Triangles run anticlockwise seen from outside. Points that share a place but not a normal (at an edge)
/// stand there more than once.
struct TriangleMesh {
  std::vector<Vector> points_m;
  std::vector<std::array<float, 3>> normals; ///< one for each point, unit length
  /// How far along its piece each point lies, from 0 at the inlet to 1 at the outlet, for colouring; empty:
  /// nowhere in particular.
  std::vector<float> along;
  std::vector<std::array<std::uint32_t, 3>> triangles;
  std::vector<std::array<std::uint32_t, 2>> edges; ///< lines drawn along creases and rims
  bool closed = true;  ///< no triangle is ever seen from behind, unless a section is cut
  bool convex = false; ///< flat, or closed and convex: no line of sight meets its front twice

  /// Puts another mesh beside this one.
  void add(const TriangleMesh& other);
  /// Puts it where an affine map without shear takes it; a mirroring one turns the triangles round.
  void move(const mesh::Placement& placement);
};

/// Volume within a closed mesh [m3], by the divergence theorem.
[[nodiscard]] double volume_m3(const TriangleMesh& mesh);
/// The least box round a mesh that lies at a place; there must be a point.
[[nodiscard]] Extent extent(const TriangleMesh& mesh, const mesh::Placement& placement = {});
[[nodiscard]] Extent united(const Extent& a, const Extent& b);

/// A surface of a file as something to draw: smooth normals, seen from both sides.
[[nodiscard]] TriangleMesh surface_mesh(const mesh::Surface& surface);
/// The same thinned for dragging, to some 15 000 triangles.
[[nodiscard]] TriangleMesh coarse_mesh(const mesh::Surface& surface);

} // namespace bellmouth::ui::scene
