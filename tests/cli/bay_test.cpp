// SPDX-License-Identifier: GPL-3.0-or-later
// The commands that speak of the bay: where pieces lie, what is in a mesh file.
#include "prompt.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/evaluate.hpp>

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

namespace bellmouth {
namespace {

using cli::test::Arguments;
using nlohmann::json;

std::string demo(const char* name) {
  return std::string(BELLMOUTH_DEMO_DIR) + "/" + name;
}

// Closed form: a bend of radius R and angle 90 deg with legs a and b ends R + a on and R + b aside.
TEST(PlaceCommand, SaysWhereABendEnds) {
  const auto answer = cli::test::say({"place", demo("1-hill-road-hatchback.json"), "--json"});
  ASSERT_EQ(answer.exit, 0) << answer.err;
  const json placed = json::parse(answer.out);
  const json& pieces = placed["runs"][0]["pieces"];
  ASSERT_EQ(pieces[1]["kind"], "tube_bend");
  const auto build = build::load_build(demo("1-hill-road-hatchback.json"));
  ASSERT_TRUE(build);
  const auto& bend = std::get<build::TubeBend>(build->options[0].runs[0]->pieces[1].shape);
  const double on = pieces[1]["from_mm"][0].get<double>() - pieces[1]["to_mm"][0].get<double>();
  const double aside = pieces[1]["from_mm"][1].get<double>() - pieces[1]["to_mm"][1].get<double>();
  EXPECT_NEAR(on, (bend.leg_in_m + bend.radius_m) * 1e3, 1e-9);
  EXPECT_NEAR(aside, (bend.radius_m + bend.leg_out_m) * 1e3, 1e-9);
  EXPECT_NEAR(pieces[1]["direction"][1].get<double>(), -1, 1e-12);
}

// Identity: each piece begins where the one before it ends, and the run's gap is that of its last end.
TEST(PlaceCommand, PiecesFollowEachOther) {
  for (const char* name :
       {"1-hill-road-hatchback.json", "2-family-estate.json", "3-club-day-roadster.json"}) {
    const auto answer = cli::test::say({"place", demo(name), "--json"});
    ASSERT_EQ(answer.exit, 0) << answer.err;
    const json placed = json::parse(answer.out);
    for (const json& run : placed["runs"]) {
      const json* before = nullptr;
      for (const json& piece : run["pieces"]) {
        if (!piece.contains("from_mm"))
          continue;
        if (before != nullptr) {
          EXPECT_EQ((*before)["to_mm"], piece["from_mm"]) << name;
        }
        before = &piece;
      }
      EXPECT_LT(run["end_gap_mm"].get<double>(), 1) << name;
    }
  }
}

// Closed form: a boss sits its tube's radius off the centreline, square to it.
TEST(PlaceCommand, FittingsSitOnTheWall) {
  const auto answer = cli::test::say({"place", demo("1-hill-road-hatchback.json"), "--json"});
  ASSERT_EQ(answer.exit, 0) << answer.err;
  const json placed = json::parse(answer.out);
  const json& fitting = placed["runs"][2]["pieces"][3];
  ASSERT_TRUE(fitting.contains("on_wall_mm"));
  double square = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const double off = fitting["on_wall_mm"][i].get<double>() - fitting["on_centreline_mm"][i].get<double>();
    square += off * off;
    EXPECT_NEAR(off, 63.5 / 2 * fitting["outward"][i].get<double>(), 1e-9);
  }
  EXPECT_NEAR(std::sqrt(square), 63.5 / 2, 1e-9);
}

TEST(PlaceCommand, SaysWhenNothingIsMeasured) {
  build::Build build = test::sample_build();
  for (build::Port& port : build.ports)
    port.pose = std::nullopt;
  const auto file = std::filesystem::temp_directory_path() / "bellmouth-unmeasured.json";
  ASSERT_TRUE(build::save_build(file, build));
  const auto answer = cli::test::say({"place", file.string()});
  std::filesystem::remove(file);
  EXPECT_EQ(answer.exit, 4);
  EXPECT_NE(answer.out.find("is not measured"), std::string::npos) << answer.out;
}

// Closed form: the tube of the first demo that runs down beside the radiator, 63.4 mm less its radius off it.
TEST(ClearanceCommand, TellsTheNearestOfEachPiece) {
  const auto answer = cli::test::say({"clearance", demo("1-hill-road-hatchback.json"), "--json"});
  ASSERT_EQ(answer.exit, 0) << answer.err;
  const json found = json::parse(answer.out);
  const auto build = build::load_build(demo("1-hill-road-hatchback.json"));
  ASSERT_TRUE(build);
  const json& tube = found["runs"][1]["nearest"][2];
  ASSERT_EQ(tube["index"], 2);
  ASSERT_EQ(tube["neighbour"], "radiator");
  const auto radiator = std::ranges::find(build->keep_outs, "radiator", &build::KeepOut::name);
  const auto& box = std::get<build::Box>(radiator->shape);
  const json placed =
      json::parse(cli::test::say({"place", demo("1-hill-road-hatchback.json"), "--json"}).out);
  const double axis_mm = placed["runs"][1]["pieces"][2]["from_mm"][0].get<double>();
  const auto& shape = build->options[0].runs[1]->pieces[2].shape;
  EXPECT_NEAR(
      tube["distance_mm"].get<double>(),
      (box.centre_m[0] - box.half_size_m[0]) * 1e3 - axis_mm - build::outer_diameter_in_m(shape) * 500, 1e-6);
}

TEST(ClearanceCommand, LooksAtAState) {
  const Arguments rocked{"clearance", demo("1-hill-road-hatchback.json"), "--state", "engine rocked back",
                         "--json"};
  const auto answer = cli::test::say(rocked);
  ASSERT_EQ(answer.exit, 0) << answer.err;
  const json at_rest =
      json::parse(cli::test::say({"clearance", demo("1-hill-road-hatchback.json"), "--json"}).out);
  const json found = json::parse(answer.out);
  EXPECT_EQ(found["state"], "engine rocked back");
  EXPECT_NE(found["runs"], at_rest["runs"]);
  const auto unknown = cli::test::say({"clearance", demo("1-hill-road-hatchback.json"), "--state", "flying"});
  EXPECT_EQ(unknown.exit, 2);
  EXPECT_NE(unknown.err.find("wheels at lock"), std::string::npos) << unknown.err;
}

// "All demo builds are closed and clear, except the one with deliberate mistakes": in every option and state.
TEST(ClearanceCommand, DemoBuildsAreClear) {
  for (const auto& entry : std::filesystem::directory_iterator(BELLMOUTH_DEMO_DIR)) {
    if (entry.path().extension() != ".json")
      continue;
    const auto build = build::load_build(entry.path());
    ASSERT_TRUE(build) << build.error().text();
    const bool mistakes = entry.path().filename().string().starts_with("4-");
    std::size_t too_near = 0;
    for (const build::Option& option : build->options) {
      const Evaluation evaluation = evaluate(*build, option.id);
      std::vector<std::optional<build::StateId>> states{std::nullopt};
      for (const build::BayState& state : build->states)
        states.emplace_back(state.id);
      for (const RunResult& run : evaluation.runs) {
        ASSERT_TRUE(run.meeting) << entry.path() << ' ' << run.id.text;
        EXPECT_LT(run.meeting->gap_m, 1e-3) << entry.path() << ' ' << run.id.text;
        EXPECT_LT(run.meeting->angle_rad, 0.0087) << entry.path() << ' ' << run.id.text;
      }
      for (const auto& state : states)
        for (const bay::RunClearance& run : clearances_in(*build, evaluation, state))
          too_near += static_cast<std::size_t>(
              std::ranges::count_if(run.tight, [](const bay::Gap& gap) { return gap.margin_m() < 0; }));
    }
    EXPECT_EQ(too_near > 0, mistakes) << entry.path() << ": " << too_near;
  }
}

TEST(ScanCommand, TellsSizeAndCount) {
  const auto answer = cli::test::say({"scan", demo("scans/1-inner-wing.stl"), "--json"});
  ASSERT_EQ(answer.exit, 0) << answer.err;
  const json scan = json::parse(answer.out);
  // What the file's own header and length say: 84 bytes, then 50 for each triangle.
  const auto bytes = std::filesystem::file_size(demo("scans/1-inner-wing.stl"));
  EXPECT_EQ(scan["triangles"].get<std::size_t>(), (bytes - 84) / 50);
  EXPECT_NEAR(scan["high"][0].get<double>() - scan["low"][0].get<double>(), 900, 1e-3);
}

TEST(ScanCommand, ABrokenFileIsAnError) {
  const auto file = std::filesystem::temp_directory_path() / "bellmouth-broken.stl";
  std::ofstream(file) << "solid half\n facet normal 0 0 1\n outer loop\n vertex 0 0";
  const auto answer = cli::test::say({"scan", file.string()});
  std::filesystem::remove(file);
  EXPECT_EQ(answer.exit, 3);
  EXPECT_NE(answer.err.find("accepted"), std::string::npos) << answer.err;
  EXPECT_EQ(answer.out, "");
}

} // namespace
} // namespace bellmouth
