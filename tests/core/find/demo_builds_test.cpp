// SPDX-License-Identifier: GPL-3.0-or-later
// Routes for the measured runs of the demo builds. The search ends after a number of rounds, so that what is
// found does not depend on the machine.
#include "find_scene.hpp"
#include "support/close.hpp"

#include <bellmouth/bay/vectors.hpp>

#include <gtest/gtest.h>

#include <filesystem>
#include <memory>
#include <ostream>

namespace bellmouth::test {
namespace {

struct DemoRun {
  const char* file;
  const char* run;
  friend std::ostream& operator<<(std::ostream& out, const DemoRun& demo) {
    return out << demo.file << ": " << demo.run;
  }
};
/// The sawmill's exhaust is hotter and nearer than any new hose allows: see reasons_test.cpp.
constexpr DemoRun demo_runs[] = {
    {"1-hill-road-hatchback", "filter to blower"},   {"1-hill-road-hatchback", "blower to cooler"},
    {"1-hill-road-hatchback", "cooler to throttle"}, {"2-family-estate", "meter to compressor"},
    {"2-family-estate", "compressor to cooler"},     {"2-family-estate", "cooler to throttle"},
    {"3-club-day-roadster", "meter to throttle"},    {"5-mountain-pickup", "filter to compressor"},
    {"5-mountain-pickup", "compressor to cooler"},   {"5-mountain-pickup", "cooler to throttle"}};

build::Build demo(const char* file) {
  return build::load_build(std::filesystem::path(BELLMOUTH_DEMO_DIR) / (std::string(file) + ".json")).value();
}
way::Found found_for(const build::Build& build, const find::Question& question, std::size_t rounds = 8) {
  way::Effort effort;
  effort.seconds = std::numeric_limits<double>::infinity();
  effort.rounds = rounds;
  return find::made(build, question, way::find(question.problem, effort));
}

class DemoBuilds : public ::testing::TestWithParam<DemoRun> {
protected:
  build::Build build_ = demo(GetParam().file);
  build::OptionId option_ = build_.options.front().id;
  build::RunId run_{GetParam().run};
};

/// What is nearer than its neighbour's class asks for, in any state of the bay.
std::vector<std::string> too_near(const build::Build& build, const build::OptionId& option,
                                  const build::RunId& run) {
  std::vector<std::string> result;
  const Evaluation evaluation = evaluate(build, option);
  const auto index = static_cast<std::size_t>(std::ranges::find(evaluation.runs, run, &RunResult::id) -
                                              evaluation.runs.begin());
  std::vector<std::optional<build::StateId>> states{std::nullopt};
  for (const build::BayState& state : build.states)
    states.emplace_back(state.id);
  for (const auto& state : states) {
    const auto clearances = clearances_in(build, evaluation, state);
    for (const bay::Gap& gap : clearances[index].tight)
      if (gap.margin_m() < -1e-6)
        result.push_back("row " + std::to_string(gap.row + 1));
  }
  return result;
}

// Identity: every route that is proposed meets its port, has joints that fit, is clear in every state of the
// bay and brings no stop that there was not; with it the build is valid and its other runs are the same.
TEST_P(DemoBuilds, HaveRoutesThatCanBeBuilt) {
  const find::Ask ask = find::usual(build_, option_, run_);
  const auto asked = find::question(build_, ask);
  ASSERT_TRUE(asked) << asked.error().text();
  EXPECT_FALSE(way::validate(asked->problem));
  const way::Found found = found_for(build_, *asked);
  ASSERT_FALSE(found.answers.empty());
  std::vector<find::Proposal> proposals;
  for (const way::Answer& answer : found.answers)
    proposals.push_back(find::proposal(build_, *asked, answer));
  for (const find::Proposal& proposal : proposals) {
    EXPECT_LT(proposal.end.gap_m, 0.1e-3);
    EXPECT_LT(proposal.end.angle_rad, deg(0.05));
    EXPECT_GT(proposal.drop_Pa, 0);
    EXPECT_GT(proposal.price.minor, 0);
    EXPECT_TRUE(close(proposal.length_m, proposal.answer.figures.length_m, 1e-9));
    for (const joint::Joint& joint : joint::fit(build_, proposal.run).joints)
      EXPECT_NE(joint.kind, joint::Kind::wrong);
    for (const check::Finding& finding : proposal.findings)
      EXPECT_NE(finding.severity, check::Severity::stop) << finding.rule << ": " << finding.message;
    const build::OptionId name{"routed"};
    const build::Build changed = find::with_proposal(build_, *asked, proposal, name);
    EXPECT_FALSE(build::validate(changed));
    EXPECT_TRUE(too_near(changed, name, run_).empty()) << too_near(changed, name, run_).front();
    for (const auto& run : build_.find(option_)->runs) {
      EXPECT_EQ(*changed.find(name)->find(run->id), run->id == run_ ? proposal.run : *run);
    }
    EXPECT_EQ(*changed.find(option_), *build_.find(option_));
  }
  find::tell_apart(build_, *asked, proposals);
  for (const find::Proposal& proposal : proposals)
    EXPECT_FALSE(proposal.differs.empty());
  // Identity: where one figure alone matters, they are in its order as the proposals tell it.
  find::Question alone = *asked;
  alone.problem.weights.loss = alone.problem.weights.joint = alone.problem.weights.per_m = 0;
  find::put_in_order(alone, proposals);
  EXPECT_TRUE(std::ranges::is_sorted(proposals, {}, [](const auto& each) { return each.price.minor; }));
  std::swap(alone.problem.weights.price, alone.problem.weights.loss);
  find::put_in_order(alone, proposals);
  EXPECT_TRUE(std::ranges::is_sorted(proposals, {}, &find::Proposal::drop_Pa));
}

INSTANTIATE_TEST_SUITE_P(Runs, DemoBuilds, ::testing::ValuesIn(demo_runs));

// Identity: the best route costs no more by the problem's own count than the present run, whose way is put
// into the same words. All its bends are of the stock, none is mitred, and it has no cone.
TEST(DemoBuild, HasNoRouteDearerThanThePresentOne) {
  const build::Build b = demo("5-mountain-pickup");
  for (const char* name : {"filter to compressor", "compressor to cooler", "cooler to throttle"}) {
    find::Ask ask = find::usual(b, {"bare"}, {name});
    const auto asked = find::question(b, ask).value();
    const build::Run& run = *b.options[0].find(ask.run);
    const joint::RunFit fit = joint::fit(b, run);
    const auto tracks = joint::tracks(run, fit);
    way::Way present;
    present.straights_m = {0};
    for (const bay::Track& track : tracks) {
      present.straights_m.back() += track.straight_in_m;
      if (track.angle_rad <= 0)
        continue;
      std::optional<std::size_t> used;
      for (std::size_t i = 0; i < asked.problem.bends.size(); ++i) {
        const way::Bend& bend = asked.problem.bends[i];
        if (std::abs(bend.radius_m - track.radius_m) < 1e-6 && bend.angle_rad > track.angle_rad - 1e-6 &&
            (!used || bend.angle_rad < asked.problem.bends[*used].angle_rad))
          used = i;
      }
      ASSERT_TRUE(used) << name;
      const bool cut = asked.problem.bends[*used].angle_rad > track.angle_rad + 1e-6;
      present.turns.push_back(
          {*used, track.angle_rad, track.clocking_rad, cut ? std::optional(way::Leg::out) : std::nullopt});
      present.straights_m.push_back(track.straight_out_m);
    }
    const double present_cost = way::figures(asked.problem, present).cost;
    const way::Found found = found_for(b, asked, 12);
    ASSERT_FALSE(found.answers.empty());
    EXPECT_LE(found.answers.front().figures.cost, present_cost * (1 + 1e-6)) << name;
  }
}

// Identity: rows that stay are the same pieces in the same place.
TEST(DemoBuild, KeepsRowsThatStay) {
  const build::Build b = demo("1-hill-road-hatchback");
  find::Ask ask = find::usual(b, {"smooth bends"}, {"blower to cooler"});
  const build::Run& before = *b.options[0].find(ask.run);
  ask.keep_first = 2;
  ask.keep_last = 1;
  const auto asked = find::question(b, ask);
  ASSERT_TRUE(asked) << asked.error().text();
  const way::Found found = found_for(b, *asked, 12);
  ASSERT_FALSE(found.answers.empty());
  for (const way::Answer& answer : found.answers) {
    const find::Proposal made = find::proposal(b, *asked, answer);
    EXPECT_LT(made.end.gap_m, 0.1e-3);
    EXPECT_EQ(made.run.pieces[0], before.pieces[0]);
    EXPECT_EQ(made.run.pieces[1], before.pieces[1]);
    EXPECT_EQ(made.run.pieces.back(), before.pieces.back());
    for (const joint::Joint& joint : joint::fit(b, made.run).joints)
      EXPECT_NE(joint.kind, joint::Kind::wrong);
  }
}

} // namespace
} // namespace bellmouth::test
