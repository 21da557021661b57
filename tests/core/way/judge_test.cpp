// SPDX-License-Identifier: GPL-3.0-or-later
// Each rule broken on purpose: the judgement says so in words, and the check that shares no code with the
// program (support/route_checker.hpp) finds the same.
#include "support/close.hpp"
#include "support/route_examples.hpp"

#include <bellmouth/way.hpp>
#include <bellmouth/way/file.hpp>

#include <gtest/gtest.h>

#include <functional>

namespace bellmouth::way {
namespace {

using test::close, test::Json;

/// A problem and an answer, both as JSON.
struct Case {
  Json problem, answer;
  explicit Case(const std::string& name)
      : problem(test::route_example(name).problem), answer(test::route_example(name).known) {}

  Json& piece(std::size_t index) { return answer["pieces"][index]; }
  Judgement judged() const {
    const auto read = read_problem(problem.dump(), "problem");
    if (!read)
      throw std::runtime_error(read.error().text());
    const auto ways = read_answers(*read, answer.dump(), "answer");
    if (!ways)
      throw std::runtime_error(ways.error().text());
    return judge(*read, ways->front());
  }
  /// The end where the answer ends now.
  void meet() {
    const auto samples = test::RouteChecker(problem, answer).samples();
    const test::Spot last = samples.back().at, before = samples[samples.size() - 40].at;
    problem["end"]["position"] = last;
    const test::Spot back = test::gone(before, -1, last);
    problem["end"]["direction"] = test::gone({0, 0, 0}, 1 / test::size(back), back);
  }
};

struct Broken {
  const char *what, *name, *rule;
  std::function<void(Case&)> break_it;
  std::string said; ///< part of the one fault
};
void PrintTo(const Broken& broken, std::ostream* out) {
  *out << broken.what;
}

class JudgeFinds : public testing::TestWithParam<Broken> {};

TEST_P(JudgeFinds, WhatIsWrong) {
  Case made(GetParam().name);
  EXPECT_TRUE(made.judged().good());
  GetParam().break_it(made);
  const Judgement judgement = made.judged();
  ASSERT_EQ(judgement.faults.size(), 1U) << testing::PrintToString(judgement.faults);
  EXPECT_NE(judgement.faults.front().find(GetParam().said), std::string::npos) << judgement.faults.front();
  const test::RouteCheck check = test::check_route(made.problem, made.answer);
  ASSERT_EQ(check.faults.size(), 1U) << check.text();
  EXPECT_EQ(check.faults.front().substr(0, 6), GetParam().rule) << check.text();
}

const std::vector<Broken> broken_rules{
    {"EndGap", "open-000", "rule 1", [](Case& made) { made.piece(8)["length"] = 136.401; },
     "It ends 0.101 mm from the end port"},
    {"EndDirection", "open-000", "rule 1",
     [](Case& made) {
       made.problem["end"]["direction"] = {0, std::sin(0.002), -std::cos(0.002)};
     },
     "It ends 0.114592 degrees out of line with the end port; at most 0.1 degrees"},
    {"StraightBetweenBends", "open-000", "rule 2",
     [](Case& made) {
       made.piece(2)["length"] = 39.9;
       made.meet();
     },
     "Straight 2 is 39.9 mm; at least 40 mm is needed."},
    {"StraightAtStart", "open-000", "rule 2",
     [](Case& made) {
       made.piece(0)["length"] = 31.25;
       made.meet();
     },
     "Straight 1 is 31.2 mm; at least 40 mm is needed."},
    {"StraightAtEndOfItsOwn", "open-000", "rule 2",
     [](Case& made) { made.problem["end"]["straight"] = 136.4; }, "Straight 5 is 136.3 mm"},
    {"LongestTube", "open-000", "rule 2",
     [](Case& made) { made.problem["stock"]["tube"]["max_length"] = 324.6; },
     "Straight 3 is 324.7 mm; the longest tube is 324.6 mm."},
    {"TooManyBends", "open-000", "rule 2", [](Case& made) { made.problem["rules"]["max_bends"] = 3; },
     "It has 4 bends; at most 3 are allowed."},
    {"TooFewBends", "open-000", "rule 2", [](Case& made) { made.problem["rules"]["min_bends"] = 5; },
     "It has 4 bends; at least 5 are needed."},
    {"CutWhereItMayNotBe", "open-001", "rule 3",
     [](Case& made) {
       made.problem["rules"]["bends_may_be_cut"] = false;
       made.piece(3)["angle"] = 60;
       made.piece(3).erase("lost_leg");
       made.meet();
     },
     "Bend 1 (M70.0-30-R87.5) turns by 26 degrees; bends may not be cut, it keeps its 30 degrees."},
    {"CutTooFar", "open-001", "rule 3", [](Case& made) { made.problem["rules"]["min_cut_angle"] = 26.001; },
     "turns by 26 degrees; it may be cut to 26.001 degrees at least."},
    {"MoreThanItHas", "open-001", "rule 3",
     [](Case& made) {
       made.piece(1)["angle"] = 30.1;
       made.meet();
     },
     "turns by 30.1 degrees; it has no more than 30 degrees."},
    {"SiliconeCut", "open-001", "rule 3",
     [](Case& made) {
       made.piece(1) = {{"type", "bend"}, {"stock", "S70.0-45"}, {"angle", 26},
                        {"clr", 70},      {"clocking", 241.2},   {"lost_leg", "out"}};
       made.meet();
     },
     "an elbow of silicone keeps its 45 degrees."},
    {"WholeWithALostLeg", "open-000", "rule 3", [](Case& made) { made.piece(1)["lost_leg"] = "in"; },
     "Bend 1 (M63.5-90-R63.5) has its whole angle, yet a leg cut off."},
    {"NoReducer", "narrow-006", "rule 4",
     [](Case& made) {
       made.problem["keepouts"] = Json::array();
       made.problem["end"]["mount"] = "engine";
       made.problem["start"]["od"] = 60.4;
       made.problem["end"]["od"] = 60.4;
       for (Json& bend : made.problem["stock"]["bends"])
         bend["od"] = 60.4;
       for (Json& piece : made.answer["pieces"])
         if (piece["type"] == "straight")
           piece["od"] = 60.4;
       made.piece(1)["od_in"] = made.piece(1)["od_out"] = 60.4;
     },
     "It has a reducer, and both ports are of one size."},
    {"NoClampBeforeTheReducer", "narrow-006", "rule 4",
     [](Case& made) { made.problem["stock"]["reducer"]["clamp"] = 25.02; },
     "Straight 1 has 25 mm before its reducer; at least 25.02 mm is needed."},
    {"NothingGives", "open-003", "rule 5",
     [](Case& made) { made.problem["rules"]["flexible_min_straight"] = 388.5; },
     "its longest straight is 388.2 mm, a flexible joint needs 388.5 mm."},
    {"BesideABox", "narrow-004", "rule 6",
     [](Case& made) {
       made.problem["keepouts"][6]["clearance"] = 15.59; // its distance, from 15 mm and 0.57 to spare
     },
     "It comes within 15.57 mm of keep-out 7, 95 mm along; at least 15.59 mm is needed."},
    {"NotAtWaypoint", "open-000", "it doe",
     [](Case& made) {
       made.problem["waypoints"] = {
           {{"type", "sphere"}, {"center", {500, 0, 0}}, {"radius", 20}, {"name", "top"}}};
     },
     "It does not pass through top"},
};
INSTANTIATE_TEST_SUITE_P(Rules, JudgeFinds, testing::ValuesIn(broken_rules),
                         [](const auto& rule) { return std::string(rule.param.what); });

/// A straight start, a half turn, and back beside itself. Closed form: the middle lines are 2 R apart.
TEST(Judge, MeasuresAWayBesideItself) {
  Case made("open-000");
  made.problem["keepouts"] = Json::array();
  const double diameter = 63.5, radius = 63.5;
  made.answer["pieces"] = {
      {{"type", "straight"}, {"length", 200}, {"od", diameter}},
      {{"type", "bend"}, {"stock", "M63.5-180-R63.5"}, {"angle", 180}, {"clr", radius}, {"clocking", 30}},
      {{"type", "straight"}, {"length", 250}, {"od", diameter}}};
  made.meet();
  for (const double gap : {63.499, 63.501}) {
    made.problem["rules"]["self_gap"] = gap;
    const Judgement judgement = made.judged();
    EXPECT_EQ(judgement.good(), gap < 2 * radius - diameter);
    ASSERT_TRUE(judgement.self_room_m.has_value());
    EXPECT_TRUE(close(*judgement.self_room_m, 1e-3 * (2 * radius - diameter - gap), 0, 1e-9));
    EXPECT_EQ(test::check_route(made.problem, made.answer).faults.empty(), judgement.good());
  }
}

/// Three quarter turns and a half one lead a way back through itself.
TEST(Judge, FindsAWayThroughItself) {
  Case made("open-000");
  made.problem["keepouts"] = Json::array();
  const auto straight = [](double length) {
    return Json{{"type", "straight"}, {"length", length}, {"od", 63.5}};
  };
  const auto quarter = [](double clocking) {
    return Json{
        {"type", "bend"}, {"stock", "M63.5-90-R63.5"}, {"angle", 90}, {"clr", 63.5}, {"clocking", clocking}};
  };
  made.answer["pieces"] = {straight(300), quarter(0), straight(60), quarter(0),
                           straight(60),  quarter(0), straight(300)};
  made.meet();
  const Judgement judgement = made.judged();
  ASSERT_EQ(judgement.faults.size(), 1U);
  EXPECT_NE(judgement.faults.front().find("through itself"), std::string::npos) << judgement.faults.front();
  // Closed form: the middle lines cross.
  EXPECT_TRUE(close(*judgement.self_room_m, -1e-3 * (63.5 + 5), 0, 1e-9));
  EXPECT_EQ(test::check_route(made.problem, made.answer).faults.size(), 1U);
}

/// A cube as a mesh and the same as a box, from far off to right through; and a way that lies wholly within.
TEST(Judge, MeasuresAClosedMeshLikeTheSolid) {
  const auto cube = [](const test::Spot& centre, double half) {
    Json vertices = Json::array();
    for (int i = 0; i < 8; ++i)
      vertices.push_back({centre[0] + ((i & 1) != 0 ? half : -half),
                          centre[1] + ((i & 2) != 0 ? half : -half),
                          centre[2] + ((i & 4) != 0 ? half : -half)});
    const Json triangles{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                         {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    return Json{{"type", "mesh"}, {"vertices", vertices}, {"triangles", triangles}, {"clearance", 10}};
  };
  const auto box = [](const test::Spot& centre, double half) {
    return Json{{"type", "box"},
                {"center", centre},
                {"half", {half, half, half}},
                {"axes", {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}},
                {"clearance", 10}};
  };
  Case made("cluttered-002");
  for (const double along : {0.1, 0.35, 0.6, 0.9})
    for (const double off : {0.0, 20.0, 60.0, 90.0, 118.0}) {
      const auto samples = test::RouteChecker(made.problem, made.answer).samples();
      const test::Spot at = samples[static_cast<std::size_t>(along * static_cast<double>(samples.size()))].at;
      const test::Spot centre{at[0] + off, at[1] - off / 2, at[2] + off / 3};
      Case with_mesh = made, with_box = made;
      with_mesh.problem["keepouts"] = {cube(centre, 50)};
      with_box.problem["keepouts"] = {box(centre, 50)};
      const Judgement by_mesh = with_mesh.judged(), by_box = with_box.judged();
      ASSERT_EQ(by_mesh.nearest.size(), by_box.nearest.size());
      EXPECT_EQ(by_mesh.good(), by_box.good());
      if (by_box.nearest.empty())
        continue;
      // Below the surface a sample's word: within a few mm of way.
      const bool outside =
          by_box.nearest.front().margin_m > -0.5 * made.problem["start"]["od"].get<double>() * 1e-3;
      EXPECT_TRUE(
          close(by_mesh.nearest.front().margin_m, by_box.nearest.front().margin_m, 0, outside ? 1e-8 : 6e-3));
    }
  made.problem["keepouts"] = {cube({0, 0, 0}, 2000)};
  const Judgement within = made.judged();
  ASSERT_EQ(within.faults.size(), 1U);
  EXPECT_NE(within.faults.front().find("into keep-out 1"), std::string::npos) << within.faults.front();
  EXPECT_EQ(test::check_route(made.problem, made.answer).faults.size(), 1U);
}

/// Of a body that the way begins at, a first stretch is left out; beyond it nothing.
TEST(Judge, LeavesOutWhatDoesNotCountAtTheEnds) {
  Case made("open-000");
  // A plate across the start: the way leaves it along y from y = -33.
  made.problem["keepouts"] = {
      {{"type", "halfspace"}, {"point", {0, -33, 0}}, {"normal", {0, -1, 0}}, {"clearance", 10}}};
  EXPECT_FALSE(made.judged().good());
  made.problem["keepouts"][0]["not_from_start"] = 41.76; // 31.75 of radius, 10 of clearance
  EXPECT_TRUE(made.judged().good());
  made.problem["keepouts"][0]["not_from_start"] = 41.74;
  EXPECT_FALSE(made.judged().good());
}

} // namespace
} // namespace bellmouth::way
