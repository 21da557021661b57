// SPDX-License-Identifier: GPL-3.0-or-later
// The sums of `calc` on machines and engines against figures from outside, through the arguments a person
// would type.
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/reference.hpp"

#include <cmath>
#include <sstream>

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;
using bellmouth::test::input;
using bellmouth::test::reference;
using bellmouth::test::Row;

struct Wanted {
  const char* key;
  double value, relative;
};
struct Case {
  const char* name;
  Arguments arguments;
  std::vector<Wanted> wanted;

  friend void PrintTo(const Case& c, std::ostream* out) { *out << c.name; }
};
class CalcMachine : public ::testing::TestWithParam<Case> {};

TEST_P(CalcMachine, GivesTheFigure) {
  const auto found = calc(GetParam().arguments);
  for (const Wanted& wanted : GetParam().wanted) {
    ASSERT_TRUE(found.contains(wanted.key)) << found.dump();
    EXPECT_TRUE(close(found[wanted.key].get<double>(), wanted.value, wanted.relative)) << wanted.key;
  }
}

// Published values: textbook examples as in tests/reference/worked_examples.csv, at the tolerance of their
// rows.
INSTANTIATE_TEST_SUITE_P(
    Textbooks, CalcMachine,
    ::testing::Values(
        // Munson Ex. 11.5: from 101 kPa, 288 K through 1e-4 m2 to 80 and to 40 kPa
        Case{"W20",
             {"nozzle", "--bore", "11.28379", "--upstream-pressure", "101", "--temperature", "288 K",
              "--downstream-pressure", "80"},
             {{"mass_flow_kg_s", 0.0201, 0.01}}},
        Case{"W20 choked",
             {"nozzle", "--bore", "11.28379", "--upstream-pressure", "101", "--temperature", "288 K",
              "--downstream-pressure", "40"},
             {{"mass_flow_kg_s", 0.0240, 0.01}, {"critical_pressure_ratio", 0.528, 0.001}}},
        // Pao Ex. 8.5: 1 in, 19.7 to 14.7 psia at 539.6 R: 0.00978 slug/s
        Case{"W22",
             {"nozzle", "--bore", "1 in", "--upstream-pressure", "19.7 psia", "--temperature", "299.78 K",
              "--downstream-pressure", "14.7 psia"},
             {{"mass_flow_kg_s", 0.00978 * 14.5939, 0.002}}},
        // Nag Ex. 19.14: 0.03 m3 a turn, 1.013 bar, ratio 1.5: 1.52 kJ a turn; with half of the rise
        // inside 1.35
        Case{"W33",
             {"blower", "--swept-volume", "30 L", "--speed", "60", "--pressure", "1.013 bar",
              "--pressure-ratio", "1.5"},
             {{"shaft_power_W", 1520, 0.002}}},
        Case{"W33 inside",
             {"blower", "--swept-volume", "30 L", "--speed", "60", "--pressure", "1.013 bar",
              "--pressure-ratio", "1.5", "--internal-ratio", "1.17279"},
             {{"shaft_power_W", 1350, 0.003}}},
        // Nag Ex. 18.8: 1 kg/s at 70 C, 1 bar, ratio 2: 98.4 kW; swept 0.985 m3 a second
        Case{"W34",
             {"blower", "--swept-volume", "984.4 L", "--speed", "60", "--pressure", "1 bar", "--temperature",
              "70", "--pressure-ratio", "2"},
             {{"mass_flow_kg_s", 1.0, 0.001}, {"shaft_power_W", 98.4e3, 0.0015}}},
        // Onkar Singh Ex. 16.15: 0.5 m3/s, 1 to 2 bar: 50 kW, 76.65 % (gamma 1.4 there)
        Case{"W35",
             {"blower", "--swept-volume", "500 L", "--speed", "60", "--pressure", "1 bar", "--pressure-ratio",
              "2"},
             {{"shaft_power_W", 50e3, 1e-6}, {"adiabatic_efficiency", 0.7665, 0.002}}},
        // Rajput Ex. 7.2: 86 kW at 0.38 kg/kWh and 14 to 1 in 4066 cm3 at 3600 rpm, 15 C: 0.85
        Case{"W40",
             {"engine-flow", "--displacement", "4.066", "--speed", "3600", "--volumetric-efficiency", "0.85",
              "--pressure", "1 atm", "--temperature", "15"},
             {{"mass_flow_kg_s", 86 * 0.38 * 14 / 3600, 0.003}}},
        // Mathur & Sharma Ex. 10.1: 27 kg/h at 12 to 1 in 4.2 L at 3200 rpm, 0.9 bar, 32 C: 78.16 %
        Case{"W41",
             {"engine-flow", "--displacement", "4.2", "--speed", "3200", "--volumetric-efficiency", "78.16 %",
              "--pressure", "0.9 bar", "--temperature", "32"},
             {{"mass_flow_kg_s", 27.0 * 12 / 3600, 0.001}}},
        // Mathur & Sharma Ex. 17.4: 6 x 90 x 100 mm at 2000 rpm, 0.70, 1.72 bar, 333 K: 4.81 kg/min
        Case{"W38",
             {"engine-flow", "--displacement", "3.817035", "--speed", "2000", "--volumetric-efficiency",
              "0.70", "--pressure", "1.72 bar", "--temperature", "333 K"},
             {{"mass_flow_kg_s", 4.81 / 60, 0.003}}}));

