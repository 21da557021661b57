// SPDX-License-Identifier: GPL-3.0-or-later
// The little vector algebra that distances to triangles need.
#pragma once

#include <bellmouth/mesh.hpp>

#include <cmath>

namespace bellmouth::mesh {

struct Vector {
  double x = 0, y = 0, z = 0;

  Vector() = default;
  Vector(double x_, double y_, double z_) : x(x_), y(y_), z(z_) {}
  explicit Vector(const Point& point) : x(point[0]), y(point[1]), z(point[2]) {}
  [[nodiscard]] Point point() const { return {x, y, z}; }

  friend Vector operator+(const Vector& a, const Vector& b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
  friend Vector operator-(const Vector& a, const Vector& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
  friend Vector operator*(double f, const Vector& a) { return {f * a.x, f * a.y, f * a.z}; }
};

[[nodiscard]] inline double dot(const Vector& a, const Vector& b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
[[nodiscard]] inline Vector cross(const Vector& a, const Vector& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
[[nodiscard]] inline double squared(const Vector& a) {
  return dot(a, a);
}
[[nodiscard]] inline double length(const Vector& a) {
  return std::sqrt(squared(a));
}

} // namespace bellmouth::mesh
