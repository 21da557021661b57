// SPDX-License-Identifier: GPL-3.0-or-later
// The commands that work on a build: keys, values, exit codes. Their values are those of the one door,
// evaluate().
#include "command_folder.hpp"
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/buy/sawing.hpp>
#include <bellmouth/evaluate.hpp>

#include <filesystem>
#include <fstream>

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;
using nlohmann::json;

using Commands = CommandFolder;
namespace fs = std::filesystem;

/// The sample with a throttle through which next to nothing gets.
build::Build choking_build() {
  build::Build build = bellmouth::test::sample_build();
  for (build::Machine& machine : build.machines)
    if (auto* throttle = std::get_if<machine::Throttle>(&machine.kind))
      throttle->bore_m = 8e-3;
  return build;
}

void expect_keys(const json& object, const std::vector<const char*>& keys) {
  for (const char* key : keys)
    EXPECT_TRUE(object.contains(key)) << key << " in " << object.dump().substr(0, 400);
}

TEST_F(Commands, EvaluateHasTheKeysThatOthersReadBy) {
  const json found = results({"evaluate", file_of(bellmouth::test::sample_build())});
  expect_keys(found, {"option", "engine_speed_rpm", "mass_flow_kg_s", "manifold", "blower", "duct_volume_m3",
                      "duct_pressure_drop_Pa", "runs", "pieces", "machines", "findings", "totals", "solver"});
  expect_keys(found["manifold"], {"pressure_Pa", "temperature_K"});
  expect_keys(found["blower"], {"pressure_ratio", "outlet_temperature_K", "drive_power_W"});
  expect_keys(found["solver"], {"stop", "residual", "iterations"});
  expect_keys(found["totals"], {"currency", "total", "owned_value", "left", "unpriced"});
  ASSERT_EQ(found["runs"].size(), 3);
  for (const json& run : found["runs"])
    expect_keys(run, {"name", "total_pressure_drop_Pa", "total_pressure_drop_low_Pa",
                      "total_pressure_drop_high_Pa", "length_mm", "volume_m3", "peak_mach", "end_gap_mm",
                      "end_angle_deg", "min_clearance_mm", "tightest"});
  ASSERT_EQ(found["pieces"].size(), 4 + 6 + 6);
  for (const json& piece : found["pieces"])
    expect_keys(piece, {"run", "index", "kind", "inner_diameter_mm", "centreline_length_mm", "velocity_m_s",
                        "mach", "reynolds", "loss_coefficient", "total_pressure_drop_Pa",
                        "static_pressure_Pa", "total_temperature_K"});
  ASSERT_EQ(found["machines"].size(), 4);
  for (const json& machine : found["machines"])
    expect_keys(machine,
                {"id", "name", "kind", "total_pressure_drop_Pa", "pressure_ratio", "inlet", "outlet"});
  ASSERT_FALSE(found["findings"].empty());
  for (const json& finding : found["findings"])
    expect_keys(finding, {"rule", "severity", "where", "message", "reason"});
}

// Identity: the prompt shows what the door gives, in the units of the keys.
TEST_F(Commands, EvaluateShowsWhatTheDoorGives) {
  const std::string file = file_of(bellmouth::test::sample_build());
  const build::Build build = *build::load_build(file); // with what the reader says of the scan
  const json found = results({"evaluate", file, "--option", "wide", "--rpm", "3000"});
  const Evaluation wanted = evaluate(build, {"wide"}, 50.0);
  const auto near = [](const json& value, double other) { return close(value.get<double>(), other, 1e-12); };
  EXPECT_EQ(found["option"], "wide");
  EXPECT_TRUE(near(found["engine_speed_rpm"], 3000));
  EXPECT_TRUE(near(found["mass_flow_kg_s"], wanted.path.point.mass_flow_kg_s));
  EXPECT_TRUE(near(found["manifold"]["pressure_Pa"], wanted.path.point.manifold_pressure_Pa));
  EXPECT_TRUE(near(found["blower"]["pressure_ratio"], wanted.path.machines[1].pressure_ratio));
  EXPECT_TRUE(near(found["runs"][2]["length_mm"], wanted.runs[2].length_m * 1000));
  EXPECT_TRUE(near(found["pieces"][5]["mach"], wanted.runs[1].flow.rows[1].inlet.station.mach));
  const buy::Purchase purchase = buy::purchase(build, {"wide"});
  EXPECT_EQ(found["findings"].size(), findings(build, wanted, purchase).size());
  EXPECT_TRUE(near(found["totals"]["total"], static_cast<double>(purchase.totals.total.minor) / 100));
}

