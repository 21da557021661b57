// SPDX-License-Identifier: GPL-3.0-or-later
// The operating point: closed forms, signs, limits, and that it is found for any build that could be.
#include "bench_runs.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace bellmouth::test {
namespace {

using namespace build;

constexpr double speed = 60; // rev/s

double density(double pressure_Pa, double temperature_K) {
  return air::Mixture().density_kg_m3(pressure_Pa, temperature_K);
}

/// A blower bolted between open air and engine, nothing else.
Build blown_engine(machine::DisplacementBlower blower) {
  Build b = bare_engine();
  b.machines = {{{"blower"}, "Blower", Mounting::engine, blower}};
  b.path = {MachineId{"blower"}};
  return b;
}

const machine::DisplacementBlower some_blower{0.0012, 1.5, 0.9, std::nullopt, 0.95, 400, 450};

// Closed form: speed-density, m = VE Vd n/2 rho (textbook; four strokes).
TEST(OperatingPoint, ABareEngineBreathesAmbientAir) {
  Build b = bare_engine();
  const auto result = solved(b, speed);
  ASSERT_EQ(result.point.stop, flow::Stop::converged);
  const auto& engine = engine_of(b);
  const double wanted =
      engine.volumetric_efficiency(speed) * engine.displacement_m3 * speed / 2 * density(101325.0, 293.15);
  // The mouth and the half-metre bore cost a little dynamic pressure.
  EXPECT_TRUE(close(result.point.mass_flow_kg_s, wanted, 1e-5));
  engine_of(b).strokes = 2;
  EXPECT_TRUE(close(solved(b, speed).point.mass_flow_kg_s, 2 * wanted, 1e-5));
}

// Closed form: mass balance of blower and engine; the blower's flow at ambient density fixes manifold
// pressure over temperature.
TEST(OperatingPoint, ABlowerFillsTheEngineByMassBalance) {
  Build b = blown_engine(some_blower);
  const auto result = solved(b, speed);
  ASSERT_EQ(result.point.stop, flow::Stop::converged);
  const double given = 0.0012 * 1.5 * speed * 0.9 * density(101325.0, 293.15);
  EXPECT_TRUE(close(result.point.mass_flow_kg_s, given, 1e-9));
  const auto& engine = engine_of(b);
  const double manifold_density =
      given / (engine.volumetric_efficiency(speed) * engine.displacement_m3 * speed / 2);
  EXPECT_TRUE(close(density(result.point.manifold_pressure_Pa, result.point.manifold_temperature_K),
                    manifold_density, 1e-9));
  EXPECT_LT(result.point.residual, 1e-9);
}

// Identity: energy over the whole blower; what the shaft gives to the air is m dh.
TEST(OperatingPoint, ShaftPowerIsTheRiseOfEnthalpy) {
  const auto result = solved(blown_engine(some_blower), speed);
  const air::Mixture dry;
  const auto& blower = result.machines[0];
  const double rise = dry.enthalpy_J_kg(blower.outlet.total_temperature_K) -
                      dry.enthalpy_J_kg(blower.inlet.total_temperature_K);
  EXPECT_TRUE(close(blower.shaft_power_W * 0.95, result.point.mass_flow_kg_s * rise, 1e-9));
}

Build with_filter_drop(Build b, double factor) {
  for (auto& machine : b.machines)
    if (auto* filter = std::get_if<machine::Filter>(&machine.kind))
      filter->dirty_factor = factor;
  return b;
}

// Closed form (F6 of the trade's facts, derived): with a displacement blower the flow goes as the density at
// its inlet, about 1 % a kilopascal.
TEST(OperatingPoint, RestrictionAheadOfABlowerThinsTheAir) {
  const auto clean = solved(with_filter_drop(sample_build(), 1), speed);
  const auto dirty = solved(with_filter_drop(sample_build(), 6), speed);
  ASSERT_TRUE(clean.point.usable() && dirty.point.usable());
  EXPECT_LT(dirty.point.mass_flow_kg_s, clean.point.mass_flow_kg_s);
  // machines[1] is the blower
  const double by_pressure =
      dirty.machines[1].inlet.total_pressure_Pa / clean.machines[1].inlet.total_pressure_Pa;
  EXPECT_TRUE(close(dirty.point.mass_flow_kg_s / clean.point.mass_flow_kg_s, by_pressure, 1e-9));
}

Build with_cooler_drop(Build b, double factor) {
  for (auto& machine : b.machines)
    if (auto* cooler = std::get_if<machine::ChargeCooler>(&machine.kind))
      for (auto& point : cooler->rated)
        point.drop_Pa *= factor;
  return b;
}

TEST(OperatingPoint, RestrictionBehindADisplacementBlowerCostsPowerAndHeat) {
  const auto easy = solved(with_cooler_drop(sample_build(), 1), speed);
  const auto hard = solved(with_cooler_drop(sample_build(), 6), speed);
  ASSERT_TRUE(easy.point.usable() && hard.point.usable());
  // The blower moves the same air; it works against more, so the air is hotter and the shaft takes more.
  EXPECT_TRUE(close(hard.point.mass_flow_kg_s, easy.point.mass_flow_kg_s, 1e-6));
  EXPECT_GT(hard.machines[1].shaft_power_W, easy.machines[1].shaft_power_W);
  EXPECT_GT(hard.machines[1].outlet.total_temperature_K, easy.machines[1].outlet.total_temperature_K);
  EXPECT_GT(hard.point.manifold_temperature_K, easy.point.manifold_temperature_K);
}

TEST(OperatingPoint, ATargetAtTheManifoldIsHeldThere) {
  const auto result = solved(compressor_build(), speed);
  ASSERT_EQ(result.point.stop, flow::Stop::converged);
  EXPECT_TRUE(close(result.point.manifold_pressure_Pa, 150000.0, 1e-9));
}

TEST(OperatingPoint, ATargetAtTheOutletLosesWhatTheDuctCosts) {
  Build b = compressor_build();
  std::get<machine::TargetCompressor>(b.machines[2].kind).target_at = machine::TargetAt::blower_outlet;
  const auto result = solved(b, speed);
  ASSERT_EQ(result.point.stop, flow::Stop::converged);
  EXPECT_TRUE(close(result.machines[2].outlet.total_pressure_Pa, 150000.0, 1e-12));
  EXPECT_LT(result.point.manifold_pressure_Pa, 150000.0 - result.runs[1].drop_Pa + 1e-6);
}

TEST(OperatingPoint, ATargetBeyondTheCompressorIsSaid) {
  Build b = compressor_build();
  std::get<machine::TargetCompressor>(b.machines[2].kind).max_pressure_ratio = 1.3;
  const auto result = solved(b, speed);
  EXPECT_EQ(result.point.stop, flow::Stop::out_of_reach);
  EXPECT_FALSE(result.point.usable());
}

Build with_thin_tube(double bore_m) {
  Build b = natural_build();
  Run run = *b.options[0].runs[1];
  run.pieces = {{Tube{bore_m + 4e-3, 2e-3, 0.3, {}}, Material::aluminium, {}, "the thin one"}};
  b.options[0].runs[1] = std::move(run);
  return b;
}

TEST(OperatingPoint, ChokingIsSaidWithPlaceAndFlow) {
  Build b = bench_of({{Tube{0.0635, 1.65e-3, 0.2, {}}, Material::aluminium, {}, ""},
                      {Tube{0.024, 2e-3, 0.2, {}}, Material::aluminium, {}, "the thin one"}},
                     0.2, 0.0602, 0.02);
  const auto result = solved(b);
  ASSERT_EQ(result.point.stop, flow::Stop::chokes);
  ASSERT_TRUE(result.point.choke_row.has_value());
  EXPECT_EQ(*result.point.choke_row, 1U);
  EXPECT_NE(result.point.choke_where.find("the thin one"), std::string::npos);
  EXPECT_GT(result.point.max_mass_flow_kg_s, 0);
  EXPECT_LT(result.point.max_mass_flow_kg_s, 0.2);
}

TEST(OperatingPoint, AThrottledEngineFindsItsFlowOrSaysThatItChokes) {
  for (const double bore : {0.06, 0.03, 0.02, 0.012, 0.008}) {
    const auto result = solved(with_thin_tube(bore), speed);
    if (result.point.usable()) {
      EXPECT_LT(result.point.residual, 1e-6) << bore;
    } else {
      EXPECT_EQ(result.point.stop, flow::Stop::chokes) << bore;
      EXPECT_GT(result.point.max_mass_flow_kg_s, 0) << bore;
    }
  }
}

// Identity: with ducts of no length the path without ducts is the path.
TEST(OperatingPoint, WithoutDuctsIsTheLimit) {
  const auto build = sample_build();
  const auto& option = build.options.front();
  std::vector<joint::RunFit> fits;
  for (const auto& run : option.runs)
    fits.push_back(joint::fit(build, *run));
  const flow::Path path(build, option, fits);
  const auto with = path.operating_point(speed);
  const auto without = path.operating_point_without_ducts(speed);
  ASSERT_TRUE(with.usable() && without.usable());
  EXPECT_GT(without.mass_flow_kg_s, with.mass_flow_kg_s);
}

// Identity: the pressures that machines and runs report add up to what is missing in the manifold; nothing is
// lost that nobody owns.
TEST(OperatingPoint, EveryLossBelongsToSomebody) {
  auto builds = sample_builds();
  Build empty = natural_build();
  build::Run bare = *empty.options[0].runs[0];
  bare.pieces.clear();
  empty.options[0].runs[0] = std::move(bare);
  empty.inlet = {OpenInlet::Kind::projecting, 0};
  builds.push_back(std::move(empty));
  for (auto& sample : builds) {
    sample.plenum_exit_loss = 0;
    const bool bench = std::holds_alternative<FixedFlow>(sample.demand);
    const auto result = solved(sample, bench ? 0 : speed);
    ASSERT_TRUE(result.point.usable()) << sample.title;
    double lost = 0;
    for (const auto& run : result.runs)
      lost += run.drop_Pa;
    for (const auto& machine : result.machines)
      lost += machine.drop_Pa;
    const double given = bench ? std::get<FixedFlow>(sample.demand).inlet_total_pressure_Pa
                               : ambient_air(sample.ambient).pressure_Pa;
    EXPECT_TRUE(close(given - lost, result.point.manifold_pressure_Pa, 1e-9)) << sample.title;
  }
}

// Closed form: at most the mass-flow function at Mach 1 passes a bore. The spigot of the machine behind a run
// counts like any other place.
TEST(OperatingPoint, ASpigotTooNarrowIsSaid) {
  Build b =
      bench_of({{Tube{0.0635, 1.65e-3, 0.2, {}}, Material::aluminium, {}, "tube"}}, 0.15, 0.0602, 0.025);
  const auto result = solved(b);
  ASSERT_EQ(result.point.stop, flow::Stop::chokes);
  const air::Mixture dry;
  const double area = M_PI / 4 * 0.025 * 0.025;
  const double most = air::mass_flow_function(1, dry.gamma(293.15)) * area * 101325.0 /
                      std::sqrt(dry.gas_constant_J_kgK() * 293.15);
  EXPECT_LT(result.point.max_mass_flow_kg_s, most);
  EXPECT_GT(result.point.max_mass_flow_kg_s, 0.6 * most); // the sharp step ahead of it costs the rest
  std::get<FixedFlow>(b.demand).mass_flow_kg_s = result.point.max_mass_flow_kg_s * 0.999;
  const auto passes = solved(b);
  EXPECT_TRUE(passes.point.usable());
  EXPECT_GT(passes.runs[0].peak_mach, 0.5);
}

// Identity (second law): a blower that the air drives cools it by less than an isentropic expansion would.
TEST(OperatingPoint, ABlowerTooSmallIsATurbineNoBetterThanIdeal) {
  for (const double efficiency : {0.05, 0.1, 0.2, 0.4, 0.7, 0.95}) {
    auto blower = some_blower;
    blower.swept_volume_m3_rev = 2e-4;
    blower.volumetric_efficiency = efficiency;
    const auto result = solved(blown_engine(blower), speed);
    if (!result.point.usable())
      continue;
    const auto& flow = result.machines[0];
    ASSERT_LT(flow.pressure_ratio, 1);
    const air::Mixture dry;
    EXPECT_GE(flow.outlet.total_temperature_K,
              dry.isentropic_temperature_K(flow.inlet.total_temperature_K, flow.pressure_ratio) - 1e-9);
    EXPECT_LE(flow.shaft_power_W, 0);
  }
}

TEST(OperatingPoint, ATargetBelowTheInletIsSaid) {
  Build b = compressor_build();
  auto& compressor = std::get<machine::TargetCompressor>(b.machines[2].kind);
  compressor.target_pressure_Pa = 50000;
  compressor.target_at = machine::TargetAt::blower_outlet;
  EXPECT_EQ(solved(b, speed).point.stop, flow::Stop::target_too_low);
}

/// A build somebody could have: sizes drawn at random within what engines and ducts have.
Build random_build(std::mt19937_64& random) {
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const int kind = std::uniform_int_distribution<int>(0, 3)(random);
  Build b = kind == 0 ? natural_build() : kind == 1 ? compressor_build() : sample_build();
  auto& engine = engine_of(b);
  engine.displacement_m3 = between(0.0005, 0.004);
  engine.strokes = between(0, 1) < 0.8 ? 4 : 2;
  b.ambient = Weather{between(70000, 104000), between(250, 320), between(0, 1)};
  b.plenum_exit_loss = between(0, 1);
  for (auto& machine : b.machines) {
    if (auto* filter = std::get_if<machine::Filter>(&machine.kind))
      filter->dirty_factor = between(1, 8);
    if (auto* blower = std::get_if<machine::DisplacementBlower>(&machine.kind)) {
      blower->swept_volume_m3_rev = engine.displacement_m3 * between(0.2, 1.5);
      blower->drive_ratio = between(0.8, 2.6);
      blower->volumetric_efficiency = between(0.6, 1);
      if (between(0, 1) < 0.5)
        blower->adiabatic_efficiency = between(0.4, 0.85);
    }
    if (auto* compressor = std::get_if<machine::TargetCompressor>(&machine.kind)) {
      compressor->target_pressure_Pa = between(105000, 300000);
      compressor->max_pressure_ratio = 6;
      compressor->target_at =
          between(0, 1) < 0.5 ? machine::TargetAt::blower_outlet : machine::TargetAt::manifold;
    }
    if (auto* cooler = std::get_if<machine::ChargeCooler>(&machine.kind))
      cooler->effectiveness = between(0.2, 0.95);
  }
  return b;
}

// Identity over builds drawn at random (fixed seed): each either converges, and then the engine takes what
// the path gives, or says why not in words a person understands.
TEST(OperatingPoint, IsFoundForAnyBuildThatCouldBe) {
  std::mt19937_64 random(20250101);
  int converged = 0;
  int unexplained = 0;
  constexpr int builds = 3000;
  for (int i = 0; i < builds; ++i) {
    const Build b = random_build(random);
    const double at = std::uniform_real_distribution<double>(10, 130)(random);
    const auto result = solved(b, at);
    if (result.point.stop == flow::Stop::converged) {
      ++converged;
      ASSERT_LT(result.point.residual, 1e-6);
      const auto& engine = std::get<machine::Engine>(b.demand);
      const auto ambient = ambient_air(b.ambient);
      const double taken =
          engine.mass_flow_kg_s(at, ambient.air.density_kg_m3(result.point.manifold_pressure_Pa,
                                                              result.point.manifold_temperature_K));
      ASSERT_TRUE(close(taken, result.point.mass_flow_kg_s, 1e-6));
    } else if (result.point.stop == flow::Stop::chokes) {
      ASSERT_FALSE(result.point.choke_where.empty());
      ASSERT_GT(result.point.max_mass_flow_kg_s, 0);
    } else if (result.point.stop == flow::Stop::no_agreement) {
      ++unexplained;
      ADD_FAILURE() << b.title << " at " << at << " rev/s, build " << i << ": residual "
                    << result.point.residual;
    }
  }
  EXPECT_EQ(unexplained, 0);
  EXPECT_GT(converged, builds * 8 / 10);
}

// Identity: a warm start changes the way, not the end.
TEST(OperatingPoint, AWarmStartEndsWhereAColdOneDoes) {
  for (const auto& sample : sample_builds()) {
    if (!std::holds_alternative<machine::Engine>(sample.demand))
      continue;
    const auto& option = sample.options.front();
    std::vector<joint::RunFit> fits;
    for (const auto& step : sample.path)
      if (const auto* run = std::get_if<RunId>(&step))
        fits.push_back(joint::fit(sample, *option.find(*run)));
    const flow::Path path(sample, option, fits);
    flow::OperatingPoint last;
    for (double at = 20; at <= 100; at += 5) {
      const auto cold = path.operating_point(at);
      const auto warm = path.operating_point(at, &last);
      ASSERT_EQ(cold.stop, warm.stop);
      if (cold.usable()) {
        EXPECT_TRUE(close(cold.mass_flow_kg_s, warm.mass_flow_kg_s, 1e-8));
      }
      last = warm;
    }
  }
}

} // namespace
} // namespace bellmouth::test
