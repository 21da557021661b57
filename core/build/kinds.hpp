// SPDX-License-Identifier: GPL-3.0-or-later
// The words for the alternatives of each variant and for each enumerator, in their order.
#pragma once

#include <bellmouth/build/document.hpp>

#include <array>
#include <string_view>

namespace bellmouth::build {

/// A kind as files spell it and as people read it.
struct KindWords {
  std::string_view key, name;
};
template <class Variant> using KindTable = std::array<KindWords, std::variant_size_v<Variant>>;

inline constexpr KindTable<Shape> shape_kinds{{{"tube", "tube"},
                                               {"tube_bend", "tube bend"},
                                               {"mitred_bend", "mitred bend"},
                                               {"cone", "cone"},
                                               {"adapter", "adapter"},
                                               {"hose", "hose"},
                                               {"hump_hose", "hump hose"},
                                               {"hose_elbow", "hose elbow"},
                                               {"hose_reducer", "hose reducer"},
                                               {"sensor_boss", "sensor boss"},
                                               {"valve_flange", "valve flange"}}};
inline constexpr KindTable<MachineKind> machine_kinds{{{"filter", "filter"},
                                                       {"meter_body", "meter body"},
                                                       {"displacement_blower", "displacement blower"},
                                                       {"target_compressor", "target compressor"},
                                                       {"geared_compressor", "geared compressor"},
                                                       {"charge_cooler", "charge cooler"},
                                                       {"throttle", "throttle"}}};
inline constexpr KindTable<Ambient> ambient_kinds{{{"weather", "weather"}, {"altitude", "altitude"}}};
inline constexpr KindTable<Demand> demand_kinds{{{"engine", "engine"}, {"fixed_flow", "fixed flow"}}};
using KeepOutShape = decltype(KeepOut::shape);
inline constexpr KindTable<KeepOutShape> keep_out_kinds{{{"box", "box"},
                                                         {"cylinder", "cylinder"},
                                                         {"sphere", "sphere"},
                                                         {"half_space", "half-space"},
                                                         {"scan", "scan"}}};

inline constexpr std::array<std::string_view, 6> material_keys{"aluminium", "mild_steel", "stainless_steel",
                                                               "silicone",  "rubber",     "plastic"};
inline constexpr std::array<std::string_view, 2> mounting_keys{"engine", "body"};
inline constexpr std::array<std::string_view, 3> keep_out_class_keys{"fixed", "moving", "hot"};
inline constexpr std::array<std::string_view, 4> unit_keys{"mm", "cm", "m", "in"};
inline constexpr std::array<std::string_view, 4> photograph_view_keys{"above", "left", "right", "front"};
inline constexpr std::array<std::string_view, 3> open_inlet_keys{"bellmouth", "flush", "projecting"};
inline constexpr std::array<std::string_view, 2> target_at_keys{"blower_outlet", "manifold"};
inline constexpr std::array<std::string_view, 12> stock_kind_keys{
    "tube",      "tube_bend",  "mitred_bend",  "cone",        "adapter",      "hose",
    "hump_hose", "hose_elbow", "hose_reducer", "sensor_boss", "valve_flange", "clamp"};
inline constexpr std::array<std::string_view, 3> filter_state_keys{"clean", "dirty", "wet"};
inline constexpr std::array<std::string_view, 2> bypass_to_keys{"inlet", "open_air"};
inline constexpr std::array<std::string_view, 5> arrangement_keys{
    "counterflow", "parallel_flow", "cross_flow_unmixed", "cross_flow_min_mixed", "cross_flow_max_mixed"};
inline constexpr std::array<std::string_view, 3> lining_keys{"smooth", "wire", "corrugated"};
inline constexpr std::array<std::string_view, 7> coefficient_keys{"engine_volumetric_efficiency",
                                                                  "blower_volumetric_efficiency",
                                                                  "blower_adiabatic_efficiency",
                                                                  "filter_drop",
                                                                  "cooler_drop",
                                                                  "cooler_effectiveness",
                                                                  "duct_losses"};
inline constexpr std::array<std::string_view, 2> per_keys{"each", "metre"};
inline constexpr std::array<std::string_view, 6> clamp_type_keys{
    "worm", "lined_worm", "lug", "round_bolt", "spring", "constant_tension"};
inline constexpr std::array<std::string_view, 3> connection_keys{"spigot", "flange", "thread"};

} // namespace bellmouth::build
