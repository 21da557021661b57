// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/machine.hpp>
#include <bellmouth/machine/displacement.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <optional>
#include <string>

namespace bellmouth::machine {
namespace {

using test::close;

// Seven digits are printed in the reference tables.
constexpr double printed = 5e-7;

// The published values take cp (1004.6 J/kgK) and gamma (1.4) as constant; here both vary with temperature.
// air.csv (rows T2s_variable_cp) has the consequence at 298.15 K for the isentropic rise: 0.13 % of it at a
// pressure ratio of 1.5, 0.50 % at 3. With an efficiency below one the air gets hotter still, up to 225 C in
// the tables, where cp is 2.4 % up and its mean over the rise 1.1 %. So the rise found may be smaller by at
// most 1.2 % of itself; larger it may be only by the effect of cp at 25 C, 0.1 %.
constexpr double rise_below = 0.012, rise_above = 0.001;

::testing::AssertionResult near_constant_cp(double found_K, double constant_cp_K, double inlet_K) {
  const double rise = constant_cp_K - inlet_K;
  const double difference = found_K - constant_cp_K;
  if (difference >= -rise_below * rise && difference <= rise_above * rise)
    return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << "found " << found_K << ", constant cp " << constant_cp_K << ", "
                                       << 100 * difference / rise << " % of the rise";
}

/// A blower without internal compression that delivers `mass_flow_kg_s`.
Compression compress_without_internal(const air::Mixture& air, double pressure_Pa, double temperature_K,
                                      double ratio, double mass_flow_kg_s, double volumetric_efficiency,
                                      double mechanical_efficiency) {
  const double swept_m3 =
      mass_flow_kg_s / (volumetric_efficiency * air.density_kg_m3(pressure_Pa, temperature_K));
  const DisplacementBlower lobes{swept_m3, 1.0, volumetric_efficiency, std::nullopt, mechanical_efficiency,
                                 250,      420};
  const BlowerAction done = PreparedBlower(lobes).act(air, 1.0, pressure_Pa, temperature_K, ratio);
  EXPECT_TRUE(close(done.mass_flow_kg_s, mass_flow_kg_s, 1e-12));
  return {done.outlet_temperature_K, done.shaft_power_W, done.adiabatic_efficiency};
}

// Published values: compressor.csv, rows T2 (constant gamma).
TEST(Compress, AgreesWithTheConstantGammaTableWithinTheVariationOfCp) {
  const air::Mixture dry;
  int rows = 0;
  for (const auto& row : test::reference("compressor.csv")) {
    if (row.text("quantity") != "T2")
      continue;
    const auto& inputs = row.text("inputs");
    const double inlet_K = test::input(inputs, "T1");
    const auto found =
        compress(dry, inlet_K, test::input(inputs, "PR"), 0.1, test::input(inputs, "eta_is"), 0.9);
    EXPECT_TRUE(near_constant_cp(found.outlet_temperature_K, row.number("value"), inlet_K))
        << row.text("row_id");
    ++rows;
  }
  EXPECT_GE(rows, 50);
}

// Published values: air.csv, rows T2s_variable_cp, computed with the NASA polynomials of the constituents.
// Two published polynomials of the heat capacity of air differ by some parts in ten thousand, hence 1e-4 of
// the temperature.
TEST(Compress, AgreesWithTheVariableCpTable) {
  const air::Mixture dry;
  int rows = 0;
  for (const auto& row : test::reference("air.csv")) {
    if (row.text("quantity") != "T2s_variable_cp")
      continue;
    const auto found = compress(dry, row.number("T_K"), row.number("p_Pa") / 1e5, 0.1, 1.0, 1.0);
    EXPECT_TRUE(close(found.outlet_temperature_K, row.number("value"), 1e-4)) << row.text("row_id");
    ++rows;
  }
  EXPECT_GE(rows, 12);
}

// Closed form T2 = T1 [1 + (PR^(2/7) - 1) / efficiency], worked for 25 C and printed to a whole degree.
TEST(Compress, AgreesWithWholeDegreesOfTheTextbookFormula) {
  const air::Mixture dry;
  struct Case {
    double efficiency, pressure_ratio, outlet_C;
  };
  for (const Case& c : {Case{0.5, 1.3, 71}, Case{0.5, 1.5, 98}, Case{0.5, 1.7, 123}, Case{0.5, 2.0, 156},
                        Case{0.6, 1.3, 64}, Case{0.6, 1.5, 86}, Case{0.6, 1.7, 106}, Case{0.6, 2.0, 134},
                        Case{0.7, 1.3, 58}, Case{0.7, 1.5, 77}, Case{0.7, 1.7, 95}, Case{0.7, 2.0, 118}}) {
    const double found_C =
        compress(dry, 298.15, c.pressure_ratio, 0.1, c.efficiency, 0.95).outlet_temperature_K - 273.15;
    EXPECT_NEAR(found_C, c.outlet_C, 0.5 + rise_below * (c.outlet_C - 25))
        << c.efficiency << " " << c.pressure_ratio;
  }
}

// Identity: what the shaft gives, less the mechanical losses, is in the air.
TEST(Compress, ShaftPowerTimesMechanicalEfficiencyIsTheRiseInEnthalpy) {
  for (const double humidity : {0.0, 0.02}) {
    const air::Mixture air(humidity);
    for (const double ratio : {1.0, 1.01, 1.4, 2.0, 3.0})
      for (const double efficiency : {0.5, 0.75, 1.0}) {
        const auto found = compress(air, 300.0, ratio, 0.12, efficiency, 0.9);
        const double gained =
            0.12 * (air.enthalpy_J_kg(found.outlet_temperature_K) - air.enthalpy_J_kg(300.0));
        EXPECT_TRUE(close(found.shaft_power_W * 0.9, gained, 1e-9, 1e-6));
        EXPECT_EQ(found.adiabatic_efficiency, efficiency);

        const auto lobes = compress_without_internal(air, 98e3, 300.0, ratio, 0.12, 0.88, 0.9);
        const double heated =
            0.12 * (air.enthalpy_J_kg(lobes.outlet_temperature_K) - air.enthalpy_J_kg(300.0));
        EXPECT_TRUE(close(lobes.shaft_power_W * 0.9, heated, 1e-9, 1e-6));
      }
  }
}

// Identity: no pressure rise, no work.
TEST(Compress, DoesNothingAtAPressureRatioOfOne) {
  const air::Mixture dry;
  const auto found = compress(dry, 300.0, 1.0, 0.1, 0.6, 0.9);
  EXPECT_NEAR(found.outlet_temperature_K, 300.0, 1e-9);
  EXPECT_NEAR(found.shaft_power_W, 0.0, 1e-6);
  const auto lobes = compress_without_internal(dry, 1e5, 300.0, 1.0, 0.1, 0.85, 0.9);
  EXPECT_NEAR(lobes.outlet_temperature_K, 300.0, 1e-9);
  EXPECT_EQ(lobes.shaft_power_W, 0.0);
  EXPECT_EQ(lobes.adiabatic_efficiency, 0.85);
}

// Identity: a fall of pressure drives the machine, and nothing jumps on the way there.
TEST(Compress, IsDrivenByAFallOfPressure) {
  const air::Mixture dry;
  for (const double ratio : {0.7, 0.9, 0.99}) {
    const auto found = compress(dry, 300.0, ratio, 0.1, 0.6, 0.9);
    EXPECT_LT(found.shaft_power_W, 0.0);
    EXPECT_LT(found.outlet_temperature_K, 300.0);
    EXPECT_GT(found.outlet_temperature_K, dry.isentropic_temperature_K(300.0, ratio));
    EXPECT_LT(compress_without_internal(dry, 1e5, 300.0, ratio, 0.1, 0.9, 0.9).shaft_power_W, 0.0);
  }
  const double step = 1e-7;
  const auto above = compress(dry, 300.0, 1 + step, 0.1, 0.6, 0.9);
  const auto below = compress(dry, 300.0, 1 - step, 0.1, 0.6, 0.9);
  EXPECT_NEAR(above.outlet_temperature_K, below.outlet_temperature_K, 1e-4);
}

// Published values: compressor.csv, rows eta_is_from_eta_poly (the library fluids, seven digits).
TEST(AdiabaticOfPolytropic, IsTheTables) {
  int rows = 0;
  for (const auto& row : test::reference("compressor.csv")) {
    if (row.text("quantity") != "eta_is_from_eta_poly")
      continue;
    const auto& inputs = row.text("inputs");
    EXPECT_TRUE(close(adiabatic_of_polytropic(test::input(inputs, "eta_p"), test::input(inputs, "PR"),
                                              test::input(inputs, "gamma")),
                      row.number("value"), printed))
        << row.text("row_id");
    ++rows;
  }
  EXPECT_EQ(rows, 4);
}

// Published values: compressor.csv, rows Roots_isentropic_efficiency_limit: computed ones to their printed
// digits, a handbook's to two.
TEST(LobeBlower, IdealEfficiencyIsTheTables) {
  int rows = 0;
  for (const auto& row : test::reference("compressor.csv")) {
    if (row.text("quantity") != "Roots_isentropic_efficiency_limit")
      continue;
    const auto& inputs = row.text("inputs");
    const bool handbook = row.text("class") == "a";
    const double found = lobe_blower_ideal_efficiency(test::input(inputs, "PR"), 1.4);
    // The handbook's 0.95 at a ratio of 1.2 is 1.5 % above the closed form's 0.936; its other two round to
    // the same figures.
    EXPECT_TRUE(close(found, row.number("value"), handbook ? 0.016 : printed)) << row.text("row_id");
    ++rows;
  }
  EXPECT_GE(rows, 14);
}

// Other method: isentropic work by adding up v dp, over the work v1 (p2 - p1).
TEST(LobeBlower, IdealEfficiencyIsTheRatioOfTwoAreas) {
  for (const double gamma : {1.3, 1.4})
    for (const double ratio : {1.05, 1.5, 3.0}) {
      const int strips = 2000; // Simpson's rule
      const double width = (ratio - 1) / strips;
      double area = 0;
      for (int i = 0; i <= strips; ++i) {
        const double weight = i == 0 || i == strips ? 1 : i % 2 == 1 ? 4 : 2;
        area += weight * std::pow(1 + i * width, -1 / gamma);
      }
      area *= width / 3;
      EXPECT_TRUE(close(lobe_blower_ideal_efficiency(ratio, gamma), area / (ratio - 1), 1e-9));
    }
}

// Published values: compressor.csv, rows Roots_T2_ideal (constant cp, no leakage).
TEST(WithoutInternalCompression, AgreesWithTheConstantCpTable) {
  const air::Mixture dry;
  int rows = 0;
  for (const auto& row : test::reference("compressor.csv")) {
    if (row.text("quantity") != "Roots_T2_ideal")
      continue;
    const double inlet_K = test::input(row.text("inputs"), "T1");
    const double ratio = test::input(row.text("inputs"), "PR");
    const auto found = compress_without_internal(dry, 1e5, inlet_K, ratio, 0.1, 1.0, 1.0);
    EXPECT_TRUE(near_constant_cp(found.outlet_temperature_K, row.number("value"), inlet_K))
        << row.text("row_id");
    // Closed form for constant gamma, 1.4 at 25 C: within the same variation.
    EXPECT_TRUE(close(found.adiabatic_efficiency, lobe_blower_ideal_efficiency(ratio, 1.4), rise_below));
    ++rows;
  }
  EXPECT_GE(rows, 10);
}

// Published values: worked_examples.csv W33 to W35; the work is the displaced volume times the rise.
TEST(WithoutInternalCompression, GivesTheTextbookWorkOfRootsBlowers) {
  const air::Mixture dry;
  const double density = dry.density_kg_m3(1.013e5, 293.15);
  EXPECT_TRUE(
      close(compress_without_internal(dry, 1.013e5, 293.15, 1.5, density * 0.03, 1.0, 1.0).shaft_power_W,
            1520, 0.002)); // W33
  // W34: the book's 343 K and R 0.287 are 0.06 % less, its three figures the rest.
  EXPECT_TRUE(
      close(compress_without_internal(dry, 1e5, 343.15, 2.0, 1.0, 1.0, 1.0).shaft_power_W, 98.4e3, 0.0015));
  const double half = 0.5 * dry.density_kg_m3(1e5, 293.15);
  const auto third = compress_without_internal(dry, 1e5, 293.15, 2.0, half, 1.0, 1.0); // W35
  EXPECT_TRUE(close(third.shaft_power_W, 50e3, 1e-6));
  EXPECT_TRUE(close(third.adiabatic_efficiency, 0.7665, 0.002)); // gamma 1.4 in the book, varying here
}

// Identity: the shaft sees the swept volume, however much of it leaks back.
TEST(WithoutInternalCompression, LeakageHeatsTheAirAndLeavesThePowerPerTurn) {
  const air::Mixture dry;
  const DisplacementBlower tight{1.2e-3, 2.0, 1.0, std::nullopt, 0.92, 250, 420};
  DisplacementBlower leaky = tight;
  leaky.volumetric_efficiency = 0.8;
  const BlowerAction of_tight = PreparedBlower(tight).act(dry, 80, 1e5, 298.15, 1.6);
  const BlowerAction of_leaky = PreparedBlower(leaky).act(dry, 80, 1e5, 298.15, 1.6);
  EXPECT_TRUE(close(of_leaky.mass_flow_kg_s, 0.8 * of_tight.mass_flow_kg_s, 1e-12));
  EXPECT_TRUE(close(of_tight.shaft_power_W, 1.2e-3 * 160 * 0.6e5 / 0.92, 1e-9));
  EXPECT_TRUE(close(of_leaky.shaft_power_W, of_tight.shaft_power_W, 1e-12));
  EXPECT_GT(of_leaky.outlet_temperature_K, of_tight.outlet_temperature_K + 5);
}

} // namespace
} // namespace bellmouth::machine
