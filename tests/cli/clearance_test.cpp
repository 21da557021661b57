// SPDX-License-Identifier: GPL-3.0-or-later
// What `evaluate` says of the room round the ducting.
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
    const auto clearances = clearances_in(*build, wanted, state);
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
      moved = moved || gap.distance_m != wanted.runs[i].clearance.closest()->distance_m;
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

} // namespace
} // namespace bellmouth
