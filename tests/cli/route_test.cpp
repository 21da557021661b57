// SPDX-License-Identifier: GPL-3.0-or-later
// The command that finds routes, through problems in files and for runs of builds.
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/route_checker.hpp"

#include <bellmouth/build.hpp>
#include <bellmouth/build/files.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>

namespace bellmouth::cli::test {
namespace {

namespace fs = std::filesystem;
using bellmouth::test::check_route;
using bellmouth::test::close;
using nlohmann::json;

std::string reference(const std::string& name) {
  return (fs::path(BELLMOUTH_REFERENCE_DIR) / "routes" / name).string();
}
json json_in(const fs::path& file) {
  return json::parse(std::ifstream(file));
}

class Routing : public ::testing::Test {
protected:
  fs::path folder;
  const std::string demo = (fs::path(BELLMOUTH_DEMO_DIR) / "1-hill-road-hatchback.json").string();

  void SetUp() override {
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    folder = fs::path(::testing::TempDir()) / ("bellmouth_route_" + std::string(test->name()));
    fs::remove_all(folder);
    fs::create_directories(folder);
  }
  void TearDown() override { fs::remove_all(folder); }

  /// A problem with something changed, as a file.
  template <class Change> std::string changed(const std::string& name, const Change& change) const {
    json problem = json_in(reference(name));
    change(problem);
    const fs::path file = folder / name;
    std::ofstream(file) << problem.dump();
    return file.string();
  }
  [[nodiscard]] std::string in_folder(const char* name) const { return (folder / name).string(); }
};

// Other method: the answers are checked apart from the program, and none costs more than the known one.
TEST_F(Routing, AnswersAProblem) {
  for (const char* name : {"open-000", "open-001", "cluttered-001"}) {
    SCOPED_TRACE(name);
    const std::string file = reference(std::string(name) + ".json"), out = in_folder("answers.json");
    const json found = results({"route", file, "--rounds", "60", "--best", "3", "--out", out});
    EXPECT_EQ(found["format"], "route-answers/1");
    EXPECT_EQ(found["problem"], name);
    ASSERT_FALSE(found["answers"].empty());
    EXPECT_LE(found["answers"].size(), 3U);
    const json problem = json_in(file);
    double last = 0;
    for (const json& answer : found["answers"]) {
      const auto check = check_route(problem, answer);
      EXPECT_TRUE(check.faults.empty()) << check.text();
      EXPECT_TRUE(close(answer["cost"], check.cost, 1e-9));
      EXPECT_TRUE(close(answer["price"], check.price, 1e-9));
      EXPECT_GE(answer["cost"].get<double>(), last);
      last = answer["cost"];
    }
    EXPECT_LE(found["answers"][0]["cost"].get<double>(),
              json_in(reference(std::string(name) + ".known.json"))["cost"].get<double>() + 1e-3);
    EXPECT_EQ(json_in(out), found);
  }
}

// Identity: what is found after so many rounds does not depend on the number of threads.
TEST_F(Routing, FindsTheSameOnAnyNumberOfThreads) {
  const Arguments arguments{"route", reference("cluttered-004.json"), "--rounds", "12", "--json"};
  Arguments alone = arguments, both = arguments;
  alone.insert(alone.end(), {"--threads", "1"});
  both.insert(both.end(), {"--threads", "3"});
  EXPECT_EQ(say(alone).out, say(both).out);
}

TEST_F(Routing, TellsPeopleAllOfIt) {
  const Said said = say({"route", reference("narrow-006.json"), "--rounds", "20", "--best", "1"});
  ASSERT_EQ(said.exit, 0) << said.err;
  for (const char* part : {"Problem narrow-006: 1 route after", "Routes", "cost", "Route 1", "straight",
                           "reducer", "M50.8-", "clocking [deg]", "Room of route 1 beyond the clearances"})
    EXPECT_TRUE(holds(said.out, part)) << part << " in:\n" << said.out;
}

TEST_F(Routing, SaysWhyThereIsNone) {
  const std::string closed = changed("open-001.json", [](json& problem) {
    // A wall all round the end port.
    problem["keepouts"].push_back({{"type", "sphere"},
                                   {"center", problem["end"]["position"]},
                                   {"radius", 100},
                                   {"clearance", 10},
                                   {"name", "wall"}});
  });
  const std::string out = in_folder("answers.json");
  const Said said = say({"route", closed, "--rounds", "8", "--out", out});
  EXPECT_EQ(said.exit, 4);
  EXPECT_TRUE(holds(said.err, "problem open-001: none was found")) << said.err;
  EXPECT_TRUE(holds(said.err, "nothing was written")) << said.err;
  EXPECT_FALSE(fs::exists(out));
  EXPECT_TRUE(results({"route", closed, "--rounds", "8"}, 4)["answers"].empty());
}

TEST_F(Routing, RefusesWhatDoesNotFit) {
  struct Wrong {
    Arguments more;
    int exit;
    std::vector<std::string> parts;
  };
  const std::string problem = reference("open-000.json");
  const std::string broken =
      changed("open-000.json", [](json& problem_json) { problem_json["start"]["od"] = -1; });
  for (const Wrong& wrong : std::vector<Wrong>{
           {{problem, "--run", "x"}, 2, {"--run", "a problem of routes"}},
           {{problem, "--over", "100"}, 2, {"--over", "a problem of routes"}},
           {{problem, "--no-cut"}, 2, {"--no-cut", "a problem of routes"}},
           {{problem, "--best", "0"}, 2, {"--best", "\"0\"", "a whole number from 1 to 100"}},
           {{problem, "--rounds", "two"}, 2, {"--rounds", "\"two\""}},
           {{problem, "--seconds", "0"}, 2, {"--seconds", "more than 0"}},
           {{problem, "--threads", "65"}, 2, {"--threads", "from 1 to 64"}},
           {{broken}, 3, {"$.start.od", "more than 0"}},
           {{in_folder("none.json")}, 3, {"none.json"}},
           {{reference("open-000.known.json"), "--run", "x"}, 3, {"$.format", "bellmouth-build/1"}},
           {{demo}, 2, {"--run", "the name of a run"}},
           {{demo, "--run", "x"}, 2, {"--run", "\"x\"", "cooler to throttle"}},
           {{demo, "--run", "blower to cooler", "--tube", "12"}, 2, {"--tube", "\"12\"", "one of"}},
           {{demo, "--run", "blower to cooler", "--keep-first", "7"}, 2, {"--keep-first", "from 0 to 6"}},
           {{demo, "--run", "blower to cooler", "--matters", "price=2 luck=1"},
            2,
            {"--matters", "\"luck=1\""}},
           {{demo, "--run", "blower to cooler", "--matters", "price=x"}, 2, {"--matters", "\"price=x\""}},
           {{demo, "--run", "blower to cooler", "--through", "1,2,3"}, 2, {"--through", "X,Y,Z,RADIUS"}},
           {{demo, "--run", "blower to cooler", "--through", "1,2,3,0"}, 2, {"--through", "more than 0"}},
           {{demo, "--run", "blower to cooler", "--under", "low"}, 2, {"--under", "low"}},
           {{demo, "--run", "blower to cooler", "--take", "6"}, 2, {"--take", "from 1 to 5"}},
           {{demo, "--run", "blower to cooler", "--name", "smooth bends"}, 2, {"--name", "smooth bends"}}}) {
    Arguments arguments{"route"};
    arguments.insert(arguments.end(), wrong.more.begin(), wrong.more.end());
    const Said said = say(arguments);
    EXPECT_EQ(said.exit, wrong.exit) << said.err;
    EXPECT_EQ(said.out, "");
    for (const std::string& part : wrong.parts)
      EXPECT_TRUE(holds(said.err, part)) << part << " in: " << said.err;
  }
}

// Identity: the figures of a route are those of the option that it is written as, by another command.
TEST_F(Routing, LaysARunOfABuildAnew) {
  const std::string out = in_folder("routed.json");
  const json found = results({"route", demo, "--run", "blower to cooler", "--rounds", "40", "--best", "3",
                              "--out", out, "--name", "anew", "--take", "1"});
  EXPECT_EQ(found["run"], "blower to cooler");
  ASSERT_FALSE(found["routes"].empty());
  const json& route = found["routes"][0];
  EXPECT_LT(route["end_gap_mm"].get<double>(), 0.11);
  ASSERT_TRUE(route["closest"].is_object());
  EXPECT_GT(route["closest"]["margin_mm"].get<double>(), -0.01);
  for (const json& each : found["routes"])
    EXPECT_FALSE(each["differs"].get<std::string>().empty());
  const auto build = build::load_build(out);
  ASSERT_TRUE(build.has_value()) << build.error().text();
  const build::Option* option = build->find(build::OptionId{"anew"});
  ASSERT_NE(option, nullptr);
  const build::Run* run = option->find(build::RunId{"blower to cooler"});
  ASSERT_NE(run, nullptr);
  EXPECT_EQ(run->pieces.size(), route["pieces"].size());
  const json placed = results({"place", out, "--option", "anew"});
  const auto its = std::ranges::find(placed["runs"], "blower to cooler",
                                     [](const json& each) { return each["name"].get<std::string>(); });
  ASSERT_NE(its, placed["runs"].end());
  EXPECT_TRUE(close((*its)["end_gap_mm"], route["end_gap_mm"], 1e-6, 1e-6));
}

// Identity: where the price alone matters, the routes come in its order.
TEST_F(Routing, PutsTheRoutesInTheOrderOfTheirFigures) {
  const json found = results({"route", demo, "--run", "blower to cooler", "--rounds", "40", "--matters",
                              "drop=0 joints=0 length=0"});
  ASSERT_GT(found["routes"].size(), 1U);
  for (const json& each : found["routes"])
    EXPECT_TRUE(close(each["cost"], each["price"], 1e-12));
  EXPECT_TRUE(std::ranges::is_sorted(found["routes"], {},
                                     [](const json& each) { return each["price"].get<double>(); }));
}

TEST_F(Routing, OfABuildIsToldToPeople) {
  const Said said = say({"route", demo, "--run", "blower to cooler", "--rounds", "40", "--best", "2",
                         "--matters", "price=2, drop=0.5"});
  ASSERT_EQ(said.exit, 0) << said.err;
  for (const char* part : {"Run blower to cooler:", "Routes", "drop [kPa]", "Route 1", "room [mm]", "stock"})
    EXPECT_TRUE(holds(said.out, part)) << part << " in:\n" << said.out;
}

// Closed form: somewhere between the ports the centreline is that high.
TEST_F(Routing, LeadsARunOverAHeight) {
  const std::string out = in_folder("routed.json");
  const auto highest = [&](const Arguments& more) {
    Arguments arguments{"route", demo,    "--run", "blower to cooler", "--rounds", "40", "--best",
                        "1",     "--out", out};
    arguments.insert(arguments.end(), more.begin(), more.end());
    EXPECT_EQ(say(arguments).exit, 0);
    double z = -1e9;
    const json placed = results({"place", out, "--option", "route"});
    for (const json& run : placed["runs"])
      if (run["name"] == "blower to cooler")
        for (const json& piece : run["pieces"])
          if (piece.contains("to_mm"))
            z = std::max(z, piece["to_mm"][2].get<double>());
    return z;
  };
  const double usual = highest({});
  // A bend may be higher in its middle than at its ends, by no more than its radius.
  EXPECT_GT(highest({"--over", written(usual + 200) + " mm"}), usual + 60);
}

TEST_F(Routing, OfABuildSaysWhyThereIsNone) {
  // No way leads through a ball far off within the longest tubes.
  const Said said = say({"route", demo, "--run", "blower to cooler", "--rounds", "4", "--most-bends", "1",
                         "--through", "9000,9000,9000,10"});
  EXPECT_EQ(said.exit, 4);
  EXPECT_TRUE(holds(said.err, "run blower to cooler: ")) << said.err;
  EXPECT_TRUE(holds(said.err, "\n  ")) << said.err;
}

} // namespace
} // namespace bellmouth::cli::test
