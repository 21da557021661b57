// SPDX-License-Identifier: GPL-3.0-or-later
// The sums of air and compressible flow, backwards and with heat; forwards see calc_test.cpp.
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/reference.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;
using bellmouth::test::reference;
using bellmouth::test::Row;

Said refused(const Arguments& arguments, int exit) {
  const Said said = say(calc_arguments(arguments));
  EXPECT_EQ(said.exit, exit) << said.out;
  return said;
}

using Columns = std::vector<std::pair<const char*, const char*>>; ///< flag, column

/// Every row of a table backwards: the Mach number from each of its printed ratios, except at Mach 1, where
/// what is printed may be rounded to more than flows. Seven digits tell the less of the Mach number the
/// flatter the ratio is: at Mach 1 some, at Mach 0 others.
void expect_mach_from(const char* sum, const char* table, const Columns& columns) {
  std::size_t checked = 0;
  for (const Row& row : reference(table)) {
    if (row.text("class") != "c")
      continue;
    const double mach = row.number("M");
    for (const auto& [flag, column] : columns) {
      if (!row.has(column) || mach == 0 || mach == 1)
        continue;
      SCOPED_TRACE(row.text("row_id") + " " + column);
      Arguments arguments{sum, flag, row.text(column), "--gamma", row.text("gamma")};
      if (mach > 1)
        arguments.emplace_back("--supersonic");
      ++checked;
      const double digits = 2e-6 / std::min({std::abs(mach - 1), mach * mach, 1.0});
      EXPECT_TRUE(close(calc(arguments)["mach"].get<double>(), mach, 1e-6 + digits));
    }
  }
  EXPECT_GT(checked, 100u);
}

// Published value (closed form of NACA Report 1135), backwards: isentropic.csv.
TEST(CalcAir, FindsTheMachNumberOfIsentropicRatios) {
  expect_mach_from("isentropic", "isentropic.csv",
                   {{"--temperature-ratio", "T_T0"},
                    {"--pressure-ratio", "p_p0"},
                    {"--density-ratio", "rho_rho0"},
                    {"--area-ratio", "A_Astar"},
                    {"--mass-flow-function", "mfp_total"}});
}

// Published value (closed form, Shapiro 1953), backwards: fanno.csv.
TEST(CalcAir, FindsTheMachNumberOfFannoRatios) {
  expect_mach_from("fanno", "fanno.csv",
                   {{"--fanno-parameter", "fLD"},
                    {"--pressure-ratio", "p_pstar"},
                    {"--temperature-ratio", "T_Tstar"},
                    {"--density-ratio", "rho_rhostar"},
                    {"--total-pressure-ratio", "p0_p0star"}});
}

// Published values: worked_examples.csv, at the tolerance of the rows.
TEST(CalcAir, WorksPublishedExamples) {
  for (const Row& row : reference("worked_examples.csv")) {
    const auto expect = [&](double found) {
      EXPECT_TRUE(close(found, row.number("published"), row.number("rtol"))) << row.text("ex_id");
    };
    // Munson et al. Ex. 11.12: f L*/D = 0.02 * 2 m/0.1 m
    if (row.text("ex_id") == "W03" && row.text("n") == "1")
      expect(calc({"fanno", "--fanno-parameter", "0.4"})["mach"].get<double>());
    // Cengel & Cimbala Ex. 12-16: 85 m/s at 450 K, f L/D = 0.023 * 27 m/0.05 m
    if (row.text("ex_id") == "W02" && row.text("n") == "1")
      expect(calc({"fanno", "--mach", "0.19990", "--friction-length", "12.42"})["outlet_mach"].get<double>());
    // Fox & McDonald: back pressure over total pressure 0.591
    if (row.text("ex_id") == "W21" && row.text("n") == "1")
      expect(calc({"isentropic", "--pressure-ratio", "0.591"})["mach"].get<double>());
    // Massey & Ward-Smith Ex. 11.7: 5 bar over 8 bar, f L/D = 4 * 0.006 * 145 m/0.04146 m
    if (row.text("ex_id") == "W13" && (row.text("n") == "2" || row.text("n") == "3"))
      expect(calc({"isothermal", "--pressure-ratio", "0.625", "--friction-length", "83.94",
                   "--long-pipe"})[row.text("n") == "2" ? "mach" : "outlet_mach"]
                 .get<double>());
    // Douglas et al. Ex. 17.5: 59.42 m/s at 288 K, f L/D = 9.6, 200 kPa at the inlet
    if (row.text("ex_id") == "W14" && row.text("n") == "2")
      expect(calc({"isothermal", "--mach", "0.17468", "--friction-length", "9.6"})["pressure_ratio"]
                 .get<double>() *
             200);
  }
}

// Published value, from memory of the printed tables (Shapiro 1953 and textbooks), five digits, gamma 1.4.
TEST(CalcAir, GivesTheRayleighTable) {
  const auto found = calc({"rayleigh", "--mach", "0.5"});
  EXPECT_NEAR(found["total_temperature_ratio"].get<double>(), 0.69136, 6e-6);
  EXPECT_NEAR(found["temperature_ratio"].get<double>(), 0.79012, 6e-6);
  EXPECT_NEAR(found["pressure_ratio"].get<double>(), 1.77778, 6e-6);
  EXPECT_NEAR(found["total_pressure_ratio"].get<double>(), 1.11405, 6e-6);
  EXPECT_NEAR(found["velocity_ratio"].get<double>(), 0.44444, 6e-6);
  EXPECT_NEAR(calc({"rayleigh", "--total-temperature-ratio", "0.69136"})["mach"].get<double>(), 0.5, 1e-5);
  EXPECT_NEAR(
      calc({"rayleigh", "--total-temperature-ratio", "0.79339", "--supersonic"})["mach"].get<double>(), 2.0,
      1e-4);
  // From Mach 0.2 (0.17355) to Mach 0.5
  const auto heated = calc({"rayleigh", "--mach", "0.2", "--heat-ratio", "3.98363"}); // 0.69136/0.17355
  EXPECT_NEAR(heated["outlet_mach"].get<double>(), 0.5, 1e-4);
  EXPECT_NEAR(heated["outlet_total_pressure_ratio"].get<double>(), 1.11405 / 1.23460, 1e-5);
  EXPECT_NEAR(heated["critical_heat_ratio"].get<double>(), 1 / 0.17355, 2e-4);
}

