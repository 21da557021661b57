// SPDX-License-Identifier: GPL-3.0-or-later
// Air that divides and joins: the balances at both places, and twins that are one of twice the size.
#include "short_paths.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::test {
namespace {

using namespace build;

constexpr double speed = 60; // rev/s

double flow_in(const flow::PathFlow& result, std::size_t run) {
  return result.runs[run].rows[0].inlet.station.mass_flow_kg_s;
}

// Identity: two alike take half each, and lose what one of them loses alone with half the flow.
TEST(Branches, TwoAlikeTakeHalfEach) {
  const double flow = 0.12;
  const auto both = solved(bench_of_branches({{0.05, 1.5}, {0.05, 1.5}}, flow));
  ASSERT_EQ(both.point.stop, flow::Stop::fixed_flow);
  EXPECT_TRUE(close(flow_in(both, 0), flow / 2, 1e-9));
  EXPECT_TRUE(close(flow_in(both, 1), flow / 2, 1e-9));
  EXPECT_TRUE(close(both.point.mass_flow_kg_s, flow, 1e-12));
  const auto one = solved(bench_of_branches({{0.05, 1.5}}, flow / 2));
  EXPECT_TRUE(close(both.point.manifold_pressure_Pa, one.point.manifold_pressure_Pa, 1e-10));
  EXPECT_TRUE(close(both.runs[1].drop_Pa, one.runs[0].drop_Pa, 1e-8));
}

// Other method: one tube of twice the area has the same velocity, and loses less by its larger bore: f L/D
// with f falling as Re^-0.2 or so, that is 1/sqrt(2) times 2^-0.1.
TEST(Branches, OneOfTwiceTheAreaLosesLessByItsBore) {
  const auto both = solved(bench_of_branches({{0.05, 1.5}, {0.05, 1.5}}, 0.08));
  const auto one = solved(bench_of_branches({{0.05 * std::sqrt(2.0), 1.5}}, 0.08));
  EXPECT_TRUE(close(one.runs[0].drop_Pa / both.runs[0].drop_Pa, std::pow(2, -0.6), 0.04));
}

// Identity: unequal ones end at one pressure, their flows add up. Other method: with the same length, flow
// goes about as D^2.5 over the root of the friction factors.
TEST(Branches, UnequalOnesEndAtOnePressure) {
  const double flow = 0.1;
  const auto result = solved(bench_of_branches({{0.06, 1.2}, {0.045, 1.2}, {0.03, 1.2}}, flow));
  ASSERT_TRUE(result.point.usable());
  double sum = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    sum += flow_in(result, i);
    EXPECT_TRUE(close(result.runs[i].rows[0].outlet.station.total_pressure_Pa,
                      result.point.manifold_pressure_Pa, 1e-9));
  }
  EXPECT_TRUE(close(sum, flow, 1e-12));
  EXPECT_TRUE(close(flow_in(result, 0) / flow_in(result, 1), std::pow(0.06 / 0.045, 2.5), 0.08));
  EXPECT_TRUE(close(flow_in(result, 1) / flow_in(result, 2), std::pow(0.045 / 0.03, 2.5), 0.08));
}

// Identity: what the branch itself says it loses where the air divides and joins counts in its run.
TEST(Branches, LossesWhereTheyDivideAndJoinCount) {
  Build b = bench_of_branches({{0.05, 1.0}, {0.05, 1.0}}, 0.1);
  const auto without = solved(b);
  for (auto& branch : b.branches) {
    branch.split_loss = 0.5;
    branch.join_loss = 0.3;
  }
  const auto with = solved(b);
  ASSERT_TRUE(with.point.usable());
  const double q = without.runs[0].rows[0].inlet.station.dynamic_pressure_Pa();
  EXPECT_TRUE(close(without.point.manifold_pressure_Pa - with.point.manifold_pressure_Pa, 0.8 * q, 0.03));
  EXPECT_TRUE(close(101325 - with.runs[0].drop_Pa, with.point.manifold_pressure_Pa, 1e-9));
  EXPECT_TRUE(close(with.runs[0].rows[0].drop_Pa, with.runs[0].drop_Pa, 1e-12));
}

