// SPDX-License-Identifier: GPL-3.0-or-later
// Viscosity and thermal conductivity of air and water vapour as dilute gases, and of their mixture.
#pragma once

namespace bellmouth::air {

struct Transport {
  double viscosity_Pa_s;
  double conductivity_W_mK;
};

/// Moist air in which `vapour_fraction` (0 to 1) of the molecules are water.
[[nodiscard]] Transport transport_of_moist_air(double temperature_K, double vapour_fraction);

} // namespace bellmouth::air