// Published value: saturation pressures of ASHRAE Fundamentals 2017, chapter 1, Table 3, in air.csv:
// saturated air at that temperature has its dew point there.
TEST(CalcAir, GivesTheDewPoint) {
  std::size_t rows = 0;
  for (const Row& row : reference("air.csv")) {
    if (row.text("quantity") != "psat_water_ASHRAE_table" || row.number("T_K") > 340)
      continue;
    ++rows;
    SCOPED_TRACE(row.text("row_id"));
    const auto found = calc({"dew-point", "--temperature", row.text("T_K") + " K", "--pressure", "1 atm",
                             "--relative-humidity", "100 %"});
    EXPECT_TRUE(close(found["vapour_pressure_Pa"].get<double>(), row.number("value"), row.number("rtol")));
    EXPECT_NEAR(found["dew_point_K"].get<double>(), row.number("T_K"), 1e-6);
  }
  EXPECT_GE(rows, 4u);
  // Closed form: at 25 C (3169.7 Pa) and 1.8 bar a kilogram holds 0.621945 * 3169.7/(180000 - 3169.7).
  const auto cooled = calc({"dew-point", "--temperature", "30", "--pressure", "101325 Pa",
                            "--relative-humidity", "80 %", "--compressed-to", "180", "--cooled-to", "25"});
  EXPECT_TRUE(close(cooled["saturated_humidity_ratio_kg_kg"].get<double>(), 0.0111485, 3e-4));
  EXPECT_TRUE(close(cooled["condensate_kg_kg"].get<double>(),
                    cooled["humidity_ratio_kg_kg"].get<double>() - 0.0111485, 4e-4));
  EXPECT_TRUE(calc({"dew-point", "--temperature", "30", "--pressure", "100", "--relative-humidity",
                    "0"})["dew_point_K"]
                  .is_null());
}

// Published value: Incropera et al., Table A.4, as several public programs copy it.
TEST(CalcAir, GivesConductivityAndPrandtlNumber) {
  const auto found = calc({"air", "--temperature", "300 K", "--pressure", "1 atm"});
  EXPECT_TRUE(close(found["conductivity_W_mK"].get<double>(), 26.3e-3, 0.02));
  EXPECT_TRUE(close(found["prandtl"].get<double>(), 0.707, 0.02));
}

// Closed form: Sutherland's law of ISO 2533 in the standard atmosphere; air.csv.
TEST(CalcAir, GivesTheViscosityOfTheStandardAtmosphere) {
  std::size_t rows = 0;
  for (const Row& row : reference("air.csv")) {
    if (row.text("quantity") != "USSA76_mu_geometric" || row.number("altitude_m") > 11000)
      continue;
    ++rows;
    const auto found = calc({"atmosphere", "--altitude", row.text("altitude_m") + " m"});
    EXPECT_TRUE(close(found["viscosity_Pa_s"].get<double>(), row.number("value"), 1e-5));
  }
  EXPECT_GT(rows, 5u);
}

TEST(CalcAir, RefusesWhatNoFlowHas) {
  EXPECT_TRUE(holds(refused({"isentropic", "--pressure-ratio", "1.2"}, 2).err, "--pressure-ratio"));
  EXPECT_TRUE(holds(refused({"isentropic", "--area-ratio", "0.5"}, 2).err, "1 and more"));
  EXPECT_TRUE(holds(refused({"isentropic", "--mass-flow-function", "0.7"}, 2).err, "0.684731"));
  EXPECT_TRUE(holds(refused({"fanno", "--fanno-parameter", "0.9", "--supersonic"}, 2).err, "0.821508"));
  EXPECT_TRUE(holds(refused({"fanno", "--temperature-ratio", "1.2"}, 2).err, "a flow"));
  EXPECT_TRUE(holds(refused({"isentropic"}, 2).err, "one of --mach, --temperature-ratio"));
  EXPECT_TRUE(
      holds(refused({"isentropic", "--mach", "0.3", "--area-ratio", "2"}, 2).err, "one of --mach, --temp"));
  EXPECT_TRUE(holds(refused({"fanno", "--mach", "2", "--friction-length", "0.1"}, 2).err, "up to Mach 1"));
  EXPECT_TRUE(holds(refused({"fanno", "--mach", "0.5", "--friction-length", "2"}, 4).err, "1.06906"));
  EXPECT_TRUE(holds(refused({"rayleigh", "--mach", "0.5", "--heat-ratio", "2"}, 4).err, "1.44643"));
  EXPECT_TRUE(holds(refused({"isothermal", "--mach", "0.9", "--friction-length", "1"}, 2).err, "0.845154"));
  EXPECT_TRUE(holds(refused({"isothermal", "--mach", "0.5", "--friction-length", "9"}, 4).err, "chokes"));
  EXPECT_TRUE(
      holds(refused({"isothermal", "--pressure-ratio", "0.1", "--friction-length", "1"}, 4).err, "chokes"));
  EXPECT_TRUE(holds(refused({"rayleigh", "--mach", "1.5", "--heat-ratio", "1.1"}, 2).err, "up to Mach 1"));
}

} // namespace
} // namespace bellmouth::cli::test
