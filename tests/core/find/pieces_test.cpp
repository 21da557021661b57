// SPDX-License-Identifier: GPL-3.0-or-later
// From a way to real pieces: lengths, joints, price, volume.
#include "find_scene.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <random>

namespace bellmouth::test {
namespace {

using way::Leg, way::Turn, way::Way;

// In the order of route_stock().
constexpr std::size_t bend_90 = 0, bend_45 = 1, elbow_90 = 2;

Way corner(double first_mm, double second_mm, Turn turn = {bend_90, deg(90), deg(0), {}}) {
  return {{turn}, {mm(first_mm), mm(second_mm)}, {}};
}
const build::Shape& shape(const find::Proposal& proposal, std::size_t row) {
  return proposal.run.pieces.at(row).shape;
}
std::string kinds(const build::Run& run) {
  std::string text;
  for (const build::Piece& piece : run.pieces)
    text += std::string(text.empty() ? "" : ", ") + std::string(build::kind_name(piece.shape));
  return text;
}

// Closed form by hand: a corner with 60 mm before and 300 mm behind it. Before: 8 mm of gap, 52 mm of leg.
// Behind: the leg as bought (100), a gap (8), tube, a gap (8): 184 mm of tube.
TEST(Pieces, OfACornerAreAsByHand) {
  const Posed posed_corner = posed(corner(60, 300));
  const find::Proposal made = find::proposal(posed_corner.build, posed_corner.question, posed_corner.answer);
  ASSERT_EQ(kinds(made.run), "hose, tube bend, hose, tube, hose");
  const auto& bend = std::get<build::TubeBend>(shape(made, 1));
  EXPECT_TRUE(close(bend.leg_in_m, mm(52), 1e-12));
  EXPECT_TRUE(close(bend.leg_out_m, mm(100), 1e-12));
  EXPECT_TRUE(close(std::get<build::Tube>(shape(made, 3)).length_m, mm(184), 1e-12));
  EXPECT_TRUE(close(std::get<build::Hose>(shape(made, 0)).length_m, mm(88), 1e-12));
  EXPECT_TRUE(close(made.length_m, mm(360) + std::numbers::pi / 2 * mm(95), 1e-12));
  EXPECT_EQ(made.joints, 6);
  EXPECT_LT(made.end.gap_m, 1e-12);
  // Bores of 60.2 mm, in the three gaps of 8 mm 63.5 mm.
  const double quarter_pi = std::numbers::pi / 4;
  const double volume_m3 =
      quarter_pi * (mm(60.2) * mm(60.2) * (made.length_m - mm(24)) + mm(63.5) * mm(63.5) * mm(24));
  EXPECT_TRUE(close(made.volume_m3, volume_m3, 1e-9));
}

// Closed form by hand: three hoses at 9.00, six clamps at 1.00, the bend at 20.00, 186.5 mm of tube with its
// saw cut at 12.00 a metre.
TEST(Pieces, CostWhatTheListsSay) {
  Posed posed_corner = posed(corner(60, 300));
  EXPECT_EQ(find::proposal(posed_corner.build, posed_corner.question, posed_corner.answer).price,
            euros(55, 24));
  const auto all_bought =
      find::proposal(posed_corner.build, posed_corner.question, posed_corner.answer).price;
  posed_corner.build.owned = {{{"bend-90"}, 1}, {{"clamp"}, 4}};
  EXPECT_EQ(find::proposal(posed_corner.build, posed_corner.question, posed_corner.answer).price,
            euros(31, 24));
  posed_corner.question.ask.use_owned = false;
  EXPECT_EQ(find::proposal(posed_corner.build, posed_corner.question, posed_corner.answer).price, all_bought);
}

// Closed form by hand, for each kind of straight beside a bend that is cut and has lost a leg.
TEST(Pieces, AreWeldedWhereACutBendHasLostItsLeg) {
  const Posed before = posed(corner(120, 60, {bend_90, deg(70), deg(30), Leg::in}));
  const find::Proposal first = find::proposal(before.build, before.question, before.answer);
  ASSERT_EQ(kinds(first.run), "hose, tube, tube bend, hose");
  const auto& tube = std::get<build::Tube>(shape(first, 1));
  EXPECT_TRUE(close(tube.length_m, mm(112), 1e-12));
  EXPECT_TRUE(tube.beads.in);
  EXPECT_FALSE(tube.beads.out);
  EXPECT_EQ(std::get<build::TubeBend>(shape(first, 2)).leg_in_m, 0);
  EXPECT_LT(first.end.gap_m, 1e-12);

  // Between a bend without its leg and one with: leg welded to arc as long as it reaches, then tube and hose.
  for (const auto& [between_mm, wanted] :
       {std::pair(90.0, "hose, tube bend, tube bend, hose"),
        std::pair(150.0, "hose, tube bend, tube, hose, tube bend, hose")}) {
    const Way way{{{bend_90, deg(60), 0, Leg::out}, {bend_90, deg(90), deg(90), {}}},
                  {mm(60), mm(between_mm), mm(60)},
                  {}};
    const Posed both = posed(way);
    const find::Proposal made = find::proposal(both.build, both.question, both.answer);
    EXPECT_EQ(kinds(made.run), wanted);
    EXPECT_LT(made.end.gap_m, 1e-12);
  }
}

// Closed form by hand: an elbow right on the port is as long as the straight and what it covers; one further
// off needs a hose and a tube of two engagements; in between there is nothing that can be made.
TEST(Pieces, HaveAnElbowOnThePortOrBehindATube) {
  const auto with_elbow = [](double first_mm) {
    return posed(corner(first_mm, 120, {elbow_90, deg(90), 0, {}}));
  };
  const Posed good = with_elbow(49), between = with_elbow(70), off = with_elbow(90);
  EXPECT_TRUE(find::can_be_made(good.build, good.question, good.answer.way));
  EXPECT_FALSE(find::can_be_made(between.build, between.question, between.answer.way));
  EXPECT_TRUE(find::can_be_made(off.build, off.question, off.answer.way));
  way::Found found;
  found.answers = {between.answer, good.answer};
  found.others = {off.answer};
  const way::Found kept = find::made(good.build, good.question, found);
  ASSERT_EQ(kept.answers.size(), 2U); // the other has stepped up
  EXPECT_TRUE(kept.others.empty());
  const find::Proposal far = find::proposal(off.build, off.question, off.answer);
  EXPECT_EQ(kinds(far.run), "hose, tube, hose elbow, tube, hose");

  const find::Proposal made = find::proposal(good.build, good.question, good.answer);
  ASSERT_EQ(kinds(made.run), "hose elbow, tube, hose");
  const auto& elbow = std::get<build::HoseElbow>(shape(made, 0));
  EXPECT_TRUE(close(elbow.leg_in_m, mm(89), 1e-12));
  EXPECT_TRUE(close(elbow.engagement.in_m, mm(40), 1e-12));
  EXPECT_TRUE(close(elbow.leg_out_m, mm(72), 1e-12)); // 120 = 32 of it, 80 of tube, 8 of gap
  EXPECT_TRUE(close(std::get<build::Tube>(shape(made, 1)).length_m, mm(80), 1e-12));
  EXPECT_LT(made.end.gap_m, 1e-12);
}

// Identity: what the search finds with elbows alone can all be made; the judge refuses what cannot.
TEST(Pieces, OfElbowsAloneCanBeMadeAsTheyAreFound) {
  auto stock = route_stock();
  std::erase_if(stock, [](const auto& item) { return item.kind == build::StockKind::tube_bend; });
  stock.push_back(elbow_item("elbow-45", 63.5, 45, 70, 90, euros(18, 0)));
  way::Effort effort;
  effort.seconds = std::numeric_limits<double>::infinity();
  effort.rounds = 12;
  std::size_t found = 0;
  for (const build::Pose& to :
       {build::Pose{{0.5, 0.4, 0}, {0, -1, 0}}, build::Pose{{0.6, 0, 0.25}, {-1, 0, 0}},
        build::Pose{{0.2, 0.3, 0.1}, {1, 0, 0}}}) {
    build::Build b = route_build(to);
    b.stock = stock;
    const auto asked = find::question(b, route_ask(b)).value();
    const way::Found all = way::find(asked.problem, effort);
    found += all.answers.size();
    EXPECT_EQ(find::made(b, asked, all).answers.size(), all.answers.size());
  }
  EXPECT_GE(found, 3U);

  const Posed between = posed(corner(70, 120, {elbow_90, deg(90), 0, {}}));
  const way::Judgement judgement = way::judge(between.question.problem, between.answer.way);
  ASSERT_EQ(judgement.faults.size(), 1U);
  EXPECT_EQ(judgement.faults[0],
            "Straight 1 is 70 mm; between a port and elbow-90 at least 88 mm is needed, or at most 50 mm.");
  const Posed good = posed(corner(49, 120, {elbow_90, deg(90), 0, {}}));
  EXPECT_TRUE(way::judge(good.question.problem, good.answer.way).good());
}

TEST(Pieces, TakeAHoseReducerWhereAPortIsOfAnotherSize) {
  auto stock = route_stock();
  stock.push_back(reducer_item("reducer", 63.5, 70, euros(16, 0)));
  stock.push_back(clamp_item("clamp-large", 70, 90, euros(2, 0)));
  build::Build b = route_build({{0.5, 0, 0.3}, {0, 0, -1}});
  b.stock = stock;
  b.ports[0].outer_diameter_m = mm(70);
  b.ports[0].bore_m = mm(66);
  const auto asked = find::question(b, route_ask(b));
  ASSERT_TRUE(asked);
  EXPECT_EQ(asked->reducer, build::StockId{"reducer"});
  EXPECT_EQ(asked->coupler_in, build::StockId{"reducer"});
  // 38 mm of the reducer cover either end: 24 mm of its 100 lie between.
  EXPECT_TRUE(close(asked->problem.start.straight_m, mm(24 + 38), 1e-12));
  way::Answer answer;
  answer.way = corner(100, 100);
  b.ports[1].pose = walked(route_start, asked->problem, answer.way).port();
  const auto again = find::question(b, route_ask(b));
  const find::Proposal made = find::proposal(b, *again, answer);
  const auto& reducer = std::get<build::HoseReducer>(shape(made, 0));
  EXPECT_EQ(reducer.bore_in_m, mm(70));
  EXPECT_EQ(reducer.bore_out_m, mm(63.5));
  EXPECT_LT(made.end.gap_m, 1e-12);
}

/// A way with up to four bends of any kind, straights from the least on.
Way random_way(const find::Question& question, std::mt19937& random) {
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  Way way;
  const int turns = std::uniform_int_distribution<int>(0, 4)(random);
  for (int i = 0; i < turns; ++i) {
    Turn turn{std::uniform_int_distribution<std::size_t>(0, question.bends.size() - 1)(random),
              0,
              between(-6, 6),
              {}};
    const way::Bend& bend = question.problem.bends[turn.bend];
    turn.angle_rad = bend.angle_rad;
    if (bend.kind == way::BendKind::mandrel && between(0, 1) < 0.6) {
      turn.angle_rad = between(question.problem.rules.least_cut_angle_rad, bend.angle_rad - deg(1));
      turn.lost_leg = between(0, 1) < 0.5 ? Leg::in : Leg::out;
    }
    way.turns.push_back(turn);
  }
  for (int i = 0; i <= turns; ++i) {
    double least_m = question.problem.rules.straight_between_bends_m;
    if (i == 0)
      least_m = question.problem.start.straight_m;
    if (i == turns)
      least_m = std::max(i == 0 ? least_m : 0.0, question.problem.end.straight_m);
    way.straights_m.push_back(least_m + (between(0, 1) < 0.5 ? between(0, 0.1) : between(0, 0.6)));
  }
  return way;
}

// Other method: where the pieces end is worked out with rotation matrices. Identity: whatever keeps the rules
// can be made, has joints that fit, pieces that their stock serves, and says nothing of joints that a check
// would.
TEST(Pieces, OfAnyWayMeetFitAndCanBeBought) {
  std::mt19937 random(5);
  int made_count = 0, elbows = 0, welds = 0;
  for (int i = 0; i < 400; ++i) {
    const Posed start = posed(corner(60, 300));
    const Way way = random_way(start.question, random);
    const Posed asked = posed(way);
    const way::Problem& problem = asked.question.problem;
    const auto bend = [&](const Turn& turn) -> const way::Bend& { return problem.bends[turn.bend]; };
    const bool can_be_made =
        way.turns.empty()
            ? way.straights_m[0] >= problem.start.straight_m + problem.end.straight_m
            : way::is_long_enough(problem.start, bend(way.turns.front()), way.straights_m.front()) &&
                  way::is_long_enough(problem.end, bend(way.turns.back()), way.straights_m.back());
    EXPECT_EQ(find::can_be_made(asked.build, asked.question, way), can_be_made);
    if (!can_be_made)
      continue;
    ++made_count;
    const find::Proposal made = find::proposal(asked.build, asked.question, asked.answer);
    EXPECT_LT(made.end.gap_m, 1e-9);
    EXPECT_LT(made.end.angle_rad, 1e-9);
    const bay::Meeting apart = off_port(walked(route_start, made.run).end(), *asked.build.ports[1].pose);
    EXPECT_LT(apart.gap_m, 1e-9);
    EXPECT_LT(apart.angle_rad, 1e-7);
    const joint::RunFit fit = joint::fit(asked.build, made.run);
    for (const joint::Joint& joint : fit.joints) {
      EXPECT_NE(joint.kind, joint::Kind::wrong);
      welds += joint.kind == joint::Kind::weld ? 1 : 0;
      if (joint.kind == joint::Kind::hose) {
        EXPECT_GE(joint.engagement_m, mm(38));
        EXPECT_TRUE(joint.spigot().beaded);
        EXPECT_GE(joint.spigot().land_m, joint.engagement_m - 1e-9);
        EXPECT_GE(joint.hose().land_m, joint.engagement_m - 1e-9);
        EXPECT_NE(joint.clamp, nullptr);
      }
    }
    for (const build::Piece& piece : made.run.pieces) {
      elbows += std::holds_alternative<build::HoseElbow>(piece.shape) ? 1 : 0;
      ASSERT_NE(asked.build.find(piece.stock), nullptr);
      EXPECT_TRUE(stock::serves(*asked.build.find(piece.stock), piece)) << build::kind_name(piece.shape);
      EXPECT_FALSE(build::validate(piece, "piece"));
    }
    for (const check::Finding& finding : made.findings)
      EXPECT_TRUE(finding.rule == "long-unsupported" || finding.rule == "tight-bend" ||
                  finding.rule == "outside-correlation" || finding.rule == "too-near" ||
                  finding.rule == "near-within-doubt")
          << finding.rule << ": " << finding.message;
  }
  EXPECT_GT(made_count, 250);
  EXPECT_GT(elbows, 50);
  EXPECT_GT(welds, 50);
}

// Identity: bosses and flanges of the rows that go are put onto the new ones, where a weld has room.
TEST(Pieces, KeepTheFittings) {
  Posed asked = posed(corner(60, 300));
  build::Run run = the_run(asked.build);
  run.pieces.insert(
      run.pieces.begin() + 2,
      {{build::SensorBoss{mm(150), deg(20), "M12x1.5"}, build::Material::aluminium, {}, "gauge"},
       {build::ValveFlange{mm(220), deg(-90), mm(25)}, build::Material::aluminium, {}, "relief"}});
  asked.build.options[0].runs[0] = run;
  const find::Proposal made = find::proposal(asked.build, asked.question, asked.answer);
  // As near as can be to half way and to 221 of 316 mm: on the bend's outlet leg, and on the tube.
  ASSERT_EQ(kinds(made.run), "hose, tube bend, sensor boss, hose, tube, valve flange, hose");
  const double boss_m = std::get<build::SensorBoss>(shape(made, 2)).position_m;
  const double leg_from_m = mm(52) + std::numbers::pi / 2 * mm(95);
  EXPECT_GE(boss_m, leg_from_m);
  EXPECT_LE(boss_m, leg_from_m + mm(100 - 40 - 15));
  const double flange_m = std::get<build::ValveFlange>(shape(made, 5)).position_m;
  EXPECT_GE(flange_m, mm(40 + 15));
  EXPECT_LE(flange_m, mm(184 - 40 - 15));
  EXPECT_EQ(std::get<build::SensorBoss>(shape(made, 2)).clocking_rad, deg(20));
  EXPECT_TRUE(std::ranges::none_of(
      made.findings, [](const check::Finding& finding) { return finding.rule == "fitting-under-hose"; }));
  EXPECT_FALSE(build::validate(find::with_proposal(asked.build, asked.question, made, {"new"})));
}

} // namespace
} // namespace bellmouth::test
