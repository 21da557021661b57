// SPDX-License-Identifier: GPL-3.0-or-later
// Without anything in the way and with bends as they are bought, the search is held against the exact answer
// on a grid of clockings of 15 degrees: linear programmes over reachable directions (Stanczak, Pralet, Vidal,
// Baudoui, ICORES 2020; see support/reachable_directions.hpp). What the search finds may turn a bend by any
// angle, so it may be shorter; it must never be longer by more than 0.5 %.
#include "support/reachable_directions.hpp"

#include <bellmouth/way.hpp>
#include <bellmouth/way/find.hpp>

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <ostream>
#include <random>
#include <string>
#include <vector>

namespace bellmouth::way {
namespace {

constexpr int steps_a_turn = 24;
constexpr double degree = std::numbers::pi / 180;

/// The same numbers on every machine.
class Dice {
public:
  explicit Dice(std::uint32_t start) : engine_(start) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_()) / 4294967295.0;
  }
  std::size_t below(std::size_t count) { return engine_() % count; }

private:
  std::mt19937 engine_;
};

/// Bends of 63.5 mm and nothing in the way; only length counts. The ends are not set.
Problem length_only(const std::vector<double>& angles_deg, std::size_t most_bends) {
  Problem problem;
  problem.name = "grid";
  for (const double angle : angles_deg) {
    Bend bend;
    bend.id = std::to_string(static_cast<int>(angle));
    bend.outer_diameter_m = 0.0635;
    bend.angle_rad = angle * degree;
    bend.radius_m = 0.095;
    bend.leg_m = 0.1;
    problem.bends.push_back(bend);
  }
  problem.tube.longest_m = 1;
  problem.rules.least_cut_angle_rad = 10 * degree;
  problem.rules.least_bends = 1;
  problem.rules.most_bends = most_bends;
  problem.rules.straight_between_bends_m = 0.04;
  problem.rules.self_gap_m = 0.005;
  problem.weights = {0, 0, 0, 1, 0, 1};
  for (End* end : {&problem.start, &problem.end}) {
    end->outer_diameter_m = 0.0635;
    end->straight_m = 0.04;
  }
  problem.start.position_m = {0.2, -0.1, 0.4};
  problem.start.direction = {0.6, 0, 0.8};
  problem.reference = {0, 1, 0};
  return problem;
}

/// Bends, their clockings in steps of the grid, and straights [mm]; sets the end that they lead to.
Way led_to_the_end(Problem& problem, const std::vector<std::size_t>& bends, const std::vector<int>& clockings,
                   const std::vector<double>& straights_mm) {
  Way way;
  bellmouth::test::Axes at{problem.start.direction, problem.reference, {}};
  const Vector &u = at[0], &v = at[1];
  at[2] = {u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]};
  Vector position_m = problem.start.position_m;
  const auto go = [&](const Vector& step_m) {
    const Vector world = bellmouth::test::in_world(at, step_m);
    for (std::size_t k = 0; k < 3; ++k)
      position_m[k] += world[k];
  };
  for (std::size_t i = 0; i < bends.size(); ++i) {
    go({straights_mm[i] / 1000, 0, 0});
    const Bend& bend = problem.bends[bends[i]];
    const double angle = bend.angle_rad, radius_m = bend.radius_m;
    const double clocking = 2 * std::numbers::pi * clockings[i] / steps_a_turn;
    // About the direction by the clocking, then about the axis square to the bend's plane by its angle.
    const double c = std::cos(clocking), s = std::sin(clocking), ca = std::cos(angle), sa = std::sin(angle);
    at = bellmouth::test::in_world(at, {Vector{1, 0, 0}, {0, c, s}, {0, -s, c}});
    go({radius_m * sa, radius_m * (1 - ca), 0});
    at = bellmouth::test::in_world(at, {Vector{ca, sa, 0}, {-sa, ca, 0}, {0, 0, 1}});
    way.turns.push_back({bends[i], angle, clocking, std::nullopt});
    way.straights_m.push_back(straights_mm[i] / 1000);
  }
  go({straights_mm.back() / 1000, 0, 0});
  way.straights_m.push_back(straights_mm.back() / 1000);
  problem.end.position_m = position_m;
  for (std::size_t k = 0; k < 3; ++k)
    problem.end.direction[k] = -at[0][k];
  return way;
}

struct Case {
  std::uint32_t start;
  std::size_t bends;
};
void PrintTo(const Case& c, std::ostream* out) {
  *out << c.bends << " bends from " << c.start;
}
std::string name_of(const testing::TestParamInfo<Case>& info) {
  return "From" + std::to_string(info.param.start);
}

/// A random chain on the grid that is good, and the problem that it answers.
struct Posed {
  Problem problem;
  Way chain;
};
Posed posed(const Case& c) {
  Dice dice(c.start);
  // Ends that multiples of 45 degrees lead to are reached by many other sequences too.
  const std::size_t coarse = c.start % 2 == 0 ? 3 : 1;
  for (;;) {
    Posed made{length_only({30, 45, 60, 90}, c.bends), {}};
    std::vector<std::size_t> bends;
    std::vector<int> clockings;
    std::vector<double> straights_mm{dice.between(40, 300)};
    for (std::size_t i = 0; i < c.bends; ++i) {
      bends.push_back(dice.below(made.problem.bends.size()));
      clockings.push_back(static_cast<int>(coarse * dice.below(steps_a_turn / coarse)));
      straights_mm.push_back(dice.between(40, 300));
    }
    made.chain = led_to_the_end(made.problem, bends, clockings, straights_mm);
    if (judge(made.problem, made.chain).good())
      return made;
  }
}

