// SPDX-License-Identifier: GPL-3.0-or-later
// How far the figures of machines can be trusted where nothing was measured: relative half widths at about 19
// in 20. No published scatter was found for any of them; they are common practice and stand where a data
// sheet or an owner's estimate is typed in. A measurement replaces them, see build::Measured.
#pragma once

#include <string_view>

namespace bellmouth::machine {

struct Band {
  double half_width; ///< relative
  std::string_view source;
};

/// Drop by rated points of a data sheet.
inline constexpr Band filter_drop_band{0.20, "common practice"};
inline constexpr Band cooler_drop_band{0.20, "common practice"};
/// Effectiveness as stated, by table or by a core.
inline constexpr Band cooler_effectiveness_band{0.10, "common practice"};
/// Volumetric efficiency of an engine that was not measured.
inline constexpr Band engine_filling_band{0.08, "common practice"};
/// Of a blower, stated, by a rated leakage or by a map.
inline constexpr Band blower_filling_band{0.04, "common practice"};
inline constexpr Band blower_efficiency_band{0.10, "common practice"};
/// Of either where a map or a table is read beyond its points.
inline constexpr Band outside_points_band{0.20, "common practice"};
/// A loss coefficient that the user states of a meter body or an open throttle.
inline constexpr Band stated_loss_band{0.25, "common practice"};
/// A loss coefficient that the user states where branches divide or join.
inline constexpr Band junction_band{0.30, "common practice"};
/// Crank work of a kilogram of air by `default_work_per_air_J_kg`: 0.97 to 1.07 g/s per kW by one rule of the
/// trade, 1.01 to 1.21 from mixture and fuel consumption.
inline constexpr Band work_per_air_band{0.15, "trade rules on air per power"};

/// Heat that the walls of the ducting let through: films inside and outside, and the direction of the bay's
/// air.
inline constexpr Band wall_heat_band{0.30, "Gnielinski, Churchill & Bernstein, widened"};

} // namespace bellmouth::machine