// Closed forms.
INSTANTIATE_TEST_SUITE_P(
    ClosedForms, CalcMachine,
    ::testing::Values(
        // V dp / (R T m) without an engine
        Case{"filling a volume",
             {"fill-time", "--volume", "7", "--from", "100", "--to", "150", "--temperature", "20", "--supply",
              "0.1"},
             {{"fill_time_s", 0.007 * 50e3 / (287.05 * 293.15 * 0.1), 1e-3}}},
        // A cooler with as much resistance on both sides at half the charge flow: U A = 2 x 200/(2^0.8 + 1)
        Case{"a core at half its flow",
             {"cooler-core", "--conductance", "200", "--rated-flow", "0.2", "--arrangement", "counterflow",
              "--flow", "0.1", "--temperature", "100", "--coolant-flow", "100", "--water",
              "--coolant-temperature", "30"},
             {{"ntu", 400 / (std::pow(2, 0.8) + 1) / 101.1, 2e-3},
              {"effectiveness", 1 - std::exp(-400 / (std::pow(2, 0.8) + 1) / 101.1), 2e-3},
              {"coolant_inlet_temperature_K", 303.15, 1e-12}}},
        // Two stages in a row: 1/(0.1 x 1010.7 e) = 1/(core) + 1/(0.5 x 0.4 x 1008) - 1/(0.3 x 4184)
        Case{"a circuit",
             {"cooler-loop", "--conductance", "1e5", "--rated-flow", "0.1", "--arrangement", "counterflow",
              "--flow", "0.1", "--temperature", "100", "--coolant-flow", "0.3", "--front-effectiveness",
              "0.5", "--front-flow", "0.4", "--coolant-temperature", "30"},
             {{"core_effectiveness", 1, 1e-9},
              {"effectiveness", 1 / (101.1 * (1 / 101.1 + 1 / 201.6 - 1 / 1255.2)), 1e-3}}},
        Case{
            "one cylinder", {"pulsation", "--cylinders", "1"}, {{"pulsation_factor", M_PI* M_PI / 2, 1e-12}}},
        Case{"two strokes",
             {"pulsation", "--cylinders", "1", "--strokes", "2"},
             {{"pulsation_factor", M_PI* M_PI / 4, 1e-12}}},
        Case{"power by work",
             {"engine-power", "--flow", "0.1", "--lost", "20 %", "--work", "900000"},
             {{"power_W", 72e3, 1e-12}}}));

// Closed form: filters.csv, the law at rating air from two of its points.
TEST(CalcMachine, GivesTheFilterLaw) {
  int rows = 0;
  for (const Row& row : reference("filters.csv")) {
    if (!row.text("quantity").starts_with("dp = A Q"))
      continue;
    SCOPED_TRACE(row.text("row_id"));
    const auto& inputs = row.text("inputs");
    const double a = input(inputs, "A"), b = input(inputs, "B");
    const auto found =
        calc({"filter-drop", "--rated-flow", "0.03", "--rated-drop", written(a * 0.03 + b * 0.03 * 0.03),
              "--second-flow", "0.12", "--second-drop", written(a * 0.12 + b * 0.12 * 0.12), "--flow",
              written(input(inputs, "Q")), "--factor", "2", "--pulsation-factor", "1"});
    EXPECT_TRUE(close(found["total_pressure_drop_Pa"].get<double>(), 2 * row.number("value"), 1e-9));
    ++rows;
  }
  EXPECT_EQ(rows, 12);
}

