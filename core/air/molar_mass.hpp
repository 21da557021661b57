// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace bellmouth::air {

/// Molar mass of water over that of dry air: ASHRAE Fundamentals (2017), chapter 1, equation 20.
inline constexpr double water_over_air_molar_mass = 0.621945;

} // namespace bellmouth::air
