// SPDX-License-Identifier: GPL-3.0-or-later
#include "winding.hpp"

#include <bellmouth/bay/vectors.hpp>

#include <cmath>
#include <numbers>

namespace bellmouth::way {

using bay::cross, bay::dot, bay::length, bay::minus;

double winding_number(const mesh::Surface& surface, const mesh::Point& point) {
  double half_angles = 0;
  for (const mesh::Triangle& triangle : surface.triangles) {
    const mesh::Point a = minus(surface.points[triangle[0]], point),
                      b = minus(surface.points[triangle[1]], point),
                      c = minus(surface.points[triangle[2]], point);
    const double la = length(a), lb = length(b), lc = length(c);
    half_angles +=
        std::atan2(dot(a, cross(b, c)), la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
  }
  return half_angles / (2 * std::numbers::pi);
}

bool is_inside(const mesh::Surface& surface, const mesh::Point& point) {
  return std::abs(winding_number(surface, point)) > 0.5;
}

double six_volumes(const mesh::Surface& surface) {
  double sum = 0;
  for (const mesh::Triangle& triangle : surface.triangles)
    sum += dot(surface.points[triangle[0]], cross(surface.points[triangle[1]], surface.points[triangle[2]]));
  return sum;
}

} // namespace bellmouth::way
