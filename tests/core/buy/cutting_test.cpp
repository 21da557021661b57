// SPDX-License-Identifier: GPL-3.0-or-later
// Kind: closed form. What comes out of which body, worked out by hand beside each case.
#include "support/close.hpp"
#include "support/plan_checker.hpp"

#include <bellmouth/buy/plan.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <numbers>
#include <vector>

namespace bellmouth {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double radius_m = 95.3e-3; // 3.75 in, that of 2.5 in tube at one and a half times its diameter

buy::Body bend(double in_mm, double angle_deg, double out_mm) {
  return {in_mm * 1e-3, radius_m, angle_deg * degree, out_mm * 1e-3};
}
buy::Body length(double mm) {
  return {.straight_in_m = mm * 1e-3};
}

/// One offer of a body at a price of 10.00, and pieces that are all to come out of it.
buy::Question one_offer(const buy::Body& body, const std::vector<buy::Body>& pieces) {
  buy::Question question;
  buy::Offer offer;
  offer.form = buy::Form::sawn;
  offer.body = body;
  offer.price_minor = 1000;
  question.offers.push_back(offer);
  for (const buy::Body& piece : pieces) {
    buy::Need need;
    need.form = buy::Form::sawn;
    need.body = piece;
    need.offers = {0};
    question.needs.push_back(need);
  }
  question.seconds = std::numeric_limits<double>::infinity();
  return question;
}

/// The plan of a question, checked.
buy::Plan checked(const buy::Question& question) {
  EXPECT_FALSE(buy::validate(question));
  buy::Plan plan = buy::plan(question);
  EXPECT_EQ(test::faults(question, plan), "");
  EXPECT_TRUE(plan.proven);
  return plan;
}

struct Case {
  const char* what;
  buy::Body body;
  std::vector<buy::Body> pieces;
  int bodies;   ///< wanted
  int offcuts;  ///< wanted
  int unserved; ///< wanted
};

class Bodies : public ::testing::TestWithParam<Case> {};

TEST_P(Bodies, YieldWhatTheyCan) {
  const Case& wanted = GetParam();
  const buy::Plan plan = checked(one_offer(wanted.body, wanted.pieces));
  EXPECT_EQ(plan.uses.size(), static_cast<std::size_t>(wanted.bodies));
  EXPECT_EQ(plan.unserved.size(), static_cast<std::size_t>(wanted.unserved));
  EXPECT_EQ(plan.offcuts, wanted.offcuts);
  EXPECT_EQ(plan.goods_minor, 1000 * wanted.bodies);
}

// The kerf is 2.5 mm, which is 1.503 degrees of the arc; a piece may fall short by 1.3 degrees.
INSTANTIATE_TEST_SUITE_P(
    ByHand, Bodies,
    ::testing::Values(
        Case{"a 180 is two 90s with their legs outside",
             bend(100, 180, 100),
             {bend(100, 90, 0), bend(0, 90, 100)},
             1,
             0,
             0},
        Case{"either way round", bend(100, 180, 100), {bend(0, 90, 100), bend(0, 90, 100)}, 1, 0, 0},
        Case{"a 180 is a 90 and two 45s, the middle one without legs",
             bend(100, 180, 100),
             {bend(100, 90, 0), bend(0, 45, 0), bend(0, 45, 100)},
             1,
             0,
             0},
        // Land for a clamp on both sides of each: no arc can give it.
        Case{"two 90s with legs on both ends are two bends",
             bend(100, 90, 100),
             {bend(40, 90, 40), bend(40, 90, 40)},
             2,
             4,
             0},
        Case{"a 180 does not give a 90 with legs on both ends",
             bend(100, 180, 100),
             {bend(40, 90, 40)},
             0,
             0,
             1},
        Case{"no more than two pieces have a leg",
             bend(100, 180, 100),
             {bend(40, 60, 0), bend(40, 60, 0), bend(40, 60, 0)},
             2,
             5,
             0},
        Case{"a leg longer than the body's does not fit", bend(100, 90, 60), {bend(80, 90, 80)}, 0, 0, 1},
        Case{"a long leg finds the long end", bend(60, 90, 100), {bend(100, 90, 60)}, 1, 0, 0},
        // Three kerfs of 1.503 degrees over four pieces are 1.13 degrees each; seven over eight 1.315.
        Case{"a 180 is four 45s",
             bend(0, 180, 0),
             {bend(0, 45, 0), bend(0, 45, 0), bend(0, 45, 0), bend(0, 45, 0)},
             1,
             0,
             0},
        Case{"eight 22.5s are just too much", bend(0, 180, 0), std::vector(8, bend(0, 22.5, 0)), 2, 2, 0},
        Case{"with a degree to spare they are not",
             bend(0, 180, 0),
             {bend(0, 22.5, 0), bend(0, 22.5, 0), bend(0, 22.5, 0), bend(0, 22.5, 0), bend(0, 22.5, 0),
              bend(0, 22.5, 0), bend(0, 22.5, 0), bend(0, 21.5, 0)},
             1,
             0,
             0},
        Case{"91 and 90 are more than a 180 holds",
             bend(0, 180, 0),
             {bend(0, 91, 0), bend(0, 90, 0)},
             2,
             2,
             0},
        Case{"an arc within half a degree is the same", bend(50, 90.4, 50), {bend(50, 90, 50)}, 1, 0, 0},
        Case{"beyond half a degree it is not", bend(50, 90.6, 50), {bend(50, 90, 50)}, 0, 0, 1},
        // 45 degrees left: an arc with a leg in one piece.
        Case{"a 45 out of a 90", bend(50, 90, 50), {bend(50, 45, 0)}, 1, 1, 0},
        // 100 - 40 = 60 mm are cut off, with a kerf that is 57.5 mm.
        Case{"a straight piece out of a leg cut down",
             bend(100, 90, 40),
             {bend(40, 90, 40), length(57.5)},
             1,
             0,
             0},
        Case{"a longer one wants another bend", bend(100, 90, 40), {bend(40, 90, 40), length(57.6)}, 2, 2, 0},
        Case{"a straight piece is not cut from an arc", bend(0, 180, 0), {length(50)}, 0, 0, 1},
        // 3 x 300 + 2 x 2.5 = 905
        Case{"a last cut at the end needs no kerf",
             length(905),
             {length(300), length(300), length(300)},
             1,
             0,
             0},
        Case{"kerfs count", length(904.9), {length(300), length(300), length(300)}, 2, 2, 0},
        Case{"less than 0.05 mm is nothing left", length(302.54), {length(300)}, 1, 0, 0},
        Case{"0.06 mm is left", length(302.56), {length(300)}, 1, 1, 0},
        Case{"less than a kerf is sawn away", length(301), {length(300)}, 1, 0, 0}),
    [](const auto& row) { return "row_" + std::to_string(row.index); });

TEST(Cutting, SharesTheKerfBetweenTwoNineties) {
  const buy::Question question = one_offer(bend(100, 180, 100), {bend(100, 90, 0), bend(0, 90, 100)});
  const buy::Plan plan = checked(question);
  ASSERT_EQ(plan.uses.size(), 1U);
  const double half_kerf_rad = question.kerf_m / radius_m / 2;
  const double arc_m = radius_m * 90 * degree;
  const std::vector<buy::Cut>& cuts = plan.uses[0].cuts;
  ASSERT_EQ(cuts.size(), 2U);
  for (const buy::Cut& cut : cuts)
    EXPECT_TRUE(test::close(cut.short_by_rad, half_kerf_rad, 1e-9)) << "0.75 degrees";
  EXPECT_TRUE(test::close(cuts[0].to_m, 0.1 + arc_m - question.kerf_m / 2, 1e-9));
  EXPECT_TRUE(test::close(cuts[1].from_m, 0.1 + arc_m + question.kerf_m / 2, 1e-9));
  EXPECT_TRUE(test::close(plan.uses[0].length_m, 0.2 + 2 * arc_m, 1e-12));
}

TEST(Cutting, LeavesNoPieceShortByMoreThanAllowed) {
  buy::Question question = one_offer(bend(0, 180, 0), std::vector(4, bend(0, 45, 0)));
  question.angle_short_rad = 1.12 * degree; // 1.13 would be missing from each
  EXPECT_EQ(checked(question).uses.size(), 2U);
  question.angle_short_rad = 0;
  EXPECT_EQ(checked(question).uses.size(), 2U);
  question.kerf_m = 0;
  EXPECT_EQ(checked(question).uses.size(), 1U);
}

TEST(Cutting, GivesTheWholeAngleWhereThereIsArcToSpare) {
  const buy::Plan plan = checked(one_offer(bend(100, 180, 100), {bend(100, 90, 0), bend(0, 80, 100)}));
  ASSERT_EQ(plan.uses.size(), 1U);
  for (const buy::Cut& cut : plan.uses[0].cuts)
    EXPECT_EQ(cut.short_by_rad, 0);
  ASSERT_EQ(plan.offcuts, 1);
  const double two_kerfs_rad = 2 * 2.5e-3 / radius_m;
  EXPECT_TRUE(test::close(plan.uses[0].offcuts[0].angle_rad, 10 * degree - two_kerfs_rad, 1e-9));
}

TEST(Cutting, CountsTheMitresOfASegmentedBend) {
  // 200 mm with three cuts of 2.5 mm within is 207.5 mm of tube.
  buy::Question question = one_offer(length(207.5), {length(200)});
  question.needs[0].own_cuts = 3;
  EXPECT_TRUE(checked(question).unserved.empty());
  question.needs[0].own_cuts = 4;
  EXPECT_EQ(checked(question).unserved, (std::vector<std::size_t>{0}));
}

TEST(Cutting, BuysByTheMetreWhatIsWantedAndItsKerfs) {
  buy::Question question = one_offer({}, {length(300), length(450), length(125.5)});
  question.offers[0].by_metre = true;
  question.offers[0].price_minor = 3550;
  const buy::Plan plan = checked(question);
  ASSERT_EQ(plan.uses.size(), 1U);
  EXPECT_TRUE(test::close(plan.uses[0].length_m, 0.883, 1e-12)) << "875.5 mm and three kerfs";
  EXPECT_EQ(plan.goods_minor, 3135) << "35.50 x 0.883 = 31.3465";
  EXPECT_EQ(plan.offcuts, 0);
}

TEST(Cutting, KeepsToTheLongestLengthSold) {
  buy::Question question = one_offer({}, {length(600), length(600), length(300)});
  question.offers[0].by_metre = true;
  question.offers[0].longest_m = 1;
  const buy::Plan plan = checked(question);
  EXPECT_EQ(plan.uses.size(), 2U);
  question.offers[0].longest_m = 0.6;
  EXPECT_EQ(checked(question).unserved, (std::vector<std::size_t>{0, 1})) << "a cut more than is sold";
}

TEST(Cutting, TurnsAPieceWhoseLegsAreTheOtherWay) {
  const buy::Plan plan = checked(one_offer(bend(60, 90, 100), {bend(100, 90, 60)}));
  ASSERT_EQ(plan.uses.size(), 1U);
  EXPECT_TRUE(plan.uses[0].cuts[0].turned);
}

} // namespace
} // namespace bellmouth
