// SPDX-License-Identifier: GPL-3.0-or-later
// Sums with points and directions, and two more of them.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/build/vectors.hpp>

#include <cmath>

namespace bellmouth::bay {

using build::cross, build::dot, build::length, build::minus, build::plus, build::times, build::unit;
using build::Vector;

/// a x + b y.
[[nodiscard]] inline Vector combined(double a, const Vector& x, double b, const Vector& y) {
  return {a * x[0] + b * y[0], a * x[1] + b * y[1], a * x[2] + b * y[2]};
}
/// Some unit vector at right angles to a unit vector.
[[nodiscard]] inline Vector square_to(const Vector& a) {
  const Vector other = std::abs(a[0]) < 0.6 ? Vector{1, 0, 0} : Vector{0, 1, 0};
  return unit(cross(a, other));
}

} // namespace bellmouth::bay
