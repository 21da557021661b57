// SPDX-License-Identifier: GPL-3.0-or-later
// What a compression does to the air and to the shaft.
#include <bellmouth/machine.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::machine {

namespace {

/// The outcome of doing `work_J_kg` on each kilogram; `ideal_J_kg` is the isentropic work. Mechanical losses
/// are borne by whoever drives: by the shaft when the air takes work, by the air when it yields work.
Compression after_work(const air::Mixture& air, double inlet_enthalpy_J_kg, double work_J_kg,
                       double efficiency, double mass_flow_kg_s, double mechanical_efficiency) {
  const double air_power_W = mass_flow_kg_s * work_J_kg;
  return {air.temperature_at_enthalpy_K(inlet_enthalpy_J_kg + work_J_kg),
          work_J_kg >= 0 ? air_power_W / mechanical_efficiency : air_power_W * mechanical_efficiency,
          efficiency};
}

double isentropic_work_J_kg(const air::Mixture& air, double inlet_temperature_K, double pressure_ratio,
                            double inlet_enthalpy_J_kg) {
  return air.enthalpy_J_kg(air.isentropic_temperature_K(inlet_temperature_K, pressure_ratio)) -
         inlet_enthalpy_J_kg;
}

} // namespace

Compression compress(const air::Mixture& air, double inlet_temperature_K, double pressure_ratio,
                     double mass_flow_kg_s, double adiabatic_efficiency, double mechanical_efficiency) {
  assert(pressure_ratio > 0 && adiabatic_efficiency > 0 && mechanical_efficiency > 0);
  const double inlet_J_kg = air.enthalpy_J_kg(inlet_temperature_K);
  const double ideal_J_kg = isentropic_work_J_kg(air, inlet_temperature_K, pressure_ratio, inlet_J_kg);
  const bool driven = pressure_ratio >= 1;
  const double work_J_kg = driven ? ideal_J_kg / adiabatic_efficiency : ideal_J_kg * adiabatic_efficiency;
  return after_work(air, inlet_J_kg, work_J_kg, driven ? adiabatic_efficiency : 1 / adiabatic_efficiency,
                    mass_flow_kg_s, mechanical_efficiency);
}

double adiabatic_of_polytropic(double polytropic_efficiency, double pressure_ratio, double gamma) {
  assert(polytropic_efficiency > 0 && pressure_ratio > 1 && gamma > 1);
  const double rise = (gamma - 1) / gamma * std::log(pressure_ratio);
  return std::expm1(rise) / std::expm1(rise / polytropic_efficiency);
}

double lobe_blower_ideal_efficiency(double pressure_ratio, double gamma) {
  assert(pressure_ratio > 1 && gamma > 1);
  const double exponent = (gamma - 1) / gamma;
  return std::expm1(exponent * std::log(pressure_ratio)) / (exponent * (pressure_ratio - 1));
}

} // namespace bellmouth::machine
