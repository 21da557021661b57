// SPDX-License-Identifier: GPL-3.0-or-later
// What the sample builds are made of: engine, ports, keep-outs, stock. All invented.
#pragma once

#include <bellmouth/build.hpp>

#include <cstdint>
#include <numbers>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace bellmouth::test {

[[nodiscard]] constexpr double mm(double length_mm) {
  return length_mm / 1000.0;
}
[[nodiscard]] constexpr double deg(double angle_deg) {
  // The nearest double to the angle, as reading a file gives it.
  return static_cast<double>(static_cast<long double>(angle_deg) * std::numbers::pi_v<long double> / 180);
}

[[nodiscard]] inline quantity::Currency euro() {
  return {{'E', 'U', 'R'}};
}
[[nodiscard]] inline quantity::Money euros(std::int64_t whole, std::int64_t cents) {
  return {whole * 100 + cents, euro()};
}

/// 1.6 litres, four cylinders, idles at 900 rpm and is held to 6600 rpm.
[[nodiscard]] inline machine::Engine sample_engine() {
  return {0.0016, 4, 4, {{15.0, 0.78}, {60.0, 0.92}, {110.0, 0.85}}, 15.0, 110.0, 90.0};
}

/// The same with all that can be said of an engine.
[[nodiscard]] inline machine::Engine full_engine() {
  machine::Engine engine = sample_engine();
  engine.pulsation_factor = 1.3;
  engine.lost_in_scavenging = 0.04;
  engine.work_per_air_J_kg = 950e3;
  return engine;
}

/// Three lines of four points, from surge to choke.
[[nodiscard]] inline machine::CompressorMap sample_compressor_map() {
  const auto line = [](double speed_rpm, std::vector<machine::CompressorMapPoint> points) {
    for (auto& point : points)
      point.corrected_speed_rev_s = speed_rpm / 60;
    return points;
  };
  machine::CompressorMap map{298.15, 100e3, {}};
  for (const auto& points :
       {line(40e3,
             {{0, 0.05, 1.36, 0.66}, {0, 0.08, 1.34, 0.72}, {0, 0.105, 1.28, 0.70}, {0, 0.125, 1.2, 0.6}}),
        line(52e3,
             {{0, 0.07, 1.65, 0.67}, {0, 0.105, 1.62, 0.74}, {0, 0.14, 1.5, 0.71}, {0, 0.165, 1.3, 0.58}}),
        line(62e3,
             {{0, 0.09, 2.0, 0.66}, {0, 0.135, 1.95, 0.73}, {0, 0.175, 1.76, 0.70}, {0, 0.2, 1.45, 0.57}})})
    map.points.insert(map.points.end(), points.begin(), points.end());
  return map;
}

/// Three speeds with three pressure ratios each.
[[nodiscard]] inline std::vector<machine::BlowerMapPoint> sample_blower_map() {
  return {{75, 1.2, 0.83, 0.60},  {75, 1.5, 0.74, 0.57},  {75, 1.8, 0.66, 0.52},
          {150, 1.2, 0.90, 0.63}, {150, 1.5, 0.86, 0.60}, {150, 1.8, 0.81, 0.55},
          {225, 1.2, 0.93, 0.61}, {225, 1.5, 0.90, 0.59}, {225, 1.8, 0.87, 0.55}};
}

/// A beaded port; sizes in millimetres; measured only if a place is given.
[[nodiscard]] inline build::Port sample_port(std::string id, std::optional<std::string> machine,
                                             build::Mounting mounting, double bore_mm,
                                             double outer_diameter_mm, double land_mm,
                                             std::optional<build::Vector> position_mm = {},
                                             build::Vector direction = {1, 0, 0}) {
  build::Port port{{std::move(id)},       std::nullopt, mounting, mm(bore_mm),
                   mm(outer_diameter_mm), mm(land_mm),  true,     {}};
  if (machine)
    port.machine = build::MachineId{*std::move(machine)};
  if (position_mm) {
    auto& at = *position_mm;
    port.pose = build::Pose{{mm(at[0]), mm(at[1]), mm(at[2])}, direction};
  }
  return port;
}