/// A planar S of two quarter turns: the straight between them is what the offset leaves of it.
/// Kind: closed form.
TEST(Grid, FindsThePlanarSOfTwoQuarterTurns) {
  Problem problem = length_only({45, 90}, 2);
  problem.start.direction = {1, 0, 0};
  problem.reference = {0, 0, 1};
  problem.end.position_m = {0.2 + 0.04 + 2 * 0.095 + 0.1, -0.1, 0.4 + 0.5};
  problem.end.direction = {-1, 0, 0};
  const auto ways = bellmouth::test::grid_ways(problem, 2, 2, steps_a_turn);
  ASSERT_FALSE(ways.empty());
  // 0.14 of straight along x besides the two radii, and 0.5 less the two radii along z. Turns of 45 degrees
  // would need more room along x than there is.
  const double radius_m = 0.095;
  EXPECT_NEAR(ways.front().length_m, 0.14 + std::numbers::pi * radius_m + 0.5 - 2 * radius_m, 1e-9);
}

/// The length of the shortest good way on the grid [m]. The programmes do not know the rule on a way that
/// comes back to itself; all others their ways keep.
double shortest_on_grid(const Problem& problem, const std::vector<bellmouth::test::GridWay>& ways) {
  for (const auto& found : ways) {
    const Judgement judgement = judge(problem, found.way);
    EXPECT_LT(judgement.end_gap_m, 1e-6);
    EXPECT_NEAR(figures(problem, found.way).length_m, found.length_m, 1e-9);
    if (judgement.good())
      return found.length_m;
    EXPECT_TRUE(judgement.self_room_m && *judgement.self_room_m < 0) << judgement.faults.front();
  }
  ADD_FAILURE() << "none of " << ways.size() << " ways on the grid is good";
  return 0;
}
void expect_no_longer(const Problem& problem, double least_m) {
  Effort effort;
  effort.seconds = std::numeric_limits<double>::infinity();
  effort.rounds = 30;
  const Found found = find(problem, effort);
  ASSERT_FALSE(found.answers.empty());
  const Answer& best = found.answers.front();
  EXPECT_TRUE(judge(problem, best.way).good());
  EXPECT_LE(best.figures.length_m, 1.005 * least_m);
  testing::Test::RecordProperty("share_of_grid", std::to_string(best.figures.length_m / least_m));
}

class LedTo : public testing::TestWithParam<Case> {};

/// Kind: other method.
TEST_P(LedTo, NoWayOnTheGridIsShorter) {
  const auto [problem, chain] = posed(GetParam());
  ASSERT_FALSE(validate(problem)) << validate(problem)->text();
  const auto ways = bellmouth::test::grid_ways(problem, 1, problem.rules.most_bends, steps_a_turn);
  ASSERT_FALSE(ways.empty());
  // The chain itself is on the grid, so the least of all is no longer than it.
  EXPECT_LE(ways.front().length_m, figures(problem, chain).length_m + 1e-9);
  expect_no_longer(problem, shortest_on_grid(problem, ways));
}

class SquarePorts : public testing::TestWithParam<Case> {};

/// Ports that look the same way, at each other, or square to each other, anywhere: the grid has many ways.
/// Kind: other method.
TEST_P(SquarePorts, NoWayOnTheGridIsShorter) {
  const auto [start, bends] = GetParam();
  Dice dice(1000 + start);
  Problem problem = length_only({30, 45, 60, 90}, bends);
  const Vector& u = problem.start.direction;
  const Vector& v = problem.reference;
  const std::array<Vector, 3> directions{u, {-u[0], -u[1], -u[2]}, v};
  problem.end.direction = directions[start % directions.size()];
  std::vector<bellmouth::test::GridWay> ways;
  while (ways.size() < 10) {
    for (std::size_t k = 0; k < 3; ++k)
      problem.end.position_m[k] = problem.start.position_m[k] + dice.between(-0.6, 0.6);
    ways = bellmouth::test::grid_ways(problem, 1, bends, steps_a_turn);
  }
  ASSERT_FALSE(validate(problem)) << validate(problem)->text();
  expect_no_longer(problem, shortest_on_grid(problem, ways));
}

INSTANTIATE_TEST_SUITE_P(TwoBends, LedTo,
                         testing::Values(Case{1, 2}, Case{2, 2}, Case{3, 2}, Case{4, 2}, Case{5, 2},
                                         Case{6, 2}),
                         name_of);
INSTANTIATE_TEST_SUITE_P(ThreeBends, LedTo,
                         testing::Values(Case{1, 3}, Case{2, 3}, Case{3, 3}, Case{4, 3}, Case{5, 3},
                                         Case{6, 3}),
                         name_of);
INSTANTIATE_TEST_SUITE_P(FourBends, LedTo, testing::Values(Case{1, 4}, Case{2, 4}), name_of);
INSTANTIATE_TEST_SUITE_P(ThreeBends, SquarePorts,
                         testing::Values(Case{1, 3}, Case{2, 3}, Case{3, 3}, Case{4, 3}, Case{5, 3},
                                         Case{6, 3}),
                         name_of);
INSTANTIATE_TEST_SUITE_P(FourBends, SquarePorts, testing::Values(Case{1, 4}, Case{2, 4}, Case{3, 4}),
                         name_of);

} // namespace
} // namespace bellmouth::way
