// SPDX-License-Identifier: GPL-3.0-or-later
// Kind: other method, written separately. Plans of larger random questions against HiGHS with a formulation
// of its own: see second_solver.py beside this file.
#include "support/command_output.hpp"
#include "support/plan_checker.hpp"
#include "support/random_questions.hpp"

#include <bellmouth/buy/plan.hpp>

#include <gtest/gtest.h>
#include <spdlog/fmt/fmt.h>

#include <cstdio>
#include <fstream>
#include <limits>
#include <memory>
#include <string>

namespace bellmouth {
namespace {

std::string json(const buy::Body& body) {
  return fmt::format(R"({{"in": {}, "radius": {}, "angle": {}, "out": {}}})", body.straight_in_m,
                     body.radius_m, body.angle_rad, body.straight_out_m);
}

template <class Value> std::string json(const std::optional<Value>& value) {
  return value ? fmt::format("{}", *value) : "null";
}

template <class Row, class Write> std::string json(const std::vector<Row>& rows, const Write& write) {
  std::string text = "[";
  for (const Row& row : rows)
    text += (text.size() > 1 ? ",\n  " : "") + write(row);
  return text + "]";
}

std::string json(const buy::Question& question, const buy::Plan& plan) {
  const std::string needs = json(question.needs, [](const buy::Need& need) {
    return fmt::format(R"({{"body": {}, "own_cuts": {}, "offers": {}}})", json(need.body), need.own_cuts,
                       json(need.offers, [](std::size_t offer) { return fmt::format("{}", offer); }));
  });
  const std::string offers = json(question.offers, [](const buy::Offer& offer) {
    return fmt::format(R"({{"whole": {}, "body": {}, "by_metre": {}, "longest": {}, "pack": {}, "price": {},)"
                       R"( "supplier": {}, "available": {}}})",
                       offer.form == buy::Form::whole, json(offer.body), offer.by_metre,
                       std::min(offer.longest_m, 1e3), offer.pack, offer.price_minor, json(offer.supplier),
                       json(offer.available));
  });
  const std::string postage = json(question.postage, [](const buy::Postage& terms) {
    return fmt::format(R"({{"price": {}, "free_from": {}}})", terms.price_minor, json(terms.free_from_minor));
  });
  return fmt::format(R"({{"kerf": {}, "short": {}, "same": {}, "needs": {}, "offers": {}, "postage": {},)"
                     R"( "money": {}, "unserved": {}}})",
                     question.kerf_m, question.angle_short_rad, buy::same_angle_rad, needs, offers, postage,
                     plan.goods_minor + plan.postage_minor, plan.unserved.size());
}

/// A random question in which no straight piece is cut from a bend.
buy::Question plainer(std::uint64_t number, test::Likes likes) {
  buy::Question question = test::random_question(number, likes);
  question.seconds = std::numeric_limits<double>::infinity();
  for (buy::Need& need : question.needs)
    if (need.form == buy::Form::sawn && need.body.angle_rad == 0)
      std::erase_if(need.offers,
                    [&](std::size_t offer) { return question.offers[offer].body.angle_rad > 0; });
  return question;
}

TEST(SecondSolver, FindsNothingBetter) {
  const std::vector<test::Likes> all_likes{
      {.needs = 14, .offers = 20, .families = 2},
      {.needs = 20, .offers = 30, .families = 4},
      {.needs = 40, .offers = 60, .families = 6},
      {.needs = 40, .offers = 60, .families = 8, .suppliers = 5},
      {.needs = 40, .offers = 60, .families = 6, .suppliers = 0, .postage = false, .scarce = true},
  };
  std::vector<std::string> asked;
  for (std::uint64_t number = 1; number <= 25; ++number) {
    const buy::Question question = plainer(number, all_likes[number % all_likes.size()]);
    const buy::Plan plan = buy::plan(question);
    EXPECT_EQ(test::faults(question, plan), "") << number;
    EXPECT_TRUE(plan.proven) << number;
    asked.push_back(json(question, plan));
  }
  const std::string path = testing::TempDir() + "bellmouth_buying_questions.json";
  std::ofstream(path) << json(asked, [](const std::string& text) { return text; }) << '\n';
  const std::string command =
      "/usr/bin/python3 -I '" BELLMOUTH_TESTS_DIR "/core/buy/second_solver.py' '" + path + "' 2>&1";
  static_cast<void>(test::said_by(command)); // it ends well only where all agree
  std::remove(path.c_str());
}

} // namespace
} // namespace bellmouth
