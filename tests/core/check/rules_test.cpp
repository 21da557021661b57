// SPDX-License-Identifier: GPL-3.0-or-later
// Every rule: a build that breaks it, and one just inside it that does not. The figures of the cases are the
// thresholds of the trade, whose sources stand there; forces and angles are closed forms worked beside the
// case.
#include "core/check/purchase_cases.hpp"
#include "rule_cases.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <set>
#include <string>

namespace bellmouth::check {
namespace {

using test::find;
using test::findings;

TEST(Rules, HaveNothingToSayOfACleanBuild) {
  for (const auto& finding : findings(test::clean_scene()))
    ADD_FAILURE() << finding.rule << ": " << finding.where.text << ": " << finding.message;
}

class RuleCase : public ::testing::TestWithParam<test::Case> {};

TEST_P(RuleCase, SpeaksWhenBrokenAndNotWhenKept) {
  const auto& c = GetParam();
  auto broken = c.compressor ? test::compressor_scene() : test::clean_scene();
  c.breaks(broken);
  const auto all = findings(broken);
  const auto* found = find(all, c.rule);
  ASSERT_NE(found, nullptr);
  EXPECT_EQ(found->severity, c.severity) << found->message;
  EXPECT_NE(found->message.find(c.figure), std::string::npos) << found->message;
  EXPECT_FALSE(found->reason.empty());
  EXPECT_FALSE(found->where.text.empty());

  auto kept = c.compressor ? test::compressor_scene() : test::clean_scene();
  c.keeps(kept);
  const auto left = findings(kept);
  const auto* wrong = find(left, c.rule);
  EXPECT_EQ(wrong, nullptr) << wrong->where.text << ": " << wrong->message;
}

INSTANTIATE_TEST_SUITE_P(All, RuleCase, ::testing::ValuesIn(test::cases()), [](const auto& tried) {
  std::string name(tried.param.rule);
  std::ranges::replace(name, '-', '_');
  return name + "_" + std::to_string(tried.index);
});

TEST(Rules, AreUniqueWordedAndAllTried) {
  std::set<std::string_view> keys, tried;
  for (const auto& rule : rules()) {
    EXPECT_TRUE(keys.insert(rule.key).second) << rule.key;
    EXPECT_TRUE(std::ranges::all_of(rule.key, [](unsigned char c) {
      return std::islower(c) != 0 || c == '-';
    })) << rule.key;
    EXPECT_FALSE(rule.title.empty());
    EXPECT_FALSE(rule.basis.empty());
    // Whoever rests on practice or memory says so.
    const std::string_view admission =
        rule.source == Source::practice || rule.source == Source::memory ? text(rule.source) : "";
    EXPECT_NE(rule.basis.find(admission), std::string_view::npos) << rule.key;
  }
  for (const auto& c : test::cases())
    tried.insert(c.rule);
  for (const auto& c : test::purchase_cases())
    tried.insert(c.rule);
  EXPECT_EQ(keys, tried);
}

TEST(Rules, NeverFindMoreThanTheySay) {
  for (const auto& c : test::cases()) {
    auto scene = c.compressor ? test::compressor_scene() : test::clean_scene();
    c.breaks(scene);
    for (const auto& finding : findings(scene)) {
      const auto rule = std::ranges::find(rules(), finding.rule, &Rule::key);
      ASSERT_NE(rule, rules().end()) << finding.rule;
      EXPECT_LE(finding.severity, rule->severity) << finding.rule;
    }
  }
}

} // namespace
} // namespace bellmouth::check
