// SPDX-License-Identifier: GPL-3.0-or-later
// The little vector algebra that drawing needs.
#pragma once

#include <bellmouth/build.hpp>

#include <cmath>

namespace bellmouth::ui::scene {

using build::Vector;

[[nodiscard]] inline Vector plus(const Vector& a, const Vector& b, double times = 1) {
  return {a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]};
}
[[nodiscard]] inline Vector minus(const Vector& a, const Vector& b) {
  return plus(a, b, -1);
}
[[nodiscard]] inline Vector times(double factor, const Vector& a) {
  return {factor * a[0], factor * a[1], factor * a[2]};
}
[[nodiscard]] inline double dot(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
[[nodiscard]] inline Vector cross(const Vector& a, const Vector& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
[[nodiscard]] inline double length(const Vector& a) {
  return std::hypot(a[0], a[1], a[2]);
}
/// The vector must not be zero.
[[nodiscard]] inline Vector unit(const Vector& a) {
  return times(1 / length(a), a);
}
/// Some unit vector at right angles to a unit vector.
[[nodiscard]] inline Vector across(const Vector& direction) {
  return unit(cross(direction, std::abs(direction[2]) < 0.9 ? Vector{0, 0, 1} : Vector{1, 0, 0}));
}

} // namespace bellmouth::ui::scene
