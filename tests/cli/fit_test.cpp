// SPDX-License-Identifier: GPL-3.0-or-later
// The command that fits a build to a log.
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/fit.hpp>

#include <filesystem>
#include <fstream>

namespace bellmouth::cli::test {
namespace {

namespace fs = std::filesystem;
using bellmouth::test::close;
using nlohmann::json;

const std::string demo = std::string(BELLMOUTH_DEMO_DIR) + "/1-hill-road-hatchback.json";
const std::string example = std::string(BELLMOUTH_SHARED_DIR) + "/logs/hill-road-hatchback.csv";

/// A folder of its own for each test.
class Fitting : public ::testing::Test {
protected:
  fs::path folder;

  void SetUp() override {
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    folder = fs::path(::testing::TempDir()) / ("bellmouth_fit_" + std::string(test->name()));
    fs::remove_all(folder);
    fs::create_directories(folder);
  }
  void TearDown() override { fs::remove_all(folder); }

  [[nodiscard]] std::string file_with(const std::string& text, const char* name = "log.csv") const {
    std::ofstream(folder / name, std::ios::binary) << text;
    return (folder / name).string();
  }
  [[nodiscard]] std::string file_of(const build::Build& build) const {
    const auto file = folder / "build.json";
    EXPECT_TRUE(build::save_build(file, build).has_value());
    return file.string();
  }
};

// Identity: the prompt shows what the library finds.
TEST_F(Fitting, ShowsWhatTheLibraryFinds) {
  const json found = results({"fit", demo, example, "--free", "engine-filling,filter,cooler-effectiveness"});
  const auto build = *build::load_build(demo);
  fit::Options options;
  options.free = {build::Coefficient::engine_volumetric_efficiency, build::Coefficient::filter_drop,
                  build::Coefficient::cooler_effectiveness};
  const auto log = *fit::load_log(example, build, {"smooth bends"});
  const auto wanted = *fit::fit(build, {"smooth bends"}, log, options);
  EXPECT_EQ(found["option"], "smooth bends");
  EXPECT_EQ(found["solver"]["stop"], "converged");
  EXPECT_EQ(found["readings"], wanted.readings);
  ASSERT_EQ(found["coefficients"].size(), 3U);
  const char* const words[] = {"engine-filling", "filter", "cooler-effectiveness"};
  for (std::size_t i = 0; i < 3; ++i) {
    const json& one = found["coefficients"][i];
    EXPECT_EQ(one["coefficient"], words[i]);
    EXPECT_TRUE(close(one["factor"], wanted.coefficients[i].factor, 1e-12));
    EXPECT_TRUE(close(one["low"], wanted.coefficients[i].low, 1e-12));
    EXPECT_TRUE(close(one["band"], wanted.coefficients[i].band, 1e-12));
    EXPECT_TRUE(close(found["correlation"][i][2], wanted.correlation(i, 2), 1e-9));
  }
  ASSERT_EQ(found["channels"].size(), log.channels.size());
  EXPECT_EQ(found["channels"][0]["unit"], "Pa");
  EXPECT_TRUE(close(found["channels"][0]["rms"], wanted.channel_reports[0].rms, 1e-12));
  ASSERT_EQ(found["rows"].size(), log.rows.size());
  for (const char* key : {"row", "engine_speed_rpm", "stop", "trouble", "readings"})
    EXPECT_TRUE(found["rows"][0].contains(key)) << key;
  for (const char* key :
       {"column", "measured", "predicted_before", "predicted", "residual", "sigma", "weight", "outlier"})
    EXPECT_TRUE(found["rows"][0]["readings"][0].contains(key)) << key;
  EXPECT_EQ(found["remarks"].size(), fit::remarks(wanted).size());
}

TEST_F(Fitting, PrintsTablesAndRemarks) {
  const Said said = say({"fit", demo, example});
  EXPECT_EQ(said.exit, 0) << said.err;
  EXPECT_EQ(said.err, "");
  for (const char* part : {"converged; iterations ", "Coefficients: ", "95 % from", "engine-filling",
                           "Measurements: ", "manifold_pressure_kPa", "Outliers", "96.00", "Left as found: "})
    EXPECT_TRUE(holds(said.out, part)) << part << " in:\n" << said.out;
  EXPECT_FALSE(holds(said.out, "Rows without"));
}

TEST_F(Fitting, WritesTheFittedBuild) {
  const std::string fitted = (folder / "fitted.json").string();
  const Said said = say({"fit", demo, example, "--free", "filter,engine-filling", "--out", fitted});
  ASSERT_EQ(said.exit, 0) << said.err;
  const auto build = build::load_build(fitted);
  ASSERT_TRUE(build.has_value());
  EXPECT_EQ(build->measured.size(), 2U);
  EXPECT_NE(build->find(build::Coefficient::filter_drop), nullptr);
  // It can be fitted again and stands where it was.
  const json again = results({"fit", fitted, example, "--free", "filter,engine-filling"});
  for (const json& one : again["coefficients"])
    EXPECT_TRUE(close(one["factor"], one["factor_before"].get<double>(), 1e-4));
}

TEST_F(Fitting, WritesNothingThatTheLogDoesNotDetermine) {
  const auto log =
      file_with("engine_speed_rpm,pressure_kPa behind Cone filter\n3000,98\n4000,97\n5000,96\n6000,95\n");
  const auto fitted = folder / "fitted.json";
  const auto build = file_of(bellmouth::test::sample_build());
  const Said said =
      say({"fit", build, log, "--free", "filter,cooler-effectiveness", "--out", fitted.string()});
  EXPECT_EQ(said.exit, 4);
  EXPECT_TRUE(holds(said.err, "nothing was written")) << said.err;
  EXPECT_TRUE(holds(said.out, "not determined")) << said.out;
  EXPECT_FALSE(fs::exists(fitted));
}

TEST_F(Fitting, TakesAStandardDeviation) {
  const auto sigma = [&](const char* typed) {
    const json found = results({"fit", demo, example, "--sigma", typed, "--free", "engine-filling"});
    return found["channels"][0]["sigma"].get<double>();
  };
  EXPECT_TRUE(close(sigma("blower_inlet_pressure_kPa_gauge=2"), 2000, 1e-12));
  EXPECT_TRUE(close(sigma("blower_inlet_pressure_kPa_gauge=3 mbar"), 300, 1e-12));
  EXPECT_TRUE(close(sigma("blower_inlet_pressure_kPa_gauge=1 %"), 980, 0.02)); // of about 98 kPa absolute
}

struct Wrong {
  std::vector<std::string> more;
  int exit;
  std::string part;
};

TEST_F(Fitting, RefusesWithOneComplaint) {
  const auto build = file_of(bellmouth::test::sample_build());
  const auto log = file_with("engine_speed_rpm,manifold_pressure_kPa\n3000,130\n");
  const auto bad = file_with("engine_speed_rpm,manifold_pressure_kPa\n3000,high\n", "bad.csv");
  const auto bench_file = folder / "bench.json";
  ASSERT_TRUE(build::save_build(bench_file, bellmouth::test::bench_build()).has_value());
  for (const auto& [more, exit, part] : std::vector<Wrong>{
           {{build, log, "--free", "luck"},
            2,
            "--free: found \"luck\"; accepted: what the build has: engine-filling, "},
           {{build, log, "--free", ""}, 2, "--free: found \"\"; accepted: "},
           {{build, log, "--free", "filter,filter"},
            2,
            "--free: found \"filter\"; accepted: each coefficient once"},
           {{build, log, "--sigma", "boost=1"}, 2, "--sigma: found \"boost=1\"; accepted: COLUMN=VALUE"},
           {{build, log, "--sigma", "manifold_pressure_kPa=0"}, 2, "accepted: more than 0"},
           {{build, log, "--sigma", "manifold_pressure_kPa=wide"}, 2, "--sigma"},
           {{build, log, "--option", "none"}, 2, "--option"},
           {{bench_file.string(), log},
            2,
            "BUILD: found \"a build with a fixed flow\"; accepted: a build with an engine"},
           {{build, (folder / "none.csv").string()}, 3, "none.csv"},
           {{build, bad}, 3, "bad.csv:2:6 (row 1, manifold_pressure_kPa): found \"high\""},
           {{(folder / "none.json").string(), log}, 3, "none.json"},
           {{build, log, "--free", "filter,ducts"}, 4, "fewer readings than coefficients to fit"}}) {
    std::vector<std::string> arguments{"fit"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Said said = say(arguments);
    EXPECT_EQ(said.exit, exit) << part;
    EXPECT_TRUE(holds(said.err, part)) << part << " in: " << said.err;
  }
}

} // namespace
} // namespace bellmouth::cli::test
