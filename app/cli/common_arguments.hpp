// SPDX-License-Identifier: GPL-3.0-or-later
// Arguments that several sums take, and short ways to state others.
#pragma once

#include "sums.hpp"

#include <numbers>

namespace bellmouth::cli {

inline constexpr double mm_per_m = 1e3;
inline constexpr double deg_per_rad = 180 / std::numbers::pi;

/// \name Kinds
///@{
inline constexpr Quantity positive_length{quantity::Dimension::length, "mm", 0, 100, true};
inline constexpr Quantity positive_ratio{.dimension = quantity::Dimension::ratio,
                                         .unit = "",
                                         .lowest = 0,
                                         .highest = std::numeric_limits<double>::infinity(),
                                         .above_lowest = true};
inline constexpr Quantity bend_angle{quantity::Dimension::angle, "°", 0, std::numbers::pi, true};
///@}

inline const Argument reynolds{"--reynolds", "Reynolds number of the bore", positive_ratio};
inline const Argument relative_roughness{"--relative-roughness", "roughness over bore",
                                         Quantity{quantity::Dimension::ratio, "", 0, 0.05}, Need::optional,
                                         "0"};
inline const Argument gamma_argument{"--gamma", "ratio of specific heats",
                                     Quantity{quantity::Dimension::ratio, "", 1.05, 1.7}, Need::optional,
                                     "1.4"};
inline const Argument bore{"--bore", "inside diameter", positive_length};

} // namespace bellmouth::cli
