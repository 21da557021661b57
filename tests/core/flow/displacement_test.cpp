// SPDX-License-Identifier: GPL-3.0-or-later
// The displacement blower on the engine: leakage, inner compression, maps, and what restrictions cost.
#include "short_paths.hpp"
#include "support/close.hpp"

#include <bellmouth/machine/displacement.hpp>
#include <bellmouth/machine/nozzle.hpp>

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::test {
namespace {

using namespace build;

constexpr double speed = 60; // rev/s

machine::DisplacementBlower leaking_blower() {
  auto blower = plain_blower();
  blower.leak = machine::RatedLeak{100, 1.6, 0.75};
  return blower;
}

/// A filter without memory of anything: this drop at 0.1 m3/s of rating air, by the square of the flow.
machine::Filter filter_of(double drop_Pa) {
  machine::Filter filter;
  filter.rated = {{0.1, drop_Pa}};
  return filter;
}
machine::ChargeCooler cooler_of(double drop_Pa, double effectiveness = 0) {
  machine::ChargeCooler cooler{};
  cooler.rated = {{0.1, drop_Pa}};
  cooler.effectiveness = effectiveness;
  return cooler;
}

// Closed form: what is delivered is what is swept less what a nozzle of constant area lets back (Saint-Venant
// & Wantzel; area from the rated point in rating air at 20 C, which is the air of this test; the leaking air
// at the temperature of the isentropic compression).
TEST(Displacement, LeakageIsThatOfANozzleOfConstantArea) {
  const air::Mixture dry = dry_air();
  const double gamma = dry.gamma(293.15), R = dry.gas_constant_J_kgK(),
               rho = dry.density_kg_m3(101325, 293.15);
  const auto through = [&](double ratio) { // one square metre
    return machine::nozzle_mass_flow_kg_s(1, 101325 * ratio, 293.15 * std::pow(ratio, (gamma - 1) / gamma),
                                          101325, gamma, R);
  };
  const double area = (0.9 - 0.75) * 0.0012 * 100 * rho / through(1.6);
  for (const double at : {20.0, 40.0, 60.0, 90.0}) {
    const auto result = solved(bolted({leaking_blower()}), at);
    ASSERT_EQ(result.point.stop, flow::Stop::converged) << at;
    const double swept = 0.0012 * 1.5 * at * rho;
    const double wanted = 0.9 * swept - area * through(result.point.blower_pressure_ratio);
    EXPECT_TRUE(close(result.point.mass_flow_kg_s, wanted, 1e-8)) << at;
    EXPECT_TRUE(close(result.machines[0].volumetric_efficiency, wanted / swept, 1e-8)) << at;
  }
}

// Identity: leakage grows with pressure and falls, as a share, with speed.
TEST(Displacement, LeakageGrowsWithPressureAndFallsWithSpeed) {
  double share_before = 1;
  for (const double at : {20.0, 40.0, 80.0}) {
    auto b = bolted({leaking_blower()});
    engine_of(b).efficiency = {{15, 0.9}}; // the same pressure at every speed, but for the leakage
    const auto result = solved(b, at);
    ASSERT_TRUE(result.point.usable());
    const double share = 0.9 - result.machines[0].volumetric_efficiency;
    EXPECT_GT(share, 0);
    EXPECT_LT(share, share_before);
    share_before = share;
  }
  double leak_before = 0;
  for (const double drop : {100.0, 3000.0, 9000.0}) { // more resistance behind, more pressure
    const auto result = solved(bolted({leaking_blower(), cooler_of(drop)}), speed);
    ASSERT_TRUE(result.point.usable());
    const double leak = 0.9 - result.machines[0].volumetric_efficiency;
    EXPECT_GT(leak, leak_before);
    leak_before = leak;
  }
}

// Closed form: with a built-in volume ratio v the ideal cycle ends at r = v^gamma without over- or
// under-compression; there its work is the isentropic one over the volumetric efficiency. gamma at the middle
// of the compression, so that a few parts in ten thousand remain.
TEST(Displacement, InnerCompressionFitsAtItsOwnRatio) {
  const air::Mixture dry = dry_air();
  auto blower = plain_blower();
  blower.swept_volume_m3_rev = 0.0006;
  blower.volumetric_efficiency = 1;
  blower.internal_volume_ratio = 1.3;
  auto b = bolted({blower, cooler_of(100)});
  // Find the drop behind the blower at which the ratio is the built-in one.
  const double ratio = std::pow(1.3, dry.gamma(310));
  double low = 10, high = 60000;
  for (int i = 0; i < 60; ++i) {
    const double drop = 0.5 * (low + high);
    b.machines[1].kind = cooler_of(drop);
    const auto tried = solved(b, speed);
    ASSERT_TRUE(tried.point.usable());
    (tried.point.blower_pressure_ratio > ratio ? high : low) = drop;
  }
  const auto result = solved(b, speed);
  ASSERT_TRUE(close(result.point.blower_pressure_ratio, ratio, 1e-6));
  EXPECT_TRUE(close(result.machines[0].outlet.total_temperature_K,
                    dry.isentropic_temperature_K(293.15, ratio), 1e-4));
  EXPECT_TRUE(close(result.machines[0].adiabatic_efficiency, 1, 2e-3));
  // Without it, the whole rise is against the full pressure: T2 - T1 by V dp.
  blower.internal_volume_ratio = 1;
  b.machines[0].kind = blower;
  const auto plain = solved(b, speed);
  const double rise = dry.gas_constant_J_kgK() * 293.15 * (plain.point.blower_pressure_ratio - 1);
  EXPECT_TRUE(
      close(dry.enthalpy_J_kg(plain.machines[0].outlet.total_temperature_K) - dry.enthalpy_J_kg(293.15), rise,
            1e-9));
  EXPECT_GT(plain.machines[0].outlet.total_temperature_K, result.machines[0].outlet.total_temperature_K);
}

// Identity: at the operating point the map says what the blower does.
TEST(Displacement, AMapGivesBothEfficiencies) {
  auto blower = plain_blower();
  for (const double n : {30.0, 90.0, 180.0})
    for (const double r : {1.0, 1.5, 2.0})
      blower.map.push_back(
          {n, r, 0.95 - 0.1 * (r - 1) - 3.0 / n, 0.6 - 0.05 * (r - 1.5) * (r - 1.5) + 0.0002 * n});
  const machine::BlowerMap map(blower.map);
  for (const double at : {25.0, 60.0, 100.0}) {
    const auto result = solved(bolted({blower, cooler_of(2000)}), at);
    ASSERT_TRUE(result.point.usable());
    const auto& m = result.machines[0];
    const auto reading = map.at(1.5 * at, m.pressure_ratio);
    EXPECT_TRUE(close(m.speed_rev_s, 1.5 * at, 1e-12));
    EXPECT_TRUE(close(m.volumetric_efficiency, reading.volumetric_efficiency, 1e-9));
    EXPECT_TRUE(close(m.adiabatic_efficiency, reading.adiabatic_efficiency, 1e-9));
    EXPECT_EQ(m.outside_map, reading.outside);
    const double delivered =
        reading.volumetric_efficiency * 0.0012 * 1.5 * at * dry_air().density_kg_m3(101325, 293.15);
    EXPECT_TRUE(close(result.point.mass_flow_kg_s, delivered, 1e-8));
    const air::Mixture dry = dry_air();
    const double ideal =
        dry.enthalpy_J_kg(dry.isentropic_temperature_K(293.15, m.pressure_ratio)) - dry.enthalpy_J_kg(293.15);
    EXPECT_TRUE(close(m.shaft_power_W, delivered * ideal / reading.adiabatic_efficiency / 0.95, 1e-8));
  }
}

// Closed form: without leakage the flow goes as the pressure at the blower's inlet alone; with it, a
// restriction ahead thins the air and raises the ratio, and costs more.
TEST(Displacement, ARestrictionAheadThinsTheAir) {
  for (const bool leaks : {false, true}) {
    const auto blower = leaks ? leaking_blower() : plain_blower();
    const auto open = solved(bolted({filter_of(1), blower}), speed);
    const auto held = solved(bolted({filter_of(6000), blower}), speed);
    ASSERT_TRUE(open.point.usable() && held.point.usable());
    const double by_pressure =
        held.machines[1].inlet.total_pressure_Pa / open.machines[1].inlet.total_pressure_Pa;
    EXPECT_LT(by_pressure, 0.98);
    const double by_filling = held.machines[1].volumetric_efficiency / open.machines[1].volumetric_efficiency;
    EXPECT_TRUE(close(held.point.mass_flow_kg_s / open.point.mass_flow_kg_s, by_pressure, 1e-9));
    EXPECT_TRUE(close(by_filling, 1, 1e-9));
    EXPECT_TRUE(close(held.point.manifold_pressure_Pa / open.point.manifold_pressure_Pa, by_pressure, 1e-9));
    EXPECT_TRUE(close(held.point.manifold_temperature_K, open.point.manifold_temperature_K, 1e-9));
    EXPECT_EQ(leaks, held.machines[1].volumetric_efficiency < 0.89);
  }
}

// Closed form: behind a blower without leakage a restriction takes no air, so that the density in the
// manifold stays and the pressure there moves with the temperature alone; the blower carries the drop. With
// leakage it costs flow too.
TEST(Displacement, ARestrictionBehindCostsHeatAndWithLeakageFlow) {
  const auto easy = solved(bolted({plain_blower(), cooler_of(1)}), speed);
  const auto hard = solved(bolted({plain_blower(), cooler_of(8000)}), speed);
  ASSERT_TRUE(easy.point.usable() && hard.point.usable());
  EXPECT_TRUE(close(easy.point.mass_flow_kg_s, hard.point.mass_flow_kg_s, 1e-9));
  EXPECT_TRUE(close(hard.point.manifold_pressure_Pa / easy.point.manifold_pressure_Pa,
                    hard.point.manifold_temperature_K / easy.point.manifold_temperature_K, 1e-9));
  EXPECT_GT(hard.point.manifold_temperature_K, easy.point.manifold_temperature_K + 3);
  // Shaft work without inner compression: V dp over the swept volume, with VE taken off.
  const auto& m = hard.machines[0];
  const double swept = 0.0012 * 1.5 * speed;
  EXPECT_TRUE(
      close(m.shaft_power_W, swept * (m.outlet.total_pressure_Pa - m.inlet.total_pressure_Pa) / 0.95, 1e-8));

  const auto leaky_easy = solved(bolted({leaking_blower(), cooler_of(1)}), speed);
  const auto leaky_hard = solved(bolted({leaking_blower(), cooler_of(8000)}), speed);
  ASSERT_TRUE(leaky_easy.point.usable() && leaky_hard.point.usable());
  EXPECT_LT(leaky_hard.point.mass_flow_kg_s, leaky_easy.point.mass_flow_kg_s * 0.995);
  EXPECT_LT(leaky_hard.point.manifold_pressure_Pa / leaky_easy.point.manifold_pressure_Pa,
            leaky_hard.point.manifold_temperature_K / leaky_easy.point.manifold_temperature_K);
}

// Identity (second law): an undersized blower whose clearances let the engine draw past it yields no more
// than that air could, at any leak.
TEST(Displacement, ABlowerDrivenByTheEngineNeverBeatsTheIdeal) {
  const air::Mixture dry = dry_air();
  for (const double filling : {0.2, 0.5, 0.8})
    for (const double leak : {0.19, 0.1, 0.01}) {
      auto blower = plain_blower();
      blower.swept_volume_m3_rev = 3e-4;
      blower.volumetric_efficiency = filling;
      blower.leak = machine::RatedLeak{30, 1.3, filling * leak};
      for (const double at : {15.0, 40.0, 100.0}) {
        const auto result = solved(bolted({blower}), at);
        ASSERT_TRUE(result.point.usable()) << text(result.point.stop);
        const auto& m = result.machines[0];
        if (m.pressure_ratio >= 1)
          continue;
        EXPECT_GE(m.outlet.total_temperature_K,
                  dry.isentropic_temperature_K(293.15, m.pressure_ratio) - 1e-9);
        EXPECT_LE(m.shaft_power_W, 0);
      }
    }
}

} // namespace
} // namespace bellmouth::test
