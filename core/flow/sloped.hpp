// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities that carry their slopes by the unknowns along the march.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

namespace bellmouth::flow {

/// A quantity with its derivatives by the N unknowns. They are exact but for the friction factor's answer to
/// Reynolds number and the heat capacity's to temperature; they steer Newton's method and nothing else.
template <std::size_t N> struct Sloped {
  double value = 0;
  std::array<double, N> by{};

  /// The same value that answers to no unknown.
  [[nodiscard]] static Sloped constant(double value) { return {value, {}}; }

  Sloped& operator+=(const Sloped& other) {
    value += other.value;
    for (std::size_t i = 0; i < N; ++i)
      by[i] += other.by[i];
    return *this;
  }
  /// Adds `factor` times the slopes of another quantity.
  Sloped& lean(double factor, const Sloped& other) {
    for (std::size_t i = 0; i < N; ++i)
      by[i] += factor * other.by[i];
    return *this;
  }
  friend Sloped operator*(double factor, Sloped quantity) {
    quantity.value *= factor;
    for (double& slope : quantity.by)
      slope *= factor;
    return quantity;
  }
  friend Sloped operator*(const Sloped& a, const Sloped& b) {
    Sloped product = b.value * a;
    return product.lean(a.value, b);
  }
  friend Sloped operator/(const Sloped& a, const Sloped& b) {
    Sloped quotient = (1 / b.value) * a;
    return quotient.lean(-quotient.value / b.value, b);
  }
  friend Sloped operator-(Sloped quantity, double constant) {
    quantity.value -= constant;
    return quantity;
  }
};

/// exp(x) where x is an unknown of its own.
template <std::size_t N> [[nodiscard]] Sloped<N> exp_of(double x, std::size_t index) {
  Sloped<N> result = Sloped<N>::constant(std::exp(x));
  result.by[index] = result.value;
  return result;
}

} // namespace bellmouth::flow
