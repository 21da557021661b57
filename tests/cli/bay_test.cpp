// SPDX-License-Identifier: GPL-3.0-or-later
// The commands that speak of the bay: where pieces lie, what is in a mesh file.
#include "prompt.hpp"
#include "support/sample_builds.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>

namespace bellmouth {
namespace {

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
    for (const json& run : json::parse(answer.out)["runs"]) {
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
