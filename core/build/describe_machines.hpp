// SPDX-License-Identifier: GPL-3.0-or-later
// The descriptions of machines. See describe.hpp.
#pragma once

#include "describe.hpp"

#include <bellmouth/machine/maps.hpp>

namespace bellmouth::build {

inline constexpr std::string_view map_words =
    "two or more lines of constant speed by rising speed, each of two or more points by rising flow, the "
    "first of them above a pressure ratio of 1";
inline constexpr std::string_view blower_map_words =
    "a full grid: two or more speeds, each with the same two or more pressure ratios";

/// \name Machines
///@{
void describe(auto& v, Like<machine::RatedPoint> auto& point) {
  v.field("volume_flow_m3_s", point.volume_flow_m3_s, limits::volume_flow);
  v.field("drop_Pa", point.drop_Pa, limits::drop);
}

void describe(auto& v, Like<machine::Filter> auto& filter) {
  v.list("rated", filter.rated, limits::points);
  v.field("dirty_factor", filter.dirty_factor, limits::dirty_factor);
  v.field("cold_feed", filter.cold_feed, FlagField{});
  v.field("oiled", filter.oiled, FlagField{});
  v.defaulted("wet_factor", filter.wet_factor, 1.0, limits::dirty_factor);
  v.defaulted("state", filter.state, machine::FilterState::dirty,
              ChoiceField<machine::FilterState>{{filter_state_keys}});
}

void describe(auto& v, Like<machine::Screen> auto& screen) {
  v.field("wire_diameter_mm", screen.wire_diameter_m, limits::wall);
  v.field("pitch_mm", screen.pitch_m, limits::wall);
  v.rule("pitch_mm", screen.pitch_m >= limits::screen_pitch * screen.wire_diameter_m * (1 - 1e-12),
         "a pitch of at least 1.1 times the diameter of the wire");
}

void describe(auto& v, Like<machine::MeterBody> auto& meter) {
  v.field("bore_mm", meter.bore_m, limits::diameter);
  v.field("length_mm", meter.length_m, limits::length);
  v.field("loss_coefficient", meter.loss_coefficient, limits::loss_coefficient);
  v.optional_object("screen", meter.screen);
  v.rule("screen.pitch_mm", !meter.screen || meter.screen->pitch_m < meter.bore_m, "a pitch below the bore");
}

void describe(auto& v, Like<machine::BypassValve> auto& valve) {
  v.field("bore_mm", valve.bore_m, limits::diameter);
  v.field("opening", valve.opening, limits::share);
  v.field("discharge_coefficient", valve.discharge_coefficient, limits::efficiency);
  v.field("leak_area_m2", valve.leak_area_m2, limits::leak_area);
  v.field("to", valve.to, ChoiceField<machine::BypassTo>{{bypass_to_keys}});
}

void describe(auto& v, Like<machine::RatedLeak> auto& leak) {
  v.field("speed_rpm", leak.speed_rev_s, limits::speed);
  v.field("pressure_ratio", leak.pressure_ratio, limits::pressure_ratio);
  v.field("volumetric_efficiency", leak.volumetric_efficiency, limits::volumetric_efficiency);
}

void describe(auto& v, Like<machine::BlowerMapPoint> auto& point) {
  v.field("speed_rpm", point.speed_rev_s, limits::speed);
  v.field("pressure_ratio", point.pressure_ratio, limits::map_ratio);
  v.field("volumetric_efficiency", point.volumetric_efficiency, limits::volumetric_efficiency);
  v.field("adiabatic_efficiency", point.adiabatic_efficiency, limits::efficiency);
}

void describe(auto& v, Like<machine::CompressorMapPoint> auto& point) {
  v.field("corrected_speed_rpm", point.corrected_speed_rev_s, limits::speed);
  v.field("corrected_flow_kg_s", point.corrected_flow_kg_s, limits::mass_flow);
  v.field("pressure_ratio", point.pressure_ratio, limits::map_ratio);
  v.field("adiabatic_efficiency", point.adiabatic_efficiency, limits::efficiency);
}

void describe(auto& v, Like<machine::CompressorMap> auto& map) {
  v.field("reference_temperature_K", map.reference_temperature_K, limits::temperature);
  v.field("reference_pressure_Pa", map.reference_pressure_Pa, limits::pressure);
  v.list("points", map.points, limits::map_points);
  v.rule(
      "points", [&] { return machine::map_fault(map); }, map_words);
}

void describe(auto& v, Like<machine::DisplacementBlower> auto& blower) {
  v.field("swept_volume_m3_rev", blower.swept_volume_m3_rev, limits::swept_volume);
  v.field("drive_ratio", blower.drive_ratio, limits::drive_ratio);
  v.field("volumetric_efficiency", blower.volumetric_efficiency, limits::volumetric_efficiency);
  v.optional("adiabatic_efficiency", blower.adiabatic_efficiency, limits::efficiency);
  v.field("mechanical_efficiency", blower.mechanical_efficiency, limits::efficiency);
  v.field("max_speed_rpm", blower.max_speed_rev_s, limits::speed);
  v.field("max_outlet_temperature_K", blower.max_outlet_temperature_K, limits::temperature);
  v.defaulted("internal_volume_ratio", blower.internal_volume_ratio, 1.0, limits::internal_ratio);
  v.optional_object("leak", blower.leak);
  v.rule("leak.volumetric_efficiency",
         !blower.leak || blower.leak->volumetric_efficiency < blower.volumetric_efficiency,
         "a volumetric efficiency below that without pressure");
  v.optional_list("map", blower.map, limits::map_points);
  v.rule(
      "map", [&] { return blower.map.empty() ? std::nullopt : machine::map_fault(blower.map); },
      blower_map_words);
  v.optional_object("bypass", blower.bypass);
}

void describe(auto& v, Like<machine::TargetCompressor> auto& compressor) {
  v.field("target_pressure_Pa", compressor.target_pressure_Pa, limits::pressure);
  v.field("target_at", compressor.target_at, ChoiceField<machine::TargetAt>{{target_at_keys}});
  v.field("adiabatic_efficiency", compressor.adiabatic_efficiency, limits::efficiency);
  v.field("mechanical_efficiency", compressor.mechanical_efficiency, limits::efficiency);
  v.field("driven_by_exhaust", compressor.driven_by_exhaust, FlagField{});
  v.field("max_pressure_ratio", compressor.max_pressure_ratio, limits::pressure_ratio);
  v.field("max_outlet_temperature_K", compressor.max_outlet_temperature_K, limits::temperature);
  v.optional_object("map", compressor.map);
  v.optional_object("bypass", compressor.bypass);
}

void describe(auto& v, Like<machine::GearedCompressor> auto& compressor) {
  v.field("drive_ratio", compressor.drive_ratio, limits::drive_ratio);
  v.field("mechanical_efficiency", compressor.mechanical_efficiency, limits::efficiency);
  v.field("max_speed_rpm", compressor.max_speed_rev_s, limits::speed);
  v.field("max_outlet_temperature_K", compressor.max_outlet_temperature_K, limits::temperature);
  v.object("map", compressor.map);
  v.optional_object("bypass", compressor.bypass);
}

void describe(auto& v, Like<machine::EffectivenessPoint> auto& point) {
  v.field("charge_flow_kg_s", point.charge_flow_kg_s, limits::mass_flow);
  v.field("effectiveness", point.effectiveness, limits::share);
}

void describe(auto& v, Like<machine::CoolerCore> auto& core) {
  v.field("arrangement", core.arrangement, ChoiceField<machine::Arrangement>{{arrangement_keys}});
  v.field("conductance_W_K", core.conductance_W_K, limits::conductance);
  v.field("rated_charge_flow_kg_s", core.rated_charge_flow_kg_s, limits::mass_flow);
  v.field("charge_side_share", core.charge_side_share, limits::share);
  v.field("coolant_flow_kg_s", core.coolant_flow_kg_s, limits::mass_flow);
}

void describe(auto& v, Like<machine::CoolantLoop> auto& loop) {
  v.field("water_flow_kg_s", loop.water_flow_kg_s, limits::mass_flow);
  v.field("front_effectiveness", loop.front_effectiveness, limits::efficiency);
  v.field("front_air_flow_kg_s", loop.front_air_flow_kg_s, limits::mass_flow);
}

void describe(auto& v, Like<machine::ChargeCooler> auto& cooler) {
  v.list("rated", cooler.rated, limits::points);
  v.field("effectiveness", cooler.effectiveness, limits::share);
  v.field("coolant_rise_K", cooler.coolant_rise_K, limits::coolant_rise);
  v.field("air_to_water", cooler.air_to_water, FlagField{});
  v.optional_list("effectiveness_table", cooler.effectiveness_table, limits::points);
  v.rule("effectiveness_table",
         std::ranges::is_sorted(cooler.effectiveness_table, std::ranges::less_equal{},
                                &machine::EffectivenessPoint::charge_flow_kg_s),
         "points by rising flow, no flow twice");
  v.optional_object("core", cooler.core);
  v.rule("core", !cooler.core || cooler.effectiveness_table.empty(), "a core or a table, not both");
  v.optional_object("loop", cooler.loop);
  v.rule("loop", !cooler.loop || (cooler.core && cooler.air_to_water),
         "a loop only of an air-to-water cooler with a core");
}

void describe(auto& v, Like<machine::Throttle> auto& throttle) {
  v.field("bore_mm", throttle.bore_m, limits::diameter);
  v.field("loss_coefficient", throttle.loss_coefficient, limits::loss_coefficient);
  v.optional("opening_deg", throttle.opening_rad, limits::opening);
}

void describe(auto& v, Like<machine::EfficiencyPoint> auto& point) {
  v.field("speed_rpm", point.speed_rev_s, limits::engine_speed);
  v.field("volumetric_efficiency", point.volumetric_efficiency, limits::volumetric_efficiency);
}

void describe(auto& v, Like<machine::Engine> auto& engine) {
  v.field("displacement_m3", engine.displacement_m3, limits::displacement);
  v.field("strokes", engine.strokes, limits::strokes);
  v.field("cylinders", engine.cylinders, limits::cylinders);
  v.list("efficiency", engine.efficiency, limits::points);
  v.rule("efficiency",
         std::ranges::is_sorted(engine.efficiency, std::ranges::less_equal{},
                                &machine::EfficiencyPoint::speed_rev_s),
         "points by rising speed, no speed twice");
  v.field("idle_speed_rpm", engine.idle_speed_rev_s, limits::engine_speed);
  v.field("max_speed_rpm", engine.max_speed_rev_s, limits::engine_speed);
  v.rule("max_speed_rpm", engine.idle_speed_rev_s < engine.max_speed_rev_s, "a speed above the idle speed");
  v.field("working_speed_rpm", engine.working_speed_rev_s, limits::engine_speed);
  v.rule("working_speed_rpm",
         engine.working_speed_rev_s >= engine.idle_speed_rev_s &&
             engine.working_speed_rev_s <= engine.max_speed_rev_s,
         "a speed from the idle speed to the greatest");
  v.defaulted("pulsation_factor", engine.pulsation_factor, 1.0, limits::pulsation_factor);
  v.defaulted("lost_in_scavenging", engine.lost_in_scavenging, 0.0, limits::scavenging);
  v.optional("work_per_air_J_kg", engine.work_per_air_J_kg, limits::work_per_air);
}
///@}

} // namespace bellmouth::build
