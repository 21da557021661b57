// SPDX-License-Identifier: GPL-3.0-or-later
// The bounds of every number and text in a build. They are wide: what is merely unwise is for the checks to
// say.
#pragma once

#include "fields.hpp"

namespace bellmouth::build::limits {

/// Something that has a size, and something that may be nothing.
inline constexpr NumberField length{Scale::millimetres, 0, 20000, true, false, "mm"};
inline constexpr NumberField length_or_none{Scale::millimetres, 0, 20000, false, false, "mm"};
inline constexpr NumberField diameter{Scale::millimetres, 0, 1000, true, false, "mm"};
inline constexpr NumberField wall{Scale::millimetres, 0, 50, true, false, "mm"};
/// Of a screen's wires, over their diameter; below it next to nothing is open.
inline constexpr double screen_pitch = 1.1;
inline constexpr NumberField clearance{Scale::millimetres, 0, 1000, false, false, "mm"};
inline constexpr NumberField band_width{Scale::millimetres, 0, 100, true, false, "mm"};
inline constexpr VectorField position{{Scale::millimetres, -20000, 20000, false, false, "mm"}};
inline constexpr VectorField half_size{length};
/// Components of a unit vector; its length is a rule of its own.
inline constexpr VectorField direction{{Scale::as_is, -1.000001, 1.000001, false, false, {}}};
inline constexpr AxesField axes{direction};
inline constexpr double unit_tolerance = 1e-6;
inline constexpr NumberField tolerance{Scale::millimetres, 0, 1000, false, false, "mm"};
inline constexpr NumberField roll_share{Scale::as_is, -1, 1, false, false, {}};
inline constexpr NumberField roll{Scale::degrees, 0, 30, false, false, "deg"};
inline constexpr NumberField shake{Scale::millimetres, 0, 100, false, false, "mm"};
inline constexpr NumberField give_angle{Scale::degrees, 0, 90, false, false, "deg"};
inline constexpr PairField pixel{{Scale::as_is, -100e3, 100e3, false, false, "px"}};

inline constexpr NumberField bend_angle{Scale::degrees, 0, 360, true, true, "deg"};
inline constexpr NumberField clocking{Scale::degrees, -360, 360, false, false, "deg"};
/// Of one mitre; beyond it the cut runs along the tube.
inline constexpr double mitre_angle_rad = 2.0943951023931957; // 120 degrees
inline constexpr IntegerField joints{1, 20};

inline constexpr NumberField pressure{Scale::as_is, 10e3, 1e6, false, false, "Pa"};
inline constexpr NumberField temperature{Scale::as_is, 200, 1000, false, false, "K"};
inline constexpr NumberField air_temperature{Scale::as_is, 200, 340, false, false, "K"};
inline constexpr NumberField humidity{Scale::as_is, 0, 1, false, false, {}};
/// Kilograms of vapour to a kilogram of dry air, as far as the properties of moist air go.
inline constexpr double humidity_ratio = 0.3;
inline constexpr NumberField altitude{Scale::as_is, -2000, 11000, false, false, "m"};

inline constexpr NumberField volume_flow{Scale::as_is, 0, 100, true, false, "m3/s"};
inline constexpr NumberField mass_flow{Scale::as_is, 1e-6, 100, false, false, "kg/s"};
inline constexpr NumberField drop{Scale::as_is, 0, 100e3, true, false, "Pa"};
inline constexpr NumberField loss_coefficient{Scale::as_is, 0, 1000, false, false, {}};
inline constexpr NumberField dirty_factor{Scale::as_is, 1, 100, false, false, {}};
inline constexpr NumberField displacement{Scale::as_is, 1e-6, 0.1, false, false, "m3"};
inline constexpr NumberField swept_volume{Scale::as_is, 1e-6, 0.1, false, false, "m3/rev"};
inline constexpr NumberField drive_ratio{Scale::as_is, 0.01, 100, false, false, {}};
inline constexpr NumberField pressure_ratio{Scale::as_is, 1, 20, true, false, {}};
inline constexpr NumberField speed{Scale::per_minute, 1, 500e3, false, false, "rpm"};
inline constexpr NumberField engine_speed{Scale::per_minute, 1, 30e3, false, false, "rpm"};
inline constexpr NumberField volumetric_efficiency{Scale::as_is, 0.01, 1.2, false, false, {}};
inline constexpr NumberField efficiency{Scale::as_is, 0.01, 1, false, false, {}};
inline constexpr NumberField share{Scale::as_is, 0, 1, false, false, {}};
inline constexpr NumberField coolant_rise{Scale::as_is, -40, 200, false, false, "K"};
inline constexpr NumberField map_ratio{Scale::as_is, 0.5, 20, false, false, {}};
inline constexpr NumberField internal_ratio{Scale::as_is, 1, 5, false, false, {}};
inline constexpr NumberField leak_area{Scale::as_is, 0, 0.01, false, false, "m2"};
inline constexpr NumberField conductance{Scale::as_is, 0, 100e3, true, false, "W/K"};
inline constexpr NumberField conductivity{Scale::as_is, 0.005, 500, false, false, "W/(m K)"};
inline constexpr NumberField opening{Scale::degrees, 1, 90, false, false, "deg"};
inline constexpr NumberField pulsation_factor{Scale::as_is, 1, 10, false, false, {}};
inline constexpr NumberField scavenging{Scale::as_is, 0, 0.9, false, false, {}};
inline constexpr NumberField work_per_air{Scale::as_is, 1e4, 5e6, false, false, "J/kg"};
inline constexpr NumberField bay_temperature{Scale::as_is, 200, 500, false, false, "K"};
inline constexpr NumberField air_speed{Scale::as_is, 0, 100, false, false, "m/s"};
inline constexpr NumberField measured_factor{Scale::as_is, 0.05, 20, false, false, {}};
inline constexpr NumberField band{Scale::as_is, 0, 5, false, false, {}};
inline constexpr IntegerField strokes{2, 4, 2};
inline constexpr IntegerField cylinders{1, 16};
inline constexpr IntegerField plies{1, 20};
/// Of a stock item or a parcel, in minor units: sums of what a list can hold stay exact.
inline constexpr std::int64_t highest_price_minor = 1'000'000'000;
inline constexpr std::string_view price_words = "a price of at most 1000000000 minor units (cents)";
inline constexpr IntegerField pack{1, 1000};
inline constexpr IntegerField count{1, 10000};
inline constexpr IntegerField percent{0, 1000};
inline constexpr IntegerField basis_points{0, 10000};
inline constexpr NumberField rated_gauge{Scale::as_is, 0, 10e6, true, false, "Pa"};
inline constexpr NumberField torque{Scale::as_is, 0, 200, true, false, "N m"};
inline constexpr NumberField offcut_angle{Scale::degrees, 0, 180, false, false, "deg"};
inline constexpr NumberField threshold{Scale::as_is, -1e9, 1e9, false, false, {}};
inline constexpr NamesField state_names{{1, 100}, 20};
inline constexpr NumberField quantity{Scale::as_is, 0, 100e3, true, false, {}};

inline constexpr TextField name{1, 100};
inline constexpr TextField line{0, 200};
inline constexpr TextField note{0, 10000, true};
inline constexpr TextField thread{1, 40};
inline constexpr TextField reason{1, 500};
inline constexpr TextField file_name{1, 1000};
inline constexpr TextField digest{1, 64};

/// How many entries a list may have.
struct ListBounds {
  std::size_t fewest, most;
};
[[nodiscard]] inline std::string words(const ListBounds& bounds) {
  return "a list [...] of " + std::to_string(bounds.fewest) + " to " + std::to_string(bounds.most) +
         " entries";
}
inline constexpr ListBounds points{1, 200};
inline constexpr ListBounds map_points{4, 2000};
inline constexpr ListBounds branches{0, 8};
inline constexpr ListBounds measured{0, 7};
inline constexpr ListBounds machines{0, 50};
inline constexpr ListBounds ports{0, 200};
inline constexpr ListBounds keep_outs{0, 1000};
inline constexpr ListBounds states{0, 20};
inline constexpr ListBounds photographs{0, 6};
inline constexpr ListBounds path{1, 100};
inline constexpr ListBounds options{1, 100};
inline constexpr ListBounds runs{0, 100};
inline constexpr ListBounds pieces{0, 500};
inline constexpr ListBounds stock{0, 20000};
inline constexpr ListBounds offcuts{0, 1000};
inline constexpr ListBounds waivers{0, 200};
inline constexpr ListBounds thresholds{0, 500};
inline constexpr ListBounds postage{0, 100};
inline constexpr ListBounds spares{0, 12};

} // namespace bellmouth::build::limits