// Identity: pieces add up to runs, runs to the whole; bands hold the figure.
TEST_F(Commands, EvaluateAddsUp) {
  const json found = results({"evaluate", file_of(bellmouth::test::sample_build())});
  double whole_Pa = 0, volume_m3 = 0;
  for (const json& run : found["runs"]) {
    double drop_Pa = 0;
    for (const json& piece : found["pieces"])
      if (piece["run"] == run["name"])
        drop_Pa += piece["total_pressure_drop_Pa"].get<double>();
    EXPECT_TRUE(close(drop_Pa, run["total_pressure_drop_Pa"].get<double>(), 1e-9)) << run["name"];
    EXPECT_LT(run["total_pressure_drop_low_Pa"], run["total_pressure_drop_Pa"]);
    EXPECT_GT(run["total_pressure_drop_high_Pa"], run["total_pressure_drop_Pa"]);
    whole_Pa += run["total_pressure_drop_Pa"].get<double>();
    volume_m3 += run["volume_m3"].get<double>();
  }
  EXPECT_TRUE(close(found["duct_pressure_drop_Pa"].get<double>(), whole_Pa, 1e-12));
  EXPECT_TRUE(close(found["duct_volume_m3"].get<double>(), volume_m3, 1e-12));
}

// Closed form: on a flow bench the coefficient of a straight tube is f L / D, f that of `calc` at the same
// Reynolds number.
TEST_F(Commands, EvaluateAndCalcAgreeOnATube) {
  const json found = results({"evaluate", file_of(bellmouth::test::bench_build())});
  const json& tube = found["pieces"][0];
  EXPECT_TRUE(found["engine_speed_rpm"].is_null());
  EXPECT_TRUE(found["blower"]["pressure_ratio"].is_null());
  const double bore_mm = tube["inner_diameter_mm"].get<double>();
  const double roughness = loss::roughness_m(loss::Surface::drawn_metal) / (bore_mm * 1e-3);
  const json friction = results({"calc", "friction-factor", "--reynolds", tube["reynolds"].dump(),
                                 "--relative-roughness", json(roughness).dump()});
  EXPECT_TRUE(close(tube["loss_coefficient"].get<double>(),
                    friction["darcy_friction_factor"].get<double>() * 500 / bore_mm, 0.01));
}

TEST_F(Commands, WhatIsNotKnownIsNullAndADash) {
  const std::string file = file_of(bellmouth::test::compressor_build()); // ports not measured
  const json found = results({"evaluate", file});
  ASSERT_EQ(found["runs"].size(), 2);
  for (const json& run : found["runs"])
    for (const char* key : {"end_gap_mm", "end_angle_deg", "min_clearance_mm", "tightest"})
      EXPECT_TRUE(run[key].is_null()) << key;
  const Said said = say({"evaluate", file});
  EXPECT_EQ(said.exit, 0);
  const std::string line = said.out.substr(said.out.find("\nintake ") + 1);
  EXPECT_TRUE(line.substr(0, line.find('\n')).ends_with("-")) << line;
}

