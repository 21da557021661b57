// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/machine.hpp>
#include <bellmouth/machine/nozzle.hpp>

#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::machine {

namespace {

/// The nozzle function below and above choking; `choked` says which.
struct Exact {
  double value, by_ratio;
  bool choked;
};

Exact exact(double x, double gamma) {
  assert(x >= 0 && x <= 1 && gamma > 1 && gamma < 1.8);
  const double critical = critical_pressure_ratio(gamma);
  const bool choked = x <= critical;
  const double at = choked ? critical : x;
  // psi^2 = c x^(2/g) (1 - x^((g-1)/g)), written so that no digits are lost near x = 1.
  const double k = (gamma - 1) / gamma;
  const double log_x = std::log(at);
  const double gap = -std::expm1(k * log_x); // 1 - x^k
  const double power = std::exp(2 / gamma * log_x);
  const double value = std::sqrt(2 / k * power * gap);
  if (choked)
    return {value, 0, true};
  if (gap == 0)
    return {0, -std::numeric_limits<double>::infinity(), false};
  // d ln psi / d ln x = 1/g - k x^k / (2 (1 - x^k))
  return {value, value / at * (1 / gamma - k * (1 - gap) / (2 * gap)), false};
}

} // namespace

double BypassValve::effective_area_m2() const {
  return bore_m * bore_m * (std::numbers::pi / 4) * opening * discharge_coefficient + leak_area_m2;
}

double critical_pressure_ratio(double gamma) {
  return std::pow(2 / (gamma + 1), gamma / (gamma - 1));
}

NozzleFlow nozzle_flow(double area_m2, double upstream_pressure_Pa, double upstream_temperature_K,
                       double downstream_pressure_Pa, double gamma, double gas_constant_J_kgK) {
  assert(area_m2 >= 0 && upstream_pressure_Pa > 0 && upstream_temperature_K > 0);
  const Exact psi = exact(downstream_pressure_Pa / upstream_pressure_Pa, gamma);
  const double scale =
      area_m2 * upstream_pressure_Pa / std::sqrt(gas_constant_J_kgK * upstream_temperature_K);
  return {scale * psi.value, psi.choked, scale == 0 ? 0 : scale * psi.by_ratio};
}

double nozzle_mass_flow_kg_s(double area_m2, double upstream_pressure_Pa, double upstream_temperature_K,
                             double downstream_pressure_Pa, double gamma, double gas_constant_J_kgK) {
  return nozzle_flow(area_m2, upstream_pressure_Pa, upstream_temperature_K, downstream_pressure_Pa, gamma,
                     gas_constant_J_kgK)
      .mass_flow_kg_s;
}

NozzleFunction leak_function(double pressure_ratio, double gamma) {
  const double difference = 1 - pressure_ratio;
  if (difference >= linear_difference) {
    const Exact psi = exact(pressure_ratio, gamma);
    return {psi.value, psi.by_ratio};
  }
  assert(difference >= 0);
  // psi(y) = psi1 (a y + b y^3) with y = difference / linear_difference, joined in value and slope at y = 1.
  const Exact end = exact(1 - linear_difference, gamma);
  const double slope = -end.by_ratio * linear_difference / end.value; // d ln psi / dy there, about 1/2
  const double b = (slope - 1) / 2, a = 1 - b;
  const double y = difference / linear_difference;
  return {end.value * y * (a + b * y * y), -end.value * (a + 3 * b * y * y) / linear_difference};
}

LeakFlow leak_flow(double area_m2, double first_pressure_Pa, double first_temperature_K,
                   double second_pressure_Pa, double second_temperature_K, double gamma,
                   double gas_constant_J_kgK) {
  assert(area_m2 >= 0 && first_pressure_Pa > 0 && second_pressure_Pa > 0);
  const bool forward = first_pressure_Pa >= second_pressure_Pa;
  const double high_Pa = forward ? first_pressure_Pa : second_pressure_Pa;
  const double low_Pa = forward ? second_pressure_Pa : first_pressure_Pa;
  const double temperature_K = forward ? first_temperature_K : second_temperature_K;
  const double scale = (forward ? area_m2 : -area_m2) / std::sqrt(gas_constant_J_kgK * temperature_K);
  const double ratio = low_Pa / high_Pa;
  const NozzleFunction psi = leak_function(ratio, gamma);
  const double by_high = scale * (psi.value - ratio * psi.by_ratio), by_low = scale * psi.by_ratio;
  return {scale * high_Pa * psi.value, forward ? by_high : by_low, forward ? by_low : by_high};
}

} // namespace bellmouth::machine
