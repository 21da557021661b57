// SPDX-License-Identifier: GPL-3.0-or-later
// Flow through small openings: valves that are open or leak, clearances of a blower.
#pragma once

namespace bellmouth::machine {

/// What passes a nozzle.
struct NozzleFlow {
  double mass_flow_kg_s;
  bool choked;
  /// How the flow answers to the ratio of the pressures downstream over upstream [kg/s]: zero when choked,
  /// and without bound towards a ratio of one.
  double by_ratio;
};
/// The mass flow through an ideal nozzle of area A from total pressure p0 and total temperature T0 into a
/// space at static pressure p (Saint-Venant & Wantzel 1839; e.g. ISO 9300 for the choked one): with x = p/p0
///   m = A p0 / sqrt(R T0) sqrt(2 g/(g-1) (x^(2/g) - x^((g+1)/g))),
/// from the critical ratio x* = (2/(g+1))^(g/(g-1)) downward that at x*. A real opening passes the same with
/// its area times a discharge coefficient. `area_m2` >= 0, 0 <= p <= p0, p0 > 0, 1 < gamma < 1.8
/// (assertions). Exact for a perfect gas; the band is that of the area.
[[nodiscard]] NozzleFlow nozzle_flow(double area_m2, double upstream_pressure_Pa,
                                     double upstream_temperature_K, double downstream_pressure_Pa,
                                     double gamma, double gas_constant_J_kgK);
/// Only the mass flow.
[[nodiscard]] double nozzle_mass_flow_kg_s(double area_m2, double upstream_pressure_Pa,
                                           double upstream_temperature_K, double downstream_pressure_Pa,
                                           double gamma, double gas_constant_J_kgK);
/// p/p0 at which a nozzle chokes.
[[nodiscard]] double critical_pressure_ratio(double gamma);

/// \name Leakage
/// The nozzle function psi = m sqrt(R T0) / (A p0) of x = p/p0, made fit for a solver: where the pressures
/// differ by less than `linear_difference` of the upstream one, the flow goes to nothing in proportion to the
/// difference (as in narrow gaps, where it is laminar then) instead of with its root; value and slope join.
///@{
inline constexpr double linear_difference = 1e-3;
struct NozzleFunction {
  double value;
  double by_ratio; ///< d psi / d x, finite everywhere
};
/// For 0 <= x <= 1 (an assertion).
[[nodiscard]] NozzleFunction leak_function(double pressure_ratio, double gamma);
/// What leaks through an opening between two spaces, and how it answers to their pressures.
struct LeakFlow {
  double mass_flow_kg_s; ///< from the first to the second; negative when the second has the higher pressure
  double by_first_kg_sPa, by_second_kg_sPa;
};
/// Each space has its own temperature, which counts when the flow comes from there.
[[nodiscard]] LeakFlow leak_flow(double area_m2, double first_pressure_Pa, double first_temperature_K,
                                 double second_pressure_Pa, double second_temperature_K, double gamma,
                                 double gas_constant_J_kgK);
///@}

} // namespace bellmouth::machine
