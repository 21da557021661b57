// SPDX-License-Identifier: GPL-3.0-or-later
// Dynamic compressors on the engine: geared ones by their map, and those that hold a target.
#include "short_paths.hpp"
#include "support/close.hpp"

#include <bellmouth/machine/maps.hpp>

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::test {
namespace {

using namespace build;

/// An invented map in proportion to the engine of the tests: 0.06 to 0.2 kg/s.
machine::CompressorMap small_map() {
  machine::CompressorMap map{298.15, 1e5, {}};
  for (const double n : {0.5, 0.75, 1.0})
    for (const double u : {0.0, 0.3, 0.6, 0.8, 1.0}) {
      const double head = 0.25 * n * n * (1 + 0.05 * u - 0.5 * u * u);
      map.points.push_back(
          {1200 * n, (0.06 + 0.12 * u) * n, std::pow(1 + head, 3.5), 0.74 - 0.4 * (u - 0.5) * (u - 0.5)});
    }
  return map;
}
machine::GearedCompressor geared() {
  return {10, 0.95, 1500, 450, small_map()};
}
machine::TargetCompressor holding(double target_Pa, machine::TargetAt at) {
  machine::TargetCompressor compressor{target_Pa, at, 0.7, 0.97, true, 3, 450};
  compressor.map = small_map();
  return compressor;
}

// Identity: the operating point lies on the line of the impeller's speed, with the map's efficiency, and the
// work is that of the compression.
TEST(Geared, WorksOnTheLineOfItsSpeed) {
  const machine::PreparedCompressorMap map(small_map());
  const air::Mixture dry = dry_air();
  for (const double at : {50.0, 70.0, 90.0, 110.0}) {
    const auto result = solved(bolted({geared()}), at);
    ASSERT_EQ(result.point.stop, flow::Stop::converged) << at;
    const auto& m = result.machines[0];
    EXPECT_TRUE(close(m.speed_rev_s, 10 * at, 1e-12));
    const auto reading = map.at(map.corrected_speed_rev_s(10 * at, 293.15),
                                map.corrected_flow_kg_s(result.point.mass_flow_kg_s, 101325, 293.15));
    EXPECT_TRUE(close(m.pressure_ratio, reading.pressure_ratio, 1e-9)) << at;
    EXPECT_TRUE(close(m.adiabatic_efficiency, reading.adiabatic_efficiency, 1e-9));
    ASSERT_TRUE(m.on_map.has_value());
    EXPECT_TRUE(close(m.on_map->margin_to_surge, reading.margin_to_surge, 1e-7));
    EXPECT_EQ(m.outside_map, reading.outside());
    const double ideal =
        dry.enthalpy_J_kg(dry.isentropic_temperature_K(293.15, m.pressure_ratio)) - dry.enthalpy_J_kg(293.15);
    const double work = dry.enthalpy_J_kg(m.outlet.total_temperature_K) - dry.enthalpy_J_kg(293.15);
    EXPECT_TRUE(close(work, ideal / m.adiabatic_efficiency, 1e-9));
    EXPECT_TRUE(close(m.shaft_power_W * 0.95, result.point.mass_flow_kg_s * work, 1e-9));
    EXPECT_TRUE(close(result.point.drive_power_W, m.shaft_power_W, 1e-12));
  }
}

// Identity: flow below that of the surge line, flow beyond choke and a speed off the map are said.
TEST(Geared, SaysWhereItLeavesItsMap) {
  auto build = bolted({geared()});
  engine_of(build).displacement_m3 = 0.0005; // takes too little
  const auto surging = solved(build, 100);
  ASSERT_TRUE(surging.point.usable());
  EXPECT_TRUE(surging.machines[0].on_map->below_surge);
  EXPECT_LT(surging.machines[0].on_map->margin_to_surge, 0);
  EXPECT_FALSE(surging.machines[0].on_map->beyond_choke);

  engine_of(build).displacement_m3 = 0.006; // takes too much
  const auto choking = solved(build, 100);
  ASSERT_TRUE(choking.point.usable());
  EXPECT_TRUE(choking.machines[0].on_map->beyond_choke);
  EXPECT_FALSE(choking.machines[0].on_map->below_surge);

  engine_of(build) = sample_engine();
  const auto inside = solved(build, 100);
  ASSERT_TRUE(inside.point.usable());
  EXPECT_FALSE(inside.machines[0].on_map->below_surge || inside.machines[0].on_map->beyond_choke ||
               inside.machines[0].on_map->outside_speeds || inside.machines[0].outside_map);
  const auto slow = solved(build, 30);
  ASSERT_TRUE(slow.point.usable());
  EXPECT_TRUE(slow.machines[0].on_map->outside_speeds && slow.machines[0].outside_map);
}

// Closed form: behind a machine whose ratio falls with flow, every restriction costs flow, ahead and behind;
// ahead it costs the more the higher the ratio.
TEST(Geared, RestrictionsCostFlowOnBothSides) {
  machine::ChargeCooler cooler{};
  cooler.rated = {{0.1, 3000}};
  machine::Filter filter;
  filter.rated = {{0.1, 3000}};
  const double free = solved(bolted({geared()}), 90).point.mass_flow_kg_s;
  const double ahead = solved(bolted({filter, geared()}), 90).point.mass_flow_kg_s;
  const double behind = solved(bolted({geared(), cooler}), 90).point.mass_flow_kg_s;
  EXPECT_LT(ahead, free * 0.99);
  EXPECT_LT(behind, free * 0.999);
  EXPECT_LT(ahead, behind);
}

// Identity: the target is held, and the map says with which speed and efficiency.
TEST(Target, HasTheSpeedAndEfficiencyOfItsMap) {
  const machine::PreparedCompressorMap map(small_map());
  for (const auto at : {machine::TargetAt::blower_outlet, machine::TargetAt::manifold}) {
    const auto result = solved(bolted({holding(150e3, at)}), 80);
    ASSERT_EQ(result.point.stop, flow::Stop::converged);
    const auto& m = result.machines[0];
    EXPECT_TRUE(close(m.outlet.total_pressure_Pa, 150e3, 1e-9));
    const auto reading =
        map.speed_for(m.pressure_ratio, map.corrected_flow_kg_s(result.point.mass_flow_kg_s, 101325, 293.15));
    EXPECT_TRUE(close(m.adiabatic_efficiency, reading.adiabatic_efficiency, 1e-9));
    EXPECT_TRUE(close(m.speed_rev_s, map.speed_rev_s(reading.corrected_speed_rev_s, 293.15), 1e-9));
    ASSERT_TRUE(m.on_map.has_value());
    // Driven by the exhaust: nothing from the crank.
    EXPECT_GT(m.shaft_power_W, 0);
    EXPECT_EQ(result.point.drive_power_W, 0);
  }
}

// Closed form: speed-density at the held pressure, where the outlet is the manifold; the temperature behind
// the compressor by its efficiency.
TEST(Target, FillsTheEngineByTheHeldDensity) {
  auto compressor = holding(150e3, machine::TargetAt::manifold);
  compressor.map.reset();
  auto b = bolted({compressor});
  const auto result = solved(b, 80);
  ASSERT_EQ(result.point.stop, flow::Stop::converged);
  const air::Mixture dry = dry_air();
  const double ideal =
      dry.enthalpy_J_kg(dry.isentropic_temperature_K(293.15, 150e3 / 101325)) - dry.enthalpy_J_kg(293.15);
  const double temperature = dry.temperature_at_enthalpy_K(dry.enthalpy_J_kg(293.15) + ideal / 0.7);
  EXPECT_TRUE(close(result.point.manifold_temperature_K, temperature, 1e-9));
  EXPECT_TRUE(close(result.point.mass_flow_kg_s,
                    engine_of(b).mass_flow_kg_s(80, dry.density_kg_m3(150e3, temperature)), 1e-9));
}

// Identity: with two compressors side by side, one beyond its reach is enough to say so, whichever it is.
TEST(Target, EitherOfTwoBeyondItsReachIsSaid) {
  for (const int weak : {0, 1}) {
    Build b = bare_engine();
    b.machines.clear();
    b.path.clear();
    for (const int i : {0, 1}) {
      auto compressor = holding(150e3, machine::TargetAt::blower_outlet);
      compressor.map.reset();
      if (i == weak)
        compressor.max_pressure_ratio = 1.2;
      const MachineId id{fmt::format("c{}", i)};
      b.machines.push_back({id, "", Mounting::engine, compressor});
      add_step(b, id, fmt::format("b{}", i));
      add_run(b, fmt::format("r{}", i), id, {}, 0.05, {tube_of(0.05, 0.5)});
      add_step(b, RunId{fmt::format("r{}", i)}, fmt::format("b{}", i));
    }
    ASSERT_FALSE(validate(b).has_value()) << validate(b)->text();
    EXPECT_EQ(solved(b, 80).point.stop, flow::Stop::out_of_reach) << weak;
  }
}

} // namespace
} // namespace bellmouth::test
