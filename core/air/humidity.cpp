// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/air.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::air {

double saturation_pressure_Pa(double temperature_K) {
  // Hyland & Wexler (1983) as printed in ASHRAE Fundamentals (2017), chapter 1, equations 5 (ice) and 6
  // (water).
  const double t = temperature_K;
  assert(t >= 173.0 && t <= 473.5);
  if (t <= 273.15)
    return std::exp(-5.6745359e3 / t + 6.3925247 - 9.6778430e-3 * t + 6.2215701e-7 * t * t +
                    2.0747825e-9 * t * t * t - 9.4840240e-13 * t * t * t * t + 4.1635019 * std::log(t));
  return std::exp(-5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t * t -
                  1.4452093e-8 * t * t * t + 6.5459673 * std::log(t));
}

double humidity_ratio(double temperature_K, double pressure_Pa, double relative_humidity) {
  assert(relative_humidity >= 0 && relative_humidity <= 1);
  const double vapour_Pa = relative_humidity * saturation_pressure_Pa(temperature_K);
  assert(vapour_Pa < pressure_Pa);
  // Ratio of the molar masses of water and dry air: ASHRAE Fundamentals (2017), chapter 1, equation 20.
  return 0.621945 * vapour_Pa / (pressure_Pa - vapour_Pa);
}

} // namespace bellmouth::air
