// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/triangle_mesh.hpp"

#include <algorithm>
#include <cassert>
#include <limits>

namespace bellmouth::ui::scene {

namespace {

Vector triangle_cross(const std::vector<Vector>& points, const std::array<std::uint32_t, 3>& triangle) {
  const Vector& a = points[triangle[0]];
  return cross(minus(points[triangle[1]], a), minus(points[triangle[2]], a));
}

/// The vector as a unit normal; "up" where it has no length.
std::array<float, 3> normal_along(const Vector& vector) {
  const double size = length(vector);
  if (!(size > 0))
    return {0, 0, 1};
  return {static_cast<float>(vector[0] / size), static_cast<float>(vector[1] / size),
          static_cast<float>(vector[2] / size)};
}

} // namespace

void TriangleMesh::add(const TriangleMesh& other) {
  const auto first = static_cast<std::uint32_t>(points_m.size());
  assert(along.size() == points_m.size() || other.along.empty());
  points_m.insert(points_m.end(), other.points_m.begin(), other.points_m.end());
  normals.insert(normals.end(), other.normals.begin(), other.normals.end());
  along.insert(along.end(), other.along.begin(), other.along.end());
  for (const auto& triangle : other.triangles)
    triangles.push_back({first + triangle[0], first + triangle[1], first + triangle[2]});
  for (const auto& edge : other.edges)
    edges.push_back({first + edge[0], first + edge[1]});
  closed = closed && other.closed;
  convex = false;
}

void TriangleMesh::move(const mesh::Placement& placement) {
  const auto& axes = placement.axes;
  for (Vector& point : points_m)
    point = placement.to_bay(point);
  for (auto& normal : normals)
    normal = normal_along(plus(plus(times(normal[0], axes[0]), axes[1], normal[1]), axes[2], normal[2]));
  if (dot(cross(axes[0], axes[1]), axes[2]) < 0)
    for (auto& triangle : triangles)
      std::swap(triangle[1], triangle[2]);
}

double volume_m3(const TriangleMesh& mesh) {
  // Each triangle and one point of the mesh span a tetrahedron; near the mesh, so that little cancels.
  double six_times = 0;
  for (const auto& triangle : mesh.triangles)
    six_times += dot(minus(mesh.points_m[triangle[0]], mesh.points_m.front()),
                     triangle_cross(mesh.points_m, triangle));
  return six_times / 6;
}

Extent extent(const TriangleMesh& mesh, const mesh::Placement& placement) {
  assert(!mesh.points_m.empty());
  constexpr double far = std::numeric_limits<double>::infinity();
  Extent box{{far, far, far}, {-far, -far, -far}};
  for (const Vector& point : mesh.points_m) {
    const Vector placed = placement.to_bay(point);
    for (std::size_t axis = 0; axis < 3; ++axis) {
      box.low[axis] = std::min(box.low[axis], placed[axis]);
      box.high[axis] = std::max(box.high[axis], placed[axis]);
    }
  }
  return box;
}

Extent united(const Extent& a, const Extent& b) {
  Extent box;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    box.low[axis] = std::min(a.low[axis], b.low[axis]);
    box.high[axis] = std::max(a.high[axis], b.high[axis]);
  }
  return box;
}

TriangleMesh surface_mesh(const mesh::Surface& surface) {
  TriangleMesh mesh;
  mesh.points_m = surface.points;
  mesh.triangles = surface.triangles;
  mesh.closed = false;
  // The normal of a point is the mean of its triangles', each by its area.
  std::vector<Vector> sums(surface.points.size(), Vector{});
  for (const auto& triangle : surface.triangles) {
    const Vector normal = triangle_cross(surface.points, triangle);
    for (const std::uint32_t corner : triangle)
      sums[corner] = plus(sums[corner], normal);
  }
  mesh.normals.reserve(sums.size());
  for (const Vector& sum : sums)
    mesh.normals.push_back(normal_along(sum));
  return mesh;
}

TriangleMesh coarse_mesh(const mesh::Surface& surface) {
  constexpr std::size_t coarse_triangles = 15'000;
  return surface_mesh(mesh::thinned(surface, coarse_triangles));
}

} // namespace bellmouth::ui::scene
