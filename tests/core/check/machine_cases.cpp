// SPDX-License-Identifier: GPL-3.0-or-later
#include "rule_cases.hpp"

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

void nothing(Scene&) {}

/// The geared compressor with its map's flows multiplied: the engine draws some 0.1 kg/s at its working
/// speed, where the map as it is goes from 0.07 to 0.165.
auto map_times(double factor) {
  return [=](Scene& s) { geared(s, factor); };
}
/// The exhaust-driven compressor with such a map.
auto turbo_map_times(double factor) {
  return [=](Scene& s) {
    Scene other;
    other.build.machines.resize(2);
    s.machine<machine::TargetCompressor>("blower").map = geared(other, factor).map;
  };
}
auto margin_to_surge(double margin) {
  return [=](Scene& s) {
    geared(s);
    s.after_flow = [=](flow::PathFlow& flow) { flow.machines[1].on_map->margin_to_surge = margin; };
  };
}
/// The highest line is at 62 000 rpm, the lowest at 40 000, corrected to 298.15 K; the inlet is at 293 K.
auto gear(double ratio) {
  return [=](Scene& s) {
    auto& compressor = geared(s);
    compressor.drive_ratio = ratio;
    compressor.max_speed_rev_s = 2000;
  };
}
auto bypass(double share, machine::BypassTo to, double opening = 0) {
  return [=](Scene& s) {
    s.machine<machine::DisplacementBlower>("blower").bypass =
        machine::BypassValve{mm(25), opening, 0.7, 1e-6, to};
    s.after_flow = [=](flow::PathFlow& flow) {
      auto& blower = flow.machines[1];
      blower.inlet.total_temperature_K = 293.15;
      blower.outlet.total_temperature_K = 353.15;
      blower.inlet.mass_flow_kg_s = to == machine::BypassTo::inlet ? 0.1 * (1 - share) : 0.1;
      blower.bypass_kg_s = 0.1 * share;
      blower.shaft_power_W = 10e3;
    };
  };
}
auto plate_at(double angle_deg) {
  return [=](Scene& s) { s.machine<machine::Throttle>("throttle").opening_rad = deg(angle_deg); };
}
/// 6.2 kPa are the most; a filter that takes as much again brings 4 kPa there.
auto filter_takes(double drop_Pa, machine::FilterState state, double dirty_factor) {
  return [=](Scene& s) {
    auto& filter = s.machine<machine::Filter>("filter");
    filter.state = state;
    filter.dirty_factor = dirty_factor;
    s.after_flow = [=](flow::PathFlow& flow) {
      flow.machines[0].drop_Pa = drop_Pa;
      flow.machines[1].inlet.total_pressure_Pa = 100000.0 - 3500;
    };
  };
}
auto soaked(double factor) {
  return [=](Scene& s) {
    auto& filter = s.machine<machine::Filter>("filter");
    filter.state = machine::FilterState::wet;
    filter.wet_factor = factor;
  };
}

/// Air of 20 C and 1 bar at a relative humidity that leaves the cooler at a temperature and 1.5 bar. At 20 C
/// vapour saturates at 2339 Pa (steam tables).
auto damp(double humidity, double outlet_C, double effectiveness) {
  return [=](Scene& s) {
    s.build.ambient = Weather{100000.0, 293.15, humidity};
    s.after_flow = [=](flow::PathFlow& flow) {
      auto& cooler = flow.machines[2];
      cooler.inlet.total_temperature_K = 353.15;
      cooler.outlet.total_temperature_K = 273.15 + outlet_C;
      cooler.effectiveness = effectiveness;
      cooler.outlet.total_pressure_Pa = 150000;
      cooler.outlet.mass_flow_kg_s = 0.1;
    };
  };
}
auto warms(double rise_K) {
  return [=](Scene& s) {
    s.build.bay = BayAir{333.15, 2.0};
    s.after_flow = [=](flow::PathFlow& flow) {
      auto& rows = flow.runs[suction].rows;
      rows.back().outlet.station.total_temperature_K =
          rows.front().inlet.station.total_temperature_K + rise_K;
    };
  };
}

} // namespace

std::vector<Case> machine_cases() {
  using enum machine::BypassTo;
  using enum machine::FilterState;
  return {
      {"compressor-surges", stop, "below the surge line", map_times(2), map_times(1)},
      {"compressor-surges", stop, "below the surge line", turbo_map_times(2), turbo_map_times(1), true},
      {"compressor-surges", caution, "only 8.0 % above", margin_to_surge(0.08), margin_to_surge(0.12)},
      {"compressor-chokes", caution, "beyond the last point", map_times(0.45), map_times(1)},
      // 10.5 x 5400 rpm are 56 700 rpm, 12 x 5400 rpm 64 800 rpm, 7 x 5400 rpm 37 800 rpm.
      {"compressor-off-its-speeds", caution, "above its highest line of 62000 rpm", gear(12), gear(10.5)},
      {"compressor-off-its-speeds", note, "below its lowest line of 40000 rpm", gear(7), gear(8.5)},

      // Of 60 K between inlet and outlet 10 % warm the inlet by 6 K.
      {"bypass-open", caution,
       "10.0 % of the blower's air goes back through the bypass and warms its inlet by 6.0 K",
       bypass(0.10, inlet), bypass(0.009, inlet)},
      {"bypass-open", note, "3.0 %", bypass(0.03, inlet), bypass(0, inlet)},
      {"bypass-open", caution, "8.0 % of the blower's air is lost", bypass(0.08, open_air, 0.2),
       bypass(0.009, open_air, 0.2)},

      {"throttle-part-open", note, "70.0°", plate_at(70), plate_at(80)},

      {"filter-taken-clean", note, "6.5 kPa would be lost", filter_takes(3000, dirty, 1),
       filter_takes(2700, dirty, 1)},
      {"filter-taken-clean", note, "6.5 kPa would be lost", filter_takes(3000, dirty, 1),
       filter_takes(3000, dirty, 1.5)},
      {"filter-taken-clean", note, "6.5 kPa would be lost", filter_takes(3000, dirty, 1),
       filter_takes(3000, clean, 1)},
      {"filter-taken-clean", note, "wet", soaked(1), soaked(1.8)},

      // 0.9 x 2339 Pa in 1 bar are 13.38 g of water a kilogram; at 20 C and 1.5 bar 9.85 g are the most. The
      // rest in (0.1 kg/s)/1.01338 is 1251 g an hour.
      {"condensate", caution, "1300 g an hour", damp(0.9, 20, 0.9), damp(0.3, 20, 0.9)},
      // 0.675 x 2339 Pa are 9.978 g a kilogram: 0.1251 g more, 45 g an hour.
      {"condensate", note, "45 g an hour", damp(0.675, 20, 1), damp(0.66, 20, 1)},
      // 26.67 C at an effectiveness of 8/9: the coolant comes in at 80 - 53.33 x 9/8 = 20 C.
      {"condensate", note, "walls can be at 20.0 °C", damp(0.9, 80 - 60 * 8 / 9.0, 8 / 9.0),
       damp(0.6, 80 - 60 * 8 / 9.0, 8 / 9.0)},

      {"duct-picks-up-heat", note, "warms by 4.0 K on its way; the bay is at 60 °C", warms(4), warms(2.9)},
      {"duct-picks-up-heat", note, "4.0 K", warms(4), nothing},
  };
}

} // namespace bellmouth::test
