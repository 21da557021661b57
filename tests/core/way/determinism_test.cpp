// SPDX-License-Identifier: GPL-3.0-or-later
// What is known after a round is the same for a start of the random numbers, whatever the number of threads;
// the search stops when it is told to; other weights put the same ways in another order.
#include "support/route_examples.hpp"

#include <bellmouth/way.hpp>
#include <bellmouth/way/find.hpp>

#include <gtest/gtest.h>

#include <cstddef>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

namespace bellmouth::way {
namespace {

using bellmouth::test::route_example;

Effort rounds(std::size_t count, unsigned threads = 1, std::uint64_t start = 1) {
  Effort effort;
  effort.seconds = std::numeric_limits<double>::infinity();
  effort.rounds = count;
  effort.threads = threads;
  effort.seed = start;
  return effort;
}
std::vector<Way> ways(const std::vector<Answer>& answers) {
  std::vector<Way> all;
  all.reserve(answers.size());
  for (const Answer& answer : answers)
    all.push_back(answer.way);
  return all;
}
void expect_identical(const Found& a, const Found& b) {
  EXPECT_TRUE(ways(a.answers) == ways(b.answers));
  EXPECT_TRUE(ways(a.others) == ways(b.others));
  ASSERT_EQ(a.nearly.has_value(), b.nearly.has_value());
  if (a.nearly) {
    EXPECT_TRUE(a.nearly->way == b.nearly->way);
  }
  EXPECT_EQ(a.least_cost, b.least_cost);
  EXPECT_EQ(a.exhausted, b.exhausted);
  EXPECT_EQ(a.rounds, b.rounds);
}

class SameRounds : public testing::TestWithParam<const char*> {};

/// Kind: identity.
TEST_P(SameRounds, FindTheSameOnAnyNumberOfThreads) {
  const auto example = route_example(GetParam());
  const Found one = find(example.question, rounds(5));
  expect_identical(one, find(example.question, rounds(5)));
  expect_identical(one, find(example.question, rounds(5, 2)));
  expect_identical(one, find(example.question, rounds(5, 3)));
}
INSTANTIATE_TEST_SUITE_P(Examples, SameRounds,
                         testing::Values("open-001", "cluttered-002", "cluttered-003", "narrow-004",
                                         "narrow-005"),
                         [](const auto& test) {
                           std::string name = test.param;
                           std::erase(name, '-');
                           return name;
                         });

TEST(Starts, OtherRandomNumbersFindGoodWaysToo) {
  const auto example = route_example("cluttered-003");
  for (std::uint64_t start = 2; start < 5; ++start) {
    const Found found = find(example.question, rounds(10, 1, start));
    ASSERT_FALSE(found.answers.empty());
    for (const Answer& answer : found.answers)
      EXPECT_TRUE(judge(example.question, answer.way).good());
  }
}

TEST(Watching, EndsTheSearchAndKeepsWhatIsKnown) {
  const auto example = route_example("open-001");
  std::size_t told = 0, after = 0;
  Found last;
  const Found found = find(example.question, rounds(1000, 2), [&](const Found& so_far) {
    ++told;
    if (so_far.answers.empty())
      return true;
    if (after++ == 0)
      last = so_far;
    return false;
  });
  EXPECT_GE(told, 1U);
  EXPECT_LE(found.rounds, last.rounds + 1);
  ASSERT_FALSE(found.answers.empty());
  EXPECT_LE(found.answers.front().figures.cost, last.answers.front().figures.cost);
  EXPECT_LT(found.rounds, 1000U);
}

TEST(Watching, EndsBeforeAnythingIsKnown) {
  const auto example = route_example("narrow-004");
  std::size_t told = 0;
  const Found found = find(example.question, rounds(1000, 2), [&](const Found&) {
    ++told;
    return false;
  });
  EXPECT_LE(found.rounds, 1U);
  EXPECT_GE(told, 1U);
}

TEST(Watching, HearsOfEveryRoundAndNeverOfWorse) {
  const auto example = route_example("cluttered-003");
  double least = std::numeric_limits<double>::infinity();
  std::size_t round = 0;
  bool worse = false, back = false;
  const Found found = find(example.question, rounds(6), [&](const Found& so_far) {
    back = back || so_far.rounds < round;
    round = so_far.rounds;
    if (!so_far.answers.empty()) {
      worse = worse || so_far.answers.front().figures.cost > least;
      least = so_far.answers.front().figures.cost;
    }
    return true;
  });
  EXPECT_FALSE(worse);
  EXPECT_FALSE(back);
  EXPECT_EQ(round, found.rounds);
  EXPECT_EQ(found.answers.front().figures.cost, least);
}

TEST(Rounds, AreAllDoneWhereOnlyManyBendsAreAllowed) {
  auto example = route_example("open-004");
  example.question.rules.least_bends = 4;
  const Found found = find(example.question, rounds(9));
  EXPECT_EQ(found.rounds, 9U);
  EXPECT_FALSE(found.exhausted);
  ASSERT_FALSE(found.answers.empty());
  EXPECT_GE(found.answers.front().way.turns.size(), 4U);
}

/// A dear bend that saves length against a cheap one: two ways by hand that need not meet any port.
struct ByHand {
  Problem problem;
  Found found;

