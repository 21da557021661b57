// SPDX-License-Identifier: GPL-3.0-or-later
// The charge cooler: effectiveness and what it makes of a temperature.
#include <bellmouth/machine.hpp>

#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace bellmouth::machine {

namespace {

/// 1 - exp(-x) without cancellation.
double saturation(double x) {
  return -std::expm1(-x);
}

/// 1/n for the terms of a series.
constexpr std::size_t most_terms = 128;
constexpr std::array<double, most_terms> reciprocals = [] {
  std::array<double, most_terms> made{};
  for (std::size_t n = 1; n < most_terms; ++n)
    made[n] = 1.0 / static_cast<double>(n);
  return made;
}();

/// Both streams unmixed (Mason 1954, in Kays & London): eps = 1/(C N) sum over n of P(n, N) P(n, C N), where
/// P(n, x) = 1 - exp(-x) sum over m <= n of x^m / m!. The terms of the inner sums follow from one another.
double both_unmixed(double ntu, double capacity_ratio) {
  const double other = capacity_ratio * ntu;
  double rest_ntu = saturation(ntu), rest_other = saturation(other), sum = 0;
  // Past N = 700 exp(-N) is too small for a double, and the terms start from their logarithm each time.
  const bool by_logarithm = ntu > 700;
  const double log_ntu = by_logarithm ? std::log(ntu) : 0, log_other = by_logarithm ? std::log(other) : 0;
  double term_ntu = std::exp(-ntu), term_other = std::exp(-other); // exp(-x) x^n / n!
  for (std::size_t n = 0;; ++n) {
    const double term = rest_ntu * rest_other;
    sum += term;
    if (!(term > 1e-17 * sum))
      return sum / other;
    const auto next = static_cast<double>(n + 1);
    if (by_logarithm) {
      const double log_factorial = std::lgamma(next + 1);
      term_ntu = std::exp(next * log_ntu - ntu - log_factorial);
      term_other = std::exp(next * log_other - other - log_factorial);
    } else {
      const double share = n + 1 < most_terms ? reciprocals[n + 1] : 1 / next;
      term_ntu *= ntu * share;
      term_other *= other * share;
    }
    rest_ntu -= term_ntu;
    rest_other -= term_other;
  }
}

} // namespace

double cooler_outlet_K(double effectiveness, double inlet_temperature_K, double coolant_temperature_K) {
  return inlet_temperature_K - effectiveness * (inlet_temperature_K - coolant_temperature_K);
}

double effectiveness(Arrangement arrangement, double ntu, double capacity_ratio) {
  assert(ntu >= 0 && ntu <= max_ntu && capacity_ratio >= 0 && capacity_ratio <= 1);
  if (ntu * capacity_ratio < 1e-14) // the other stream keeps its temperature: every arrangement is the same
    return saturation(ntu);
  switch (arrangement) {
  case Arrangement::counterflow: {
    const double difference = 1 - capacity_ratio;
    if (difference == 0)
      return ntu / (1 + ntu);
    const double reached = saturation(ntu * difference);
    return reached / (difference + capacity_ratio * reached);
  }
  case Arrangement::parallel_flow:
    return saturation(ntu * (1 + capacity_ratio)) / (1 + capacity_ratio);
  case Arrangement::cross_flow_max_mixed:
    return saturation(capacity_ratio * saturation(ntu)) / capacity_ratio;
  case Arrangement::cross_flow_min_mixed:
    return saturation(saturation(capacity_ratio * ntu) / capacity_ratio);
  case Arrangement::cross_flow_unmixed:
    return both_unmixed(ntu, capacity_ratio);
  }
  assert(false);
  return 0;
}

} // namespace bellmouth::machine
