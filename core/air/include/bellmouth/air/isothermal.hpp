// SPDX-License-Identifier: GPL-3.0-or-later
// Flow with friction in a constant bore at a constant temperature: a long pipe that takes as much heat from
// its surroundings as the gas needs.
//
// With psi = V^2/(R T) = (m/A)^2 R T/p^2 = gamma M^2 at the inlet and the pressure ratio p2/p1:
//   f L/D = (1 - (p2/p1)^2)/psi + 2 ln(p2/p1)
// (Shapiro, The Dynamics and Thermodynamics of Compressible Fluid Flow, 1953, chapter 6; f is the Darcy
// factor). It is Fanno flow at gamma = 1, and chokes at psi = 1, Mach 1/sqrt(gamma). The logarithm is the
// acceleration; handbooks of long pipes leave it out.
#pragma once

#include <bellmouth/air.hpp>

namespace bellmouth::air {

enum class Acceleration { counted, left_out };

/// f L/D between two pressures, from psi (above 0, an assertion) and p2/p1 (above 0 to 1, an assertion).
/// Negative or falling with p2/p1 where the flow would have choked before.
[[nodiscard]] double isothermal_friction_length(double psi, double pressure_ratio,
                                                Acceleration acceleration = Acceleration::counted);
/// p2/p1 behind a friction length (>= 0, an assertion), from psi (above 0 to 1, an assertion). Error: the
/// pipe is longer than the flow can reach; holds the greatest friction length.
[[nodiscard]] tl::expected<double, Choked>
isothermal_pressure_ratio(double psi, double friction_length,
                          Acceleration acceleration = Acceleration::counted);
/// psi that flows between two pressures: p2/p1 (above 0 to 1) over a friction length (above 0, assertions).
/// Below the critical pressure ratio, where psi is greatest, it is that of the formula, which does not flow.
[[nodiscard]] double isothermal_flow(double pressure_ratio, double friction_length,
                                     Acceleration acceleration = Acceleration::counted);

} // namespace bellmouth::air
