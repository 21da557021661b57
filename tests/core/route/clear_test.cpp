// SPDX-License-Identifier: GPL-3.0-or-later
// Runs that meet their port round what stands in the way.
#include "support/close.hpp"
#include "support/random_chains.hpp"

#include <gtest/gtest.h>

namespace bellmouth::test {
namespace {

using build::Pose;
using route::Freedom;
using route::What;

constexpr double tube_radius_m = 63.5e-3 / 2;
const Pose origin{{0, 0, 0}, {1, 0, 0}};

/// The least distance from a run's tubes and bends to a point, by steps along the centreline, less the
/// radius of the tube.
double sampled_distance_m(const build::Build& build, const build::Vector& point_m) {
  const auto& pieces = the_run(build).pieces;
  double least_m = 1e9;
  std::vector<build::Piece> so_far;
  const auto look = [&](const build::Piece& part) {
    so_far.push_back(part);
    const build::Vector at = run_end(*build.ports[0].pose, so_far).position_m;
    so_far.pop_back();
    least_m = std::min(least_m, std::hypot(at[0] - point_m[0], at[1] - point_m[1], at[2] - point_m[2]));
  };
  constexpr int steps = 2000;
  for (const build::Piece& piece : pieces) {
    for (int i = 0; i <= steps; ++i) {
      const double share = static_cast<double>(i) / steps;
      build::Piece part = piece;
      if (auto* tube = std::get_if<build::Tube>(&part.shape)) {
        tube->length_m *= share;
        look(part);
      } else if (auto* bent = std::get_if<build::TubeBend>(&part.shape)) {
        const build::TubeBend whole = *bent;
        *bent = {.outer_diameter_m = whole.outer_diameter_m,
                 .wall_m = whole.wall_m,
                 .angle_rad = 0,
                 .radius_m = whole.radius_m,
                 .leg_in_m = whole.leg_in_m * share,
                 .leg_out_m = 0,
                 .clocking_rad = whole.clocking_rad,
                 .beads = {}};
        look(part);
        bent->leg_in_m = whole.leg_in_m;
        bent->angle_rad = whole.angle_rad * share;
        look(part);
        bent->angle_rad = whole.angle_rad;
        bent->leg_out_m = whole.leg_out_m * share;
        look(part);
      }
    }
    so_far.push_back(piece);
  }
  return least_m - tube_radius_m;
}

build::KeepOut sphere(const build::Vector& centre_mm, double radius_mm, double clearance_mm) {
  return {.name = "ball",
          .clearance_m = mm(clearance_mm),
          .shape = build::Sphere{{mm(centre_mm[0]), mm(centre_mm[1]), mm(centre_mm[2])}, mm(radius_mm)}};
}
build::KeepOut lid(double z_mm, double clearance_mm) {
  return {
      .name = "lid", .clearance_m = mm(clearance_mm), .shape = build::HalfSpace{{0, 0, mm(z_mm)}, {0, 0, 1}}};
}

/// An offset of two bends whose middle may lie anywhere along the way.
struct Offset {
  build::Build build = one_run(origin, {{mm(700), 0, mm(200)}, {-1, 0, 0}},
                               {straight(150), bend(40, 0), straight(150), bend(40, 180), straight(150)});
  std::vector<Freedom> freedoms{{0, What::length, mm(20), mm(600)},
                                {1, What::angle, deg(5), deg(90), 4},
                                {1, What::clocking, deg(-180), deg(180), 0.25},
                                {2, What::length, mm(20), mm(600)},
                                {3, What::angle, deg(5), deg(90), 4},
                                {3, What::clocking, deg(-180), deg(180), 0.25},
                                {4, What::length, mm(20), mm(600)}};
  [[nodiscard]] route::Met meet(bool keep_clear = true) const {
    return route::meet(build, {"only"}, {"run"}, freedoms, {.keep_clear = keep_clear});
  }
};

double cost(const route::Met& met, const std::vector<Freedom>& freedoms) {
  double sum = 0;
  for (const route::Change& each : met.changes)
    for (const Freedom& freedom : freedoms)
      if (freedom.row == each.row && freedom.what == each.what) {
        const double moved = (each.to - each.from) * (route::is_angle(each.what) ? route::arm_m : 1.0);
        sum += freedom.weight * moved * moved;
      }
  return sum;
}

// Other method: the way is sampled. The least change would touch the ball; the way round comes as near as it
// may, and costs more.
TEST(KeepClear, GoesRoundWhatStandsInTheWay) {
  Offset offset;
  const route::Met straight_there = offset.meet();
  ASSERT_TRUE(straight_there.met());
  EXPECT_FALSE(straight_there.tightest_after);
  offset.build.keep_outs = {sphere({300, 0, 140}, 20, 25)};
  const build::Vector centre{mm(300), 0, mm(140)};
  ASSERT_LT(sampled_distance_m(straight_there.build, centre) - mm(20), mm(12));
  const route::Met there = offset.meet(false);
  EXPECT_EQ(there.changes.size(), straight_there.changes.size());
  const route::Met round = offset.meet();
  ASSERT_TRUE(round.met()) << route::text(round.stop);
  EXPECT_TRUE(close(sampled_distance_m(round.build, centre) - mm(20), mm(25), 0, 1e-5));
  EXPECT_LT(off_port(run_end(origin, the_run(round.build).pieces), *offset.build.ports[1].pose).gap_m, 1e-6);
  EXPECT_GT(cost(round, offset.freedoms), cost(there, offset.freedoms));
  ASSERT_TRUE(round.tightest_after);
  EXPECT_TRUE(close(round.tightest_after->distance_m, mm(25), 0, 1e-5));
}

// Other method: a run that is on its port already, but too near to a ball, goes round it; where it may not be
// moved out of the way it stays as it is.
TEST(KeepClear, LeadsARunThatIsOnItsPortOutOfTheWay) {
  Offset offset;
  offset.build = offset.meet().build;
  offset.build.keep_outs = {sphere({300, 0, 140}, 20, 25)};
  const build::Vector centre{mm(300), 0, mm(140)};
  ASSERT_LT(sampled_distance_m(offset.build, centre) - mm(20), mm(12));
  EXPECT_TRUE(offset.meet(false).changes.empty());
  const route::Met round = offset.meet();
  ASSERT_TRUE(round.met());
  EXPECT_FALSE(round.changes.empty());
  EXPECT_TRUE(close(sampled_distance_m(round.build, centre) - mm(20), mm(25), 0, 1e-5));
  EXPECT_LT(off_port(run_end(origin, the_run(round.build).pieces), *offset.build.ports[1].pose).gap_m, 1e-6);
  offset.freedoms = {{0, What::length, mm(20), mm(600)}};
  const route::Met stays = offset.meet();
  EXPECT_TRUE(stays.met());
  EXPECT_TRUE(stays.changes.empty());
}

// Identity: what is there in one state of the bay only is kept off as well.
TEST(KeepClear, MindsEveryStateOfTheBay) {
  Offset offset;
  offset.build.states = {{{"wheels at lock"}, 0}};
  offset.build.keep_outs = {sphere({300, 0, 140}, 20, 25)};
  offset.build.keep_outs[0].states = {{"wheels at lock"}};
  const route::Met round = offset.meet();
  ASSERT_TRUE(round.met());
  EXPECT_TRUE(close(sampled_distance_m(round.build, {mm(300), 0, mm(140)}) - mm(20), mm(25), 0, 1e-5));
}

// Closed form: the end must go to 336 mm under a lid at 340 mm.
TEST(KeepClear, SaysWhatStandsInTheWay) {
  auto build =
      one_run(origin, {{mm(268), 0, mm(336)}, {0, 0, -1}}, {straight(100), bend(90, 0), straight(100)});
  build.keep_outs = {sphere({0, 900, 0}, 50, 10), lid(340, 10)};
  const std::vector<Freedom> freedoms{{0, What::length, mm(20), mm(600)}, {2, What::length, mm(20), mm(600)}};
  const route::Met met = route::meet(build, {"only"}, {"run"}, freedoms, {});
  EXPECT_EQ(met.stop, route::Stop::not_clear);
  EXPECT_LT(met.after->gap_m, 1e-7);
  ASSERT_FALSE(met.in_the_way.empty());
  const bay::Gap& gap = met.in_the_way.front();
  EXPECT_EQ(gap.neighbour, bay::Neighbour(bay::NearKeepOut{1}));
  EXPECT_EQ(gap.row, 2U);
  EXPECT_TRUE(close(gap.distance_m, mm(4) - tube_radius_m, 0, 1e-7));
  EXPECT_TRUE(close(gap.margin_m(), mm(4 - 10) - tube_radius_m, 0, 1e-7));
  EXPECT_TRUE(close(met.tightest_before->distance_m, mm(340 - 195) - tube_radius_m, 0, 1e-7));
}

// Closed form: a tube along a wall stays as near as it was, which is less than required.
TEST(KeepClear, LeavesWhatWasTooNearAlready) {
  auto build = one_run(origin, {{mm(340), 0, 0}, {-1, 0, 0}}, {straight(100), straight(200)});
  build.keep_outs = {lid(50, 30)};
  const std::vector<Freedom> freedoms{{0, What::length, mm(20), mm(600)}};
  const route::Met met = route::meet(build, {"only"}, {"run"}, freedoms, {});
  EXPECT_TRUE(met.met());
  EXPECT_TRUE(close(met.tightest_before->margin_m(), mm(50 - 30) - tube_radius_m, 0, 1e-9));
  EXPECT_TRUE(close(met.tightest_after->margin_m(), mm(50 - 30) - tube_radius_m, 0, 1e-9));
}

// Other method: a ball against the middle of random runs that were met without it; where there is a way
// round, sampling finds it clear.
TEST(KeepClear, RandomRunsComeNoNearer) {
  Disturber disturber(11);
  int asked = 0, met_again = 0;
  for (int number = 0; number < 60; ++number) {
    Disturbed problem = disturber.next();
    const route::Wanted freely{.keep_clear = false, .help = false}, clear{.help = false};
    const route::Met there = route::meet(problem.build, {"only"}, {"run"}, problem.freedoms, freely);
    std::vector<build::Piece> half = the_run(there.build).pieces;
    half.resize(half.size() / 2);
    const RunEnd middle = run_end(*problem.build.ports[0].pose, half);
    build::Vector centre = middle.position_m;
    for (std::size_t k = 0; k < 3; ++k)
      centre[k] += mm(70) * middle.axes[k][1];
    problem.build.keep_outs = {sphere({centre[0] * 1e3, centre[1] * 1e3, centre[2] * 1e3}, 30, 10)};
    const double before_m = sampled_distance_m(problem.build, centre) - mm(30);
    const route::Met round = route::meet(problem.build, {"only"}, {"run"}, problem.freedoms, clear);
    ++asked;
    if (!round.met()) {
      EXPECT_FALSE(round.in_the_way.empty()) << number;
      continue;
    }
    ++met_again;
    EXPECT_GE(sampled_distance_m(round.build, centre) - mm(30), std::min(mm(10), before_m) - 5e-6) << number;
    EXPECT_LT(off_port(run_end(*problem.build.ports[0].pose, the_run(round.build).pieces),
                       *problem.build.ports[1].pose)
                  .gap_m,
              0.1e-3)
        << number;
  }
  EXPECT_GE(met_again, asked / 2);
}

} // namespace
} // namespace bellmouth::test
