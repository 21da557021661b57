// SPDX-License-Identifier: GPL-3.0-or-later
// A polynomial in the root of the temperature between lowest_temperature_K and highest_temperature_K. The
// transport laws, all roots, logarithms and powers, are smooth enough there for ten terms to keep to those of
// dry air within 1e-8, at a fraction of the time.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

namespace bellmouth::air::root_polynomial {

inline constexpr std::size_t terms = 10;
/// Of the powers of x, which is -1 at 200 K and 1 at 1000 K, linear in the root between.
using Coefficients = std::array<double, terms>;

inline constexpr double root_of_lowest = 14.142135623730951;  // sqrt(200)
inline constexpr double root_of_highest = 31.622776601683793; // sqrt(1000)
inline constexpr double middle = 0.5 * (root_of_lowest + root_of_highest);
inline constexpr double half_width = 0.5 * (root_of_highest - root_of_lowest);

[[nodiscard]] inline double at(const Coefficients& c, double temperature_K) {
  const double x = (std::sqrt(temperature_K) - middle) * (1 / half_width);
  const double x2 = x * x, x4 = x2 * x2;
  return ((c[0] + x * c[1]) + x2 * (c[2] + x * c[3])) +
         x4 * (((c[4] + x * c[5]) + x2 * (c[6] + x * c[7])) + x4 * (c[8] + x * c[9]));
}

/// The temperature [K] of the i-th node, of `terms`.
[[nodiscard]] double node_K(std::size_t i);
/// The polynomial through the values at the nodes.
[[nodiscard]] Coefficients through(const std::array<double, terms>& values);

} // namespace bellmouth::air::root_polynomial
