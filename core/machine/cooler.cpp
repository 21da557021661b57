// SPDX-License-Identifier: GPL-3.0-or-later
// The charge cooler: effectiveness and what it makes of a temperature.
#include <bellmouth/machine.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::machine {

namespace {

/// 1 - exp(-x) without cancellation.
double saturation(double x) {
  return -std::expm1(-x);
}

/// Both streams unmixed (Mason 1954, in Kays & London): eps = 1/(C N) sum over n of P(n, N) P(n, C N), where
/// P(n, x) = 1 - exp(-x) sum over m <= n of x^m / m!.
double both_unmixed(double ntu, double capacity_ratio) {
  const double other = capacity_ratio * ntu;
  const double log_ntu = std::log(ntu), log_other = std::log(other);
  double rest_ntu = saturation(ntu), rest_other = saturation(other), sum = 0;
  for (int n = 0;; ++n) {
    const double term = rest_ntu * rest_other;
    sum += term;
    if (!(term > 1e-17 * sum))
      return sum / other;
    const double log_factorial = std::lgamma(n + 2.0);
    rest_ntu -= std::exp((n + 1) * log_ntu - ntu - log_factorial);
    rest_other -= std::exp((n + 1) * log_other - other - log_factorial);
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
