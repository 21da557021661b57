// SPDX-License-Identifier: GPL-3.0-or-later
// Waivers: whom they reach, what they leave standing, and what is said of those that waive nothing.
#include "scene.hpp"

#include <bellmouth/check.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <optional>
#include <string_view>
#include <vector>

namespace bellmouth::check {
namespace {

using test::cold;
using test::find;
using test::findings;
using test::hot;
using test::mm;
using test::suction;

/// A loose hose on both ends of the last run, and one on the first.
test::Scene loose() {
  auto s = test::clean_scene();
  s.piece<build::Hose>(suction, 2).bore_m = mm(80);
  s.piece<build::Hose>(cold, 5).bore_m = mm(65);
  return s;
}
std::size_t of_rule(const std::vector<Finding>& all, std::string_view rule) {
  return static_cast<std::size_t>(std::ranges::count(all, rule, &Finding::rule));
}

TEST(Waivers, OfAPieceReachItsFindingsOfThatRule) {
  auto s = loose();
  const auto before = findings(s);
  s.runs[suction].pieces[2].waivers = {{"hose-loose", "will be swapped"}};
  const auto after = findings(s);
  ASSERT_EQ(of_rule(after, "hose-loose"), 4U);
  EXPECT_EQ(count(before, Severity::stop), 4U);
  EXPECT_EQ(count(after, Severity::stop), 2U);
  EXPECT_EQ(count_waived(after), 2U);
  for (const Finding& finding : after)
    if (finding.rule == "hose-loose") {
      const bool first_run = finding.where.piece->run == build::RunId{"suction"};
      EXPECT_EQ(finding.waived, first_run ? std::optional<std::string>("will be swapped") : std::nullopt);
    }
  // All else is as it was.
  EXPECT_EQ(after.size(), before.size());
}

TEST(Waivers, PutWaivedStopsBehindTheOthersAndLeaveTheRestInPlace) {
  auto s = loose();
  s.piece<build::Tube>(suction, 1).length_m = mm(700); // a note
  s.piece<build::Hose>(hot, 0).length_m = mm(100);     // a caution
  s.runs[suction].pieces[2].waivers = {{"hose-loose", "will be swapped"}};
  s.runs[hot].pieces[0].waivers = {{"tube-gap-wide", "looked at"}};
  std::vector<std::string> told;
  for (const Finding& finding : findings(s))
    told.push_back(std::string(finding.rule) + (finding.waived ? ", waived" : ""));
  EXPECT_EQ(told,
            (std::vector<std::string>{"hose-loose", "hose-loose", "hose-loose, waived", "hose-loose, waived",
                                      "tube-gap-wide, waived", "long-unsupported"}));
}

TEST(Waivers, OfTheBuildReachAMachineOrNone) {
  auto s = test::clean_scene();
  s.machine<machine::Filter>("filter").cold_feed = false; // at the filter
  s.after_flow = [](flow::PathFlow& flow) { flow.point.manifold_temperature_K = 350; };
  s.build.waivers = {{{"hot-feed", "bonnet is open"}, build::MachineId{"filter"}},
                     {{"charge-hot", "only short pulls"}, std::nullopt}};
  const auto all = findings(s);
  EXPECT_EQ(find(all, "hot-feed")->waived, "bonnet is open");
  EXPECT_EQ(find(all, "charge-hot")->waived, "only short pulls");
  EXPECT_EQ(of_rule(all, "waiver-without-finding"), 0U);

  // Of another machine, or of none where there is one: it does not reach.
  s.build.waivers = {{{"hot-feed", "bonnet is open"}, build::MachineId{"blower"}},
                     {{"charge-hot", "only short pulls"}, build::MachineId{"filter"}},
                     {{"hot-feed", "bonnet is open"}, std::nullopt}};
  const auto missed = findings(s);
  EXPECT_FALSE(find(missed, "hot-feed")->waived);
  EXPECT_FALSE(find(missed, "charge-hot")->waived);
  EXPECT_EQ(of_rule(missed, "waiver-without-finding"), 3U);
  EXPECT_EQ(find(missed, "waiver-without-finding")->where.machine, build::MachineId{"filter"});
}

TEST(Waivers, OfNothingAreToldWhereTheyStand) {
  auto s = test::clean_scene();
  s.runs[cold].pieces[2].waivers = {{"hose-loose", "measured"}, {"no-such-rule", "typed"}};
  const auto all = findings(s);
  ASSERT_EQ(of_rule(all, "waiver-without-finding"), 2U);
  for (const Finding& finding : all)
    EXPECT_EQ(finding.where.piece, (build::PieceRef{{"only"}, {"cold_side"}, 2}));
  EXPECT_NE(all[0].message.find("(measured), which is not found here"), std::string::npos) << all[0].message;
  EXPECT_NE(all[1].message.find("which is no rule"), std::string::npos) << all[1].message;
}

TEST(Waivers, AreNotCalledIdleWhereThatCannotBeKnown) {
  // Without a stream most rules are silent; purchases are looked at elsewhere.
  auto s = test::clean_scene();
  s.runs[hot].pieces[0].waivers = {{"hose-too-hot", "aramid"}};
  EXPECT_EQ(of_rule(findings(s), "waiver-without-finding"), 1U);
  s.after_flow = [](flow::PathFlow& flow) {
    flow = {};
    flow.point.stop = flow::Stop::no_agreement;
  };
  EXPECT_EQ(of_rule(findings(s), "waiver-without-finding"), 0U);

  auto dear = test::clean_scene();
  dear.build.waivers = {{{"over-budget", "a gift"}, std::nullopt}};
  dear.runs[hot].pieces[0].waivers = {{"stock-not-chosen", "from the shelf"}};
  EXPECT_EQ(of_rule(findings(dear), "waiver-without-finding"), 0U);
}

} // namespace
} // namespace bellmouth::check
