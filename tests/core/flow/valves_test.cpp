// SPDX-License-Identifier: GPL-3.0-or-later
// Bypass valves and throttle plates: what passes them, and the balances round them.
#include "short_paths.hpp"
#include "support/close.hpp"

#include <bellmouth/loss/inserts.hpp>
#include <bellmouth/machine/nozzle.hpp>

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::test {
namespace {

using namespace build;

constexpr double speed = 60; // rev/s

machine::BypassValve valve(double opening, double leak_m2, machine::BypassTo to) {
  return {0.02, opening, 0.7, leak_m2, to};
}
machine::DisplacementBlower with(machine::BypassValve bypass) {
  auto blower = plain_blower();
  blower.bypass = bypass;
  return blower;
}

// Identity: a valve that is shut and does not leak is none.
TEST(Bypass, ShutAndTightIsNone) {
  const auto none = solved(bolted({plain_blower()}), speed);
  for (const auto to : {machine::BypassTo::inlet, machine::BypassTo::open_air}) {
    const auto shut = solved(bolted({with(valve(0, 0, to))}), speed);
    EXPECT_EQ(shut.point.mass_flow_kg_s, none.point.mass_flow_kg_s);
    EXPECT_EQ(shut.machines[0].bypass_kg_s, 0);
    EXPECT_EQ(shut.machines[0].shaft_power_W, none.machines[0].shaft_power_W);
  }
}

// Identity: energy over the blower with its valve: what the shaft gives to the air is m dh of what goes on.
// Closed form: the flow back is that of a nozzle.
TEST(Bypass, AirThatComesBackIsCompressedAgain) {
  const air::Mixture dry = dry_air();
  const auto none = solved(bolted({plain_blower()}), speed);
  double power_before = 0;
  for (const double opening : {0.0, 0.1, 0.3, 0.6}) {
    const auto bypass = valve(opening, 1e-6, machine::BypassTo::inlet);
    const auto result = solved(bolted({with(bypass)}), speed);
    ASSERT_EQ(result.point.stop, flow::Stop::converged) << opening;
    const auto& m = result.machines[0];
    ASSERT_GT(m.pressure_ratio, 1.05);
    const double rise = dry.enthalpy_J_kg(m.outlet.total_temperature_K) - dry.enthalpy_J_kg(293.15);
    EXPECT_TRUE(close(m.shaft_power_W * 0.95, result.point.mass_flow_kg_s * rise, 1e-8)) << opening;
    const double T2 = m.outlet.total_temperature_K;
    EXPECT_TRUE(close(m.bypass_kg_s,
                      machine::nozzle_mass_flow_kg_s(bypass.effective_area_m2(), m.outlet.total_pressure_Pa,
                                                     T2, 101325, dry.gamma(T2), dry.gas_constant_J_kgK()),
                      1e-8));
    // What is swept at the temperature of the mixture is what goes on and what comes back.
    const double back = m.bypass_kg_s, on = result.point.mass_flow_kg_s;
    const double mixed = dry.temperature_at_enthalpy_K(
        (on * dry.enthalpy_J_kg(293.15) + back * dry.enthalpy_J_kg(T2)) / (on + back));
    EXPECT_TRUE(close(on + back, 0.9 * 0.0012 * 1.5 * speed * dry.density_kg_m3(101325, mixed), 1e-7));
    EXPECT_LT(on, none.point.mass_flow_kg_s);
    const double per_kilogram = m.shaft_power_W / on;
    EXPECT_TRUE(opening == 0 || per_kilogram != power_before);
    power_before = per_kilogram;
  }
}

// Identity: mass over a valve to the open air; what is vented has been compressed, too.
TEST(Bypass, WhatIsVentedIsMissingBehind) {
  const air::Mixture dry = dry_air();
  Build b = bolted({with(valve(0.15, 0, machine::BypassTo::open_air))});
  const auto result = solved(b, speed);
  ASSERT_EQ(result.point.stop, flow::Stop::converged);
  const auto& m = result.machines[0];
  EXPECT_GT(m.bypass_kg_s, 0);
  const double swept = 0.9 * 0.0012 * 1.5 * speed * dry.density_kg_m3(101325, 293.15);
  EXPECT_TRUE(close(m.inlet.mass_flow_kg_s, swept, 1e-8));
  EXPECT_TRUE(close(m.outlet.mass_flow_kg_s, result.point.mass_flow_kg_s, 1e-12));
  EXPECT_TRUE(close(m.inlet.mass_flow_kg_s, m.outlet.mass_flow_kg_s + m.bypass_kg_s, 1e-12));
  const double rise = dry.enthalpy_J_kg(m.outlet.total_temperature_K) - dry.enthalpy_J_kg(293.15);
  EXPECT_TRUE(close(m.shaft_power_W * 0.95, swept * rise, 1e-8));
  const double T2 = m.outlet.total_temperature_K;
  EXPECT_TRUE(close(m.bypass_kg_s,
                    machine::nozzle_mass_flow_kg_s(0.15 * 0.7 * disc(0.02), m.outlet.total_pressure_Pa, T2,
                                                   101325, dry.gamma(T2), dry.gas_constant_J_kgK()),
                    1e-8));
}

// Identity: where the blower is too small, the engine draws past it through the valve, and the two streams
// mix.
TEST(Bypass, TheEngineDrawsPastASmallBlower) {
  const air::Mixture dry = dry_air();
  auto blower = with(valve(1, 0, machine::BypassTo::inlet));
  blower.swept_volume_m3_rev = 3e-4;
  const auto result = solved(bolted({blower}), speed);
  ASSERT_EQ(result.point.stop, flow::Stop::converged);
  const auto& m = result.machines[0];
  ASSERT_LT(m.pressure_ratio, 1);
  ASSERT_LT(m.bypass_kg_s, 0);
  const double swept = 0.9 * 3e-4 * 1.5 * speed * dry.density_kg_m3(101325, 293.15);
  EXPECT_TRUE(close(result.point.mass_flow_kg_s, swept - m.bypass_kg_s, 1e-8));
  EXPECT_LE(m.shaft_power_W, 0);
  const double rise = dry.enthalpy_J_kg(m.outlet.total_temperature_K) - dry.enthalpy_J_kg(293.15);
  EXPECT_TRUE(
      close(m.shaft_power_W / 0.95, result.point.mass_flow_kg_s * rise, 1e-7)); // losses borne by the air
  auto alone = blower;
  alone.bypass.reset();
  EXPECT_GT(result.point.mass_flow_kg_s, solved(bolted({alone}), speed).point.mass_flow_kg_s);
}

Build plate_bench(double opening_deg, double flow_kg_s) {
  Build b = bench_build();
  b.ambient = Weather{101325.0, 293.15, 0.0};
  b.demand = FixedFlow{flow_kg_s, 101325.0, 293.15};
  b.machines = {{{"throttle"}, "", Mounting::engine, machine::Throttle{0.06, 0.2, deg(opening_deg)}}};
  b.ports.clear();
  b.path = {MachineId{"throttle"}};
  b.options = {{{"only"}, "", {}}};
  return b;
}

// Other method: at low speed the drop is K rho V^2 / 2 with the K of the butterfly's law.
TEST(Plate, LosesItsCoefficientAtLowSpeed) {
  for (const double opening : {15.0, 30.0, 45.0, 60.0, 90.0}) {
    const double K = loss::law(loss::Butterfly{deg(opening), 0.2}).constant;
    const double flow = 0.02 / std::sqrt(std::max(1.0, K));
    const auto result = solved(plate_bench(opening, flow));
    ASSERT_TRUE(result.point.usable());
    const double q = flow * flow / (2 * dry_air().density_kg_m3(101325, 293.15) * disc(0.06) * disc(0.06));
    EXPECT_TRUE(close(result.machines[0].drop_Pa, K * q, 2e-3)) << opening;
  }
}

// Closed form: when the gap is sonic, what passes is the choked flow of a nozzle of the plate's effective
// area, whatever lies behind.
TEST(Plate, PassesNoMoreThanANozzle) {
  const air::Mixture dry = dry_air();
  const double K = loss::law(loss::Butterfly{deg(12), 0.2}).constant;
  const double most = air::mass_flow_function(1, dry.gamma(293.15)) * disc(0.06) / std::sqrt(K) * 101325 /
                      std::sqrt(dry.gas_constant_J_kgK() * 293.15);
  const auto refused = solved(plate_bench(12, 1.2 * most));
  ASSERT_EQ(refused.point.stop, flow::Stop::chokes);
  EXPECT_TRUE(close(refused.point.max_mass_flow_kg_s, most, 1e-9));
  EXPECT_TRUE(solved(plate_bench(12, 0.999 * most)).point.usable());

  Build b = bolted({machine::Throttle{0.06, 0.2, deg(12)}});
  b.inlet = {OpenInlet::Kind::bellmouth, 0.05};
  for (const double displacement : {0.0016, 0.004, 0.008}) {
    engine_of(b).displacement_m3 = displacement;
    const auto result = solved(b, 100);
    ASSERT_EQ(result.point.stop, flow::Stop::converged) << displacement;
    EXPECT_TRUE(close(result.point.mass_flow_kg_s, most, 2e-3)) << displacement; // the mouth costs a little
    // No engine draws more, however large: what it swallows only thins the air in the manifold.
    const double manifold_Pa = most / engine_of(b).mass_flow_kg_s(100, 1.0) * dry.gas_constant_J_kgK() *
                               result.point.manifold_temperature_K;
    EXPECT_TRUE(close(result.point.manifold_pressure_Pa, manifold_Pa, 2e-3)) << displacement;
    EXPECT_LT(result.point.manifold_pressure_Pa, 0.52 * 101325) << displacement;
  }
}

// Identity: wide open by the angle is wide open.
TEST(Plate, EdgeOnIsTheOpenBody) {
  Build b = plate_bench(90, 0.03);
  const double by_angle = solved(b).machines[0].drop_Pa;
  std::get<machine::Throttle>(b.machines[0].kind).opening_rad.reset();
  EXPECT_TRUE(close(solved(b).machines[0].drop_Pa, by_angle, 5e-3));
}

} // namespace
} // namespace bellmouth::test
