// SPDX-License-Identifier: GPL-3.0-or-later
// Kind: published value. Cutting-stock examples whose least number of rolls is known.
#include "support/plan_checker.hpp"

#include <bellmouth/buy/plan.hpp>

#include <gtest/gtest.h>

#include <limits>
#include <utility>
#include <vector>

namespace bellmouth {
namespace {

/// Rolls of a length without kerf, one minor unit each; widths wanted and how many of each.
buy::Question rolls(double roll_m, double unit_m, const std::vector<std::pair<int, int>>& wanted) {
  buy::Question question;
  question.kerf_m = 0;
  question.seconds = std::numeric_limits<double>::infinity();
  buy::Offer roll;
  roll.form = buy::Form::sawn;
  roll.body.straight_in_m = roll_m;
  roll.price_minor = 1;
  question.offers.push_back(roll);
  for (const auto& [width, count] : wanted)
    for (int i = 0; i < count; ++i) {
      buy::Need need;
      need.form = buy::Form::sawn;
      need.body.straight_in_m = width * unit_m;
      need.offers = {0};
      question.needs.push_back(need);
    }
  return question;
}

void expect_rolls(const buy::Question& question, std::int64_t wanted) {
  const buy::Plan plan = buy::plan(question);
  EXPECT_EQ(test::faults(question, plan), "");
  EXPECT_TRUE(plan.proven);
  EXPECT_EQ(plan.goods_minor, wanted);
  EXPECT_EQ(plan.bound, static_cast<double>(wanted));
}

// V. Chvatal, Linear Programming, Freeman 1983, chapter 13: rolls of 100 in, 97 finals of 45 in, 610 of 36
// in, 395 of 31 in, 211 of 14 in. The relaxed optimum is 452.25, the optimum 453 rolls. The figures are cited
// from memory; the order is also that of the example "cutstock" of several public model libraries.
TEST(Textbook, ThirteenHundredFinalsOutOfFourHundredAndFiftyThreeRolls) {
  expect_rolls(rolls(100 * 25.4e-3, 25.4e-3, {{45, 97}, {36, 610}, {31, 395}, {14, 211}}), 453);
}

// The worked example of the article "Cutting stock problem" of the free encyclopaedia: rolls of 5600 mm, 219
// items of 13 widths, 407 160 mm in all. That is 72.7 rolls; the optimum is 73, with 0.401 % waste.
TEST(Textbook, ThirteenWidthsOutOfSeventyThreeRolls) {
  expect_rolls(rolls(5.6, 1e-3,
                     {{1380, 22},
                      {1520, 25},
                      {1560, 12},
                      {1710, 14},
                      {1820, 18},
                      {1880, 18},
                      {1930, 20},
                      {2000, 10},
                      {2050, 12},
                      {2100, 14},
                      {2140, 16},
                      {2150, 18},
                      {2200, 20}}),
               73);
}

} // namespace
} // namespace bellmouth
