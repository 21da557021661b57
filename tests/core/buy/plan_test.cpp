// SPDX-License-Identifier: GPL-3.0-or-later
// Kind: identity. What holds for the plan of any question.
#include "support/plan_checker.hpp"
#include "support/random_questions.hpp"

#include <bellmouth/buy/plan.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <numeric>
#include <thread>
#include <utility>
#include <vector>

namespace bellmouth {
namespace {

constexpr double for_ever = std::numeric_limits<double>::infinity();

std::int64_t money(const buy::Plan& plan) {
  return plan.goods_minor + plan.postage_minor;
}

std::vector<std::size_t> shuffled(std::size_t count, test::Draw& draw) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t i = count; i > 1; --i)
    std::swap(order[i - 1], order[static_cast<std::size_t>(draw.from_to(0, static_cast<int>(i) - 1))]);
  return order;
}

/// The same question with needs and offers in another order.
buy::Question reordered(const buy::Question& question, test::Draw& draw) {
  buy::Question other = question;
  const std::vector<std::size_t> offers = shuffled(question.offers.size(), draw);
  std::vector<std::size_t> place(offers.size());
  for (std::size_t i = 0; i < offers.size(); ++i) {
    other.offers[i] = question.offers[offers[i]];
    place[offers[i]] = i;
  }
  const std::vector<std::size_t> needs = shuffled(question.needs.size(), draw);
  for (std::size_t i = 0; i < needs.size(); ++i) {
    other.needs[i] = question.needs[needs[i]];
    for (std::size_t& offer : other.needs[i].offers)
      offer = place[offer];
  }
  return other;
}

TEST(Plan, CostsTheSameInWhateverOrderThingsAreGiven) {
  test::Draw draw(7);
  for (std::uint64_t number = 1; number <= 40; ++number) {
    buy::Question question =
        test::random_question(number, {.needs = 14, .offers = 18, .scarce = number % 2 == 0});
    question.aim = static_cast<buy::Aim>(number % 3);
    question.seconds = for_ever;
    const buy::Question other = reordered(question, draw);
    const buy::Plan plan = buy::plan(question);
    const buy::Plan same = buy::plan(other);
    EXPECT_EQ(test::faults(question, plan), "") << number;
    EXPECT_EQ(test::faults(other, same), "") << number;
    EXPECT_EQ(money(plan), money(same)) << number;
    EXPECT_EQ(plan.bound, same.bound) << number;
    EXPECT_EQ(plan.unserved.size(), same.unserved.size()) << number;
  }
}

TEST(Plan, IsTheSameEachTime) {
  for (std::uint64_t number = 1; number <= 10; ++number) {
    buy::Question question = test::random_question(number, {.needs = 20, .offers = 24});
    question.seconds = for_ever;
    EXPECT_EQ(buy::plan(question), buy::plan(question)) << number;
  }
}

TEST(Plan, NeverCostsMoreWhenThereIsMoreToChooseFrom) {
  for (std::uint64_t number = 1; number <= 30; ++number) {
    buy::Question question = test::random_question(number, {.needs = 10, .offers = 16});
    question.seconds = for_ever;
    buy::Question less = question;
    for (buy::Need& need : less.needs)
      std::erase_if(need.offers, [](std::size_t offer) { return offer % 4 == 3; });
    const buy::Plan with = buy::plan(question);
    const buy::Plan without = buy::plan(less);
    EXPECT_EQ(test::faults(less, without), "") << number;
    EXPECT_TRUE(with.unserved.size() < without.unserved.size() || money(with) <= money(without)) << number;
  }
}

TEST(Plan, OfAnAimIsTheLeastInIt) {
  for (std::uint64_t number = 1; number <= 30; ++number) {
    buy::Question question = test::random_question(number, {.needs = 10, .offers = 16, .suppliers = 4});
    question.seconds = for_ever;
    std::vector<buy::Plan> plans;
    for (const buy::Aim aim : {buy::Aim::money, buy::Aim::suppliers, buy::Aim::offcuts}) {
      question.aim = aim;
      plans.push_back(buy::plan(question));
      EXPECT_EQ(test::faults(question, plans.back()), "") << number;
      EXPECT_TRUE(plans.back().proven) << number;
    }
    for (const buy::Plan& plan : plans) {
      EXPECT_LE(money(plans[0]), money(plan)) << number;
      EXPECT_LE(plans[1].suppliers, plan.suppliers) << number;
      EXPECT_LE(plans[2].offcuts, plan.offcuts) << number;
    }
  }
}

TEST(Plan, OutOfTimeIsAPlanWithABound) {
  int unproven = 0;
  for (std::uint64_t number = 1; number <= 30; ++number) {
    buy::Question question = test::random_question(number, {.needs = 12, .offers = 24, .families = 2});
    question.aim = static_cast<buy::Aim>(number % 3);
    question.seconds = for_ever;
    const buy::Plan best = buy::plan(question);
    question.seconds = 0;
    const buy::Plan hasty = buy::plan(question);
    EXPECT_EQ(test::faults(question, hasty), "") << number;
    EXPECT_LE(hasty.bound, best.bound) << number;
    unproven += hasty.proven ? 0 : 1;
  }
  EXPECT_GT(unproven, 20);
}

