// SPDX-License-Identifier: GPL-3.0-or-later
// Branches of the path: what is accepted and what is refused, and where.
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <functional>

namespace bellmouth::build {
namespace {

PathStep in(PathStep step, const char* branch) {
  step.branch = {branch};
  return step;
}

/// Two filters side by side from the open air, a blower, two coolers side by side, a throttle.
Build branched() {
  Build b = test::sample_build();
  const auto filter = b.machines[0], cooler = b.machines[2];
  b.machines = {filter, b.machines[1], cooler, b.machines[3], filter, cooler};
  b.machines[4].id = {"filter_2"};
  b.machines[5].id = {"cooler_2"};
  b.ports.clear();
  b.branches = {{{"left"}, 0.5, 0.3}, {{"right"}}, {{"upper"}}, {{"lower"}}};
  b.path = {in(MachineId{"filter"}, "left"),  in(MachineId{"filter_2"}, "right"), MachineId{"blower"},
            in(MachineId{"cooler"}, "upper"), in(MachineId{"cooler_2"}, "lower"), MachineId{"throttle"}};
  b.options = {{{"only"}, "", {}}};
  return b;
}

/// Two blowers side by side.
Build twin() {
  Build b = test::sample_build();
  b.machines = {b.machines[1], b.machines[1]};
  b.machines[1].id = {"blower_2"};
  b.ports.clear();
  b.branches = {{{"left"}}, {{"right"}}};
  b.path = {in(MachineId{"blower"}, "left"), in(MachineId{"blower_2"}, "right")};
  b.options = {{{"only"}, "", {}}};
  return b;
}

TEST(Branches, ThatDivideAndJoinAreInOrder) {
  EXPECT_EQ(validate(branched()), std::nullopt) << validate(branched())->text();
  EXPECT_EQ(validate(twin()), std::nullopt) << validate(twin())->text();
}

TEST(Branches, AreWrittenAndReadBack) {
  for (const Build& b : {branched(), twin()}) {
    const auto back = read_build(write_build(b));
    ASSERT_TRUE(back.has_value()) << back.error().text();
    EXPECT_EQ(*back, b);
  }
}

struct Case {
  const char* what;
  std::function<void(Build&)> spoil;
  const char *path, *accepted;
};

TEST(Branches, ThatMakeNoSenseAreRefused) {
  const std::vector<Case> cases{
      {"one alone", [](Build& b) { b.path[1].branch = {}; }, "$.path[0].branch", "two branches or more"},
      {"not declared", [](Build& b) { b.path[1].branch = {"middle"}; }, "$.path[1].branch",
       "a branch of this build"},
      {"in two places", [](Build& b) { b.path[4].branch = {"left"}; }, "$.path[4].branch",
       "one behind the other"},
      {"declared and not named", [](Build& b) { b.branches.push_back({{"spare"}}); }, "$.branches[4].id",
       "a branch that the path names"},
      {"declared twice", [](Build& b) { b.branches.push_back(b.branches[0]); }, "$.branches[4].id", ""},
      {"negative loss", [](Build& b) { b.branches[0].split_loss = -0.1; }, "$.branches[0].split_loss",
       "not below 0"},
  };
  for (const Case& c : cases) {
    Build b = branched();
    c.spoil(b);
    const auto error = validate(b);
    ASSERT_TRUE(error.has_value()) << c.what;
    EXPECT_EQ(error->place.path, c.path) << c.what;
    EXPECT_NE(error->accepted.find(c.accepted), std::string::npos) << c.what << ": " << error->accepted;
  }
}

TEST(Branches, HoldBlowersOnlyWhereTheyCanBeCalculated) {
  const machine::TargetCompressor target{150000, machine::TargetAt::blower_outlet, 0.7, 0.97, true, 2.4,
                                         453.15};
  const std::vector<Case> cases{
      {"of two kinds", [&](Build& b) { b.machines[1].kind = target; }, "$.path[1].machine",
       "one of the same kind"},
      {"in one branch only",
       [](Build& b) {
         b.machines[1].kind = machine::Filter{{{0.05, 120.0}}, 1.2, true, false};
       },
       "$.path[0].machine", "one of the same kind in each"},
      {"with a target in the manifold",
       [&](Build& b) {
         b.machines[0].kind = b.machines[1].kind = target;
         std::get<machine::TargetCompressor>(b.machines[1].kind).target_at = machine::TargetAt::manifold;
       },
       "$.path[0].machine", "at their outlets"},
      {"and one behind",
       [](Build& b) {
         b.machines.push_back(b.machines[0]);
         b.machines.back().id = {"third"};
         b.path.emplace_back(MachineId{"third"});
       },
       "$.path[2].machine", "one behind the other are not calculated"},
  };
  for (const Case& c : cases) {
    Build b = twin();
    c.spoil(b);
    const auto error = validate(b);
    ASSERT_TRUE(error.has_value()) << c.what;
    EXPECT_EQ(error->place.path, c.path) << c.what;
    EXPECT_NE(error->accepted.find(c.accepted), std::string::npos) << c.what << ": " << error->accepted;
  }
  Build held = twin();
  held.machines[0].kind = held.machines[1].kind = target;
  EXPECT_EQ(validate(held), std::nullopt);
}

} // namespace
} // namespace bellmouth::build
