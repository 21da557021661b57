// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/air.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::air {

AtmosphereState standard_atmosphere_geopotential(double altitude_m) {
  // ISO 2533:1975, troposphere: sea-level state, lapse rate, gravity and gas constant.
  constexpr double sea_level_K = 288.15;
  constexpr double sea_level_Pa = 101325.0;
  constexpr double lapse_K_m = 0.0065;
  constexpr double gravity_m_s2 = 9.80665;
  constexpr double gas_constant_J_kgK = 287.05287;
  assert(altitude_m >= -2010 && altitude_m <= 11000);
  const double temperature = sea_level_K - lapse_K_m * altitude_m;
  const double pressure =
      sea_level_Pa * std::pow(temperature / sea_level_K, gravity_m_s2 / (gas_constant_J_kgK * lapse_K_m));
  return {temperature, pressure, pressure / (gas_constant_J_kgK * temperature)};
}

AtmosphereState standard_atmosphere(double altitude_m) {
  constexpr double earth_radius_m = 6356766.0; // nominal, ISO 2533:1975
  return standard_atmosphere_geopotential(earth_radius_m * altitude_m / (earth_radius_m + altitude_m));
}

double standard_viscosity_Pa_s(double temperature_K) {
  assert(temperature_K > 0);
  // ISO 2533:1975 and US Standard Atmosphere 1976, equation 51.
  return 1.458e-6 * temperature_K * std::sqrt(temperature_K) / (temperature_K + 110.4);
}

} // namespace bellmouth::air
