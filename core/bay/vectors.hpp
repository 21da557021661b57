// SPDX-License-Identifier: GPL-3.0-or-later
// Sums with points and directions.
#pragma once

#include <bellmouth/build.hpp>

#include <cmath>

namespace bellmouth::bay {

using build::Vector;

/// a x + b y.
[[nodiscard]] inline Vector combined(double a, const Vector& x, double b, const Vector& y) {
  return {a * x[0] + b * y[0], a * x[1] + b * y[1], a * x[2] + b * y[2]};
}
/// x + b y.
[[nodiscard]] inline Vector plus(const Vector& x, double b, const Vector& y) {
  return {x[0] + b * y[0], x[1] + b * y[1], x[2] + b * y[2]};
}
[[nodiscard]] inline Vector minus(const Vector& x, const Vector& y) {
  return {x[0] - y[0], x[1] - y[1], x[2] - y[2]};
}
[[nodiscard]] inline double dot(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
[[nodiscard]] inline Vector cross(const Vector& a, const Vector& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
[[nodiscard]] inline double length(const Vector& a) {
  return std::sqrt(dot(a, a));
}
[[nodiscard]] inline Vector unit(const Vector& a) {
  return combined(1 / length(a), a, 0, a);
}
/// Some unit vector at right angles to a unit vector.
[[nodiscard]] inline Vector square_to(const Vector& a) {
  const Vector other = std::abs(a[0]) < 0.6 ? Vector{1, 0, 0} : Vector{0, 1, 0};
  return unit(cross(a, other));
}

} // namespace bellmouth::bay
