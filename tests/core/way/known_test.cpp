// SPDX-License-Identifier: GPL-3.0-or-later
// The published problems and one answer to each: what is judged and added up here against the figures stated
// in the files and against a check that shares no code with the program (support/route_checker.hpp).
#include "support/close.hpp"
#include "support/route_examples.hpp"

#include <bellmouth/way.hpp>
#include <bellmouth/way/file.hpp>

#include <gtest/gtest.h>

namespace bellmouth::way {
namespace {

using test::close;

/// A way of a problem by the program and by the other check.
void expect_agreement(const Problem& problem, const Way& way, const test::RouteCheck& check) {
  const Judgement judgement = judge(problem, way);
  const Figures sum = figures(problem, way);
  EXPECT_TRUE(check.faults.empty()) << check.text();
  EXPECT_TRUE(judgement.good()) << judgement.faults.front();
  EXPECT_TRUE(close(1e3 * judgement.end_gap_m, check.end_mm, 0, 1e-7));
  // Other method: both sums of the same exact terms, the friction by steps.
  EXPECT_TRUE(close(1e3 * sum.length_m, check.length_mm, 1e-12));
  EXPECT_EQ(sum.joints, check.joints);
  EXPECT_TRUE(close(sum.price, check.price, 1e-9));
  EXPECT_TRUE(close(sum.loss, check.loss, 1e-9));
  EXPECT_TRUE(close(sum.cost, check.cost, 1e-9));
  // Other method: the samples are never nearer than the nearest place, and never by more than 0.001 mm
  // further.
  if (check.margin_mm < test::RouteChecker::exact_below_mm) {
    ASSERT_FALSE(judgement.nearest.empty());
    EXPECT_LE(1e3 * judgement.nearest.front().margin_m, check.margin_mm + 1e-6);
    EXPECT_GE(1e3 * judgement.nearest.front().margin_m, check.margin_mm - 1e-3);
  }
  if (check.self_margin_mm < test::RouteChecker::exact_below_mm) {
    ASSERT_TRUE(judgement.self_room_m.has_value());
    EXPECT_LE(1e3 * *judgement.self_room_m, check.self_margin_mm + 1e-6);
    EXPECT_GE(1e3 * *judgement.self_room_m, check.self_margin_mm - 1e-3);
  }
}

TEST(KnownWays, KeepAllRulesAtTheStatedCost) {
  for (const test::RouteExample& file : test::route_examples()) {
    SCOPED_TRACE(file.name);
    const auto problem = read_problem(file.problem.dump(), file.name);
    ASSERT_TRUE(problem.has_value()) << problem.error().text();
    EXPECT_EQ(problem->name, file.name);
    const auto ways = read_answers(*problem, file.known.dump(), file.name);
    ASSERT_TRUE(ways.has_value()) << ways.error().text();
    ASSERT_EQ(ways->size(), 1U);
    const test::Json known = file.known;
    expect_agreement(*problem, ways->front(), test::check_route(file.problem, known));
    // Published value: the files state it to 1e-4.
    EXPECT_TRUE(close(figures(*problem, ways->front()).cost, known.at("cost"), 0, 1e-4));
  }
}

// Other method: with a clearance that leaves 0.001 mm at a keep-out both find nothing, with one that lacks
// 0.01 mm both find that.
TEST(KnownWays, AreJudgedToAHundredthOfAMillimetre) {
  for (const test::RouteExample& file : test::route_examples()) {
    SCOPED_TRACE(file.name);
    const Way way = read_answers(file.question, file.known.dump(), file.name)->front();
    for (const Nearness& nearness : judge(file.question, way).nearest) {
      if (1e3 * nearness.margin_m > test::RouteChecker::exact_below_mm)
        break;
      SCOPED_TRACE(nearness.keep_out);
      for (const double lacks_mm : {-0.001, 0.01}) {
        Problem problem = file.question;
        problem.keep_outs = {problem.keep_outs[nearness.keep_out]};
        problem.keep_outs.front().clearance_m += nearness.margin_m + 1e-3 * lacks_mm;
        const Judgement judgement = judge(problem, way);
        EXPECT_EQ(judgement.faults.size(), lacks_mm > 0 ? 1U : 0U);
        EXPECT_TRUE(close(judgement.nearest.front().margin_m, -1e-3 * lacks_mm, 0, 1e-9));
        const test::RouteCheck check =
            test::check_route(test::Json::parse(write_problem(problem)), file.known);
        EXPECT_EQ(check.faults.size(), judgement.faults.size()) << check.text();
      }
    }
  }
}

TEST(KnownWays, OfOtherProblemsOfTheSameMakeKeepAllRules) {
  for (const char* class_name : {"open", "cluttered", "narrow"})
    for (const bool cut : {false, true})
      for (std::uint64_t number = 100; number < 104; ++number) {
        const test::RouteProblem made = test::random_route_problem(class_name, cut, number);
        SCOPED_TRACE(made.problem.at("name").get<std::string>());
        const auto problem = read_problem(made.problem.dump(), "made");
        ASSERT_TRUE(problem.has_value()) << problem.error().text();
        const auto ways = read_answers(*problem, made.known.dump(), "made");
        ASSERT_TRUE(ways.has_value()) << ways.error().text();
        expect_agreement(*problem, ways->front(), test::check_route(made.problem, made.known));
      }
}

} // namespace
} // namespace bellmouth::way
