// SPDX-License-Identifier: GPL-3.0-or-later
// What pieces do to each other and the bay to them: near bends, diffusers behind bends, heat through walls.
#include "short_paths.hpp"
#include "support/close.hpp"

#include <bellmouth/flow/heat.hpp>
#include <bellmouth/loss/interaction.hpp>

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::test {
namespace {

using namespace build;

constexpr double bore = 0.06;

Piece bend_of(double angle_deg, double clocking_deg = 0, double ratio = 1.5) {
  return {TubeBend{bore + 3e-3, 1.5e-3, deg(angle_deg), ratio * bore, 0, 0, deg(clocking_deg), {}},
          Material::aluminium,
          {},
          ""};
}

loss::Law law_of(double angle_deg, double ratio = 1.5) {
  return loss::law(loss::Bend{deg(angle_deg), ratio, loss::roughness_m(loss::Surface::drawn_metal) / bore});
}

/// The drop of a law in this bore at a section.
double drop_at(const loss::Law& law, const flow::Section& section) {
  const double f =
      loss::darcy_friction_factor(section.reynolds, loss::roughness_m(loss::Surface::drawn_metal) / bore);
  return law.at(f, 1 / section.reynolds) * section.station.dynamic_pressure_Pa();
}

// Other method: the factor of two near bends is that of loss::interaction on each bend's own law; alone,
// behind another bore or far away, each is by itself.
TEST(NearBends, TakeTheFactorOfTheirSpacingAndTwist) {
  for (const double twist : {0.0, 90.0, 180.0})
    for (const double spacing : {0.0, 1.0, 4.0, 12.0}) {
      std::vector<Piece> pieces{bend_of(90), bend_of(60, twist)};
      if (spacing > 0)
        pieces.insert(pieces.begin() + 1, tube_of(bore, spacing * bore));
      const auto result = solved(bench_of(pieces, 0.03, bore, bore));
      const auto between = loss::interaction({spacing, deg(twist), deg(90), 1.5, deg(60), 1.5});
      const auto& rows = result.runs[0].rows;
      EXPECT_TRUE(
          close(rows.front().drop_Pa, drop_at(loss::beside(law_of(90), between), rows.front().inlet), 2e-4));
      EXPECT_TRUE(
          close(rows.back().drop_Pa, drop_at(loss::beside(law_of(60), between), rows.back().inlet), 2e-4));
      if (spacing < 8) {
        EXPECT_FALSE(close(between.factor, 1, 1e-3));
      }
    }
  const auto far = solved(bench_of({bend_of(90), tube_of(bore, 31 * bore), bend_of(60)}, 0.03, bore, bore));
  EXPECT_TRUE(close(far.runs[0].rows[2].drop_Pa, drop_at(law_of(60), far.runs[0].rows[2].inlet), 2e-4));
}

// Identity: the bend between two others takes both factors.
TEST(NearBends, TheMiddleOneTakesBoth) {
  const auto result = solved(bench_of({bend_of(90), bend_of(90, 180), bend_of(90, 90)}, 0.03, bore, bore));
  const auto first = loss::interaction({0, deg(180), deg(90), 1.5, deg(90), 1.5});
  const auto second = loss::interaction({0, deg(90), deg(90), 1.5, deg(90), 1.5});
  const auto& middle = result.runs[0].rows[1];
  EXPECT_TRUE(close(middle.drop_Pa,
                    drop_at(loss::beside(loss::beside(law_of(90), first), second), middle.inlet), 2e-4));
}

// Identity: a diffuser close behind a bend keeps its loss and takes the wider band of
// loss::behind_disturbance.
TEST(NearBends, ADiffuserBehindOneIsInDoubt) {
  const Piece cone{Cone{bore + 3e-3, 0.083, 1.5e-3, 0.1, {}}, Material::aluminium, {}, ""};
  const auto alone = solved(bench_of({cone}, 0.05, bore, 0.08)).runs[0].rows[0];
  const auto behind = solved(bench_of({bend_of(90), cone}, 0.05, bore, 0.08)).runs[0].rows[1];
  const auto away =
      solved(bench_of({bend_of(90), tube_of(bore, 11 * bore), cone}, 0.05, bore, 0.08)).runs[0].rows[2];
  EXPECT_TRUE(close(behind.loss_coefficient, alone.loss_coefficient, 5e-3));
  const auto width = [](const flow::PieceFlow& row) { return row.drop_high_Pa / row.drop_Pa - 1; };
  EXPECT_TRUE(close(width(behind), 2 * width(alone), 0.02));
  EXPECT_TRUE(close(width(away), width(alone), 0.02));
  EXPECT_TRUE(behind.outside_range);
  EXPECT_FALSE(alone.outside_range || away.outside_range);
}

Build warm_bench(double bay_K, double inlet_K, std::optional<Lagging> lagging = {}) {
  Piece tube = tube_of(bore, 1.2);
  tube.lagging = lagging;
  Build b = bench_of({tube, tube}, 0.05, bore, bore);
  std::get<FixedFlow>(b.demand).inlet_total_temperature_K = inlet_K;
  b.bay = BayAir{bay_K, 3};
  return b;
}

// Identity: a bay as warm as the air gives nothing.
TEST(HeatPickUp, NoneFromABayAsWarmAsTheAir) {
  const auto result = solved(warm_bench(330, 330));
  EXPECT_EQ(result.runs[0].heat_W, 0);
  EXPECT_EQ(result.point.manifold_temperature_K, 330);
}

// Identity: enthalpy along the rows. Closed form: T = Tb + (Ti - Tb) exp(-UA / m cp) with the conductance of
// the wall at this state, worked out apart.
TEST(HeatPickUp, IsThatOfTheWall) {
  const air::Mixture dry = dry_air();
  for (const double bay_K : {370.0, 290.0}) {
    const auto result = solved(warm_bench(bay_K, 320));
    ASSERT_TRUE(result.point.usable());
    double sum = 0;
    for (const auto& row : result.runs[0].rows) {
      const double in = row.inlet.station.total_temperature_K, out = row.outlet.station.total_temperature_K;
      EXPECT_TRUE(close(row.heat_W, 0.05 * (dry.enthalpy_J_kg(out) - dry.enthalpy_J_kg(in)), 1e-9));
      EXPECT_GT(row.heat_W * (bay_K - 320), 0);
      sum += row.heat_W;
      const double reynolds = 4 * 0.05 / (M_PI * bore * dry.viscosity_Pa_s(in));
      const double f =
          loss::darcy_friction_factor(reynolds, loss::roughness_m(loss::Surface::drawn_metal) / bore);
      const auto wall = flow::wall_heat(
          dry, {bore, bore + 3e-3, 1.2, Material::aluminium, {}, 0.05, in, f, {bay_K, 3, 101325}});
      EXPECT_TRUE(close(
          out, flow::stream_heat(dry, 0.05, in, bay_K, wall.conductance_W_K).outlet_temperature_K, 1e-7));
    }
    EXPECT_TRUE(close(sum, result.runs[0].heat_W, 1e-12));
  }
}

TEST(HeatPickUp, IsLessThroughLagging) {
  const double bare = solved(warm_bench(370, 300)).runs[0].heat_W;
  const double wrapped = solved(warm_bench(370, 300, Lagging{0.01, 0.05})).runs[0].heat_W;
  EXPECT_GT(wrapped, 0);
  EXPECT_LT(wrapped, 0.5 * bare);
}

// Identity: a hot bay costs the engine air, and the walls' heat is found in agreement with the flow: solving
// again from the solution changes nothing.
TEST(HeatPickUp, AHotBayCostsAir) {
  Build b = natural_build();
  const auto cold = solved(b, 60);
  b.bay = BayAir{380, 5};
  const auto hot = solved(b, 60);
  ASSERT_TRUE(cold.point.usable() && hot.point.usable());
  EXPECT_LT(hot.point.mass_flow_kg_s, cold.point.mass_flow_kg_s);
  EXPECT_GT(hot.point.manifold_temperature_K, cold.point.manifold_temperature_K);
  const auto again = path_of(b).operating_point(60, &hot.point);
  EXPECT_TRUE(close(again.mass_flow_kg_s, hot.point.mass_flow_kg_s, 1e-8));
}

} // namespace
} // namespace bellmouth::test
