// SPDX-License-Identifier: GPL-3.0-or-later
// Sums with points and directions.
#pragma once

#include <bellmouth/build/document.hpp>

#include <cmath>

namespace bellmouth::build {

/// a + factor b.
[[nodiscard]] inline Vector plus(const Vector& a, double factor, const Vector& b) {
  return {a[0] + factor * b[0], a[1] + factor * b[1], a[2] + factor * b[2]};
}
[[nodiscard]] inline Vector minus(const Vector& a, const Vector& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
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
  return std::sqrt(dot(a, a));
}
/// The vector must not be zero.
[[nodiscard]] inline Vector unit(const Vector& a) {
  return times(1 / length(a), a);
}

} // namespace bellmouth::build