  ByHand() {
    for (const double price : {30.0, 5.0}) {
      Bend bend;
      bend.id = price > 10 ? "dear" : "cheap";
      bend.outer_diameter_m = 0.06;
      bend.angle_rad = std::numbers::pi / 2;
      bend.radius_m = 0.09;
      bend.leg_m = 0.1;
      bend.price = price;
      bend.k90 = 0.2;
      problem.bends.push_back(bend);
    }
    problem.start.outer_diameter_m = problem.end.outer_diameter_m = 0.06;
    problem.tube.longest_m = 1;
    found.answers = {made(0, 0.1), made(1, 0.2)};
    found.others = {made(1, 0.3)};
  }
  static Answer made(std::size_t bend, double straight_m) {
    Answer answer;
    answer.way.turns = {{bend, std::numbers::pi / 2, 0, std::nullopt}};
    answer.way.straights_m = {straight_m, straight_m};
    return answer;
  }
};

TEST(Ranked, PutsTheCheapestByTheWeightsFirst) {
  ByHand hand;
  const Way dear = hand.found.answers[0].way, cheap = hand.found.answers[1].way,
            longest = hand.found.others[0].way;
  hand.problem.weights = {1, 0, 0, 0, 0, 1};
  const Found by_price = ranked(hand.problem, hand.found, 3);
  EXPECT_TRUE(ways(by_price.answers) == (std::vector<Way>{cheap, longest, dear}) ||
              ways(by_price.answers) == (std::vector<Way>{longest, cheap, dear}));
  EXPECT_EQ(by_price.answers.front().figures.cost, 5);

  hand.problem.weights = {0, 0, 0, 1, 0, 1};
  const Found by_length = ranked(hand.problem, hand.found, 3);
  EXPECT_TRUE(ways(by_length.answers) == (std::vector<Way>{dear, cheap, longest}));
  EXPECT_NEAR(by_length.answers.back().figures.cost, 0.6 + 0.09 * std::numbers::pi / 2, 1e-12);

  // Only two are asked for: the third is kept beside them, and comes back under other weights.
  const Found two = ranked(hand.problem, hand.found, 2);
  EXPECT_TRUE(ways(two.answers) == (std::vector<Way>{dear, cheap}));
  EXPECT_TRUE(ways(two.others) == (std::vector<Way>{longest}));
  hand.problem.weights = {1, 0, 0, -1, 0, 1};
  EXPECT_TRUE(ways(ranked(hand.problem, two, 2).answers) == (std::vector<Way>{longest, cheap}));
}

TEST(Ranked, LosesNoWayOfARealSearch) {
  auto example = route_example("open-001");
  const Found found = find(example.question, rounds(6));
  ASSERT_GE(found.answers.size(), 2U);
  const std::size_t count = found.answers.size() + found.others.size();
  const Found same_again = ranked(example.question, found, found.answers.size());
  EXPECT_TRUE(ways(same_again.answers) == ways(found.answers));

  example.question.weights = {0, 0, 0, 1, 0, 1};
  const Found by_length = ranked(example.question, found, 2);
  EXPECT_EQ(by_length.answers.size(), 2U);
  EXPECT_EQ(by_length.answers.size() + by_length.others.size(), count);
  const auto least = [&](const Found& of) {
    double least_m = std::numeric_limits<double>::infinity();
    for (const auto* list : {&of.answers, &of.others})
      for (const Answer& answer : *list)
        least_m = std::min(least_m, answer.figures.length_m);
    return least_m;
  };
  EXPECT_EQ(by_length.answers.front().figures.length_m, least(found));
  EXPECT_EQ(by_length.answers.front().figures.cost, least(found));
}

} // namespace
} // namespace bellmouth::way