TEST(Plan, CanBeMadeInSeveralThreads) {
  std::vector<buy::Question> questions;
  std::vector<buy::Plan> alone;
  for (std::uint64_t number = 1; number <= 8; ++number) {
    questions.push_back(test::random_question(number, {.needs = 12, .offers = 16}));
    questions.back().seconds = for_ever;
    alone.push_back(buy::plan(questions.back()));
  }
  std::vector<buy::Plan> together(questions.size());
  std::vector<std::thread> threads;
  for (std::size_t first = 0; first < 4; ++first)
    threads.emplace_back([&, first] {
      for (std::size_t i = first; i < questions.size(); i += 4)
        together[i] = buy::plan(questions[i]);
    });
  for (std::thread& thread : threads)
    thread.join();
  EXPECT_EQ(together, alone);
}

struct Wrong {
  const char* path;
  void (*spoil)(buy::Question&);
};

class WrongQuestions : public ::testing::TestWithParam<Wrong> {};

TEST_P(WrongQuestions, AreNamed) {
  buy::Question question;
  question.postage.resize(1);
  buy::Offer offer;
  offer.form = buy::Form::sawn;
  offer.body.straight_in_m = 1;
  offer.supplier = 0;
  question.offers = {offer, {}};
  buy::Need need;
  need.form = buy::Form::sawn;
  need.body.straight_in_m = 0.5;
  need.offers = {0};
  question.needs = {need};
  ASSERT_FALSE(buy::validate(question));
  GetParam().spoil(question);
  const std::optional<Error> error = buy::validate(question);
  ASSERT_TRUE(error);
  EXPECT_EQ(error->place.path, GetParam().path);
  EXPECT_FALSE(error->found.empty() || error->accepted.empty());
}

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

INSTANTIATE_TEST_SUITE_P(
    Each, WrongQuestions,
    ::testing::Values(
        Wrong{"kerf_m", [](buy::Question& q) { q.kerf_m = 0.021; }},
        Wrong{"kerf_m", [](buy::Question& q) { q.kerf_m = not_a_number; }},
        Wrong{"angle_short_rad", [](buy::Question& q) { q.angle_short_rad = 0.1; }},
        Wrong{"seconds", [](buy::Question& q) { q.seconds = -1; }},
        Wrong{"seconds", [](buy::Question& q) { q.seconds = not_a_number; }},
        Wrong{"postage[0].price_minor", [](buy::Question& q) { q.postage[0].price_minor = -1; }},
        Wrong{"postage[0].free_from_minor", [](buy::Question& q) { q.postage[0].free_from_minor = -1; }},
        Wrong{"offers[0].price_minor", [](buy::Question& q) { q.offers[0].price_minor = -1; }},
        Wrong{"offers[0].supplier", [](buy::Question& q) { q.offers[0].supplier = 1; }},
        Wrong{"offers[0].available", [](buy::Question& q) { q.offers[0].available = -1; }},
        Wrong{"offers[1].pack", [](buy::Question& q) { q.offers[1].pack = 0; }},
        Wrong{"offers[1].by_metre", [](buy::Question& q) { q.offers[1].by_metre = true; }},
        Wrong{"offers[0].pack", [](buy::Question& q) { q.offers[0].by_metre = true, q.offers[0].pack = 2; }},
        Wrong{"offers[0].available",
              [](buy::Question& q) { q.offers[0].by_metre = true, q.offers[0].available = 2; }},
        Wrong{"offers[0].longest_m",
              [](buy::Question& q) { q.offers[0].by_metre = true, q.offers[0].longest_m = 0; }},
        Wrong{"offers[0].body", [](buy::Question& q) { q.offers[0].body = {}; }},
        Wrong{"offers[0].body.radius_m", [](buy::Question& q) { q.offers[0].body.angle_rad = 1; }},
        Wrong{"needs[0].body.angle_rad", [](buy::Question& q) { q.needs[0].body.angle_rad = 7; }},
        Wrong{"needs[0].body.straight_in_m",
              [](buy::Question& q) { q.needs[0].body.straight_in_m = not_a_number; }},
        Wrong{"needs[0].own_cuts", [](buy::Question& q) { q.needs[0].own_cuts = -1; }},
        Wrong{"needs[0].own_cuts",
              [](buy::Question& q) { q.needs[0].body = {0, 0.1, 1, 0}, q.needs[0].own_cuts = 1; }},
        Wrong{"needs[0].offers[0]", [](buy::Question& q) { q.needs[0].offers = {2}; }},
        Wrong{"needs[0].offers[0]", [](buy::Question& q) { q.needs[0].offers = {1}; }},
        Wrong{"needs[0].offers[1]", [](buy::Question& q) { q.needs[0].offers = {0, 0}; }}),
    [](const auto& row) { return "row_" + std::to_string(row.index); });

} // namespace
} // namespace bellmouth
