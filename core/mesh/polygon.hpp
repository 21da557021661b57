// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <bellmouth/mesh.hpp>

#include <span>

namespace bellmouth::mesh {

/// A polygon split into triangles between its corners.
struct Split {
  std::vector<Triangle> triangles; ///< numbers of corners; two fewer than there are
  bool crosses = false;            ///< the outline crosses itself: the rest was split as a fan
};
/// Corners that a polygon may have unless it is convex: cutting off ears takes the square of their number.
inline constexpr std::size_t corners_at_most = 2000;
/// Splits a polygon of three corners or more, not quite flat perhaps, by cutting off ears (Meisters 1975) in
/// the plane of its area vector. A convex one with more than `corners_at_most` corners is split as a fan; one
/// that is not must not come (an assertion).
[[nodiscard]] Split split(std::span<const Point> outline);
/// Whether all corners of the outline turn to one side.
[[nodiscard]] bool is_convex(std::span<const Point> outline);

} // namespace bellmouth::mesh