/// The same machine on each of two branches between open air and engine, or once.
Build side_by_side(const MachineKind& kind, int branches, std::vector<MachineKind> behind = {}) {
  Build b = bare_engine();
  b.machines.clear();
  b.path.clear();
  for (int i = 0; i < branches; ++i) {
    const MachineId id{fmt::format("m{}", i)};
    b.machines.push_back({id, "", Mounting::engine, kind});
    add_step(b, id, branches > 1 ? fmt::format("b{}", i) : std::string());
  }
  for (auto& machine : behind) {
    const MachineId id{fmt::format("m{}", b.machines.size())};
    b.machines.push_back({id, "", Mounting::engine, std::move(machine)});
    add_step(b, id);
  }
  return b;
}

// Identity: twins are one of twice the size.
TEST(Branches, TwinBlowersAreOneOfTwiceTheSize) {
  auto one = plain_blower();
  one.leak = machine::RatedLeak{100, 1.6, 0.75};
  auto half = one;
  half.swept_volume_m3_rev /= 2;
  const auto single = solved(side_by_side(one, 1), speed);
  const Build build = side_by_side(half, 2);
  ASSERT_FALSE(validate(build).has_value()) << validate(build)->text();
  const auto twin = solved(build, speed);
  ASSERT_EQ(twin.point.stop, flow::Stop::converged);
  EXPECT_TRUE(close(twin.point.mass_flow_kg_s, single.point.mass_flow_kg_s, 1e-8));
  EXPECT_TRUE(close(twin.point.manifold_pressure_Pa, single.point.manifold_pressure_Pa, 1e-8));
  EXPECT_TRUE(close(twin.point.drive_power_W, single.point.drive_power_W, 1e-8));
  EXPECT_TRUE(close(twin.machines[0].shaft_power_W, twin.machines[1].shaft_power_W, 1e-7));
}

// Identity: twin filters from the open air, one of twice the size.
TEST(Branches, TwinFiltersAreOneOfTwiceTheSize) {
  machine::Filter half, whole;
  half.rated = {{0.03, 500}, {0.06, 1600}};
  whole.rated = {{0.06, 500}, {0.12, 1600}};
  const auto twin = solved(side_by_side(half, 2, {plain_blower()}), speed);
  const auto single = solved(side_by_side(whole, 1, {plain_blower()}), speed);
  ASSERT_EQ(twin.point.stop, flow::Stop::converged);
  EXPECT_TRUE(close(twin.point.mass_flow_kg_s, single.point.mass_flow_kg_s, 1e-9));
  EXPECT_TRUE(close(twin.machines[0].drop_Pa, single.machines[0].drop_Pa, 1e-8));
}