TEST_F(Commands, EvaluateIsReadableWithoutColours) {
  const Said said = say({"evaluate", file_of(bellmouth::test::sample_build())});
  EXPECT_EQ(said.exit, 0);
  EXPECT_EQ(said.err, "");
  for (const char* part :
       {"Blower on a small four, option small", "Operating point", "Machines", "Two-lobe blower", "Runs",
        "hot_side", "Pieces", "crossover", "bore [mm]", "Findings", "solver: converged"})
    EXPECT_TRUE(holds(said.out, part)) << part;
  EXPECT_FALSE(holds(said.out, "\x1b"));
}

TEST_F(Commands, ASpeedBeyondTheEngineIsRemarkedOn) {
  const std::string file = file_of(bellmouth::test::sample_build());
  const Said said = say({"evaluate", file, "--rpm", "200 rev/s"});
  EXPECT_EQ(said.exit, 0);
  EXPECT_TRUE(holds(said.err, "12000 rpm lies outside the engine's")) << said.err;
  EXPECT_EQ(say({"evaluate", file, "--rpm", "3000"}).err, "");
}

TEST_F(Commands, SweepHasARowForEachSpeed) {
  const build::Build build = bellmouth::test::sample_build();
  const std::string file = file_of(build);
  const json found = results({"sweep", file, "--from", "2000", "--to", "4100", "--step", "500"});
  ASSERT_EQ(found["rows"].size(), 6);
  const double speeds[] = {2000, 2500, 3000, 3500, 4000, 4100};
  for (std::size_t i = 0; i < 6; ++i)
    EXPECT_TRUE(close(found["rows"][i]["engine_speed_rpm"].get<double>(), speeds[i], 1e-12));
  const json alone = results({"evaluate", file, "--rpm", "3000"});
  for (const char* key : {"mass_flow_kg_s", "manifold", "blower", "duct_pressure_drop_Pa"})
    EXPECT_EQ(found["rows"][2][key].dump(), alone[key].dump()) << key;

  const auto& engine = std::get<machine::Engine>(build.demand);
  const json whole = results({"sweep", file});
  EXPECT_TRUE(
      close(whole["rows"].front()["engine_speed_rpm"].get<double>(), engine.idle_speed_rev_s * 60, 1e-12));
  EXPECT_TRUE(
      close(whole["rows"].back()["engine_speed_rpm"].get<double>(), engine.max_speed_rev_s * 60, 1e-12));

  const Said table = say({"sweep", file, "--from", "2000", "--to", "3000", "--step", "500"});
  EXPECT_EQ(table.exit, 0);
  EXPECT_TRUE(table.out.starts_with("speed [rpm]  mass flow [kg/s]  manifold [kPa]")) << table.out;
  EXPECT_EQ(std::ranges::count(table.out, '\n'), 2 + 3);
}

TEST_F(Commands, CheckEndsWithOneWhereSomethingMustStop) {
  const std::string file = file_of(bellmouth::test::sample_build());
  const build::Build build = *build::load_build(file);
  const auto findings =
      bellmouth::findings(build, evaluate(build, {"small"}), buy::purchase(build, {"small"}));
  const bool stops = std::ranges::any_of(
      findings, [](const check::Finding& finding) { return finding.severity == check::Severity::stop; });
  ASSERT_TRUE(stops); // the sample is no good layout
  const json found = results({"check", file}, 1);
  EXPECT_EQ(found["findings"].size(), findings.size());
  EXPECT_EQ(found["counts"]["stop"].get<std::size_t>() + found["counts"]["caution"].get<std::size_t>() +
                found["counts"]["note"].get<std::size_t>(),
            findings.size());
  const Said said = say({"check", file});
  EXPECT_EQ(said.exit, 1);
  EXPECT_EQ(said.err, "");
  for (const check::Finding& finding : findings)
    for (const std::string& part : {finding.message, finding.where.text, std::string(finding.rule)})
      EXPECT_TRUE(holds(said.out, part)) << part;
}

