// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/machine/atmospheric_correction.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::machine {

double atmospheric_correction(PowerCorrection correction, double pressure_Pa, double temperature_K,
                              double engine_factor) {
  assert(pressure_Pa > 0 && temperature_K > 0);
  const double pressure = 99e3 / pressure_Pa, temperature = temperature_K / 298;
  // Two of the standards count temperature in degrees Celsius and add 273.
  const double rounded_K = temperature_K - 0.15;
  switch (correction) {
  case PowerCorrection::spark_ignition:
    return std::pow(pressure, 1.2) * std::pow(temperature, 0.6);
  case PowerCorrection::compression_ignition:
    return std::pow(pressure * std::pow(temperature, 0.7), engine_factor);
  case PowerCorrection::compression_ignition_exhaust_driven:
    return std::pow(std::pow(pressure, 0.7) * std::pow(temperature, 1.5), engine_factor);
  case PowerCorrection::spark_ignition_1990:
    return 1.18 * pressure * std::sqrt(rounded_K / 298) - 0.18;
  case PowerCorrection::din_70020:
    return 101.3e3 / pressure_Pa * std::sqrt(rounded_K / 293);
  }
  assert(false);
  return 1;
}

bool is_within_limits(PowerCorrection correction, double factor) {
  switch (correction) {
  case PowerCorrection::spark_ignition:
  case PowerCorrection::spark_ignition_1990:
    return factor >= 0.93 && factor <= 1.07;
  case PowerCorrection::compression_ignition:
  case PowerCorrection::compression_ignition_exhaust_driven:
    return factor >= 0.9 && factor <= 1.1;
  case PowerCorrection::din_70020:
    return true;
  }
  assert(false);
  return false;
}

double engine_factor_of_fuel(double fuel_mg_L_cycle) {
  assert(fuel_mg_L_cycle >= 0);
  if (fuel_mg_L_cycle < 37.2)
    return 0.2;
  return fuel_mg_L_cycle > 65 ? 1.2 : 0.036 * fuel_mg_L_cycle - 1.14;
}

} // namespace bellmouth::machine
