// SPDX-License-Identifier: GPL-3.0-or-later
// Logs as files: what is read, and the one complaint about each that is wrong.
#include "simulated.hpp"
#include "support/close.hpp"

#include <filesystem>
#include <fstream>

namespace bellmouth::test {
namespace {

using fit::Place;

Result<fit::Log> read(const std::string& text) {
  return fit::read_log(text, sample_build(), small_option, "log.csv");
}

fit::Log log_of(const std::string& text) {
  const auto log = read(text);
  EXPECT_TRUE(log.has_value()) << (log ? "" : log.error().text());
  return log.value_or(fit::Log{});
}

// Identity: every column finds its place, and its numbers come out in SI.
TEST(Log, ReadsPlacesAndUnits) {
  const auto log =
      log_of("# invented\n"
             "engine_speed_rpm, manifold_pressure_kPa, manifold_temperature_C, mass_flow_g_s, "
             "blower_inlet_pressure_mbar, blower_outlet_temperature_K, pressure_bar at manifold pressure, "
             "temperature_degF at intake temperature, mass_flow_kg_h behind Cone filter, "
             "pressure_Pa_gauge before cooler, ignore throttle position\n"
             "3000, 130.5, 40, 95, 990, 380, 1.31, 68, 342, 45000, 99\n"
             "3500, , , , , , , , , ,\n");
  ASSERT_EQ(log.channels.size(), 9U);
  const auto place = [&](std::size_t i) { return log.channels[i].place; };
  EXPECT_EQ(place(0), (Place{Place::Kind::manifold, 0, 0}));
  EXPECT_EQ(place(3), (Place{Place::Kind::before_machine, 2, 0}));
  EXPECT_EQ(place(4), (Place{Place::Kind::behind_machine, 2, 0}));
  EXPECT_EQ(place(5), (Place{Place::Kind::boss, 5, 4}));
  EXPECT_EQ(place(6), (Place{Place::Kind::boss, 1, 2}));
  EXPECT_EQ(place(7), (Place{Place::Kind::behind_machine, 0, 0}));
  EXPECT_EQ(place(8), (Place{Place::Kind::before_machine, 4, 0}));
  EXPECT_EQ(log.channels[0].column, "manifold_pressure_kPa");
  EXPECT_EQ(log.channels[0].unit, "kPa");
  EXPECT_EQ(log.channels[2].unit, "g/s");
  EXPECT_EQ(log.channels[2].sigma, (fit::Sigma{0, 0.02}));
  EXPECT_TRUE(log.channels[8].gauge);
  EXPECT_EQ(log.ignored, (std::vector<std::string>{"ignore throttle position"}));
  ASSERT_EQ(log.rows.size(), 2U);
  EXPECT_EQ(log.rows[0].engine_speed_rev_s, 50);
  EXPECT_FALSE(log.rows[0].ambient.has_value());
  const std::vector<double> wanted{130500, 313.15, 0.095, 99000, 380, 131000, 293.15, 0.095, 145000};
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    EXPECT_TRUE(close(log.rows[0].readings[i].value_or(0), wanted[i], 1e-12)) << i;
    EXPECT_FALSE(log.rows[1].readings[i].has_value());
  }
}

TEST(Log, TakesTheWeatherOfTheRowOrTheBuild) {
  const auto log =
      log_of("engine_speed_rpm,ambient_pressure_kPa,ambient_temperature_C,ambient_relative_humidity,"
             "manifold_pressure_kPa_gauge\n"
             "3000,98,10,0.7,30\n3000,,15,,30\n3000,,,,30\n");
  EXPECT_EQ(log.rows[0].ambient, (build::Weather{98000, 283.15, 0.7}));
  EXPECT_EQ(log.rows[1].ambient, (build::Weather{100000, 288.15, 0.4}));
  EXPECT_FALSE(log.rows[2].ambient.has_value());
  EXPECT_TRUE(close(*log.rows[0].readings[0], 128000, 1e-12));
  EXPECT_TRUE(close(*log.rows[1].readings[0], 130000, 1e-12));
  EXPECT_TRUE(close(*log.rows[2].readings[0], 130000, 1e-12));
}

// Identity: a prediction is the state that the path reports at that place and in that weather.
TEST(Log, IsPredictedByThePath) {
  auto log = log_of(
      "engine_speed_rpm,ambient_pressure_kPa,ambient_temperature_C,mass_flow_g_s,manifold_pressure_kPa,"
      "pressure_kPa at manifold pressure,temperature_C behind Front cooler,pressure_kPa before blower\n"
      "4000,95,5,,,,,\n4000,,,,,,,\n");
  auto build = sample_build();
  const auto predicted = fit::predict(build, small_option, log);
  for (const std::size_t row : {0U, 1U}) {
    if (row == 0)
      build.ambient = build::Weather{95000, 278.15, 0.4};
    else
      build = sample_build();
    const auto& option = *build.find(small_option);
    const auto flow = flow::Path(build, option, joint::fits(build, option)).solve(4000.0 / 60);
    const auto& values = *predicted[row];
    EXPECT_EQ(values[0], flow.point.mass_flow_kg_s);
    EXPECT_EQ(values[1], flow.point.manifold_pressure_Pa);
    EXPECT_EQ(values[2], flow.runs[2].rows[4].inlet.station.static_pressure_Pa);
    EXPECT_EQ(values[3], flow.machines[2].outlet.total_temperature_K);
    EXPECT_EQ(values[4], flow.machines[1].inlet.static_pressure_Pa);
  }
}

struct Wrong {
  const char* name;
  std::string text;
  std::string complaint; ///< all of it, or its beginning where it ends with "..."
};
void PrintTo(const Wrong& wrong, std::ostream* out) {
  *out << wrong.name;
}
class WrongLog : public ::testing::TestWithParam<Wrong> {};

TEST_P(WrongLog, IsComplainedOfOnce) {
  const auto log = read(GetParam().text);
  ASSERT_FALSE(log.has_value());
  std::string wanted = GetParam().complaint, found = log.error().text();
  if (wanted.ends_with("...")) {
    wanted.resize(wanted.size() - 3);
    found.resize(std::min(found.size(), wanted.size()));
  }
  EXPECT_EQ(found, wanted);
}

constexpr const char* good = "engine_speed_rpm,manifold_pressure_kPa\n";

INSTANTIATE_TEST_SUITE_P(
    All, WrongLog,
    ::testing::Values(
        Wrong{"nothing", "", "..."},
        Wrong{"no row", good,
              "log.csv:1:1 (header): found no row; accepted: at least one row behind the header..."},
        Wrong{"no speed", "manifold_pressure_kPa\n100\n",
              "log.csv:1:1 (header): found no column \"engine_speed_rpm\"; accepted: a header with "
              "\"engine_speed_rpm\" among its columns..."},
        Wrong{"no measurement", "engine_speed_rpm,ambient_pressure_kPa\n3000,100\n",
              "log.csv:1:1 (header): found no column of measurements; accepted: at least one pressure, "
              "temperature or "
              "mass flow..."},
        Wrong{"a column that nobody knows", "engine_speed_rpm,boost\n3000,1\n",
              "log.csv:1:1 (header): found column \"boost\"; accepted: engine_speed_rpm; ambient_pressure_, "
              "..."},
        Wrong{"a pressure without a place", "engine_speed_rpm,pressure_kPa\n3000,1\n",
              "log.csv:1:1 (header): found column \"pressure_kPa\"; accepted: engine_speed_rpm; ..."},
        Wrong{"a unit of something else", "engine_speed_rpm,manifold_pressure_C\n3000,1\n",
              "log.csv:1:1 (header): found \"C\" in column \"manifold_pressure_C\"; accepted: a unit of "
              "pressure: "
              "Pa, ..."},
        Wrong{"a temperature above ambient", "engine_speed_rpm,manifold_temperature_C_gauge\n3000,1\n",
              "log.csv:1:1 (header): found \"C_gauge\" in column \"manifold_temperature_C_gauge\"; accepted: "
              "a unit of "
              "temperature: ..."},
        Wrong{"ambient pressure above ambient", "engine_speed_rpm,ambient_pressure_kPa_gauge\n3000,1\n",
              "log.csv:1:1 (header): found column \"ambient_pressure_kPa_gauge\"; accepted: ..."},
        Wrong{"a boss that is not there", "engine_speed_rpm,pressure_kPa at the moon\n3000,1\n",
              "log.csv:1:1 (header): found \"the moon\" in column \"pressure_kPa at the moon\", a label of "
              "no boss; "
              "accepted: the label of one sensor boss of option small: intake temperature, manifold "
              "pressure..."},
        Wrong{"a machine that is not there", "engine_speed_rpm,pressure_kPa behind Turbine\n3000,1\n",
              "log.csv:1:1 (header): found \"Turbine\" in column \"pressure_kPa behind Turbine\", of which "
              "the path "
              "has none; accepted: the name of one machine of the path: Cone filter, Two-lobe blower, Front "
              "cooler, "
              "Throttle..."},
        Wrong{"one column twice", "engine_speed_rpm,manifold_pressure_kPa,manifold_pressure_kPa\n3000,1,1\n",
              "log.csv:1:..."},
        Wrong{"a short row", std::string(good) + "3000\n", "log.csv:2:..."},
        Wrong{"no speed in a row", std::string(good) + "3000,100\n,101\n",
              "log.csv:3:1 (row 2, engine_speed_rpm): found an empty cell; accepted: a number with decimal "
              "point, such "
              "as 12.5 or 1e-3..."},
        Wrong{"a speed of nought", std::string(good) + "0,100\n",
              "log.csv:2:1 (row 1, engine_speed_rpm): found \"0\"; accepted: an engine speed from 1 to 30000 "
              "rpm..."},
        Wrong{"a word for a number", std::string(good) + "3000,high\n",
              "log.csv:2:6 (row 1, manifold_pressure_kPa): found \"high\"; accepted: a number with decimal "
              "point, such "
              "as 12.5 or 1e-3..."},
        Wrong{"kilopascals that are pascals", std::string(good) + "3000,101325\n",
              "log.csv:2:6 (row 1, manifold_pressure_kPa): found \"101325\"; accepted: an absolute pressure "
              "from 1 kPa "
              "to 2000 kPa..."},
        Wrong{"a vacuum below nothing", "engine_speed_rpm,manifold_pressure_kPa_gauge\n3000,-120\n",
              "log.csv:2:6 (row 1, manifold_pressure_kPa_gauge): found \"-120\"; accepted: an absolute "
              "pressure from 1 "
              "kPa to 2000 kPa, here above the ambient 100 kPa..."},
        Wrong{"kelvin that are degrees", "engine_speed_rpm,manifold_temperature_K\n3000,40\n",
              "log.csv:2:6 (row 1, manifold_temperature_K): found \"40\"; accepted: a temperature from 200 K "
              "to 1000 "
              "K..."},
        Wrong{"no flow", "engine_speed_rpm,mass_flow_g_s\n3000,0\n",
              "log.csv:2:6 (row 1, mass_flow_g_s): found \"0\"; accepted: a mass flow from 0.000001 kg/s to "
              "100 "
              "kg/s..."},
        Wrong{"weather of another world",
              "engine_speed_rpm,manifold_pressure_kPa,ambient_temperature_C\n3000,100,90\n",
              "log.csv:2:10 (row 1, ambient_temperature_C): found \"90\"; accepted: ..."},
        Wrong{"humidity in percent",
              "engine_speed_rpm,manifold_pressure_kPa,ambient_relative_humidity\n3000,100,40\n",
              "log.csv:2:10 (row 1, ambient_relative_humidity): found \"40\"; accepted: ..."}),
    [](const auto& param) {
      std::string name = param.param.name;
      std::ranges::replace(name, ' ', '_');
      return name;
    });

TEST(Log, RefusesPlacesThatAreThereSeveralTimes) {
  auto build = sample_build();
  auto run = *build.options[0].runs[2];
  run.pieces[4].label = "intake temperature";
  build.options[0].runs[2] = run;
  const auto log =
      fit::read_log("engine_speed_rpm,temperature_C at intake temperature\n3000,20\n", build, small_option);
  ASSERT_FALSE(log.has_value());
  EXPECT_EQ(log.error().found,
            "\"intake temperature\" in column \"temperature_C at intake temperature\", a label of several");
  // A boss of the option that it is read for, and a blower where there is one.
  EXPECT_FALSE(
      fit::read_log("engine_speed_rpm,pressure_kPa at manifold pressure\n3000,100\n", build, {"wide"}));
  const auto natural =
      fit::read_log("engine_speed_rpm,blower_inlet_pressure_kPa\n3000,100\n", natural_build(), {"only"});
  ASSERT_FALSE(natural.has_value());
  EXPECT_EQ(natural.error().found,
            "a blower in column \"blower_inlet_pressure_kPa\", of which the path has none");
  EXPECT_EQ(natural.error().accepted,
            "\"before\" or \"behind\" and the name of a machine of the path: Air-flow meter, Throttle");
  const auto bench =
      fit::read_log("engine_speed_rpm,manifold_pressure_kPa\n3000,100\n", bench_build(), {"only"});
  ASSERT_FALSE(bench.has_value());
  EXPECT_EQ(bench.error().text(),
            "found a log for a build with a fixed flow; accepted: a build with an engine");
}

TEST(Log, IsLoadedFromAFile) {
  namespace fs = std::filesystem;
  const fs::path folder = fs::path(::testing::TempDir()) / "bellmouth_fit_log";
  fs::create_directories(folder);
  const fs::path file = folder / "log.csv";
  std::ofstream(file) << good << "3000,120\n";
  const auto build = sample_build();
  const auto log = fit::load_log(file, build, small_option);
  ASSERT_TRUE(log.has_value());
  EXPECT_EQ(log->file, file.string());
  EXPECT_EQ(log->rows, log_of(std::string(good) + "3000,120\n").rows);
  const auto missing = fit::load_log(folder / "none.csv", build, small_option);
  ASSERT_FALSE(missing.has_value());
  EXPECT_EQ(missing.error().place.file, (folder / "none.csv").string());
  EXPECT_EQ(missing.error().accepted, "the name of a file that can be read");
  const auto a_folder = fit::load_log(folder, build, small_option);
  ASSERT_FALSE(a_folder.has_value());
  EXPECT_EQ(a_folder.error().found, "a folder");
  fs::remove_all(folder);
}

} // namespace
} // namespace bellmouth::test
