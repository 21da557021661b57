// SPDX-License-Identifier: GPL-3.0-or-later
// Why there is no way: slots of known width between two walls.
#include <bellmouth/way/reasons.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <string>

namespace bellmouth::way {
namespace {

Effort effort(std::size_t rounds) {
  Effort result;
  result.seconds = std::numeric_limits<double>::infinity();
  result.rounds = rounds;
  result.best = 1;
  return result;
}

/// A corner of 600 by 600 mm at the level z = 0, for a tube of 60 mm and bends of 90 degrees at 90 mm; a
/// floor and a lid, each to be cleared by 10 mm, this far from the level.
Problem slot(double floor_m, double lid_m) {
  Problem problem;
  problem.name = "slot";
  problem.start = {{0, 0, 0}, {1, 0, 0}, 0.06, build::Mounting::engine, 0.04};
  problem.end = {{0.6, 0.6, 0}, {0, -1, 0}, 0.06, build::Mounting::engine, 0.04};
  problem.reference = {0, 0, 1};
  problem.bends = {{"bend", BendKind::mandrel, 0.06, 1.5707963267948966, 0.09, 0.1, 15, 0.2}};
  problem.tube = {30, 1};
  problem.joint_price = 11;
  problem.rules.most_bends = 3;
  problem.rules.straight_between_bends_m = 0.04;
  problem.weights.price = 1;
  problem.keep_outs = {{"floor", build::HalfSpace{{0, 0, -floor_m}, {0, 0, -1}}, 0.01},
                       {"lid", build::HalfSpace{{0, 0, lid_m}, {0, 0, 1}}, 0.01}};
  return problem;
}

// Closed form: 30 mm of tube and 10 mm of clearance need 40 mm; the ports' own level leaves 37 mm to the lid,
// and no way can leave that level at its ends.
TEST(Reasons, SayWhereItIsTooNarrowAndWhatClearanceWouldDo) {
  const Problem problem = slot(0.06, 0.037);
  const Found found = find(problem, effort(8));
  ASSERT_TRUE(found.answers.empty());
  ASSERT_TRUE(found.nearly.has_value());
  const auto reasons = way::reasons(problem, found, effort(8));
  ASSERT_GE(reasons.size(), 3U);
  EXPECT_EQ(reasons[0].text, "The way is 3.0 mm too narrow at lid.");
  EXPECT_FALSE(reasons[0].answer.has_value());
  const auto& less = reasons[reasons.size() - 2];
  EXPECT_EQ(less.text, "With a clearance of 6.8 mm instead of 10.0 mm at lid there is one.");
  ASSERT_TRUE(less.answer.has_value());
  Problem relaxed = problem;
  relaxed.keep_outs[1].clearance_m = 0.0068;
  EXPECT_TRUE(judge(relaxed, less.answer->way).good());
  EXPECT_FALSE(judge(problem, less.answer->way).good());
  EXPECT_EQ(reasons.back().text, "With lid out of the way there is one.");
}

// Closed form: a quarter turn at 90 mm takes 90 mm of both sides, beside 40 mm straight; the ends are 50 mm
// apart along either.
TEST(Reasons, SayWhatTheEndsAskFor) {
  Problem problem = slot(0.06, 0.06);
  problem.keep_outs.clear();
  problem.rules.most_bends = 1;
  problem.end.position_m = {0.05, 0.05, 0};
  const Found found = find(problem, effort(8));
  ASSERT_TRUE(found.answers.empty());
  const auto reasons = way::reasons(problem, found, effort(4));
  ASSERT_FALSE(reasons.empty());
  EXPECT_EQ(
      reasons[0].text,
      "Nothing in stock joins the two ends even with nothing in the way: they are 70.71 mm apart; the way "
      "needs 40 mm straight behind the one, 40 mm before the other, 40 mm between bends, and bends with a "
      "radius of 90 mm or more.");
}

// Identity: where a waypoint alone stands against it, letting it go is what is told.
TEST(Reasons, LetAWaypointGo) {
  Problem problem = slot(0.06, 0.06);
  problem.waypoints = {{"up there", build::Sphere{{0, 0, 1}, 0.01}}};
  const Found found = find(problem, effort(4));
  ASSERT_TRUE(found.answers.empty());
  const auto reasons = way::reasons(problem, found, effort(4));
  const auto told = std::ranges::find(
      reasons, "Where it need not pass through what it was told to there is one.", &Reason::text);
  ASSERT_NE(told, reasons.end());
  EXPECT_TRUE(judge(slot(0.06, 0.06), told->answer->way).good());
}

} // namespace
} // namespace bellmouth::way
