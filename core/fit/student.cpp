// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/fit/least_squares.hpp>

#include <cmath>
#include <numbers>

namespace bellmouth::fit {
namespace {

constexpr double normal_quantile = 1.959963984540054;
/// From here on the asymptotic series is exact to six digits.
constexpr std::size_t many = 200;

/// Chance that t is not larger in size than `t`.
double chance_within(double t, std::size_t degrees) {
  const double angle = std::atan(t / std::sqrt(static_cast<double>(degrees)));
  const double square = std::cos(angle) * std::cos(angle);
  const bool odd = degrees % 2 == 1;
  double term = odd ? std::cos(angle) : 1, sum = 0;
  for (std::size_t i = odd ? 1 : 0; i + 2 <= degrees; i += 2) {
    sum += term;
    term *= square * static_cast<double>(i + 1) / static_cast<double>(i + 2);
  }
  return odd ? 2 / std::numbers::pi * (angle + std::sin(angle) * sum) : std::sin(angle) * sum;
}

} // namespace

double student_quantile(std::size_t degrees_of_freedom) {
  if (degrees_of_freedom == 0)
    return normal_quantile;
  if (degrees_of_freedom > many) {
    const double x = normal_quantile, n = static_cast<double>(degrees_of_freedom), x3 = x * x * x;
    return x + (x3 + x) / (4 * n) + (5 * x3 * x * x + 16 * x3 + 3 * x) / (96 * n * n);
  }
  double low = normal_quantile, high = 13;
  while (high - low > 1e-12 * high) {
    const double middle = 0.5 * (low + high);
    (chance_within(middle, degrees_of_freedom) < 0.95 ? low : high) = middle;
  }
  return low;
}

} // namespace bellmouth::fit
