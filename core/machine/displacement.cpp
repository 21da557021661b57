// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/machine/displacement.hpp>
#include <bellmouth/machine/nozzle.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::machine {

namespace {

/// f(r) of the header and its slope: leakage through one square metre over p1/sqrt(R T1), outward positive.
struct LeakShape {
  double value, by_ratio;
};
LeakShape leak_shape(double ratio, double gamma) {
  if (ratio < 1) {
    const NozzleFunction psi = leak_function(ratio, gamma);
    return {-psi.value, -psi.by_ratio};
  }
  const NozzleFunction psi = leak_function(1 / ratio, gamma);
  const double exponent = 1 - (gamma - 1) / (2 * gamma);
  const double scale = std::pow(ratio, exponent);
  return {scale * psi.value, scale / ratio * (exponent * psi.value - psi.by_ratio / ratio)};
}

/// Work on a kilogram and its slope over the pressure ratio.
struct Work {
  double work_J_kg, by_ratio;
};

/// The isentropic work.
Work isentropic_work(const air::Mixture& air, double inlet_K, double inlet_J_kg, double ratio) {
  const double outlet_K = air.isentropic_temperature_K(inlet_K, ratio);
  return {air.enthalpy_J_kg(outlet_K) - inlet_J_kg, air.gas_constant_J_kgK() * outlet_K / ratio};
}

/// On a kilogram of what is swept, by the cycle with a built-in volume ratio.
Work swept_work(const air::Mixture& air, double inlet_K, double inlet_J_kg, double ratio,
                double volume_ratio) {
  const double per_rise = air.gas_constant_J_kgK() * inlet_K / volume_ratio;
  if (volume_ratio == 1)
    return {(ratio - 1) * per_rise, per_rise};
  const auto opening_K = [&](double gamma) { return inlet_K * std::pow(volume_ratio, gamma - 1); };
  const double gamma = air.gamma(0.5 * (inlet_K + opening_K(air.gamma(inlet_K))));
  const double inner_K = opening_K(gamma), inner_ratio = volume_ratio * inner_K / inlet_K;
  return {air.enthalpy_J_kg(inner_K) - inlet_J_kg + (ratio - inner_ratio) * per_rise, per_rise};
}

} // namespace

PreparedBlower::PreparedBlower(const DisplacementBlower& blower) : blower_(blower) {
  if (!blower.map.empty())
    map_.emplace(blower.map);
  else if (blower.leak) {
    const air::Mixture dry;
    const RatedLeak& leak = *blower.leak;
    assert(leak.pressure_ratio > 1 && leak.speed_rev_s > 0);
    leak_area_m2_ = (blower.volumetric_efficiency - leak.volumetric_efficiency) * blower.swept_volume_m3_rev *
                    leak.speed_rev_s /
                    (std::sqrt(dry.gas_constant_J_kgK() * rating_temperature_K) *
                     leak_shape(leak.pressure_ratio, dry.gamma(rating_temperature_K)).value);
  }
}

PreparedBlower::Delivery PreparedBlower::leaking(double speed, double temperature_K, double ratio,
                                                 double gamma, double gas_constant) const {
  if (leak_area_m2_ == 0)
    return {blower_.volumetric_efficiency, 0, false};
  const LeakShape shape = leak_shape(ratio, gamma);
  const double scale =
      leak_area_m2_ * std::sqrt(gas_constant * temperature_K) / (blower_.swept_volume_m3_rev * speed);
  const Delivery left{blower_.volumetric_efficiency - scale * shape.value, -scale * shape.by_ratio, false};
  if (left.volumetric_efficiency >= least_efficiency)
    return left;
  const double falling =
      least_efficiency / (2 * least_efficiency - left.volumetric_efficiency); // 1 where it joins
  return {least_efficiency * falling, falling * falling * left.by_ratio, true};
}