/// One of each shape, all classes.
[[nodiscard]] inline std::vector<build::KeepOut> sample_keep_outs() {
  using namespace build;
  return {
      {"battery", KeepOutClass::fixed, std::nullopt,
       Box{{mm(500), mm(500), mm(200)},
           {mm(120), mm(85), mm(95)},
           {{{0.8, 0.6, 0}, {-0.6, 0.8, 0}, {0, 0, 1}}}}},
      {"fan belt", KeepOutClass::moving, mm(25),
       Cylinder{{mm(350), mm(-200), mm(100)}, {mm(350), mm(200), mm(100)}, mm(70)}, Mounting::engine},
      {"exhaust header", KeepOutClass::hot, std::nullopt, Sphere{{mm(100), mm(-250), mm(50)}, mm(110)}},
      {"bonnet", KeepOutClass::fixed, mm(20), HalfSpace{{0, 0, mm(600)}, {0, 0, 1}}},
      {"inner wing", KeepOutClass::fixed, std::nullopt,
       Scan{"scans/inner-wing.stl",
            mesh::Unit::inch,
            {mm(40), mm(-12.5), 0},
            {{{0, 1, 0}, {-1, 0, 0}, {0, 0, 1}}},
            "0123456789abcdef",
            nullptr,
            {}}},
      {"wheel at lock",
       KeepOutClass::moving,
       std::nullopt,
       Sphere{{mm(-900), mm(700), 0}, mm(310)},
       Mounting::body,
       std::nullopt,
       {{"wheels left"}},
       Survey{false, mm(25), "from the other side"}},
      {"blower case",
       KeepOutClass::fixed,
       mm(5),
       Sphere{{mm(450), mm(-900), 0}, mm(90)},
       Mounting::engine,
       MachineId{"blower"},
       {},
       Survey{true, mm(2), {}}},
  };
}

/// One item of each kind.
[[nodiscard]] inline std::vector<build::StockItem> sample_stock() {
  using namespace build;
  const auto item = [](const char* id, StockKind kind, const char* name, Material material,
                       quantity::Money price) {
    StockItem made;
    made.id = {id};
    made.kind = kind;
    made.name = name;
    made.material = material;
    made.price = price;
    return made;
  };
  auto tube = item("tube-63", StockKind::tube, "Tube 63.5 x 1.65", Material::aluminium, euros(24, 0));
  tube.outer_diameter_m = mm(63.5);
  tube.wall_m = mm(1.65);
  tube.length_m = 1.0;
  tube.per = Per::metre;
  auto bend =
      item("bend-63-90", StockKind::tube_bend, "Bend 63.5, 90 degrees", Material::aluminium, euros(19, 90));
  bend.outer_diameter_m = mm(63.5);
  bend.wall_m = mm(1.65);
  bend.angle_rad = deg(90);
  bend.radius_m = mm(95);
  bend.leg_in_m = mm(100);
  bend.leg_out_m = mm(100);
  auto mitred =
      item("mitre-63-45", StockKind::mitred_bend, "Mitred bend 63.5", Material::mild_steel, euros(31, 0));
  mitred.outer_diameter_m = mm(63.5);
  mitred.wall_m = mm(1.65);
  mitred.angle_rad = deg(45);
  mitred.radius_m = mm(100);
  auto cone = item("cone-60-63", StockKind::cone, "Cone 60 to 63.5", Material::stainless_steel, euros(14, 5));
  cone.outer_diameter_m = mm(63.5);
  cone.wall_m = mm(1.65);
  cone.length_m = mm(50);
  auto adapter =
      item("adapter-63-70", StockKind::adapter, "Turned adapter", Material::aluminium, euros(42, 0));
  adapter.bore_m = mm(60.2);
  adapter.bore_out_m = mm(66);
  adapter.length_m = mm(80);
  auto hose = item("hose-63", StockKind::hose, "Hose 63.5", Material::silicone, euros(9, 50));
  hose.bore_m = mm(63.5);
  hose.wall_m = mm(4.5);
  hose.length_m = mm(80);
  hose.max_temperature_K = 453.15;
  hose.plies = 4;
  auto hump = item("hump-60", StockKind::hump_hose, "Hump hose 60", Material::silicone, euros(13, 0));
  hump.bore_m = mm(60);
  hump.wall_m = mm(5);
  hump.length_m = mm(95);
  auto elbow =
      item("elbow-63-45", StockKind::hose_elbow, "Elbow 63.5, 45 degrees", Material::silicone, euros(17, 25));
  elbow.bore_m = mm(63.5);
  elbow.wall_m = mm(4.5);
  elbow.angle_rad = deg(45);
  elbow.radius_m = mm(75);
  elbow.leg_in_m = mm(100);
  elbow.leg_out_m = mm(100);
  auto reducer =
      item("reducer-76-70", StockKind::hose_reducer, "Reducer 76.2 to 70", Material::silicone, euros(16, 0));
  reducer.bore_m = mm(76.2);
  reducer.bore_out_m = mm(70);
  reducer.wall_m = mm(4.5);
  reducer.length_m = mm(76);
  auto boss =
      item("boss-m12", StockKind::sensor_boss, "Weld-on boss M12x1.5", Material::aluminium, euros(6, 0));
  boss.thread = "M12x1.5";
  auto flange =
      item("flange-25", StockKind::valve_flange, "Valve flange 25 mm", Material::aluminium, euros(21, 0));
  flange.bore_m = mm(25.4);
  auto clamp = item("clamp-70", StockKind::clamp, "Clamp 68 to 76", Material::stainless_steel, euros(3, 40));
  clamp.clamp_min_m = mm(68);
  clamp.clamp_max_m = mm(76);
  clamp.band_width_m = mm(12.7);
  return {tube, bend, mitred, cone, adapter, hose, hump, elbow, reducer, boss, flange, clamp};
}

} // namespace bellmouth::test