TEST_F(Commands, ListsWritesOneFileForEachTable) {
  const build::Build build = bellmouth::test::sample_build();
  const std::string file = file_of(build);
  const fs::path out = folder / "new" / "lists";
  auto tables = list::tables(evaluate(build, {"small"}).lists);
  const buy::Purchase purchase = buy::purchase(build, {"small"});
  for (list::Table& table : buy::tables(purchase))
    tables.push_back(std::move(table));
  tables.push_back(buy::sawing(build, purchase));
  for (int round = 0; round < 2; ++round) { // the second writes over the first
    const Said said = say({"lists", file, "--out", out.string()});
    EXPECT_EQ(said.exit, 0) << said.err;
    for (const list::Table& table : tables) {
      EXPECT_EQ(read_file(out / (table.name + ".csv")), list::csv(table));
      EXPECT_TRUE(holds(said.err, table.name + ".csv")) << said.err;
    }
  }
  EXPECT_EQ(static_cast<std::size_t>(std::distance(fs::directory_iterator(out), fs::directory_iterator())),
            tables.size());

  const json found = results({"lists", file});
  expect_keys(found, {"option", "shopping", "cuts", "clamps", "reducers", "fittings", "totals"});
  expect_keys(found["shopping"][0], {"description", "stock", "needed", "owned", "to_buy", "price", "pieces"});
  expect_keys(found["cuts"][0], {"piece", "cut_length_mm", "centreline_length_mm", "ends"});
  EXPECT_EQ(found["totals"]["currency"], "EUR");
}

TEST_F(Commands, ListsSaysWhereItCannotWrite) {
  const std::string file = file_of(bellmouth::test::sample_build());
  const Said said = say({"lists", file, "--out", file}); // a file where the folder should be
  EXPECT_EQ(said.exit, 3);
  EXPECT_EQ(said.out, "");
  EXPECT_TRUE(holds(said.err, file)) << said.err;
  EXPECT_EQ(say({"lists", file, "--out", ""}).exit, 3);
}

// Identity: the difference is the second less the first, and the lists' difference leads from one to the
// other.
TEST_F(Commands, CompareGivesTheDifference) {
  const build::Build build = bellmouth::test::sample_build();
  const std::string file = file_of(build);
  const json found = results({"compare", file, "--options", "small", "wide"});
  EXPECT_EQ(found["a"]["option"], "small");
  EXPECT_EQ(found["b"]["option"], "wide");
  for (const char* pointer :
       {"/mass_flow_kg_s", "/manifold/pressure_Pa", "/duct_pressure_drop_Pa", "/duct_volume_m3"}) {
    const json::json_pointer at(pointer);
    EXPECT_TRUE(close(found["difference"][at].get<double>(),
                      found["b"][at].get<double>() - found["a"][at].get<double>(), 1e-12))
        << pointer;
  }
  EXPECT_TRUE(close(found["difference"]["total"].get<double>(),
                    found["b"]["totals"]["total"].get<double>() - found["a"]["totals"]["total"].get<double>(),
                    1e-9, 1e-9));
  EXPECT_FALSE(found["only_in_a"].empty()); // "wide" has another bend and no adapter
  EXPECT_FALSE(found["only_in_b"].empty());
  for (const json& line : found["only_in_a"])
    EXPECT_EQ(line["needed_b"], 0);

  const json same = results({"compare", file, "--options", "small", "small"});
  for (const char* key : {"only_in_a", "only_in_b", "other_amounts"})
    EXPECT_TRUE(same[key].empty()) << key;
  EXPECT_EQ(same["difference"]["mass_flow_kg_s"], 0);

  const Said table = say({"compare", file, "--options", "small", "wide"});
  EXPECT_EQ(table.exit, 0);
  for (const char* part : {"figure", "small", "wide", "second - first", "mass flow [kg/s]", "to buy", "EUR"})
    EXPECT_TRUE(holds(table.out, part)) << part;
}

