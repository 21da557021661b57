// SPDX-License-Identifier: GPL-3.0-or-later
// The subsonic branch of the mass-flow function, shared by relations and station.
#pragma once

namespace bellmouth::air {

/// Mach number and ln(T0/T) that belong to a mass flow.
struct SubsonicState {
  double mach;
  double log_temperature_ratio;
};

/// The subsonic state at `share` (0 to 1) of the sonic mass flow. `sonic` is the mass-flow function at
/// Mach 1.
[[nodiscard]] SubsonicState subsonic_state(double share, double gamma, double sonic);

} // namespace bellmouth::air