// Recalled and quoted formulas (their classes stand in the file): engine_correction.csv.
TEST(CalcMachine, GivesThePowerFactors) {
  int rows = 0;
  for (const Row& row : reference("engine_correction.csv")) {
    SCOPED_TRACE(row.text("row_id"));
    const auto &standard = row.text("standard"), &inputs = row.text("inputs");
    const auto factor = [&](const char* rule, double pressure_Pa, double temperature_K) {
      return calc({"power-correction", "--rule", rule, "--pressure", written(pressure_Pa) + " Pa",
                   "--temperature", written(temperature_K) + " K"})["power_factor"]
          .get<double>();
    };
    double found = 0;
    if (standard.find("spark ignition alpha_a") != std::string::npos)
      found = factor("spark-ignition", input(inputs, "ps_dry") * 1e3, input(inputs, "T"));
    else if (standard.find("mechanically blown") != std::string::npos)
      found = factor("compression-ignition", input(inputs, "ps_dry") * 1e3, input(inputs, "T"));
    else if (standard.find("fa turbocharged") != std::string::npos)
      found =
          factor("compression-ignition-exhaust-driven", input(inputs, "ps_dry") * 1e3, input(inputs, "T"));
    else if (standard.find("J1349") != std::string::npos)
      found = factor("spark-ignition-1990", input(inputs, "Pd") * 100, input(inputs, "Tc") + 273.15);
    else if (standard.find("DIN") != std::string::npos)
      found = factor("din-70020", input(inputs, "p") * 100, input(inputs, "t") + 273.15);
    else
      continue;
    EXPECT_TRUE(close(found, row.number("value"), 1e-6));
    ++rows;
  }
  EXPECT_EQ(rows, 125);
  const auto fuel = calc({"power-correction", "--rule", "compression-ignition", "--pressure", "95",
                          "--temperature", "305 K", "--fuel", "50"});
  EXPECT_TRUE(close(fuel["engine_factor"].get<double>(), 0.66, 1e-9)); // row EC129
}

// Identity: the rated leak comes back; with the rule of the trade a power has a band.
TEST(CalcMachine, GivesBackARatedLeakAndTheBandOfARule) {
  const auto found = calc({"blower", "--swept-volume", "1.2", "--speed", "9000", "--pressure-ratio", "1.5",
                           "--volumetric-efficiency", "0.93", "--leak-speed", "9000", "--leak-ratio", "1.5",
                           "--leak-efficiency", "0.85"});
  EXPECT_TRUE(close(found["volumetric_efficiency"].get<double>(), 0.85, 1e-9));
  EXPECT_GT(found["leak_area_mm2"].get<double>(), 1);
  const auto power = calc({"engine-power", "--flow", "0.1"});
  EXPECT_LT(power["band_low_W"].get<double>(), power["power_W"].get<double>());
  EXPECT_GT(power["band_high_W"].get<double>(), power["power_W"].get<double>());
}

TEST(CalcMachine, RefusesWhatDoesNotFit) {
  const auto refused = [](Arguments arguments, int exit, const char* part) {
    arguments.insert(arguments.begin(), "calc");
    const Said said = say(arguments);
    EXPECT_EQ(said.exit, exit) << said.err;
    EXPECT_TRUE(holds(said.err, part)) << said.err;
  };
  refused({"nozzle", "--bore", "10", "--upstream-pressure", "90", "--temperature", "20",
           "--downstream-pressure", "100"},
          2, "at most the upstream pressure, 90 kPa");
  refused(
      {"blower", "--swept-volume", "1", "--speed", "6000", "--pressure-ratio", "1.5", "--leak-ratio", "1.4"},
      2, "--leak-speed");
  refused({"blower", "--swept-volume", "1", "--speed", "6000", "--pressure-ratio", "1.5", "--leak-ratio",
           "1.4", "--leak-speed", "6000", "--leak-efficiency", "1.1"},
          2, "less than the volumetric efficiency");
  refused({"blower", "--swept-volume", "1", "--speed", "60", "--pressure-ratio", "1.5", "--leak-ratio", "1.4",
           "--leak-speed", "6000", "--leak-efficiency", "0.9"},
          4, "the leakage takes all");
  refused(
      {"filter-drop", "--rated-flow", "0.1", "--rated-drop", "900", "--flow", "0.1", "--second-flow", "0.2"},
      2, "--second-drop");
  refused(
      {"power-correction", "--rule", "din-70020", "--pressure", "95", "--temperature", "20", "--fuel", "40"},
      2, "compression ignition only");
}

} // namespace
} // namespace bellmouth::cli::test
