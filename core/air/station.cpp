// SPDX-License-Identifier: GPL-3.0-or-later
#include "subsonic.hpp"

#include <bellmouth/air.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::air {

tl::expected<Station, Choking> station(const Mixture& air, double total_pressure_Pa,
                                       double total_temperature_K, double mass_flow_kg_s, double area_m2) {
  assert(total_pressure_Pa > 0 && total_temperature_K > 0 && area_m2 > 0);
  assert(mass_flow_kg_s >= 0);
  const double gas_constant = air.gas_constant_J_kgK();
  const double gamma = air.gamma(total_temperature_K);
  const double sonic = mass_flow_function(1, gamma);
  const double max_mass_flow =
      sonic * area_m2 * total_pressure_Pa / std::sqrt(gas_constant * total_temperature_K);
  if (mass_flow_kg_s > max_mass_flow)
    return tl::unexpected(Choking{max_mass_flow});

  const SubsonicState state = subsonic_state(mass_flow_kg_s / max_mass_flow, gamma, sonic);
  Station result;
  result.mass_flow_kg_s = mass_flow_kg_s;
  result.area_m2 = area_m2;
  result.total_pressure_Pa = total_pressure_Pa;
  result.total_temperature_K = total_temperature_K;
  result.mach = state.mach;
  result.gamma = gamma;
  result.static_pressure_Pa =
      total_pressure_Pa * std::exp(-gamma / (gamma - 1) * state.log_temperature_ratio);
  result.static_temperature_K = total_temperature_K * temperature_ratio(state.mach, gamma);
  const double specific_energy = gas_constant * result.static_temperature_K;
  result.density_kg_m3 = result.static_pressure_Pa / specific_energy;
  result.velocity_m_s = state.mach * std::sqrt(gamma * specific_energy);
  return result;
}

double reynolds(const Mixture& air, const Station& station, double bore_m) {
  return station.density_kg_m3 * station.velocity_m_s * bore_m /
         air.viscosity_Pa_s(station.static_temperature_K);
}

} // namespace bellmouth::air
