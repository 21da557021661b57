// SPDX-License-Identifier: GPL-3.0-or-later
// Why there is no route, and what would give one; in what routes differ.
#include "find_scene.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

namespace bellmouth::test {
namespace {

way::Effort effort(std::size_t rounds) {
  way::Effort result;
  result.seconds = std::numeric_limits<double>::infinity();
  result.rounds = rounds;
  return result;
}
std::vector<find::Reason> reasons_for(const build::Build& build, const find::Ask& ask) {
  const auto asked = find::question(build, ask).value();
  const way::Found found = find::made(build, asked, way::find(asked.problem, effort(4)));
  EXPECT_TRUE(found.answers.empty());
  return find::reasons(build, asked, found, effort(3));
}
const find::Reason* starting(const std::vector<find::Reason>& reasons, const std::string& text) {
  const auto found = std::ranges::find_if(
      reasons, [&](const find::Reason& reason) { return reason.text.rfind(text, 0) == 0; });
  return found == reasons.end() ? nullptr : &*found;
}
std::string all(const std::vector<find::Reason>& reasons) {
  std::string text;
  for (const find::Reason& reason : reasons)
    text += reason.text + "\n";
  return text;
}

/// A corner to the side under a lid at 44.25 mm; stock of a smaller tube too.
build::Build lidded() {
  build::Build b = route_build({{0.5, 0.4, 0}, {0, -1, 0}});
  b.keep_outs = {
      {.name = "lid", .clearance_m = mm(10), .shape = build::HalfSpace{{0, 0, mm(44.25)}, {0, 0, 1}}}};
  auto stock = route_stock();
  stock.push_back(tube_item("tube-57", 57, euros(11, 0)));
  stock.push_back(bend_item("bend-57", 57, 90, 85, 100, euros(18, 0)));
  stock.push_back(hose_item("hose-57", 57, euros(8, 0)));
  stock.push_back(reducer_item("reducer-57", 57, 63.5, euros(12, 0)));
  b.stock = stock;
  return b;
}

// Closed form by hand: 31.75 mm of tube, 4.5 of hose and 10 of clearance need 46.25 mm under the lid, 2 mm
// more than there are; a tube of 57 mm needs 43.
TEST(Reasons, SayWhereItIsTooNarrowAndWhatWouldPass) {
  const build::Build b = lidded();
  const auto reasons = reasons_for(b, route_ask(b));
  ASSERT_FALSE(reasons.empty());
  EXPECT_EQ(reasons.front().text, "The way is 2.0 mm too narrow at lid.") << all(reasons);
  const find::Reason* less = starting(reasons, "With a clearance of 7.8 mm instead of 10.0 mm at lid");
  ASSERT_NE(less, nullptr) << all(reasons);
  EXPECT_TRUE(less->answer);
  const find::Reason* smaller = starting(reasons, "A 57 mm tube would pass");
  ASSERT_NE(smaller, nullptr) << all(reasons);
  ASSERT_TRUE(smaller->ask && smaller->answer);
  EXPECT_EQ(smaller->ask->tube.outer_diameter_m, mm(57));
  const auto asked = find::question(b, *smaller->ask).value();
  EXPECT_TRUE(way::judge(asked.problem, smaller->answer->way).good());
  EXPECT_LT(find::proposal(b, asked, *smaller->answer).end.gap_m, 0.1e-3);
  EXPECT_LT(less, smaller); // the less is asked for before the more
  EXPECT_NE(starting(reasons, "With lid out of the way"), nullptr);
}

// Closed form by hand: the same above and below; less at one of them alone is no help.
TEST(Reasons, NameAllPlacesThatAreTooNarrow) {
  build::Build b = lidded();
  build::KeepOut floor = b.keep_outs.front();
  floor.name = "floor";
  floor.clearance_m = mm(12);
  floor.shape = build::HalfSpace{{0, 0, -mm(44.25)}, {0, 0, -1}};
  b.keep_outs.push_back(floor);
  const auto reasons = reasons_for(b, route_ask(b));
  ASSERT_FALSE(reasons.empty());
  EXPECT_EQ(reasons.front().text, "The way is 4.0 mm too narrow at floor and 2.0 mm at lid.") << all(reasons);
  const find::Reason* less = starting(
      reasons, "With a clearance of 7.8 mm instead of 12.0 mm at floor and 7.8 mm instead of 10.0 mm at lid");
  ASSERT_NE(less, nullptr) << all(reasons);
  EXPECT_TRUE(less->answer);
}

// Identity: an offset takes two bends, and one to the side of another plane takes more than one as well.
TEST(Reasons, SayThatMoreBendsWouldDo) {
  build::Build b = route_build({{0.9, 0, 0.3}, {-1, 0, 0}});
  find::Ask ask = route_ask(b);
  ask.most_bends = 1;
  const auto reasons = reasons_for(b, ask);
  ASSERT_FALSE(reasons.empty());
  EXPECT_EQ(
      reasons.front().text.rfind(
          "Nothing in stock joins the two ends even with nothing in the way: they are 948.7 mm apart", 0),
      0U)
      << all(reasons);
  const find::Reason* more = starting(reasons, "With 2 bends there is one.");
  ASSERT_NE(more, nullptr) << all(reasons);
  ASSERT_TRUE(more->ask);
  EXPECT_EQ(more->ask->most_bends, 2U);
}

// Identity: two ports 60 mm apart, face to face, leave no room for two hoses and a tube.
TEST(Reasons, GiveTheFiguresOfPortsThatAreTooNear) {
  build::Build b = route_build({{0.06, 0, 0}, {-1, 0, 0}});
  find::Ask ask = route_ask(b);
  ask.most_bends = 1;
  const auto reasons = reasons_for(b, ask);
  ASSERT_FALSE(reasons.empty());
  EXPECT_NE(reasons.front().text.find("they are 60 mm apart"), std::string::npos) << all(reasons);
  EXPECT_NE(reasons.front().text.find("48 mm straight behind the one, 48 mm before the other"),
            std::string::npos);
  EXPECT_NE(reasons.front().text.find("a radius of 70 mm or more"), std::string::npos);
}

// Closed form by hand.
TEST(Reasons, SayThatCutBendsWouldDo) {
  // Two quarter bends and the least between them go 278 mm to the side: 200 take smaller angles.
  build::Build b = route_build({{0.7, 0, 0.2}, {-1, 0, 0}});
  b.stock = [] {
    auto stock = route_stock();
    std::erase_if(stock,
                  [](const auto& item) { return item.id.text == "bend-45" || item.id.text == "elbow-90"; });
    return stock;
  }();
  find::Ask ask = route_ask(b);
  ask.cut_bends = false;
  ask.most_bends = 2;
  const auto reasons = reasons_for(b, ask);
  const find::Reason* cut = starting(reasons, "With bends cut to smaller angles there is one.");
  ASSERT_NE(cut, nullptr) << all(reasons);
  EXPECT_TRUE(cut->ask && cut->ask->cut_bends);
  EXPECT_EQ(cut, &*std::ranges::find_if(reasons, [](const find::Reason& r) { return r.answer.has_value(); }));
}

// Closed form by hand: one way over a box and one under it, with figures that say which is best in what.
TEST(Differences, NameWhatIsBestAndWhereItGoes) {
  const way::Way over{
      {{0, deg(90), 0, {}}, {0, deg(90), deg(180), {}}, {0, deg(90), 0, {}}, {0, deg(90), deg(180), {}}},
      {mm(100), mm(100), mm(300), mm(100), mm(100)},
      {}};
  Posed asked = posed(over);
  asked.build.keep_outs = {
      {.name = "block", .clearance_m = {}, .shape = build::Box{{0.44, 0, 0}, {0.1, 0.1, 0.1}}}};
  way::Way under = over;
  under.turns[0].clocking_rad = deg(180);
  asked.question = find::question(asked.build, asked.question.ask).value();
  std::vector<find::Proposal> proposals;
  for (const way::Way& way : {over, under}) {
    way::Answer answer;
    answer.way = way;
    answer.figures = way::figures(asked.question.problem, way);
    proposals.push_back(find::proposal(asked.build, asked.question, answer));
  }
  proposals[0].price = euros(90, 0);
  proposals[1].price = euros(80, 0);
  find::tell_apart(asked.build, asked.question, proposals);
  EXPECT_EQ(proposals[0].differs, "over block");
  EXPECT_EQ(proposals[1].differs, "cheapest");
  proposals[0].drop_Pa = 0.9 * proposals[1].drop_Pa;
  proposals[0].joints = proposals[1].joints - 1;
  find::tell_apart(asked.build, asked.question, proposals);
  EXPECT_EQ(proposals[0].differs, "least drop, fewest joints");
}

} // namespace
} // namespace bellmouth::test
