// SPDX-License-Identifier: GPL-3.0-or-later
// The Mach number back from every isentropic and Fanno ratio of <bellmouth/air.hpp>, and heat addition in a
// duct (Rayleigh flow). Perfect gas, gamma above 1 (an assertion).
//
// Every inverse takes any number: one that no flow has, infinity and NaN included, is the error Unphysical,
// so that what people type may be handed over as it is. What is found gives the ratio back to 1e-13. Where a
// ratio is flat at Mach 1 (area, mass flow, total pressure, f L*/D, T0/T0*) or at Mach 0, the Mach number
// itself is known only as far as the last digit of the ratio tells: there to about 1e-8; beyond the value at
// Mach 1 by less than 1e-14 of it, which is rounding, it counts as that value.
#pragma once

#include <bellmouth/air.hpp>

namespace bellmouth::air {

/// Below or above Mach 1, where a ratio belongs to one of each.
enum class Branch { subsonic, supersonic };

/// No flow has this ratio: those that have lie between these two (a limit reached at an infinite Mach number,
/// or not at all, is not among them).
struct Unphysical {
  double lowest, highest;
};

using MachFound = tl::expected<double, Unphysical>;

/// \name Isentropic flow
///@{
/// From T/T0, above 0 to 1.
[[nodiscard]] MachFound mach_of_temperature_ratio(double ratio, double gamma);
/// From p/p0, above 0 to 1.
[[nodiscard]] MachFound mach_of_pressure_ratio(double ratio, double gamma);
/// From rho/rho0, above 0 to 1.
[[nodiscard]] MachFound mach_of_density_ratio(double ratio, double gamma);
/// From A/A*, 1 and above.
[[nodiscard]] MachFound mach_of_area_ratio(double ratio, double gamma, Branch branch);
/// From the mass-flow function m sqrt(R T0)/(A p0): 0 (supersonic: above 0) to that at Mach 1.
[[nodiscard]] MachFound mach_of_mass_flow_function(double value, double gamma, Branch branch);
///@}

/// \name Fanno flow
///@{
/// From f L*/D: 0 and above; supersonic: below that at infinite Mach number, 0.8215 at gamma 1.4.
[[nodiscard]] MachFound mach_of_fanno_parameter(double value, double gamma, Branch branch);
/// From p0/p0*, 1 and above.
[[nodiscard]] MachFound mach_of_fanno_total_pressure_ratio(double ratio, double gamma, Branch branch);
/// From p/p*, above 0.
[[nodiscard]] MachFound mach_of_fanno_pressure_ratio(double ratio, double gamma);
/// From T/T*, above 0 to (gamma+1)/2.
[[nodiscard]] MachFound mach_of_fanno_temperature_ratio(double ratio, double gamma);
/// From rho/rho* (V*/V), above sqrt((gamma-1)/(gamma+1)).
[[nodiscard]] MachFound mach_of_fanno_density_ratio(double ratio, double gamma);
///@}

/// \name Rayleigh flow: heat added or taken without friction in a constant area
/// With x = M^2 (Shapiro, The Dynamics and Thermodynamics of Compressible Fluid Flow, 1953, chapter 7):
/// p/p* = (gamma+1)/(1 + gamma x), T/T* = x (p/p*)^2, V/V* = x p/p*,
/// T0/T0* = 1 - ((1 - x)/(1 + gamma x))^2, p0/p0* = p/p* ((1 + k x)/(1 + k))^(gamma/(gamma-1)).
/// Mach number 0 and above.
///@{
[[nodiscard]] double rayleigh_total_temperature_ratio(double mach, double gamma);
[[nodiscard]] double rayleigh_temperature_ratio(double mach, double gamma);
[[nodiscard]] double rayleigh_pressure_ratio(double mach, double gamma);
[[nodiscard]] double rayleigh_total_pressure_ratio(double mach, double gamma);
[[nodiscard]] double rayleigh_velocity_ratio(double mach, double gamma);
/// From T0/T0*: 0 to 1; supersonic: above 1 - 1/gamma^2, reached at infinite Mach number.
[[nodiscard]] MachFound mach_of_rayleigh_total_temperature_ratio(double ratio, double gamma, Branch branch);
/// The greatest T02/T01 that a flow entering at `mach` (above 0) can be heated by: it leaves at Mach 1.
[[nodiscard]] double rayleigh_critical_ratio(double mach, double gamma);
/// Mach number behind a duct entered at `mach` (0 to 1, an assertion) in which the total temperature changes
/// by `ratio` = T02/T01 (above 0, an assertion; below 1: cooled). Error: thermal choking; holds the greatest
/// ratio.
[[nodiscard]] tl::expected<double, Choked> rayleigh_outlet_mach(double mach, double ratio, double gamma);
///@}

} // namespace bellmouth::air
