// SPDX-License-Identifier: GPL-3.0-or-later
// Kind: closed form. Which offers are chosen, worked out by hand beside each case.
#include "support/plan_checker.hpp"

#include <bellmouth/buy/plan.hpp>

#include <gtest/gtest.h>

#include <limits>
#include <optional>
#include <vector>

namespace bellmouth {
namespace {

buy::Body length(double mm) {
  return {.straight_in_m = mm * 1e-3};
}

buy::Offer tube(double mm, std::int64_t price_minor, std::optional<std::size_t> supplier = {}) {
  buy::Offer offer;
  offer.form = buy::Form::sawn;
  offer.body = length(mm);
  offer.price_minor = price_minor;
  offer.supplier = supplier;
  return offer;
}

buy::Offer clamps(int pack, std::int64_t price_minor, std::optional<std::size_t> supplier = {}) {
  buy::Offer offer;
  offer.pack = pack;
  offer.price_minor = price_minor;
  offer.supplier = supplier;
  return offer;
}

buy::Offer offcut(double mm) {
  buy::Offer offer = tube(mm, 0);
  offer.owned = true;
  offer.available = 1;
  return offer;
}

buy::Need piece(double mm, std::vector<std::size_t> offers) {
  buy::Need need;
  need.form = buy::Form::sawn;
  need.body = length(mm);
  need.offers = std::move(offers);
  return need;
}

buy::Need whole(std::vector<std::size_t> offers) {
  buy::Need need;
  need.offers = std::move(offers);
  return need;
}

buy::Plan checked(const buy::Question& question) {
  EXPECT_FALSE(buy::validate(question));
  buy::Plan plan = buy::plan(question);
  EXPECT_EQ(test::faults(question, plan), "");
  return plan;
}

buy::Question question_of(std::vector<buy::Need> needs, std::vector<buy::Offer> offers,
                          std::vector<buy::Postage> postage = {}) {
  buy::Question question;
  question.needs = std::move(needs);
  question.offers = std::move(offers);
  question.postage = std::move(postage);
  question.seconds = std::numeric_limits<double>::infinity();
  return question;
}

std::vector<std::size_t> offers_of(const buy::Plan& plan) {
  std::vector<std::size_t> offers;
  for (const buy::Use& use : plan.uses)
    offers.push_back(use.offer);
  return offers;
}

TEST(Choosing, TakesOffcutsFirst) {
  const buy::Plan plan =
      checked(question_of({piece(200, {0, 1}), piece(180, {0, 1})}, {tube(1000, 2500), offcut(390)}));
  EXPECT_EQ(plan.goods_minor, 0) << "200 + 2.5 + 180 mm come out of 390 mm";
  EXPECT_EQ(offers_of(plan), (std::vector<std::size_t>{1}));
}

TEST(Choosing, TakesOwnedThingsForTheSameMoney) {
  // A tube must be bought for the 700 mm anyway and holds both; the offcut serves the 200 mm for the same.
  const buy::Plan plan =
      checked(question_of({piece(700, {0, 1}), piece(200, {0, 1})}, {tube(1000, 2500), offcut(250)}));
  EXPECT_EQ(plan.goods_minor, 2500);
  EXPECT_EQ(offers_of(plan), (std::vector<std::size_t>{0, 1}));
}

TEST(Choosing, LeavesFewerOffcutsForTheSameMoney) {
  // 400 + 2.5 + 597.5 = 1000: one tube to its end and one with what is left, not two with something left.
  const buy::Plan plan =
      checked(question_of({piece(400, {0}), piece(597.5, {0}), piece(500, {0})}, {tube(1000, 2500)}));
  EXPECT_EQ(plan.goods_minor, 5000);
  EXPECT_EQ(plan.offcuts, 1);
}

TEST(Choosing, BuysPacksOrSinglesWhicheverIsLess) {
  const auto plan_for = [](int count) {
    return checked(question_of(std::vector<buy::Need>(static_cast<std::size_t>(count), whole({0, 1})),
                               {clamps(1, 300), clamps(4, 900)}));
  };
  EXPECT_EQ(plan_for(2).goods_minor, 600) << "two singles, not four for 9.00";
  EXPECT_EQ(plan_for(3).goods_minor, 900) << "the same either way";
  EXPECT_EQ(plan_for(4).goods_minor, 900);
  EXPECT_EQ(plan_for(5).goods_minor, 1200) << "a pack and one";
  EXPECT_EQ(plan_for(7).goods_minor, 1800) << "two packs: a pack and three are the same";
}

TEST(Choosing, FillsAPackWithDifferentNeeds) {
  const buy::Plan plan =
      checked(question_of({whole({0, 1}), whole({1, 2})}, {clamps(1, 500), clamps(2, 800), clamps(1, 500)}));
  EXPECT_EQ(plan.goods_minor, 800);
  ASSERT_EQ(plan.uses.size(), 1U);
  EXPECT_EQ(plan.uses[0].needs, (std::vector<std::size_t>{0, 1}));
}

TEST(Choosing, SharesAPackOfTubes) {
  buy::Offer pair = tube(300, 1500);
  pair.pack = 2;
  const buy::Plan plan = checked(question_of({piece(250, {0}), piece(260, {0}), piece(270, {0})}, {pair}));
  EXPECT_EQ(plan.uses.size(), 3U);
  EXPECT_EQ(plan.goods_minor, 3000) << "two packs of two";
}

TEST(Choosing, CountsPostage) {
  // 20.00 at one, or 9.00 + 9.00 at two others with 3.00 postage each: 20.00 against 24.00.
  const buy::Plan plan = checked(question_of({whole({0, 1}), whole({0, 2})},
                                             {clamps(2, 2000, 0), clamps(1, 900, 1), clamps(1, 900, 2)},
                                             {{0, {}}, {300, {}}, {300, {}}}));
  EXPECT_EQ(plan.goods_minor, 2000);
  EXPECT_EQ(plan.postage_minor, 0);
  EXPECT_EQ(plan.suppliers, 1);
}

TEST(Choosing, ReachesForFreePostage) {
  // Second need: 8.00 at supplier 1, or 11.00 at supplier 0, which lifts its goods from 40.00 to 51.00 and
  // saves 6.00 there: 51.00 against 40.00 + 6.00 + 8.00 = 54.00.
  const std::vector<buy::Offer> offers{clamps(1, 4000, 0), clamps(1, 1100, 0), clamps(1, 800, 1)};
  const std::vector<buy::Need> needs{whole({0}), whole({1, 2})};
  const buy::Plan free = checked(question_of(needs, offers, {{600, 5000}, {0, {}}}));
  EXPECT_EQ(free.goods_minor, 5100);
  EXPECT_EQ(free.postage_minor, 0);
  const buy::Plan paid = checked(question_of(needs, offers, {{600, 5200}, {0, {}}}));
  EXPECT_EQ(paid.goods_minor, 4800) << "from 52.00 on it is out of reach";
  EXPECT_EQ(paid.postage_minor, 600);
  EXPECT_TRUE(free.proven && paid.proven);
}

TEST(Choosing, OrdersFromTheFewestSuppliers) {
  buy::Question question = question_of({whole({0, 1}), whole({2, 3}), whole({4, 5})},
                                       {clamps(1, 100, 0), clamps(1, 500, 3), clamps(1, 100, 1),
                                        clamps(1, 500, 3), clamps(1, 100, 2), clamps(1, 500, 3)},
                                       {{}, {}, {}, {}});
  EXPECT_EQ(checked(question).suppliers, 3);
  question.aim = buy::Aim::suppliers;
  const buy::Plan plan = checked(question);
  EXPECT_EQ(plan.suppliers, 1);
  EXPECT_EQ(plan.goods_minor, 1500);
  EXPECT_TRUE(plan.proven);
}

TEST(Choosing, LeavesTheFewestOffcuts) {
  buy::Question question =
      question_of({piece(200, {0, 1}), piece(190, {0, 1})}, {tube(500, 900), tube(200, 700)});
  const buy::Plan cheap = checked(question);
  EXPECT_EQ(cheap.goods_minor, 900);
  EXPECT_EQ(cheap.offcuts, 1);
  question.aim = buy::Aim::offcuts;
  const buy::Plan tidy = checked(question);
  EXPECT_EQ(tidy.offcuts, 1) << "10 - 2.5 mm are left of the second tube, whatever is done";
  EXPECT_EQ(tidy.goods_minor, 900) << "so the cheaper one";
  question.needs[1].body = length(199);
  const buy::Plan none = checked(question);
  EXPECT_EQ(none.offcuts, 0) << "1 mm is sawn away";
  EXPECT_EQ(none.goods_minor, 1400);
}

TEST(Choosing, NamesWhatIsUnserved) {
  buy::Offer scarce = tube(300, 1000);
  scarce.available = 1;
  const buy::Plan plan =
      checked(question_of({piece(250, {0}), piece(2000, {1}), whole({}), piece(100, {1}), piece(250, {0})},
                          {scarce, tube(1000, 2000)}));
  ASSERT_EQ(plan.unserved.size(), 3U);
  EXPECT_EQ(std::ranges::count(plan.unserved, 1U), 1) << "longer than what there is";
  EXPECT_EQ(std::ranges::count(plan.unserved, 2U), 1) << "nothing is offered";
  EXPECT_EQ(plan.goods_minor, 3000);
  EXPECT_TRUE(plan.proven);
}

TEST(Choosing, HasNothingToPlanForNothing) {
  const buy::Plan plan = checked(question_of({}, {tube(1000, 100)}));
  EXPECT_TRUE(plan.uses.empty());
  EXPECT_TRUE(plan.proven);
}

} // namespace
} // namespace bellmouth
