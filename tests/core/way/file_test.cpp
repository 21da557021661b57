// SPDX-License-Identifier: GPL-3.0-or-later
// Problems and answers as files: what is written is read back the same, and what is wrong is told once and
// clearly.
#include "support/close.hpp"
#include "support/route_examples.hpp"

#include <bellmouth/way.hpp>
#include <bellmouth/way/file.hpp>

#include <gtest/gtest.h>

#include <functional>

namespace bellmouth::way {
namespace {

using test::close, test::Json;

Problem problem_of(const std::string& text) {
  auto problem = read_problem(text, "problem.json");
  if (!problem)
    throw std::runtime_error(problem.error().text());
  return *std::move(problem);
}

Answer answer_of(const Problem& problem, const Way& way) {
  return {way, figures(problem, way), judge(problem, way), 0};
}

/// Two JSON texts hold the same. Directions in the files have 9 digits and are made unit vectors.
void expect_same(const Json& a, const Json& b, const std::string& path) {
  if (a.is_number() && b.is_number()) {
    EXPECT_TRUE(close(a.get<double>(), b.get<double>(), 1e-12, 1e-9)) << path;
    return;
  }
  ASSERT_EQ(a.type(), b.type()) << path;
  ASSERT_EQ(a.size(), b.size()) << path;
  if (!a.is_structured()) {
    EXPECT_EQ(a, b) << path;
    return;
  }
  if (a.is_array()) {
    for (std::size_t i = 0; i < a.size(); ++i)
      expect_same(a[i], b[i], path + "[" + std::to_string(i) + "]");
    return;
  }
  for (const auto& [key, value] : a.items()) {
    ASSERT_TRUE(b.contains(key)) << path << "." << key;
    expect_same(value, b.at(key), std::string(path).append(".").append(key));
  }
}

TEST(RouteFile, IsWrittenAsItWasRead) {
  for (const test::RouteExample& file : test::route_examples()) {
    SCOPED_TRACE(file.name);
    const Problem problem = problem_of(file.problem.dump());
    const std::string written = write_problem(problem);
    Json before = file.problem, after = Json::parse(written);
    for (Json* json : {&before, &after})
      for (Json& keep_out : (*json)["keepouts"])
        keep_out.erase("triangles"); // they may be turned round
    expect_same(before, after, "$");
    expect_same(Json::parse(write_problem(problem_of(written))), Json::parse(written), "$");
  }
}

TEST(RouteFile, KeepsWhatOthersDoNotWrite) {
  Json json = test::route_example("cluttered-002").problem;
  json["start"]["straight"] = 55;
  json["end"]["straight"] = 0;
  json["end"]["straight_to_silicone"] = 90;
  json["end"]["takes_silicone"] = true;
  json["stock"]["bends"][1]["owned"] = 2;
  json["keepouts"][0]["not_from_start"] = 12.5;
  json["keepouts"][0]["not_to_end"] = 7;
  for (Json& keep_out : json["keepouts"])
    if (keep_out["type"] == "mesh") {
      keep_out["closed"] = false;
      keep_out["triangles"].erase(3);
    }
  json["keepouts"].push_back({{"type", "pipe"},
                              {"a", {1, 2, 3}},
                              {"b", {4, 5, 600}},
                              {"radius_a", 20},
                              {"radius_b", 25},
                              {"clearance", 6},
                              {"name", "cold side"}});
  json["waypoints"] = {
      {{"type", "halfspace"}, {"point", {0, 0, 100}}, {"normal", {0, 0, 1}}, {"name", "over"}},
      {{"type", "sphere"}, {"center", {0, 0, 1}}, {"radius", 3}}};
  const Problem problem = problem_of(json.dump());
  EXPECT_DOUBLE_EQ(problem.start.straight_m, 0.055);
  EXPECT_DOUBLE_EQ(problem.end.straight_m, 0);
  EXPECT_DOUBLE_EQ(problem.end.straight_to_silicone_m, 0.09);
  EXPECT_TRUE(problem.end.takes_silicone);
  EXPECT_FALSE(problem.start.takes_silicone);
  EXPECT_EQ(problem.bends[1].owned, 2);
  EXPECT_DOUBLE_EQ(problem.keep_outs[0].not_from_start_m, 0.0125);
  ASSERT_EQ(problem.waypoints.size(), 2U);
  EXPECT_EQ(problem.waypoints[0].name, "over");
  EXPECT_EQ(write_problem(problem_of(write_problem(problem))), write_problem(problem));
  EXPECT_EQ(validate(problem), std::nullopt);
}

TEST(RouteFile, OfAnswersIsReadAsItWasWritten) {
  for (const test::RouteExample& file : test::route_examples()) {
    SCOPED_TRACE(file.name);
    const Problem problem = problem_of(file.problem.dump());
    const auto ways = read_answers(problem, file.known.dump(), "known.json");
    ASSERT_TRUE(ways.has_value()) << ways.error().text();
    const Answer answer = answer_of(problem, ways->front());
    const std::string written = write_answers(problem, {answer, answer});
    const Json json = Json::parse(written), text = file.problem;
    for (const Json& one : json.at("answers")) {
      const test::RouteCheck check = test::check_route(text, one);
      EXPECT_TRUE(check.faults.empty()) << check.text();
      EXPECT_TRUE(close(one.at("cost"), check.cost, 1e-9));
      EXPECT_TRUE(close(one.at("length"), check.length_mm, 1e-9));
    }
    const auto again = read_answers(problem, written, "written.json");
    ASSERT_TRUE(again.has_value()) << again.error().text();
    ASSERT_EQ(again->size(), 2U);
    for (const Way& way : *again) {
      EXPECT_TRUE(same(problem, way, ways->front()));
      ASSERT_EQ(way.turns.size(), ways->front().turns.size());
      for (std::size_t i = 0; i < way.turns.size(); ++i) {
        EXPECT_TRUE(close(way.turns[i].angle_rad, ways->front().turns[i].angle_rad, 1e-13));
        EXPECT_EQ(way.turns[i].lost_leg, ways->front().turns[i].lost_leg);
      }
      EXPECT_TRUE(close(figures(problem, way).cost, answer.figures.cost, 1e-12));
      EXPECT_EQ(way.reduction.has_value(), ways->front().reduction.has_value());
    }
  }
}

TEST(RouteFile, CutBendThatDoesNotSayLostItsLegBehind) {
  const Problem problem = problem_of(test::route_example("open-001").problem.dump());
  Json json = test::route_example("open-001").known;
  json["pieces"][1].erase("lost_leg");
  const auto ways = read_answers(problem, json.dump(), "known.json");
  ASSERT_TRUE(ways.has_value()) << ways.error().text();
  EXPECT_EQ(ways->front().turns[0].lost_leg, Leg::out);
}

struct Wrong {
  const char* what;
  std::function<void(Json&)> spoil;
  std::string path, accepted; ///< of the one error
};
void PrintTo(const Wrong& wrong, std::ostream* out) {
  *out << wrong.what;
}

class WrongProblem : public testing::TestWithParam<Wrong> {};

TEST_P(WrongProblem, IsToldOnceWithItsPlace) {
  Json json = test::route_example("cluttered-002").problem;
  GetParam().spoil(json);
  const auto problem = read_problem(json.dump(1), "problem.json");
  ASSERT_FALSE(problem.has_value());
  const Error& error = problem.error();
  EXPECT_EQ(error.place.path, GetParam().path) << error.text();
  EXPECT_NE(error.accepted.find(GetParam().accepted), std::string::npos) << error.text();
  EXPECT_EQ(error.place.file, "problem.json");
  EXPECT_GT(error.place.line, 0);
  EXPECT_FALSE(error.found.empty());
}

Json* keep_out(Json& json, const char* type) {
  for (Json& one : json["keepouts"])
    if (one["type"] == type)
      return &one;
  throw std::runtime_error("no such keep-out");
}

const std::vector<Wrong> wrong_problems{
    {"Format", [](Json& json) { json["format"] = "route-problem/2"; }, "$.format", "\"route-problem/1\""},
    {"Inches", [](Json& json) { json["units"]["length"] = "in"; }, "$.units.length", "\"mm\""},
    {"UnknownKey", [](Json& json) { json["stock"]["clips"] = 1; }, "$.stock.clips", "the keys bends, joint"},
    {"UnknownKeyAtTheTop", [](Json& json) { json["keepout"] = Json::array(); }, "$.keepout", "keepouts"},
    {"MissingKey", [](Json& json) { json["start"].erase("od"); }, "$.start", "the key \"od\""},
    {"MissingObject", [](Json& json) { json.erase("stock"); }, "$", "the key \"stock\""},
    {"TextForNumber", [](Json& json) { json["start"]["od"] = "60"; }, "$.start.od", "a length in mm"},
    {"NumberForObject", [](Json& json) { json["start"] = 3; }, "$.start", "an object"},
    {"ListForObject", [](Json& json) { json["rules"] = Json::array(); }, "$.rules", "an object"},
    {"NullForNumber", [](Json& json) { json["stock"]["joint"]["price"] = nullptr; }, "$.stock.joint.price",
     "a number"},
    {"ShortVector", [](Json& json) { json["end"]["position"].erase(2); }, "$.end.position", "[x, y, z]"},
    {"LongDirection",
     [](Json& json) {
       json["end"]["direction"] = {0, 0, 1.00001};
     },
     "$.end.direction", "length 1"},
    {"SlantedReference", [](Json& json) { json["start"]["reference"] = json["start"]["direction"]; },
     "$.start.reference", "at right angles"},
    {"NoDiameter", [](Json& json) { json["start"]["od"] = 0; }, "$.start.od", "more than 0"},
    {"OtherDiameterWithoutReducer", [](Json& json) { json["end"]["od"] = 50.8; }, "$.stock.reducer",
     "a reducer"},
    {"Mount", [](Json& json) { json["end"]["mount"] = "wing"; }, "$.end.mount",
     "one of \"engine\", \"body\""},
    {"BendKind", [](Json& json) { json["stock"]["bends"][2]["kind"] = "cast"; }, "$.stock.bends[2].kind",
     "one of \"mandrel\""},
    {"BendRadius", [](Json& json) { json["stock"]["bends"][2]["clr"] = -1; }, "$.stock.bends[2].clr",
     "more than 0"},
    {"BendAngle", [](Json& json) { json["stock"]["bends"][2]["angle"] = 181; }, "$.stock.bends[2].angle",
     "at most 180"},
    {"BendTwice", [](Json& json) { json["stock"]["bends"][2]["id"] = json["stock"]["bends"][0]["id"]; },
     "$.stock.bends[2].id", "no bend before it"},
    {"HalfABend", [](Json& json) { json["rules"]["max_bends"] = 4.5; }, "$.rules.max_bends", "whole number"},
    {"LessThanMostBends", [](Json& json) { json["rules"]["min_bends"] = 6; }, "$.rules.min_bends",
     "max_bends, 5"},
    {"TruthOfCutting", [](Json& json) { json["rules"]["bends_may_be_cut"] = 1; }, "$.rules.bends_may_be_cut",
     "true or false"},
    {"NegativeWeight", [](Json& json) { json["weights"]["loss"] = -1; }, "$.weights.loss", "from 0 on"},
    {"Far", [](Json& json) { json["start"]["position"][1] = 2e6; }, "$.start.position[1]", "1000000"},
    {"KeepOutType", [](Json& json) { (*keep_out(json, "sphere"))["type"] = "torus"; }, "$.keepouts[6].type",
     "one of \"box\""},
    {"KeepOutWithoutType", [](Json& json) { keep_out(json, "sphere")->erase("type"); }, "$.keepouts[6]",
     "\"type\""},
    {"KeyOfAnotherType", [](Json& json) { (*keep_out(json, "sphere"))["half"] = 1; }, "$.keepouts[6].half",
     "the keys center"},
    {"NegativeClearance", [](Json& json) { json["keepouts"][3]["clearance"] = -5; },
     "$.keepouts[3].clearance", "from 0 on"},
    {"PointedCylinder",
     [](Json& json) { (*keep_out(json, "cylinder"))["b"] = (*keep_out(json, "cylinder"))["a"]; },
     "$.keepouts[13].b", "not that of a"},
    {"SkewBox",
     [](Json& json) {
       (*keep_out(json, "box"))["axes"] = {{1, 0, 0}, {0, 1, 0}, {0, 0.6, 0.8}};
     },
     "$.keepouts[7].axes", "right angles"},
    {"OpenMesh", [](Json& json) { (*keep_out(json, "mesh"))["triangles"].erase(0); },
     "$.keepouts[11].triangles[3]", "a closed surface"},
    {"MeshIndex", [](Json& json) { (*keep_out(json, "mesh"))["triangles"][5][1] = 42; },
     "$.keepouts[11].triangles[5]", "from 0 to 41"},
    {"FlatTriangle",
     [](Json& json) {
       (*keep_out(json, "mesh"))["triangles"][5] = {3, 3, 4};
     },
     "$.keepouts[11].triangles[5]", "an area"},
    {"WaypointOfMesh",
     [](Json& json) {
       json["waypoints"] = {{{"type", "mesh"}}};
     },
     "$.waypoints[0].type", "one of \"box\""},
};
INSTANTIATE_TEST_SUITE_P(Of, WrongProblem, testing::ValuesIn(wrong_problems),
                         [](const auto& wrong) { return std::string(wrong.param.what); });

class WrongAnswer : public testing::TestWithParam<Wrong> {};

TEST_P(WrongAnswer, IsToldOnceWithItsPlace) {
  const Problem problem = problem_of(test::route_example("narrow-006").problem.dump());
  Json json = test::route_example("narrow-006").known;
  ASSERT_TRUE(read_answers(problem, json.dump(), "answer.json").has_value());
  GetParam().spoil(json);
  const auto ways = read_answers(problem, json.dump(1), "answer.json");
  ASSERT_FALSE(ways.has_value());
  EXPECT_EQ(ways.error().place.path, GetParam().path) << ways.error().text();
  EXPECT_NE(ways.error().accepted.find(GetParam().accepted), std::string::npos) << ways.error().text();
}

// Its pieces: straight, reducer, straight, bend, straight, bend, straight.
const std::vector<Wrong> wrong_answers{
    {"Format", [](Json& json) { json["format"] = "route-problem/1"; }, "$.format", "\"route-answers/1\""},
    {"NoPieces", [](Json& json) { json.erase("pieces"); }, "$", "\"pieces\""},
    {"Type", [](Json& json) { json["pieces"][0]["type"] = "hose"; }, "$.pieces[0].type",
     "one of \"straight\""},
    {"Diameter", [](Json& json) { json["pieces"][2]["od"] = 60.3; }, "$.pieces[2].od",
     "50.8, the diameter of the tube there"},
    {"NotInStock", [](Json& json) { json["pieces"][3]["stock"] = "M1"; }, "$.pieces[3].stock", "in stock"},
    {"OtherRadius", [](Json& json) { json["pieces"][3]["clr"] = 51; }, "$.pieces[3].clr", "50.8"},
    {"NoAngle", [](Json& json) { json["pieces"][3]["angle"] = 0; }, "$.pieces[3].angle", "more than 0"},
    {"LostLeg", [](Json& json) { json["pieces"][3]["lost_leg"] = "left"; }, "$.pieces[3].lost_leg",
     "one of \"in\""},
    {"Backwards", [](Json& json) { json["pieces"][0]["length"] = -1; }, "$.pieces[0].length", "from 0 on"},
    {"LongReducer", [](Json& json) { json["pieces"][1]["length"] = 77; }, "$.pieces[1].length", "76"},
    {"ReducerTheOtherWay", [](Json& json) { json["pieces"][1]["od_in"] = 50.8; }, "$.pieces[1].od_in",
     "60.3"},
    {"UnknownKey", [](Json& json) { json["pieces"][0]["colour"] = "red"; }, "$.pieces[0].colour",
     "the keys length"},
};
INSTANTIATE_TEST_SUITE_P(Of, WrongAnswer, testing::ValuesIn(wrong_answers),
                         [](const auto& wrong) { return std::string(wrong.param.what); });

/// Bytes changed, left out, doubled or cut off in many ways: always a problem that holds or one error.
TEST(RouteFile, SurvivesDamage) {
  const std::string whole = test::route_example("open-000").problem.dump(1);
  ASSERT_TRUE(read_problem(whole, "whole").has_value());
  std::uint32_t state = 12345;
  const auto below = [&](std::size_t count) {
    state = state * 1664525U + 1013904223U;
    return static_cast<std::size_t>(state >> 8U) % count;
  };
  constexpr std::string_view marks = "0123456789-+.eE\"{}[],:tfnu\\ \n\x80\xff";
  std::size_t refused = 0;
  constexpr std::size_t tries = 4000;
  for (std::size_t i = 0; i < tries; ++i) {
    std::string text = whole;
    for (std::size_t change = 0; change <= below(3); ++change) {
      const std::size_t at = below(text.size()), length = 1 + below(12);
      switch (below(4)) {
      case 0:
        text[at] = marks[below(marks.size())];
        break;
      case 1:
        text.erase(at, length);
        break;
      case 2:
        text.insert(at, text.substr(below(text.size()), length));
        break;
      default:
        if (below(8) == 0)
          text.resize(at + 1);
      }
    }
    const auto problem = read_problem(text, "damaged");
    if (problem) {
      EXPECT_EQ(validate(*problem), std::nullopt);
      continue;
    }
    ++refused;
    EXPECT_FALSE(problem.error().found.empty());
    EXPECT_FALSE(problem.error().accepted.empty());
  }
  EXPECT_GT(refused, tries / 2);
  EXPECT_LT(refused, tries);
}

TEST(RouteFile, TellsProblemsFromBuilds) {
  EXPECT_TRUE(is_problem(test::route_example("open-000").problem.dump()));
  EXPECT_TRUE(is_problem(R"({"format": "route-problem/2"})"));
  EXPECT_FALSE(is_problem(test::route_example("open-000").known.dump()));
  EXPECT_FALSE(is_problem("{}"));
  EXPECT_FALSE(is_problem("[3]"));
  EXPECT_FALSE(is_problem("no JSON"));
}

} // namespace
} // namespace bellmouth::way
