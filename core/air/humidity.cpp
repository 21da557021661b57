// SPDX-License-Identifier: GPL-3.0-or-later
#include "molar_mass.hpp"

#include <bellmouth/air.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::air {
namespace {

constexpr double freezing_K = 273.15;

struct LogPressure {
  double value;
  double slope; ///< by temperature [1/K]
};

// Hyland & Wexler (1983) as printed in ASHRAE Fundamentals (2017), chapter 1, equations 5 (ice) and 6
// (water).
LogPressure over_ice(double t) {
  return {-5.6745359e3 / t + 6.3925247 - 9.6778430e-3 * t + 6.2215701e-7 * t * t + 2.0747825e-9 * t * t * t -
              9.4840240e-13 * t * t * t * t + 4.1635019 * std::log(t),
          5.6745359e3 / (t * t) - 9.6778430e-3 + 2 * 6.2215701e-7 * t + 3 * 2.0747825e-9 * t * t -
              4 * 9.4840240e-13 * t * t * t + 4.1635019 / t};
}

LogPressure over_water(double t) {
  return {-5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t * t - 1.4452093e-8 * t * t * t +
              6.5459673 * std::log(t),
          5.8002206e3 / (t * t) - 4.8640239e-2 + 2 * 4.1764768e-5 * t - 3 * 1.4452093e-8 * t * t +
              6.5459673 / t};
}

/// Newton's method on the logarithm against 1/T, nearly a straight line.
template <class Law> double temperature_of(Law law, double log_pressure, double start_K) {
  double inverse = 1 / start_K;
  double step = 0;
  [[maybe_unused]] int rounds = 0;
  do {
    const LogPressure here = law(1 / inverse);
    step = (log_pressure - here.value) / (-here.slope / (inverse * inverse));
    inverse += step;
    assert(++rounds < 20);
  } while (std::abs(step) > 1e-9 * inverse); // quadratic: what is left is the square of it
  return 1 / inverse;
}

} // namespace

double saturation_pressure_Pa(double temperature_K) {
  assert(temperature_K >= 173.0 && temperature_K <= 473.5);
  return std::exp((temperature_K <= freezing_K ? over_ice(temperature_K) : over_water(temperature_K)).value);
}

double humidity_ratio(double temperature_K, double pressure_Pa, double relative_humidity) {
  assert(relative_humidity >= 0 && relative_humidity <= 1);
  const double vapour_Pa = relative_humidity * saturation_pressure_Pa(temperature_K);
  assert(vapour_Pa < pressure_Pa);
  return water_over_air_molar_mass * vapour_Pa / (pressure_Pa - vapour_Pa);
}

double vapour_pressure_Pa(double humidity_ratio, double pressure_Pa) {
  assert(humidity_ratio >= 0 && pressure_Pa > 0);
  return pressure_Pa * humidity_ratio / (water_over_air_molar_mass + humidity_ratio);
}

std::optional<double> dew_point_of_vapour_K(double vapour_pressure_Pa) {
  static const double least = saturation_pressure_Pa(lowest_saturation_K);
  static const double greatest = saturation_pressure_Pa(highest_saturation_K);
  static const double most_over_ice = saturation_pressure_Pa(freezing_K);
  static const double least_over_water = std::exp(over_water(freezing_K).value);
  if (!(vapour_pressure_Pa >= least && vapour_pressure_Pa <= greatest))
    return std::nullopt;
  const double log_pressure = std::log(vapour_pressure_Pa);
  if (vapour_pressure_Pa <= most_over_ice)
    return std::min(temperature_of(over_ice, log_pressure, 240), freezing_K);
  if (vapour_pressure_Pa <= least_over_water)
    return freezing_K;
  return temperature_of(over_water, log_pressure, 320);
}

std::optional<double> dew_point_K(const Mixture& air, double pressure_Pa) {
  return dew_point_of_vapour_K(vapour_pressure_Pa(air.humidity_ratio(), pressure_Pa));
}

std::optional<double> saturated_humidity_ratio(double temperature_K, double pressure_Pa) {
  const double vapour_Pa = saturation_pressure_Pa(temperature_K);
  if (vapour_Pa >= pressure_Pa)
    return std::nullopt;
  return water_over_air_molar_mass * vapour_Pa / (pressure_Pa - vapour_Pa);
}

double condensate_kg_kg(const Mixture& air, double temperature_K, double pressure_Pa) {
  const auto held = saturated_humidity_ratio(temperature_K, pressure_Pa);
  return held ? std::max(0.0, air.humidity_ratio() - *held) : 0.0;
}

} // namespace bellmouth::air
