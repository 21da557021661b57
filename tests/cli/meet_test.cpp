// SPDX-License-Identifier: GPL-3.0-or-later
// The command that brings a run onto its port.
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/random_chains.hpp"

#include <filesystem>

namespace bellmouth::cli::test {
namespace {

namespace fs = std::filesystem;
using bellmouth::test::bend;
using bellmouth::test::close;
using bellmouth::test::mm;
using bellmouth::test::straight;
using nlohmann::json;

/// A folder of its own for each test, with a run of two tubes and a bend in it.
class Meeting : public ::testing::Test {
protected:
  fs::path folder;

  void SetUp() override {
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    folder = fs::path(::testing::TempDir()) / ("bellmouth_meet_" + std::string(test->name()));
    fs::remove_all(folder);
    fs::create_directories(folder);
  }
  void TearDown() override { fs::remove_all(folder); }

  /// Its port is `first_mm` + 95 on and `last_mm` + 95 up, where a bend of 90 degrees leads; the tubes are
  /// 100 mm long.
  [[nodiscard]] static build::Build corner(double first_mm, double last_mm) {
    return bellmouth::test::one_run({{0, 0, 0}, {1, 0, 0}},
                                    {{mm(first_mm + 95), 0, mm(last_mm + 95)}, {0, 0, -1}},
                                    {straight(100), bend(90, 0), straight(100)});
  }
  [[nodiscard]] std::string file_of(const build::Build& build) const {
    const auto file = folder / "build.json";
    const auto saved = build::save_build(file, build);
    EXPECT_TRUE(saved.has_value()) << (saved ? "" : saved.error().text());
    return file.string();
  }
};

// Closed form: the tubes become as long as the corner wants.
TEST_F(Meeting, BringsTheEndOntoThePort) {
  const json found = results({"meet", file_of(corner(173, 241)), "--run", "run"});
  EXPECT_EQ(found["option"], "only");
  EXPECT_EQ(found["run"], "run");
  EXPECT_EQ(found["stop"], "met");
  EXPECT_EQ(found["met"], true);
  EXPECT_TRUE(close(found["before"]["gap_mm"], std::hypot(73, 141), 1e-9));
  EXPECT_LT(found["after"]["gap_mm"].get<double>(), 1e-4);
  ASSERT_EQ(found["changes"].size(), 2U);
  EXPECT_EQ(found["changes"][0]["index"], 0);
  EXPECT_EQ(found["changes"][1]["index"], 2);
  EXPECT_EQ(found["changes"][1]["what"], "length");
  EXPECT_TRUE(close(found["changes"][1]["from_mm"], 100, 1e-12));
  EXPECT_TRUE(close(found["changes"][1]["to_mm"], 241, 1e-8));
  EXPECT_EQ(found["free"].size(), 4U); // the tubes, and clocking and cut of the bend
  for (const char* key : {"in_the_way", "binding", "help", "without_stock"})
    EXPECT_TRUE(found[key].empty()) << key;
}

TEST_F(Meeting, WritesTheChangedBuild) {
  const std::string met = (folder / "met.json").string();
  const Said said = say({"meet", file_of(corner(173, 241)), "--run", "run", "--out", met});
  ASSERT_EQ(said.exit, 0) << said.err;
  for (const char* part : {"Run run: the run meets its port", "before: 158.777 mm and 0.000 deg off the port",
                           "after: 0.000 mm", "Changes", "241.00 mm", "73.00 mm"})
    EXPECT_TRUE(holds(said.out, part)) << part << " in:\n" << said.out;
  const auto build = build::load_build(met);
  ASSERT_TRUE(build.has_value());
  const auto& run = bellmouth::test::the_run(*build);
  EXPECT_TRUE(close(build::full_length_m(run.pieces[0].shape), mm(173), 1e-9));
  EXPECT_TRUE(results({"meet", met, "--run", "run"})["changes"].empty());
}

// Closed form: a limit of 150 mm on a tube that needs 173.
TEST_F(Meeting, TakesLimitsAndSaysWhatWouldHelp) {
  const std::string file = file_of(corner(173, 241)), out = (folder / "met.json").string();
  const Arguments arguments{"meet",  file, "--run", "run", "--hold", "2", "--move", "1 length 4 cm..150",
                            "--out", out};
  const Said said = say(arguments);
  EXPECT_EQ(said.exit, 4);
  EXPECT_TRUE(
      holds(said.err, "run run: the run cannot meet its port within these limits; nothing was written"))
      << said.err;
  for (const char* part : {"as near as it comes: 23.000 mm", "Limits in the way", "at most", "150.00 mm",
                           "row 1 (tube): 23 mm more length than its limit of 150 mm"})
    EXPECT_TRUE(holds(said.out, part)) << part << " in:\n" << said.out;
  EXPECT_FALSE(fs::exists(out));

  const json found = results(arguments, 4);
  EXPECT_EQ(found["stop"], "out_of_reach");
  ASSERT_EQ(found["binding"].size(), 1U);
  EXPECT_EQ(found["binding"][0]["limit"], "high");
  EXPECT_TRUE(close(found["binding"][0]["at_mm"], 150, 1e-12));
  EXPECT_TRUE(close(found["free"][0]["low_mm"], 40, 1e-12));
  ASSERT_FALSE(found["help"].empty());
  const json& help = found["help"].back();
  EXPECT_TRUE(close(help["freedom"]["high_mm"], 173, 1e-9));
  EXPECT_LT(help["after"]["gap_mm"].get<double>(), 0.1);
  // The limit that helps does help.
  EXPECT_EQ(results({"meet", file, "--run", "run", "--hold", "all", "--move", "1 length 40mm..173mm",
                     "--move", "3 length 40..300"})["met"],
            true);
}

// Closed form: the end is 22.4 mm off; that is enough where as much is allowed.
TEST_F(Meeting, TakesTolerances) {
  const std::string file = file_of(corner(122.4, 100));
  const Arguments held{"meet", file, "--run", "run", "--hold", "all"};
  const auto with = [&](Arguments more) {
    Arguments all = held;
    all.insert(all.end(), more.begin(), more.end());
    return say(all).exit;
  };
  EXPECT_EQ(with({}), 4);
  EXPECT_EQ(with({"--tolerance", "2.2 cm"}), 4);
  EXPECT_EQ(with({"--tolerance", "22.5"}), 0);
  EXPECT_EQ(with({"--tolerance", "22.5", "--angle-tolerance", "0.01 deg"}), 0);
}

// Closed form: the end stands 3.95 mm under a lid, less the tube's radius of 31.75 mm.
TEST_F(Meeting, SaysWhatStandsInTheWay) {
  auto build = corner(173, 241);
  build.keep_outs = {
      {.name = "lid", .clearance_m = mm(10), .shape = build::HalfSpace{{0, 0, mm(339.95)}, {0, 0, 1}}}};
  const Arguments arguments{"meet", file_of(build), "--run", "run", "--hold", "2"};
  const Said said = say(arguments);
  EXPECT_EQ(said.exit, 4);
  EXPECT_TRUE(holds(said.out, "in the way: row 3 (tube) reaches 27.8 mm into lid; 10.0 mm off it are wanted"))
      << said.out;
  EXPECT_TRUE(holds(said.err, "something stands in the way")) << said.err;
  const json found = results(arguments, 4);
  EXPECT_EQ(found["stop"], "not_clear");
  EXPECT_EQ(found["in_the_way"][0]["neighbour"], "lid");
  EXPECT_TRUE(close(found["in_the_way"][0]["distance_mm"], 3.95 - 31.75, 1e-6));
  EXPECT_TRUE(close(found["tightest_before"]["margin_mm"], 339.95 - 195 - 31.75 - 10, 1e-6));
  Arguments regardless = arguments;
  regardless.emplace_back("--ignore-clearance");
  EXPECT_EQ(say(regardless).exit, 0);
}

struct Wrong {
  std::vector<std::string> more;
  int exit;
  std::string part;
};

TEST_F(Meeting, RefusesWithOneComplaint) {
  const std::string file = file_of(corner(173, 241));
  auto unmeasured = corner(173, 241);
  unmeasured.ports[1].pose.reset();
  const auto unmeasured_file = folder / "unmeasured.json";
  ASSERT_TRUE(build::save_build(unmeasured_file, unmeasured).has_value());
  for (const auto& [more, exit, part] : std::vector<Wrong>{
           {{file, "--run", "none"}, 2, "--run: found \"none\"; accepted: run"},
           {{file, "--run", "run", "--option", "none"}, 2, "--option: found \"none\""},
           {{file, "--run", "run", "--move", "1 length"},
            2,
            "--move: found \"1 length\"; accepted: \"ROW WHAT LOW..HIGH\""},
           {{file, "--run", "run", "--move", "0 length 1..2"},
            2,
            "--move: found \"0\"; accepted: a row from 1 to 3"},
           {{file, "--run", "run", "--move", "4 length 1..2"}, 2, "accepted: a row from 1 to 3"},
           {{file, "--run", "run", "--move", "1 angle 1..2"},
            2,
            "--move: found \"angle\"; accepted: of a tube: length"},
           {{file, "--run", "run", "--move", "1 length 40 deg..50"}, 2, "--move"},
           {{file, "--run", "run", "--move", "1 length 40..wide"}, 2, "--move"},
           {{file, "--run", "run", "--move", "1 length 50..40"},
            2,
            "--move: found 50 mm to 40 mm; accepted: limits in order"},
           {{file, "--run", "run", "--move", "2 angle 0..400"}, 2, "accepted: limits in order"},
           {{file, "--run", "run", "--hold", ""},
            2,
            "--hold: found \"\"; accepted: \"ROW WHAT\", \"ROW\" or \"all\""},
           {{file, "--run", "run", "--hold", "2 weight"},
            2,
            "--hold: found \"weight\"; accepted: of a tube bend: leg_in"},
           {{file, "--run", "run", "--tolerance", "0"},
            2,
            "--tolerance: found \"0\"; accepted: at least 0.0001 mm"},
           {{file, "--run", "run", "--angle-tolerance", "2 mm"}, 2, "--angle-tolerance"},
           {{(folder / "none.json").string(), "--run", "run"}, 3, "none.json"},
           {{file, "--run", "run", "--out", (folder / "no" / "where.json").string()}, 3, "where.json"},
           {{unmeasured_file.string(), "--run", "run"}, 4, "run run: a port of the run is not measured"}}) {
    Arguments arguments{"meet"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Said said = say(arguments);
    EXPECT_EQ(said.exit, exit) << part;
    EXPECT_TRUE(holds(said.err, part)) << part << " in: " << said.err;
  }
}

// A build that is saved elsewhere still finds its scan.
TEST_F(Meeting, NamesScansFromWhereTheNewBuildLies) {
  const std::string demo = std::string(BELLMOUTH_DEMO_DIR) + "/1-hill-road-hatchback.json";
  const auto file = folder / "new.json";
  const Said said = say({"meet", demo, "--run", "cooler to throttle", "--out", file.string()});
  ASSERT_EQ(said.exit, 0) << said.err;
  const auto build = build::load_build(file);
  ASSERT_TRUE(build) << build.error().text();
  std::size_t scans = 0;
  for (const build::KeepOut& keep_out : build->keep_outs)
    if (const auto* scan = std::get_if<build::Scan>(&keep_out.shape)) {
      ++scans;
      EXPECT_TRUE(scan->loaded) << scan->problem;
    }
  EXPECT_EQ(scans, 1U);
}

} // namespace
} // namespace bellmouth::cli::test
