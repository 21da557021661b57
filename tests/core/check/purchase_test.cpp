// SPDX-License-Identifier: GPL-3.0-or-later
// Every rule about a purchase: a build that breaks it, and one just inside it that does not. Amounts are
// worked by hand from invented prices (closed form).
#include "core/check/purchase_cases.hpp"
#include "support/small_build.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace bellmouth::check {
namespace {

std::vector<Finding> findings(const std::function<void(build::Build&)>& change, double seconds) {
  build::Build b = test::small_build();
  change(b);
  const auto invalid = build::validate(b);
  EXPECT_FALSE(invalid) << invalid->text();
  return check_purchase(b, buy::purchase(b, b.options.front().id, {.seconds = seconds}));
}

class PurchaseRule : public ::testing::TestWithParam<test::PurchaseCase> {};

TEST_P(PurchaseRule, SpeaksWhenBrokenAndNotWhenKept) {
  const auto& c = GetParam();
  const auto all = findings(c.breaks, c.seconds);
  const auto found = std::ranges::find(all, c.rule, &Finding::rule);
  ASSERT_NE(found, all.end());
  EXPECT_EQ(found->severity, c.severity);
  EXPECT_NE(found->message.find(c.figure), std::string::npos) << found->message;
  EXPECT_FALSE(found->reason.empty());
  EXPECT_FALSE(found->where.text.empty());
  const auto left = findings(c.keeps, std::numeric_limits<double>::infinity());
  EXPECT_EQ(std::ranges::find(left, c.rule, &Finding::rule), left.end());
}

INSTANTIATE_TEST_SUITE_P(All, PurchaseRule, ::testing::ValuesIn(test::purchase_cases()),
                         [](const auto& tried) {
                           std::string name(tried.param.rule);
                           std::ranges::replace(name, '-', '_');
                           return name;
                         });

TEST(PurchaseFindings, AreWaivedLikeOthers) {
  const auto over = [](build::Build& b) {
    b.budget.limit = test::euros(60, 0);
    b.waivers = {{{"over-budget", "the loft holds tube enough"}, std::nullopt}};
  };
  const auto all = findings(over, std::numeric_limits<double>::infinity());
  const auto found = std::ranges::find(all, "over-budget", &Finding::rule);
  ASSERT_NE(found, all.end());
  EXPECT_EQ(found->waived, "the loft holds tube enough");
}

} // namespace
} // namespace bellmouth::check
