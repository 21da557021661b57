// SPDX-License-Identifier: GPL-3.0-or-later
// The charge cooler as the flow solver works with it: drop, and effectiveness by a constant, a table or a
// core, with or without a water circuit.
#pragma once

#include <bellmouth/machine.hpp>

#include <optional>

namespace bellmouth::machine {

/// Specific heats of coolants [J/(kg K)]: water as liquid at 20 to 60 C (Incropera et al., table A.6: 4182 to
/// 4185, printed 4.18), air at 27 to 77 C (table A.4: 1007 to 1009).
inline constexpr double water_cp_J_kgK = 4184.0;
inline constexpr double cooling_air_cp_J_kgK = 1008.0;

/// A charge cooler made ready. Its reference temperature T0 is the coolant's at its inlet, that is, ambient
/// plus `coolant_rise_K`; with a water circuit that of the air ahead of the outer heat exchanger. Then
///   T_out = T_in - e (T_in - T0),
/// and e is what this class gives for a charge flow m with specific heat cp. C = m cp throughout.
///
/// - Constant: e as given. Table: straight between points, held outside and said so.
/// - Core: U A = 1/(Rc (m/m0)^-0.8 + Ro), Rc = share/(U A)0 and Ro = (1 - share)/(U A)0 at the rated charge
///   flow m0: the film inside a channel in turbulent flow goes as Re^0.8 (Dittus & Boelter 1930; Incropera et
///   al. eq. 8.60), the coolant's film and the wall stay, as its flow does. NTU = U A/Cmin and
///   e = effectiveness(NTU, Cmin/Cmax) Cmin/C. A mixed stream stays mixed when the other becomes the weaker
///   one: "min mixed" and "max mixed" tell which stream it is at the rated flow (with cp of dry air there,
///   `cooling_air_cp_J_kgK`).
/// - Loop: e = 1/(C [1/(ec Cc) + 1/(ef Cf) - 1/Cw]), ec and Cc effectiveness and Cmin of the core between
///   charge and water, ef and Cf those of the outer heat exchanger between water and air, Cw that of the
///   water (Kays & London, Compact Heat Exchangers, liquid-coupled exchangers; it follows from the three
///   energy balances). The water flow is the loop's, also in the core.
///
/// Range: m >= 0; at no flow the limit is given. NTU above `max_ntu` counts as that, where the effectiveness
/// is within a thousandth of its limit. Bands: bands.hpp. Nothing is allocated after construction.
class PreparedCooler {
public:
  explicit PreparedCooler(const ChargeCooler& cooler);

  [[nodiscard]] const ChargeCooler& cooler() const { return cooler_; }
  /// The two-term drop by the rated points, see TwoTermDrop.
  [[nodiscard]] TwoTermDrop drop() const { return drop_; }

  struct Action {
    double effectiveness; ///< e: on T_in - T0
    double by_flow;       ///< d e / d m [s/kg]; exact for constant and table, by differences for a core
    bool outside_table;
  };
  [[nodiscard]] Action act(double charge_flow_kg_s, double charge_cp_J_kgK) const;

  /// What goes on inside, for the reader of results.
  struct Inside {
    double ntu, capacity_ratio;         ///< of the core
    double core_effectiveness;          ///< on the smaller heat capacity rate
    double heat_W;                      ///< given up by the charge
    double coolant_in_K, coolant_out_K; ///< at the core
  };
  /// Nothing when the cooler is not described by a core. `charge_flow_kg_s` > 0 (an assertion).
  [[nodiscard]] std::optional<Inside> inside(double charge_flow_kg_s, double charge_cp_J_kgK,
                                             double inlet_temperature_K,
                                             double reference_temperature_K) const;

private:
  ChargeCooler cooler_;
  TwoTermDrop drop_;
  double coolant_rate_W_K_ = 0;    ///< heat capacity rate of the coolant in the core
  bool charge_mixed_ = false;      ///< of a mixed arrangement: the charge, not the coolant
  double loop_resistance_K_W_ = 0; ///< 1/(ef Cf) - 1/Cw

  struct CoreState {
    double ntu, capacity_ratio, effectiveness, min_rate_W_K;
  };
  [[nodiscard]] CoreState core_state(double charge_flow_kg_s, double charge_rate_W_K) const;
  [[nodiscard]] double core_effectiveness(double charge_flow_kg_s, double charge_cp_J_kgK) const;
};

} // namespace bellmouth::machine
