// SPDX-License-Identifier: GPL-3.0-or-later
#include "blowing.hpp"

#include <bellmouth/machine/nozzle.hpp>

#include <algorithm>
#include <cmath>

namespace bellmouth::flow {
namespace {

constexpr double greatest_temperature_K = air::highest_temperature_K;

/// Rise of temperature of an isentropic compression with constant heat capacities; good enough to tell
/// whether the air stays within the model, and for slopes.
double isentropic_rise_K(const air::Mixture& air, double temperature_K, double ratio) {
  const double gamma = air.gamma(temperature_K);
  return temperature_K * std::expm1((gamma - 1) / gamma * std::log(ratio));
}

/// Mixes two streams to one enthalpy.
double mixed_K(const air::Mixture& air, double flow_a, double temperature_a, double flow_b,
               double temperature_b) {
  const double enthalpy =
      (flow_a * air.enthalpy_J_kg(temperature_a) + flow_b * air.enthalpy_J_kg(temperature_b)) /
      (flow_a + flow_b);
  return air.temperature_at_enthalpy_K(enthalpy);
}

OnMap on_map(const machine::PreparedCompressorMap::Reading& reading) {
  return {reading.margin_to_surge, reading.region, reading.outside_speeds};
}

} // namespace

Blower::Blower(const machine::DisplacementBlower& blower)
    : kind_(Displacement{machine::PreparedBlower(blower), blower.drive_ratio}), bypass_(blower.bypass) {}
Blower::Blower(const machine::TargetCompressor& compressor)
    : kind_(Target{compressor, compressor.map ? std::optional<machine::PreparedCompressorMap>(*compressor.map)
                                              : std::nullopt}),
      bypass_(compressor.bypass) {}
Blower::Blower(const machine::GearedCompressor& compressor)
    : kind_(Geared{compressor, machine::PreparedCompressorMap(compressor.map)}), bypass_(compressor.bypass) {}

const machine::TargetCompressor* Blower::target() const {
  const auto* target = std::get_if<Target>(&kind_);
  return target != nullptr ? &target->compressor : nullptr;
}

bool Blower::driven_by_exhaust() const {
  const auto* compressor = target();
  return compressor != nullptr && compressor->driven_by_exhaust;
}

bool Blower::recirculates() const {
  return bypass_ && bypass_->to == machine::BypassTo::inlet && bypass_->effective_area_m2() > 0;
}

Blower::Guess Blower::guess(const BlowerScene& scene, double pressure_Pa, double temperature_K) const {
  if (const auto* displacement = std::get_if<Displacement>(&kind_)) {
    const auto done =
        displacement->blower.act(scene.air, scene.engine_speed_rev_s, pressure_Pa, temperature_K, 1.2);
    return {0.97 * scene.tuning.blower_filling * done.mass_flow_kg_s, 1.2};
  }
  if (const auto* geared = std::get_if<Geared>(&kind_)) {
    const double speed = geared->map.corrected_speed_rev_s(
        geared->compressor.drive_ratio * scene.engine_speed_rev_s, temperature_K);
    const auto ends = geared->map.ends(speed);
    const double corrected = 0.5 * (ends.surge_kg_s + ends.choke_kg_s);
    const double flow = corrected / geared->map.corrected_flow_kg_s(1, pressure_Pa, temperature_K);
    return {flow, geared->map.at(speed, corrected).pressure_ratio};
  }
  return {0, std::get<Target>(kind_).compressor.target_pressure_Pa / pressure_Pa};
}

std::optional<Blown> Blower::work_of(const Displacement& machine, const BlowerScene& scene,
                                     const AtBlower& at) {
  const auto done =
      machine.blower.act(scene.air, scene.engine_speed_rev_s, at.pressure_Pa, at.temperature_K, at.ratio);
  if (done.outlet_temperature_K > greatest_temperature_K)
    return std::nullopt;
  const double power_share = at.flow_kg_s / done.mass_flow_kg_s; // `act` speaks of the flow it would deliver
  Blown blown;
  blown.temperature_K = done.outlet_temperature_K;
  blown.adiabatic_efficiency = done.adiabatic_efficiency;
  blown.shaft_power_W = done.shaft_power_W * power_share;
  double heating_share = 1;
  // A blower that the air drives has no efficiency of compression to correct.
  if (const double h1 = scene.air.enthalpy_J_kg(at.temperature_K),
      rise = scene.air.enthalpy_J_kg(blown.temperature_K) - h1;
      scene.tuning.blower_efficiency != 1 && rise > 0) {
    heating_share = 1 / scene.tuning.blower_efficiency;
    if (h1 + rise * heating_share > scene.air.enthalpy_J_kg(greatest_temperature_K))
      return std::nullopt;
    blown.temperature_K = scene.air.temperature_at_enthalpy_K(h1 + rise * heating_share);
    blown.adiabatic_efficiency *= scene.tuning.blower_efficiency;
    blown.shaft_power_W *= heating_share;
  }
  blown.flow_kg_s = at.flow_kg_s;
  blown.excess = scene.tuning.blower_filling * done.mass_flow_kg_s / at.flow_kg_s - 1;
  blown.volumetric_efficiency = scene.tuning.blower_filling * done.volumetric_efficiency;
  blown.speed_rev_s = machine.drive_ratio * scene.engine_speed_rev_s;
  blown.outside_map = done.outside_map;
  blown.flow_by_ratio = done.flow_by_ratio;
  blown.heating_K = done.heating_K * heating_share;
  return blown;
}

std::optional<Blown> Blower::work_of(const Target& machine, const BlowerScene& scene, const AtBlower& at) {
  Blown blown;
  blown.flow_kg_s = at.flow_kg_s;
  blown.temperature_K = at.temperature_K;
  double efficiency = machine.compressor.adiabatic_efficiency;
  if (machine.map && at.ratio > 1) {
    const auto reading = machine.map->speed_for(
        at.ratio, machine.map->corrected_flow_kg_s(at.flow_kg_s, at.pressure_Pa, at.temperature_K));
    efficiency = reading.adiabatic_efficiency;
    blown.speed_rev_s = machine.map->speed_rev_s(reading.corrected_speed_rev_s, at.temperature_K);
    blown.on_map = on_map(reading);
    blown.outside_map = reading.outside();
  }
  efficiency = std::min(1.0, efficiency * scene.tuning.blower_efficiency);
  // Below a ratio of one the compressor is a hole: the solver refuses such a point, the march only passes it.
  if (at.ratio <= 1)
    return blown;
  if (at.temperature_K + isentropic_rise_K(scene.air, at.temperature_K, at.ratio) / efficiency >
      greatest_temperature_K)
    return std::nullopt;
  const auto done = machine::compress(scene.air, at.temperature_K, at.ratio, at.flow_kg_s, efficiency,
                                      machine.compressor.mechanical_efficiency);
  blown.temperature_K = done.outlet_temperature_K;
  blown.shaft_power_W = done.shaft_power_W;
  blown.adiabatic_efficiency = done.adiabatic_efficiency;
  return blown;
}

std::optional<Blown> Blower::work_of(const Geared& machine, const BlowerScene& scene, const AtBlower& at) {
  Blown blown;
  blown.flow_kg_s = at.flow_kg_s;
  blown.speed_rev_s = machine.compressor.drive_ratio * scene.engine_speed_rev_s;
  const auto reading =
      machine.map.at(machine.map.corrected_speed_rev_s(blown.speed_rev_s, at.temperature_K),
                     machine.map.corrected_flow_kg_s(at.flow_kg_s / scene.tuning.blower_filling,
                                                     at.pressure_Pa, at.temperature_K));
  const double efficiency = std::min(1.0, reading.adiabatic_efficiency * scene.tuning.blower_efficiency);
  const double rise = isentropic_rise_K(scene.air, at.temperature_K, at.ratio);
  if (at.temperature_K + std::max(rise, rise / efficiency) > greatest_temperature_K)
    return std::nullopt;
  const auto done = machine::compress(scene.air, at.temperature_K, at.ratio, at.flow_kg_s, efficiency,
                                      machine.compressor.mechanical_efficiency);
  blown.temperature_K = done.outlet_temperature_K;
  blown.shaft_power_W = done.shaft_power_W;
  blown.adiabatic_efficiency = done.adiabatic_efficiency;
  blown.excess = reading.pressure_ratio / at.ratio - 1;
  blown.on_map = on_map(reading);
  blown.outside_map = reading.outside();
  return blown;
}

std::optional<Blown> Blower::work(const BlowerScene& scene, const AtBlower& at) const {
  return std::visit([&](const auto& machine) { return work_of(machine, scene, at); }, kind_);
}

std::optional<Blown> Blower::blow(const BlowerScene& scene, const AtBlower& at) const {
  return bypass_ && bypass_->effective_area_m2() > 0 ? with_valve(scene, at) : work(scene, at);
}

std::optional<Blown> Blower::with_valve(const BlowerScene& scene, const AtBlower& at) const {
  const double area = bypass_->effective_area_m2();
  const double outlet_Pa = at.ratio * at.pressure_Pa;
  const double gas_constant = scene.air.gas_constant_J_kgK();
  const auto passes = [&](double first_Pa, double first_K, double second_Pa, double second_K) {
    return machine::leak_flow(area, first_Pa, first_K, second_Pa, second_K, scene.air.gamma(first_K),
                              gas_constant)
        .mass_flow_kg_s;
  };

  if (bypass_->to == machine::BypassTo::open_air) {
    auto blown = work(scene, at);
    if (blown) {
      // What would be drawn in from the open below ambient pressure is left out: such valves have a flap.
      blown->bypass_kg_s =
          std::clamp(passes(outlet_Pa, blown->temperature_K, scene.ambient_pressure_Pa, 300.0), 0.0,
                     (1 - 1e-6) * at.flow_kg_s);
      blown->flow_kg_s -= blown->bypass_kg_s;
    }
    return blown;
  }

  if (at.ratio < 1) { // the engine draws past the blower
    const double past = passes(at.pressure_Pa, at.temperature_K, outlet_Pa, at.temperature_K);
    // Where all would go past, next to nothing still goes through, so that a solver finds its way back.
    constexpr double least = 1e-3;
    const double share = 1 - past / at.flow_kg_s;
    const double through = at.flow_kg_s * (share >= least ? share : least / (2 - share / least));
    auto blown = work(scene, {through, at.pressure_Pa, at.temperature_K, at.ratio});
    if (blown) {
      blown->bypass_kg_s = through - at.flow_kg_s;
      blown->temperature_K = mixed_K(scene.air, through, blown->temperature_K,
                                     at.flow_kg_s - through + 1e-300, at.temperature_K);
      blown->flow_kg_s = at.flow_kg_s;
    }
    return blown;
  }

  // Air comes back hot and warms what is drawn: the temperature at the blower's inlet is where the mixture
  // has just that temperature. Secant, since it is nearly straight.
  std::optional<Blown> blown;
  double back = 0;
  const auto mixture_K = [&](double inlet_K) -> std::optional<double> {
    blown = work(scene, {at.flow_kg_s + back, at.pressure_Pa, inlet_K, at.ratio});
    if (!blown)
      return std::nullopt;
    back = passes(outlet_Pa, blown->temperature_K, at.pressure_Pa, inlet_K);
    return mixed_K(scene.air, at.flow_kg_s, at.temperature_K, back, blown->temperature_K);
  };
  double inlet_K = at.temperature_K;
  auto mixed = mixture_K(inlet_K);
  double before_K = inlet_K, before_mixed_K = mixed.value_or(inlet_K);
  for (int round = 0; round < 60 && mixed && std::abs(*mixed - inlet_K) > 1e-11 * inlet_K; ++round) {
    double next_K = *mixed;
    if (round > 0 && inlet_K != before_K) {
      const double slope = (*mixed - before_mixed_K) / (inlet_K - before_K);
      if (slope < 0.99)
        next_K = inlet_K + (*mixed - inlet_K) / (1 - slope);
    }
    before_K = inlet_K;
    before_mixed_K = *mixed;
    inlet_K = std::clamp(next_K, 0.5 * at.temperature_K, greatest_temperature_K);
    mixed = mixture_K(inlet_K);
  }
  if (!mixed)
    return std::nullopt;
  // Once more with the flow that goes with this temperature.
  blown = work(scene, {at.flow_kg_s + back, at.pressure_Pa, inlet_K, at.ratio});
  if (!blown)
    return std::nullopt;
  blown->bypass_kg_s = back;
  blown->flow_kg_s = at.flow_kg_s;
  return blown;
}

BlownSlopes Blower::slopes(const BlowerScene& scene, const AtBlower& at, const Blown& blown) const {
  BlownSlopes slopes;
  slopes.ln_flow[0] = 1;
  const bool plain_valve = !bypass_ || bypass_->effective_area_m2() == 0;
  if (plain_valve) {
    if (std::holds_alternative<Displacement>(kind_)) {
      const double delivered = blown.excess + 1;
      slopes.temperature_K = {0, 0, blown.temperature_K, at.ratio * blown.heating_K};
      slopes.excess = {-delivered, delivered, -delivered, delivered * at.ratio * blown.flow_by_ratio};
      return slopes;
    }
    if (const auto* held = std::get_if<Target>(&kind_); held != nullptr && !held->map) {
      if (at.ratio > 1) {
        const double gamma = scene.air.gamma(at.temperature_K);
        const double k = (gamma - 1) / gamma;
        slopes.temperature_K[3] =
            at.temperature_K * k * std::pow(at.ratio, k) /
            std::min(1.0, held->compressor.adiabatic_efficiency * scene.tuning.blower_efficiency);
      }
      slopes.temperature_K[2] = blown.temperature_K;
      return slopes;
    }
  }
  // With a map or a valve: by differences. They steer Newton's method and nothing else.
  constexpr double nudge = 1e-6;
  const auto by = [&](std::size_t which, AtBlower near) {
    const auto other = blow(scene, near);
    if (!other)
      return;
    slopes.temperature_K[which] = (other->temperature_K - blown.temperature_K) / nudge;
    slopes.ln_flow[which] = std::log(other->flow_kg_s / blown.flow_kg_s) / nudge;
    slopes.excess[which] = (other->excess - blown.excess) / nudge;
  };
  const double more = std::exp(nudge);
  by(0, {at.flow_kg_s * more, at.pressure_Pa, at.temperature_K, at.ratio});
  by(1, {at.flow_kg_s, at.pressure_Pa * more, at.temperature_K, at.ratio});
  by(2, {at.flow_kg_s, at.pressure_Pa, at.temperature_K * more, at.ratio});
  by(3, {at.flow_kg_s, at.pressure_Pa, at.temperature_K, at.ratio * more});
  return slopes;
}

} // namespace bellmouth::flow
