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
inline constexpr Band engine_filling_band{0.05, "common practice"};
/// Of a blower, stated or by a map.
inline constexpr Band blower_filling_band{0.04, "common practice"};
inline constexpr Band blower_efficiency_band{0.06, "common practice"};
/// A loss coefficient that the user states of a meter body or an open throttle.
inline constexpr Band stated_loss_band{0.25, "common practice"};
/// A butterfly's by the angle of its plate: thickness of plate and shaft differ.
inline constexpr Band butterfly_band{0.40, "common practice"};
/// A loss coefficient that the user states where branches divide or join.
inline constexpr Band junction_band{0.30, "common practice"};
/// Conductance U A of a core away from its rated flow.
inline constexpr Band conductance_band{0.20,
                                       "Kays & London, Incropera et al.: correlations of compact surfaces"};
/// What a blower loses by leakage, away from its rated point: temperature of the leaking air, and clearances
/// that close as it warms.
inline constexpr Band leakage_band{0.25, "common practice"};
/// Effective area of a valve that stands open or leaks; discharge coefficients lie between 0.6 and 0.9.
inline constexpr Band valve_area_band{0.20, "common practice"};
/// Efficiencies, and pressure ratio less one, between the points of a map: a monotone cubic through nine
/// points of a line meets a closed form within 0.002, what is left is how real lines differ from affinity.
inline constexpr Band map_between_band{0.03, "closed form, common practice"};
/// The same where a map is held or carried on beyond its points.
inline constexpr Band map_outside_band{0.20, "common practice"};
/// Crank work of a kilogram of air by `default_work_per_air_J_kg`: 0.97 to 1.07 g/s per kW by one rule of the
/// trade, 1.01 to 1.21 from mixture and fuel consumption.
inline constexpr Band work_per_air_band{0.15, "trade rules on air per power"};

} // namespace bellmouth::machine
