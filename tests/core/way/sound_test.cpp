// SPDX-License-Identifier: GPL-3.0-or-later
// Whatever the search answers is checked against the rules by a program that has nothing in common with it
// (support/route_checker.hpp): end, straights, stock, reducer, flexible joint, clearances, room to itself.
#include "support/route_examples.hpp"

#include <gtest/gtest.h>

#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>

namespace bellmouth::test {
namespace {

/// What the search told of a way against what the checker makes of it.
void expect_sound(const RouteExample& example, const way::Answer& answer, const Json& json) {
  const RouteCheck check = check_route(example.problem, json);
  EXPECT_TRUE(check.faults.empty()) << example.name << "\n" << check.text() << json.dump();
  EXPECT_NEAR(check.cost, answer.figures.cost, 1e-6 * check.cost) << example.name;
  EXPECT_NEAR(check.length_mm, 1e3 * answer.figures.length_m, 1e-5) << example.name;
  EXPECT_EQ(check.joints, answer.figures.joints) << example.name;
  EXPECT_NEAR(check.end_mm, 1e3 * answer.judgement.end_gap_m, 1e-5) << example.name;
}

/// How many answers there were.
std::size_t expect_sound_answers(const RouteExample& example, std::size_t rounds) {
  way::Effort effort;
  effort.seconds = std::numeric_limits<double>::infinity();
  effort.rounds = rounds;
  const way::Found found = way::find(example.question, effort);
  const auto jsons = answers_json(example, found);
  EXPECT_EQ(jsons.size(), found.answers.size() + found.others.size());
  for (std::size_t i = 0; i < jsons.size(); ++i)
    expect_sound(example,
                 i < found.answers.size() ? found.answers[i] : found.others[i - found.answers.size()],
                 jsons[i]);
  for (std::size_t i = 1; i < found.answers.size(); ++i) {
    EXPECT_LE(found.answers[i - 1].figures.cost, found.answers[i].figures.cost) << example.name;
    for (std::size_t k = 0; k < i; ++k)
      EXPECT_FALSE(way::same(example.question, found.answers[k].way, found.answers[i].way)) << example.name;
  }
  if (!found.answers.empty()) {
    EXPECT_LE(found.least_cost, found.answers.front().figures.cost) << example.name;
    EXPECT_FALSE(found.nearly) << example.name;
  }
  // Nothing in the rules forbids an answer cheaper than the known one, but no bound may lie above it.
  EXPECT_LE(found.least_cost, example.known.at("cost").get<double>()) << example.name;
  return jsons.size();
}

/// Kind: other method.
TEST(Sound, AnswersToPublishedProblemsKeepAllRules) {
  const auto names = route_example_names();
  ASSERT_EQ(names.size(), 30U);
  std::size_t answered = 0, answers = 0;
  for (const std::string& name : names) {
    const std::size_t count = expect_sound_answers(route_example(name), name.starts_with("narrow") ? 8 : 4);
    answers += count;
    answered += count > 0 ? 1 : 0;
  }
  EXPECT_GE(answered, 25U);
  EXPECT_GE(answers, 100U);
}

/// Kind: other method.
TEST(Sound, AnswersToMadeProblemsKeepAllRules) {
  std::size_t answered = 0;
  for (const char* class_name : {"open", "cluttered", "narrow"})
    for (const bool cut : {true, false})
      for (std::uint64_t number = 100; number < 102; ++number)
        answered += expect_sound_answers(made_route(class_name, cut, number), 4) > 0 ? 1 : 0;
  EXPECT_GE(answered, 10U);
}

/// Two balls on the known answer that the way must pass through, and a port that wants more straight.
/// Kind: other method.
TEST(Sound, AnswersPassThroughWaypoints) {
  for (const char* name : {"open-001", "open-004", "cluttered-003", "cluttered-006"}) {
    const RouteExample example = route_example(name);
    const auto samples = RouteChecker(example.problem, example.known).samples();
    Json problem = example.problem;
    problem["start"]["straight"] = 55.0;
    problem["waypoints"] = Json::array();
    for (const double share : {0.35, 0.7})
      problem["waypoints"].push_back(
          {{"type", "sphere"},
           {"name", "ball"},
           {"center", samples[static_cast<std::size_t>(share * static_cast<double>(samples.size()))].at},
           {"radius", 30.0}});
    EXPECT_GT(expect_sound_answers(route_example(problem, example.known), 12), 0U) << name;
  }
}

} // namespace
} // namespace bellmouth::test
