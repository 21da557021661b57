// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/machine/cooling.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::machine {

namespace {

constexpr double film_exponent = 0.8;

bool is_mixed(Arrangement arrangement) {
  return arrangement == Arrangement::cross_flow_min_mixed || arrangement == Arrangement::cross_flow_max_mixed;
}

} // namespace

PreparedCooler::PreparedCooler(const ChargeCooler& cooler) : cooler_(cooler), drop_(fit_rated(cooler.rated)) {
  if (!cooler.core)
    return;
  const CoolerCore& core = *cooler.core;
  assert(core.conductance_W_K > 0 && core.rated_charge_flow_kg_s > 0 && core.coolant_flow_kg_s > 0);
  const double water_flow = cooler.loop ? cooler.loop->water_flow_kg_s : core.coolant_flow_kg_s;
  coolant_rate_W_K_ =
      cooler.air_to_water ? water_flow * water_cp_J_kgK : core.coolant_flow_kg_s * cooling_air_cp_J_kgK;
  const bool charge_weaker = core.rated_charge_flow_kg_s * cooling_air_cp_J_kgK <= coolant_rate_W_K_;
  charge_mixed_ = (core.arrangement == Arrangement::cross_flow_min_mixed) == charge_weaker;
  if (cooler.loop) {
    assert(cooler.air_to_water && cooler.loop->front_effectiveness > 0);
    const double front_rate =
        std::min(coolant_rate_W_K_, cooler.loop->front_air_flow_kg_s * cooling_air_cp_J_kgK);
    loop_resistance_K_W_ = 1 / (cooler.loop->front_effectiveness * front_rate) - 1 / coolant_rate_W_K_;
  }
}

PreparedCooler::CoreState PreparedCooler::core_state(double charge_flow_kg_s, double charge_rate_W_K) const {
  const CoolerCore& core = *cooler_.core;
  const double slower = std::pow(charge_flow_kg_s / core.rated_charge_flow_kg_s, -film_exponent);
  const double conductance =
      core.conductance_W_K / (core.charge_side_share * slower + (1 - core.charge_side_share));
  const bool charge_weaker = charge_rate_W_K <= coolant_rate_W_K_;
  const double min_rate = charge_weaker ? charge_rate_W_K : coolant_rate_W_K_;
  const double max_rate = charge_weaker ? coolant_rate_W_K_ : charge_rate_W_K;
  const Arrangement arrangement = !is_mixed(core.arrangement)      ? core.arrangement
                                  : charge_mixed_ == charge_weaker ? Arrangement::cross_flow_min_mixed
                                                                   : Arrangement::cross_flow_max_mixed;
  const double ntu = std::min(conductance / min_rate, max_ntu);
  const double capacity_ratio = min_rate / max_rate;
  return {ntu, capacity_ratio, machine::effectiveness(arrangement, ntu, capacity_ratio), min_rate};
}

double PreparedCooler::core_effectiveness(double charge_flow_kg_s, double charge_cp_J_kgK) const {
  const double rate = charge_flow_kg_s * charge_cp_J_kgK;
  const CoreState state = core_state(charge_flow_kg_s, rate);
  if (state.effectiveness == 0)
    return 0;
  return 1 / (rate * (1 / (state.effectiveness * state.min_rate_W_K) + loop_resistance_K_W_));
}

PreparedCooler::Action PreparedCooler::act(double charge_flow_kg_s, double charge_cp_J_kgK) const {
  assert(charge_flow_kg_s >= 0 && charge_cp_J_kgK > 0);
  if (cooler_.core) {
    // A flow so small that nothing of it is left uncooled.
    const double least = 1e-9 * cooler_.core->rated_charge_flow_kg_s;
    const double flow = std::max(charge_flow_kg_s, least), step = 1e-6 * flow;
    const double here = core_effectiveness(flow, charge_cp_J_kgK);
    const double by_flow =
        charge_flow_kg_s > least ? (core_effectiveness(flow + step, charge_cp_J_kgK) - here) / step : 0.0;
    return {here, by_flow, false};
  }
  const auto& table = cooler_.effectiveness_table;
  if (table.empty())
    return {cooler_.effectiveness, 0, false};
  const auto above =
      std::ranges::upper_bound(table, charge_flow_kg_s, {}, &EffectivenessPoint::charge_flow_kg_s);
  if (above == table.begin())
    return {table.front().effectiveness, 0, true};
  const EffectivenessPoint& low = above[-1];
  if (above == table.end())
    return {low.effectiveness, 0, charge_flow_kg_s > low.charge_flow_kg_s};
  const double slope =
      (above->effectiveness - low.effectiveness) / (above->charge_flow_kg_s - low.charge_flow_kg_s);
  return {low.effectiveness + slope * (charge_flow_kg_s - low.charge_flow_kg_s), slope, false};
}

std::optional<PreparedCooler::Inside> PreparedCooler::inside(double charge_flow_kg_s, double charge_cp_J_kgK,
                                                             double inlet_temperature_K,
                                                             double reference_temperature_K) const {
  if (!cooler_.core)
    return std::nullopt;
  assert(charge_flow_kg_s > 0 && charge_cp_J_kgK > 0);
  const double rate = charge_flow_kg_s * charge_cp_J_kgK;
  const CoreState state = core_state(charge_flow_kg_s, rate);
  const double heat = rate * core_effectiveness(charge_flow_kg_s, charge_cp_J_kgK) *
                      (inlet_temperature_K - reference_temperature_K);
  const double coolant_in = reference_temperature_K + heat * loop_resistance_K_W_;
  return Inside{state.ntu, state.capacity_ratio, state.effectiveness,
                heat,      coolant_in,           coolant_in + heat / coolant_rate_W_K_};
}

} // namespace bellmouth::machine