PreparedBlower::Delivery PreparedBlower::delivery(const air::Mixture& air, double blower_speed_rev_s,
                                                  double inlet_temperature_K, double pressure_ratio) const {
  assert(blower_speed_rev_s > 0 && inlet_temperature_K > 0 && pressure_ratio > 0);
  if (map_) {
    const BlowerMap::Reading found = map_->at(blower_speed_rev_s, pressure_ratio);
    return {found.volumetric_efficiency, found.volumetric_by_ratio, found.outside};
  }
  return leaking(blower_speed_rev_s, inlet_temperature_K, pressure_ratio, air.gamma(inlet_temperature_K),
                 air.gas_constant_J_kgK());
}

BlowerAction PreparedBlower::act(const air::Mixture& air, double engine_speed_rev_s, double inlet_pressure_Pa,
                                 double inlet_temperature_K, double pressure_ratio) const {
  assert(engine_speed_rev_s > 0 && inlet_pressure_Pa > 0 && pressure_ratio > 0);
  const double speed = blower_.drive_ratio * engine_speed_rev_s;
  const double inlet_J_kg = air.enthalpy_J_kg(inlet_temperature_K);
  const Work ideal = isentropic_work(air, inlet_temperature_K, inlet_J_kg, pressure_ratio);

  Delivery delivered{};
  Work done{};
  double efficiency = 0;
  const bool driven = pressure_ratio >= 1; // else the air drives
  const auto by_efficiency = [&](double adiabatic, double slope) {
    efficiency = driven ? adiabatic : 1 / adiabatic;
    done.work_J_kg = ideal.work_J_kg / efficiency;
    const double relative = driven ? -slope / adiabatic : slope / adiabatic;
    done.by_ratio = ideal.by_ratio / efficiency + done.work_J_kg * relative;
  };
  if (map_) {
    const BlowerMap::Reading found = map_->at(speed, pressure_ratio);
    delivered = {found.volumetric_efficiency, found.volumetric_by_ratio, found.outside};
    by_efficiency(found.adiabatic_efficiency, found.adiabatic_by_ratio);
  } else {
    delivered = leaking(speed, inlet_temperature_K, pressure_ratio, air.gamma(inlet_temperature_K),
                        air.gas_constant_J_kgK());
    if (blower_.adiabatic_efficiency)
      by_efficiency(*blower_.adiabatic_efficiency, 0);
    else {
      const Work swept =
          swept_work(air, inlet_temperature_K, inlet_J_kg, pressure_ratio, blower_.internal_volume_ratio);
      // Leakage costs work when the blower presses, and takes from what the air yields when it is driven;
      // what then leaks forwards past the rotors (a share above 1) yields nothing.
      const double share = delivered.volumetric_efficiency;
      const bool divided = swept.work_J_kg >= 0 || share > 1;
      const double leakage = divided ? 1 / share : share;
      const double relative = (divided ? -1 : 1) * delivered.by_ratio / share;
      done.work_J_kg = swept.work_J_kg * leakage;
      done.by_ratio = swept.by_ratio * leakage + done.work_J_kg * relative;
      // Towards a ratio of one both works become v1 dp (v = 1), and leakage alone is left.
      efficiency = done.work_J_kg == 0 ? share : ideal.work_J_kg / done.work_J_kg;
    }
  }
  const double mass_flow = blower_.swept_volume_m3_rev * speed * delivered.volumetric_efficiency *
                           air.density_kg_m3(inlet_pressure_Pa, inlet_temperature_K);
  const double outlet_K = air.temperature_at_enthalpy_K(inlet_J_kg + done.work_J_kg);
  const double power_W = mass_flow * done.work_J_kg;
  return {.mass_flow_kg_s = mass_flow,
          .outlet_temperature_K = outlet_K,
          // Mechanical losses are borne by whoever drives.
          .shaft_power_W = done.work_J_kg >= 0 ? power_W / blower_.mechanical_efficiency
                                               : power_W * blower_.mechanical_efficiency,
          .adiabatic_efficiency = efficiency,
          .volumetric_efficiency = delivered.volumetric_efficiency,
          .outside_map = delivered.outside,
          .flow_by_ratio = delivered.by_ratio / delivered.volumetric_efficiency,
          .heating_K = done.by_ratio / air.cp_J_kgK(outlet_K)};
}

} // namespace bellmouth::machine
