// SPDX-License-Identifier: GPL-3.0-or-later
// The little vector algebra that drawing needs.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/build/vectors.hpp>

#include <cmath>

namespace bellmouth::ui::scene {

using build::cross, build::dot, build::length, build::minus, build::times, build::unit;
using build::Vector;

[[nodiscard]] inline Vector plus(const Vector& a, const Vector& b, double times = 1) {
  return {a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]};
}
/// Some unit vector at right angles to a unit vector.
[[nodiscard]] inline Vector across(const Vector& direction) {
  return unit(cross(direction, std::abs(direction[2]) < 0.9 ? Vector{0, 0, 1} : Vector{1, 0, 0}));
}

} // namespace bellmouth::ui::scene