// Identity: two coolers side by side that cool differently: flows and enthalpies add up where they join.
TEST(Branches, StreamsMixByEnthalpy) {
  const air::Mixture dry = dry_air();
  machine::ChargeCooler cold{}, warm{};
  cold.rated = {{0.05, 2000}};
  cold.effectiveness = 0.85;
  warm.rated = {{0.05, 800}};
  warm.effectiveness = 0.3;
  Build b = bolted({plain_blower()});
  const MachineId c1{"c1"}, c2{"c2"};
  b.machines.push_back({c1, "", Mounting::body, cold});
  b.machines.push_back({c2, "", Mounting::body, warm});
  add_step(b, c1, "one");
  add_step(b, c2, "other");
  ASSERT_FALSE(validate(b).has_value()) << validate(b)->text();
  const auto result = solved(b, speed);
  ASSERT_EQ(result.point.stop, flow::Stop::converged);
  const auto &first = result.machines[1], &second = result.machines[2];
  EXPECT_TRUE(close(first.outlet.total_pressure_Pa, second.outlet.total_pressure_Pa, 1e-9));
  EXPECT_TRUE(
      close(first.inlet.mass_flow_kg_s + second.inlet.mass_flow_kg_s, result.point.mass_flow_kg_s, 1e-12));
  EXPECT_GT(second.inlet.mass_flow_kg_s, first.inlet.mass_flow_kg_s);
  const double enthalpy = first.inlet.mass_flow_kg_s * dry.enthalpy_J_kg(first.outlet.total_temperature_K) +
                          second.inlet.mass_flow_kg_s * dry.enthalpy_J_kg(second.outlet.total_temperature_K);
  EXPECT_TRUE(close(result.point.manifold_temperature_K,
                    dry.temperature_at_enthalpy_K(enthalpy / result.point.mass_flow_kg_s), 1e-9));
  EXPECT_LT(first.outlet.total_temperature_K, second.outlet.total_temperature_K - 20);
}

// Closed form: where two branches end in the manifold, each gives up its own dynamic pressure there.
TEST(Branches, EachEntersTheManifoldByItself) {
  Build b = bench_of_branches({{0.05, 0.5}, {0.05, 0.5}}, 0.1);
  b.demand = sample_engine();
  b.inlet = {OpenInlet::Kind::bellmouth, 0.02};
  b.plenum_exit_loss = 0;
  const auto free = solved(b, 90);
  b.plenum_exit_loss = 1;
  const auto lost = solved(b, 90);
  ASSERT_TRUE(free.point.usable() && lost.point.usable());
  const auto& end = lost.runs[0].rows[0].outlet.station;
  EXPECT_TRUE(close(lost.point.manifold_pressure_Pa, end.static_pressure_Pa, 1e-9));
  EXPECT_LT(lost.point.mass_flow_kg_s, free.point.mass_flow_kg_s);
}

// Identity: a branch that chokes is said, with the flow at which none would. As the narrow one is sonic, the
// wide one takes what it can.
TEST(Branches, ABranchThatChokesIsSaid) {
  const auto refused = solved(bench_of_branches({{0.03, 0.3}, {0.03, 0.3}}, 0.6));
  ASSERT_EQ(refused.point.stop, flow::Stop::chokes);
  EXPECT_FALSE(refused.point.choke_where.empty());
  EXPECT_GT(refused.point.max_mass_flow_kg_s, 0.1);
  EXPECT_LT(refused.point.max_mass_flow_kg_s, 0.6);
  EXPECT_TRUE(solved(bench_of_branches({{0.03, 0.3}, {0.03, 0.3}}, 0.99 * refused.point.max_mass_flow_kg_s))
                  .point.usable());
}

// Identity: of two geared compressors side by side the weaker is pushed back, which is said.
TEST(Branches, AWeakCompressorBesideAStrongOneIsPushedBack) {
  const auto map_of = [](double head_at_top) {
    machine::CompressorMap map{298.15, 1e5, {}};
    for (const double n : {0.5, 1.0})
      for (const double u : {0.0, 0.5, 1.0})
        map.points.push_back({1000 * n, (0.03 + 0.06 * u) * n,
                              std::pow(1 + head_at_top * n * n * (1 - 0.3 * u * u), 3.5), 0.7});
    return map;
  };
  Build b = side_by_side(machine::GearedCompressor{10, 0.95, 1500, 450, map_of(0.25)}, 2);
  EXPECT_EQ(solved(b, 90).point.stop, flow::Stop::converged);
  std::get<machine::GearedCompressor>(b.machines[1].kind).map = map_of(0.08);
  engine_of(b).displacement_m3 = 0.0006; // takes little, so that the strong one stands high on its line
  EXPECT_EQ(solved(b, 90).point.stop, flow::Stop::backwards);
}

} // namespace
} // namespace bellmouth::test