TEST_F(Commands, SizeHasARowForEachTubeInStock) {
  const build::Build build = bellmouth::test::sample_build();
  const std::string file = file_of(build);
  const json found = results({"size", file, "--run", "cold_side"});
  const auto sizes = stock::tube_sizes(build);
  ASSERT_EQ(found["rows"].size(), sizes.size());
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const json& row = found["rows"][i];
    expect_keys(row, {"outer_diameter_mm", "wall_mm", "material", "inner_diameter_mm", "velocity_m_s",
                      "peak_mach", "total_pressure_drop_Pa", "volume_m3", "price", "currency", "unpriced"});
    EXPECT_TRUE(close(row["inner_diameter_mm"].get<double>(),
                      (sizes[i].outer_diameter_m - 2 * sizes[i].wall_m) * 1000, 1e-12));
    EXPECT_GT(row["velocity_m_s"], 0);
  }
  const Said table = say({"size", file, "--run", "cold_side"});
  EXPECT_EQ(table.exit, 0);
  EXPECT_TRUE(holds(table.out, "velocity [m/s]")) << table.out;
}

TEST_F(Commands, NamesThatAreNotThereAreAnsweredWithThoseThatAre) {
  const std::string file = file_of(bellmouth::test::sample_build());
  const std::pair<Arguments, const char*> wrong[] = {
      {{"evaluate", file, "--option", "tall"}, "--option: found \"tall\"; accepted: small, wide"},
      {{"lists", file, "--option", ""}, "--option: found \"\"; accepted: small, wide"},
      {{"compare", file, "--options", "small", "tall"}, "--options: found \"tall\"; accepted: small, wide"},
      {{"size", file, "--run", "warm_side"},
       "--run: found \"warm_side\"; accepted: suction, hot_side, cold_side"},
  };
  for (const auto& [arguments, complaint] : wrong) {
    const Said said = say(arguments);
    EXPECT_EQ(said.exit, 2);
    EXPECT_EQ(said.out, "");
    EXPECT_TRUE(holds(said.err, complaint)) << said.err;
  }
}

TEST_F(Commands, SpeedsThatMakeNoSenseAreWrongUsage) {
  const std::string file = file_of(bellmouth::test::sample_build());
  const std::string bench = file_of(bellmouth::test::bench_build(), "bench.json");
  const std::pair<Arguments, const char*> wrong[] = {
      {{"evaluate", file, "--rpm", "fast"}, "--rpm"},
      {{"evaluate", file, "--rpm", "0"}, "more than 0 rpm"},
      {{"evaluate", file, "--rpm", "30 m/s"}, "a unit of velocity"},
      {{"evaluate", bench, "--rpm", "3000"}, "a build with an engine"},
      {{"sweep", bench}, "a build with an engine"},
      {{"sweep", file, "--from", "4000", "--to", "3000"},
       "--to: found \"3000 rpm\"; accepted: at least the first speed, 4000 rpm"},
      {{"sweep", file, "--from", "99999"}, "--from: found \"99999 rpm\"; accepted: at most the last speed"},
      {{"sweep", file, "--to", ""}, "--to"},
      {{"sweep", file, "--step", "0"}, "--step"},
      {{"sweep", file, "--step", "0.001"}, "10000 rows"},
  };
  for (const auto& [arguments, part] : wrong) {
    const Said said = say(arguments);
    EXPECT_EQ(said.exit, 2) << part;
    EXPECT_EQ(said.out, "");
    EXPECT_TRUE(holds(said.err, part)) << part << " in: " << said.err;
  }
}

TEST_F(Commands, AFileThatCannotBeReadIsBadInput) {
  const std::string missing = (folder / "missing.json").string();
  for (const char* command : {"evaluate", "sweep", "check", "lists"}) {
    const Said said = say({command, missing});
    EXPECT_EQ(said.exit, 3);
    EXPECT_EQ(said.out, "");
    EXPECT_TRUE(holds(said.err, missing)) << said.err;
  }
  EXPECT_EQ(say({"compare", missing, "--options", "a", "b"}).exit, 3);
  EXPECT_EQ(say({"size", missing, "--run", "a"}).exit, 3);

  const std::string broken = file_with("{\"format\": \"bellmouth-build/1\",\n  \"title\": 3}\n");
  const Said said = say({"evaluate", broken});
  EXPECT_EQ(said.exit, 3);
  EXPECT_TRUE(holds(said.err, broken + ":2:")) << said.err;
  EXPECT_TRUE(holds(said.err, "$.title")) << said.err;
}

