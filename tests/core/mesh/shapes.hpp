// SPDX-License-Identifier: GPL-3.0-or-later
// Surfaces and distances for the tests of meshes, written apart from what they test.
#pragma once

#include <bellmouth/mesh.hpp>

#include <algorithm>
#include <cmath>
#include <random>

namespace bellmouth::test {

using mesh::Point;
using mesh::Surface;

inline Point plus(const Point& a, const Point& b, double f = 1) {
  return {a[0] + f * b[0], a[1] + f * b[1], a[2] + f * b[2]};
}
inline double inner(const Point& a, const Point& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
inline double apart(const Point& a, const Point& b) {
  const Point d = plus(a, b, -1);
  return std::sqrt(inner(d, d));
}
inline Point between(const Point& a, const Point& b, double t) {
  return plus(a, plus(b, a, -1), t);
}

/// A sheet of nx times ny squares, each of two triangles, over 0..size in x and y; the height by a function.
template <class Height>
Surface sheet(std::uint32_t nx, std::uint32_t ny, double size_x, double size_y, Height height) {
  Surface surface;
  for (std::uint32_t j = 0; j <= ny; ++j)
    for (std::uint32_t i = 0; i <= nx; ++i) {
      const double x = size_x * i / nx, y = size_y * j / ny;
      surface.points.push_back({x, y, height(x, y)});
    }
  for (std::uint32_t j = 0; j < ny; ++j)
    for (std::uint32_t i = 0; i < nx; ++i) {
      const std::uint32_t a = j * (nx + 1) + i, b = a + 1, c = a + nx + 1, d = c + 1;
      surface.triangles.push_back({a, b, d});
      surface.triangles.push_back({a, d, c});
    }
  return surface;
}

/// The cube from 0 to 1: 8 points, 12 triangles, outwards.
inline Surface cube() {
  Surface surface;
  for (int i = 0; i < 8; ++i)
    surface.points.push_back({double(i & 1), double(i >> 1 & 1), double(i >> 2 & 1)});
  surface.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                       {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
  return surface;
}

/// Triangles here and there, of all sizes and leanings.
inline Surface scattered(std::size_t count, std::mt19937& random, double size = 1000) {
  std::uniform_real_distribution<double> anywhere(0, size), share(-1, 1), magnitude(-2, 2);
  Surface surface;
  for (std::uint32_t i = 0; i < count; ++i) {
    const Point middle{anywhere(random), anywhere(random), anywhere(random)};
    const double reach = std::pow(10, magnitude(random));
    for (int j = 0; j < 3; ++j)
      surface.points.push_back(plus(middle, {share(random), share(random), share(random)}, reach));
    surface.triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
  }
  return surface;
}

} // namespace bellmouth::test
