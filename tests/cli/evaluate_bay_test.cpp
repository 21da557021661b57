// SPDX-License-Identifier: GPL-3.0-or-later
// What `evaluate` says of the room round the ducting, and of the air at any place of it.
#include "prompt.hpp"

#include <bellmouth/evaluate.hpp>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <string>

namespace bellmouth {
namespace {

using nlohmann::json;

const std::string hatchback = std::string(BELLMOUTH_DEMO_DIR) + "/1-hill-road-hatchback.json";

json results(std::vector<std::string> arguments) {
  arguments.insert(arguments.begin(), {"evaluate", hatchback, "--json"});
  const auto said = cli::test::say(arguments);
  EXPECT_EQ(said.exit, 0) << said.err;
  return json::parse(said.out);
}

// Identity: the prompt shows what the door gives, at rest and in a state.
TEST(EvaluateClearance, IsThatOfTheTightestPlace) {
  const auto build = build::load_build(hatchback);
  ASSERT_TRUE(build);
  const Evaluation wanted = evaluate(*build, build->options.front().id);
  bool moved = false;
  for (const std::optional<build::StateId>& state :
       {std::optional<build::StateId>(), std::optional(build->states.at(0).id)}) {
    const json found = state ? results({"--state", state->text}) : results({});
    const auto clearances = clearances_in(*build, wanted, state),
               at_rest = clearances_in(*build, wanted, std::nullopt);
    ASSERT_EQ(found["runs"].size(), clearances.size());
    for (std::size_t i = 0; i < clearances.size(); ++i) {
      const bay::Gap& gap = *clearances[i].closest();
      const json& run = found["runs"][i];
      const json& tightest = run["tightest"];
      EXPECT_DOUBLE_EQ(run["min_clearance_mm"], gap.distance_m * 1e3);
      EXPECT_DOUBLE_EQ(tightest["distance_mm"], gap.distance_m * 1e3);
      EXPECT_DOUBLE_EQ(tightest["required_mm"], gap.required_m * 1e3);
      EXPECT_EQ(tightest["row"], gap.row);
      EXPECT_EQ(tightest["state"], state ? json(state->text) : json(nullptr));
      EXPECT_FALSE(tightest["neighbour"].get<std::string>().empty());
      moved = moved || gap.distance_m != at_rest[i].closest()->distance_m;
    }
  }
  EXPECT_TRUE(moved); // the engine rocks there
}

TEST(EvaluateClearance, IsReadable) {
  const auto at_rest = cli::test::say({"evaluate", hatchback});
  EXPECT_NE(at_rest.out.find("Tightest places\n"), std::string::npos);
  EXPECT_NE(at_rest.out.find("wanted [mm]"), std::string::npos);
  const auto locked = cli::test::say({"evaluate", hatchback, "--state", "wheels at lock"});
  EXPECT_EQ(locked.exit, 0) << locked.err;
  EXPECT_NE(locked.out.find("Tightest places in state wheels at lock"), std::string::npos);
}

TEST(EvaluateClearance, RefusesAStateThatIsNotThere) {
  const auto said = cli::test::say({"evaluate", hatchback, "--state", "upside down"});
  EXPECT_EQ(said.exit, 2);
  for (const char* part : {"--state", "upside down", "wheels at lock", "engine rocked back"})
    EXPECT_NE(said.err.find(part), std::string::npos) << said.err;
}

// Identity: the prompt shows what the door gives; the row counts from 1 in what is typed.
TEST(EvaluateAt, TellsTheStateAtAPlace) {
  const auto build = build::load_build(hatchback);
  ASSERT_TRUE(build);
  const Evaluation wanted = evaluate(*build, build->options.front().id);
  const auto& run = wanted.runs.at(1).id;
  const json found = results({"--at", run.text + ":2:10", "--at", run.text + ":2:1 cm"});
  ASSERT_EQ(found["taps"].size(), 2u);
  EXPECT_EQ(found["taps"][0], found["taps"][1]);
  const auto& station = tapping(*build, wanted, run, 1, 0.01).station;
  const json& tap = found["taps"][0];
  EXPECT_EQ(tap["run"], run.text);
  EXPECT_EQ(tap["index"], 1);
  EXPECT_NEAR(tap["static_pressure_Pa"].get<double>(), station.static_pressure_Pa, 1e-6);
  EXPECT_NEAR(tap["velocity_m_s"].get<double>(), station.velocity_m_s, 1e-9);
  EXPECT_TRUE(results({})["taps"].empty());
  const auto text = cli::test::say({"evaluate", hatchback, "--at", run.text + ":2:10"});
  EXPECT_NE(text.out.find("At the places asked for"), std::string::npos);
}

TEST(EvaluateAt, RefusesWhatIsNoPlace) {
  const auto build = build::load_build(hatchback);
  ASSERT_TRUE(build);
  const std::string run = build->options.front().runs.front()->id.text;
  for (const auto& [place, accepted] : {std::pair<std::string, const char*>{"2:10", "RUN:ROW:DISTANCE"},
                                        {"nowhere:1:10", run.c_str()},
                                        {run + ":99:10", "a row of"},
                                        {run + ":0:10", "a row of"},
                                        {run + ":x:10", "a row of"},
                                        {run + ":2:9000", "the length of the piece"},
                                        {run + ":2:-1", "the length of the piece"},
                                        {run + ":2:far", "--at"}}) {
    const auto said = cli::test::say({"evaluate", hatchback, "--at", place});
    EXPECT_EQ(said.exit, 2) << place;
    EXPECT_NE(said.err.find(accepted), std::string::npos) << place << ": " << said.err;
  }
}

} // namespace
} // namespace bellmouth