TEST_F(Commands, NoOperatingPointIsNoSolutionWithItsReason) {
  const std::string file = file_of(choking_build());
  const Arguments all[] = {{"evaluate", file}, {"compare", file, "--options", "small", "wide"}};
  for (const Arguments& arguments : all) {
    const Said said = say(arguments);
    EXPECT_EQ(said.exit, 4) << arguments.front();
    EXPECT_EQ(said.out, "");
    EXPECT_TRUE(holds(said.err, "option small at ")) << said.err;
    EXPECT_TRUE(holds(said.err, flow::text(evaluate(choking_build(), {"small"}).path.point.stop).data()))
        << said.err;
  }
  const Said swept = say({"sweep", file, "--from", "3000", "--to", "3500", "--step", "500", "--json"});
  EXPECT_EQ(swept.exit, 4);
  const json rows = json::parse(swept.out)["rows"];
  ASSERT_EQ(rows.size(), 2);
  EXPECT_TRUE(rows[0]["mass_flow_kg_s"].is_null());
  EXPECT_TRUE(rows[0]["manifold"]["pressure_Pa"].is_null());
  EXPECT_EQ(std::ranges::count(swept.err, '\n'), 2);
}

TEST_F(Commands, ABenchThatChokesSaysWhereAndAtWhichFlowItWouldNot) {
  build::Build build = bellmouth::test::bench_build();
  std::get<build::FixedFlow>(build.demand).mass_flow_kg_s = 5;
  const Said said = say({"evaluate", file_of(build)});
  EXPECT_EQ(said.exit, 4);
  EXPECT_TRUE(holds(said.err, "chokes at specimen")) << said.err;
  EXPECT_TRUE(holds(said.err, "kg/s passes")) << said.err;
}

TEST_F(Commands, AStockWithoutTubesCannotSize) {
  const Said said = say({"size", file_of(bellmouth::test::natural_build()), "--run", "duct"});
  EXPECT_EQ(said.exit, 4);
  EXPECT_TRUE(holds(said.err, "holds no tube")) << said.err;
}

TEST(DemoBuilds, RunThroughEveryCommand) {
  int found = 0;
  for (const auto& entry : fs::directory_iterator(BELLMOUTH_DEMO_DIR)) {
    if (entry.path().extension() != ".json")
      continue;
    ++found;
    const std::string file = entry.path().string();
    SCOPED_TRACE(file);
    const auto build = build::load_build(file);
    ASSERT_TRUE(build.has_value()) << build.error().text();
    for (const build::Option& option : build->options) {
      const json whole = results({"evaluate", file, "--option", option.id.text});
      EXPECT_GT(whole["mass_flow_kg_s"], 0);
      EXPECT_EQ(whole["runs"].size(), option.runs.size());
      EXPECT_EQ(say({"evaluate", file, "--option", option.id.text}).exit, 0);
      EXPECT_EQ(say({"lists", file, "--option", option.id.text}).exit, 0);
      EXPECT_LE(say({"check", file, "--option", option.id.text}).exit, 1);
      for (const auto& run : option.runs)
        EXPECT_EQ(say({"size", file, "--option", option.id.text, "--run", run->id.text}).exit, 0);
    }
    EXPECT_EQ(say({"sweep", file}).exit, 0);
    if (build->options.size() > 1) {
      EXPECT_EQ(
          say({"compare", file, "--options", build->options[0].id.text, build->options[1].id.text}).exit, 0);
    }
  }
  EXPECT_GT(found, 0);
}

} // namespace
} // namespace bellmouth::cli::test
