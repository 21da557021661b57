// SPDX-License-Identifier: GPL-3.0-or-later
#include "root_polynomial.hpp"

#include <numbers>

namespace bellmouth::air::root_polynomial {
namespace {

/// Row i gives c[i] from the values at the nodes.
using Matrix = std::array<std::array<double, terms>, terms>;

/// The angle whose cosine is the i-th zero of the Chebyshev polynomial T of degree `terms`.
double angle_rad(std::size_t i) {
  return std::numbers::pi * (static_cast<double>(i) + 0.5) / static_cast<double>(terms);
}

/// The coefficients of T(0) to T(terms-1) by their orthogonality over the nodes, and their powers of x by
/// T(j+1) = 2 x T(j) - T(j-1).
Matrix from_values() {
  Matrix result{};
  Coefficients before{}, present{};
  present[0] = 1;
  for (std::size_t j = 0; j < terms; ++j) {
    const double step = j == 0 ? 1. : 2.;
    for (std::size_t node = 0; node < terms; ++node) {
      const double share =
          step / static_cast<double>(terms) * std::cos(static_cast<double>(j) * angle_rad(node));
      for (std::size_t i = 0; i < terms; ++i)
        result[i][node] += share * present[i];
    }
    Coefficients next{};
    for (std::size_t i = 0; i < terms; ++i)
      next[i] = (i > 0 ? step * present[i - 1] : 0) - before[i];
    before = present;
    present = next;
  }
  return result;
}

} // namespace

double node_K(std::size_t i) {
  const double root = middle + half_width * std::cos(angle_rad(i));
  return root * root;
}

Coefficients through(const std::array<double, terms>& values) {
  static const Matrix matrix = from_values();
  Coefficients result{};
  for (std::size_t i = 0; i < terms; ++i)
    for (std::size_t node = 0; node < terms; ++node)
      result[i] += matrix[i][node] * values[node];
  return result;
}

} // namespace bellmouth::air::root_polynomial
