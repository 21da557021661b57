// SPDX-License-Identifier: GPL-3.0-or-later
// The question that a run of a build makes.
#include "find_scene.hpp"
#include "support/close.hpp"

#include <bellmouth/bay/vectors.hpp>

#include <gtest/gtest.h>

namespace bellmouth::test {
namespace {

const build::Pose there{{0.6, 0.1, 0.4}, {0, 0, -1}};

build::Build plain() {
  return route_build(there);
}

// Closed form by hand: 40 mm of engagement, 8 mm of gap.
TEST(Question, HasTheLeastStraightsThatTheJointsNeed) {
  const build::Build b = plain();
  const auto asked = find::question(b, route_ask(b));
  ASSERT_TRUE(asked) << asked.error().text();
  EXPECT_FALSE(way::validate(asked->problem));
  EXPECT_TRUE(close(asked->engagement_m, mm(40), 1e-12));
  EXPECT_TRUE(close(asked->gap_m, mm(8), 1e-12));
  EXPECT_TRUE(close(asked->problem.start.straight_m, mm(48), 1e-12));
  EXPECT_TRUE(close(asked->problem.end.straight_m, mm(48), 1e-12));
  EXPECT_TRUE(close(asked->problem.rules.straight_between_bends_m, mm(88), 1e-12));
  EXPECT_TRUE(close(asked->problem.joint_price, 11, 1e-12)); // a hose at 9.00, two clamps at 1.00
  EXPECT_TRUE(close(asked->problem.tube.price_per_m, 12, 1e-12));
  ASSERT_EQ(asked->bends.size(), 3U);
  EXPECT_EQ(asked->problem.bends[0].leg_m, mm(100));
  EXPECT_TRUE(close(asked->problem.bends[2].leg_m, mm(50), 1e-12)); // what a tube leaves of 90 mm
  EXPECT_EQ(asked->problem.bends[2].kind, way::BendKind::silicone);
  EXPECT_EQ(asked->problem.start.position_m, route_start.position_m);
  EXPECT_EQ(asked->problem.end.position_m, there.position_m);
  EXPECT_LT(bay::length(bay::minus(asked->problem.end.direction, there.direction)), 1e-12);
  EXPECT_EQ(asked->problem.reference, bay::frame_of(route_start).reference);
}

TEST(Question, GivesAPortTheStraightThatItWants) {
  build::Build b = plain();
  b.ports[1].free_straight_m = mm(130);
  EXPECT_EQ(find::question(b, route_ask(b)).value().problem.end.straight_m, mm(130));
}

TEST(Question, LeavesOutWhatAnotherItemDoesForNoMore) {
  build::Build b = plain();
  auto stock = route_stock();
  stock.push_back(bend_item("bend-90-dear", 63.5, 90, 95, 100, euros(24, 0)));
  stock.push_back(bend_item("bend-90-long", 63.5, 90, 95, 150, euros(26, 0)));
  b.stock = stock;
  EXPECT_EQ(find::question(b, route_ask(b)).value().bends.size(), 4U);
  b.owned = {{{"bend-90-dear"}, 2}};
  const auto asked = find::question(b, route_ask(b)).value();
  ASSERT_EQ(asked.bends.size(), 5U); // it costs nothing: the user has it
  EXPECT_EQ(asked.problem.bends[bend_named(asked, "bend-90-dear")].owned, 2);
  find::Ask ask = route_ask(b);
  ask.use_owned = false;
  EXPECT_EQ(find::question(b, ask).value().bends.size(), 4U);
}

// Closed form by hand: a box off the way, a sphere that the engine carries and moves, another run's spigot.
TEST(Question, AsksForClearanceDoubtHoseAndMovement) {
  build::Build b = plain();
  b.ports[0].survey = build::Survey{true, mm(1), ""};
  b.keep_outs = {{.name = "box",
                  .clearance_m = mm(12),
                  .shape = build::Box{{0.3, 0.5, 0}, {0.05, 0.05, 0.05}},
                  .survey = build::Survey{true, mm(2), ""}},
                 {.name = "ball",
                  .keep_out_class = build::KeepOutClass::hot,
                  .clearance_m = {},
                  .shape = build::Sphere{{0.3, -0.5, 0}, 0.1},
                  .mounting = build::Mounting::engine}};
  // What stands out over the tube is the hose's wall, 4.5 mm.
  const auto rest = find::question(b, route_ask(b)).value();
  ASSERT_EQ(rest.keep_outs.size(), 2U);
  EXPECT_TRUE(close(rest.problem.keep_outs[0].clearance_m, mm(12 + 2 + 1 + 4.5), 1e-12));
  EXPECT_TRUE(close(rest.problem.keep_outs[1].clearance_m, mm(76 + 1 + 4.5), 1e-12));
  // Both ports stand on the body: the ball moves against the run by what a port would, two sines of half the
  // roll times its distance from the axis, and by the shake.
  b.movement = build::EngineMovement{{0, 0, 0}, {0, 1, 0}, deg(2), mm(3)};
  b.states = {{{"rocked"}, 0.5}};
  const auto rocked = find::question(b, route_ask(b)).value();
  const double arm_m = std::hypot(0.6, 0.4);
  EXPECT_TRUE(close(rocked.problem.keep_outs[1].clearance_m,
                    mm(76 + 1 + 4.5 + 3) + 2 * std::sin(deg(0.5)) * arm_m, 1e-9));
  EXPECT_TRUE(close(rocked.problem.keep_outs[0].clearance_m, mm(12 + 2 + 1 + 4.5), 1e-12));
}

TEST(Question, LeavesTheFirstStretchAtItsOwnMachineOut) {
  build::Build b = plain();
  b.machines = {{{"can"},
                 "Can",
                 build::Mounting::body,
                 machine::Filter{{{0.05, 120.0}, {0.1, 420.0}}, 1.2, true, false}}};
  b.ports[0].machine = build::MachineId{"can"};
  b.keep_outs = {{.name = "can",
                  .clearance_m = mm(10),
                  .shape = build::Box{{-0.1, 0, 0}, {0.1, 0.2, 0.2}},
                  .machine = build::MachineId{"can"}}};
  const auto asked = find::question(b, route_ask(b)).value();
  // Its face stands in the port: radius, clearance, the hose's wall.
  EXPECT_TRUE(close(asked.problem.keep_outs[0].not_from_start_m, mm(31.75 + 10 + 4.5), 0, 2e-9));
  EXPECT_EQ(asked.problem.keep_outs[0].not_to_end_m, 0);
}

// Identity: where rows stay, the way begins and ends where the present run has them.
TEST(Question, BeginsAndEndsAtTheRowsThatStay) {
  build::Build b = plain();
  std::vector<build::Piece> pieces{coupler(88, 40, 40), bend(90, 30, 95, 60, 80), coupler(88, 40, 40),
                                   straight(250),       coupler(88, 40, 40),      bend(45, 100, 95, 70, 60),
                                   coupler(88, 40, 40)};
  b.options[0].runs[0] = build::Run{{"run"}, {"begin"}, {"end"}, pieces};
  b.ports[1].pose = walked(route_start, the_run(b)).port();
  find::Ask ask = route_ask(b);
  ask.keep_first = 2;
  ask.keep_last = 2;
  const auto asked = find::question(b, ask);
  ASSERT_TRUE(asked) << asked.error().text();
  build::Run head = the_run(b), middle = the_run(b);
  head.pieces.resize(2);
  middle.pieces.resize(5);
  const auto start = walked(route_start, head).end(), end = walked(route_start, middle).end();
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_NEAR(asked->problem.start.position_m[k], start.position_m[k], 1e-12);
    EXPECT_NEAR(asked->problem.start.direction[k], start.direction()[k], 1e-12);
    EXPECT_NEAR(asked->problem.end.position_m[k], end.position_m[k], 1e-12);
    EXPECT_NEAR(asked->problem.end.direction[k], -end.direction()[k], 1e-12);
  }
  // The present middle is a way: it makes the present run again, and so does one that arrives turned.
  way::Answer answer;
  answer.way.straights_m = {mm(8 + 250 + 8)};
  const find::Proposal made = find::proposal(b, *asked, answer);
  ASSERT_EQ(made.run.pieces.size(), pieces.size());
  EXPECT_LT(made.end.gap_m, 1e-9);
  EXPECT_NEAR(std::get<build::TubeBend>(made.run.pieces[5].shape).clocking_rad, deg(100), 1e-9);
  EXPECT_TRUE(std::ranges::any_of(asked->problem.keep_outs, [](const way::KeepOut& keep_out) {
    return keep_out.name.find("row 2") != std::string::npos;
  }));
}

// Identity: the tail lies as before though the way reaches it with another reference.
TEST(Question, TurnsTheTailSoThatItStays) {
  build::Build b = plain();
  std::vector<build::Piece> pieces{coupler(88, 40, 40), straight(300), coupler(88, 40, 40),
                                   bend(45, 100, 95, 70, 60), coupler(88, 40, 40)};
  b.options[0].runs[0] = build::Run{{"run"}, {"begin"}, {"end"}, pieces};
  b.ports[1].pose = walked(route_start, the_run(b)).port();
  find::Ask ask = route_ask(b);
  ask.keep_last = 2;
  const auto asked = find::question(b, ask).value();
  // Up, over and down again in a plane that is turned, back onto the axis: 45, 90, 45 degrees.
  const double leg_m = mm(120), radius_m = mm(95);
  const std::size_t small = bend_named(asked, "bend-45"), large = bend_named(asked, "bend-90");
  way::Answer answer;
  answer.way.turns = {
      {small, deg(45), deg(35), {}}, {large, deg(90), deg(180), {}}, {small, deg(45), deg(180), {}}};
  const double rises_m = 2 * radius_m * (1 - std::cos(deg(45))) + leg_m * std::sin(deg(45));
  const double goes_m = 2 * (2 * radius_m * std::sin(deg(45)) + leg_m * std::cos(deg(45)));
  ASSERT_GT(rises_m, 0);
  const double whole_m = mm(8 + 300 + 8);
  b.ports[1].pose->position_m[0] += goes_m; // as much further on
  answer.way.straights_m = {whole_m / 2, leg_m, leg_m, whole_m / 2};
  const auto again = find::question(b, ask).value();
  const find::Proposal made = find::proposal(b, again, answer);
  EXPECT_LT(made.end.gap_m, 1e-9);
  EXPECT_LT(made.end.angle_rad, 1e-9);
}

struct Wrong {
  const char* what;
  void (*spoil)(build::Build&, find::Ask&);
  const char* says;
};
TEST(Question, SaysWhyThereIsNone) {
  const Wrong wrongs[] = {
      {"a port without a place", [](build::Build& b, find::Ask&) { b.ports[1].pose.reset(); },
       "port end without a place"},
      {"rows that overlap", [](build::Build&, find::Ask& ask) { ask.keep_first = ask.keep_last = 2; },
       "2 rows kept at the start"},
      {"a size that is not in stock",
       [](build::Build&, find::Ask& ask) { ask.tube.outer_diameter_m = mm(80); }, "a tube of 80 mm"},
      {"no bend",
       [](build::Build& b, find::Ask&) {
         auto stock = *b.stock;
         std::erase_if(stock, [](const auto& item) { return item.angle_rad.has_value(); });
         b.stock = stock;
       },
       "no bend for a tube of 63.5 mm"},
      {"no hose",
       [](build::Build& b, find::Ask&) {
         auto stock = *b.stock;
         std::erase_if(stock, [](const auto& item) { return item.kind == build::StockKind::hose; });
         b.stock = stock;
       },
       "no hose for a tube of 63.5 mm"},
      {"no reducer", [](build::Build& b, find::Ask&) { b.ports[0].outer_diameter_m = mm(70); },
       "no hose or reducer in stock"},
      {"a fitting without its tube",
       [](build::Build& b, find::Ask& ask) {
         build::Run run = the_run(b);
         run.pieces.insert(run.pieces.begin() + 2,
                           {build::SensorBoss{mm(150), 0, "M12x1.5"}, build::Material::aluminium, {}, ""});
         b.options[0].runs[0] = run;
         ask.keep_first = 2;
       },
       "rows parted before row 3"},
      {"an unknown run", [](build::Build&, find::Ask& ask) { ask.run = {"other"}; }, "no such run"},
  };
  for (const Wrong& wrong : wrongs) {
    build::Build b = plain();
    find::Ask ask = route_ask(b);
    wrong.spoil(b, ask);
    const auto asked = find::question(b, ask);
    ASSERT_FALSE(asked) << wrong.what;
    EXPECT_NE(asked.error().text().find(wrong.says), std::string::npos) << asked.error().text();
  }
}

// Identity: each weight goes with what matters, and the usual is one of each.
TEST(Question, WeighsWhatMatters) {
  const build::Build b = plain();
  find::Ask ask = route_ask(b);
  const way::Weights usual = find::weights(b, ask);
  EXPECT_EQ(usual.price, find::question(b, ask).value().problem.weights.price);
  ask.matters = {2, 0, 3, 0.5};
  const way::Weights other = find::weights(b, ask);
  EXPECT_TRUE(close(other.price, 2 * usual.price, 1e-12));
  EXPECT_EQ(other.loss, 0);
  EXPECT_TRUE(close(other.joint, 3 * usual.joint, 1e-12));
  EXPECT_TRUE(close(other.per_m, 0.5 * usual.per_m, 1e-12));
  EXPECT_GT(usual.friction_factor, 0.01);
  EXPECT_LT(usual.friction_factor, 0.03);
}

} // namespace
} // namespace bellmouth::test
