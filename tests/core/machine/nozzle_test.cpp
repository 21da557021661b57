// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/air.hpp>
#include <bellmouth/machine.hpp>
#include <bellmouth/machine/nozzle.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

namespace bellmouth::machine {
namespace {

using std::numbers::pi;
using test::close;

constexpr double R = 287.05;

/// The printed result of a worked example and the tolerance of its row.
struct Printed {
  double value, relative;
};
Printed worked(const std::string& example, const std::string& number) {
  for (const test::Row& row : test::reference("worked_examples.csv"))
    if (row.text("ex_id") == example && row.text("n") == number)
      return {row.number("published"), row.number("rtol")};
  throw std::runtime_error("no example " + example);
}

// Published values: worked_examples.csv, W20 to W23 (textbooks by Munson, Fox & McDonald, Pao), each with the
// gas constant of its book.
TEST(NozzleFlow, GivesTheTextbookFlows) {
  const auto expect = [](const char* example, const char* number, double found) {
    const Printed printed = worked(example, number);
    EXPECT_TRUE(close(found, printed.value, printed.relative)) << example << ' ' << number;
  };
  const NozzleFlow open = nozzle_flow(1e-4, 101e3, 288, 80e3, 1.4, 286.9);
  const NozzleFlow choked = nozzle_flow(1e-4, 101e3, 288, 40e3, 1.4, 286.9);
  expect("W20", "1", open.mass_flow_kg_s);
  expect("W20", "2", choked.mass_flow_kg_s);
  EXPECT_FALSE(open.choked);
  EXPECT_TRUE(choked.choked);
  expect("W21", "2", nozzle_mass_flow_kg_s(1e-3, 1000e3, 333, 591e3, 1.4, 287));
  // Inch-pound: psia, Rankine, R = 53.3 ft lbf/(lb R); a slug is 14.5939 kg.
  const double psi = 6894.757, rankine = 5.0 / 9.0, gas_constant = 53.3 * 0.3048 * 9.80665 / rankine;
  const double area = pi / 4 * 0.0254 * 0.0254;
  expect("W22", "1",
         nozzle_mass_flow_kg_s(area, 19.7 * psi, 539.6 * rankine, 14.7 * psi, 1.4, gas_constant) / 14.5939);
  expect("W23", "1",
         nozzle_mass_flow_kg_s(area, 64.7 * psi, 539.6 * rankine, 14.7 * psi, 1.4, gas_constant) / 14.5939);
}

// Other method: the mass-flow function at the Mach number that the pressure ratio gives.
TEST(NozzleFlow, IsTheMassFlowFunctionAtItsMachNumber) {
  for (const double gamma : {1.3, 1.4})
    for (const double mach : {1e-4, 0.01, 0.1, 0.5, 0.9, 0.999, 1.0}) {
      const double x = air::pressure_ratio(mach, gamma);
      const double wanted = 1e-4 * 2e5 / std::sqrt(R * 350.0) * air::mass_flow_function(mach, gamma);
      EXPECT_TRUE(close(nozzle_mass_flow_kg_s(1e-4, 2e5, 350.0, x * 2e5, gamma, R), wanted,
                        mach < 0.01 ? 1e-7 : 1e-10)) // x itself holds no more digits there
          << mach;
    }
  EXPECT_TRUE(close(critical_pressure_ratio(1.4), 0.528281787717174, 1e-12)); // closed form
}

// Identity: the slope is that of the flow; nothing passes without a difference or an area.
TEST(NozzleFlow, HasTheSlopeOfItsFlow) {
  for (const double x : {0.2, 0.6, 0.8, 0.99}) {
    const double step = 1e-6;
    const auto flow = [](double ratio) { return nozzle_mass_flow_kg_s(1e-4, 1e5, 300, ratio * 1e5, 1.4, R); };
    const double by_difference = (flow(x + step) - flow(x - step)) / (2 * step);
    EXPECT_TRUE(close(nozzle_flow(1e-4, 1e5, 300, x * 1e5, 1.4, R).by_ratio, by_difference, 1e-7, 1e-12))
        << x;
  }
  EXPECT_EQ(nozzle_mass_flow_kg_s(1e-4, 1e5, 300, 1e5, 1.4, R), 0.0);
  EXPECT_EQ(nozzle_mass_flow_kg_s(0, 1e5, 300, 5e4, 1.4, R), 0.0);
}

// Identities: the exact function but for the last thousandth, continuous with its slope, never falling.
TEST(LeakFunction, IsTheNozzleFunctionButForTheLastThousandth) {
  for (const double gamma : {1.33, 1.4}) {
    for (const double x : {0.0, 0.3, 0.6, 0.9, 0.998})
      EXPECT_EQ(leak_function(x, gamma).value, nozzle_mass_flow_kg_s(1, 1, 1, x, gamma, 1.0));
    double last = leak_function(0.99, gamma).value;
    for (double x = 0.9901; x <= 1; x += 1e-5) {
      const NozzleFunction found = leak_function(x, gamma);
      EXPECT_LT(found.value, last);
      last = found.value;
    }
    EXPECT_EQ(leak_function(1.0, gamma).value, 0.0);
    const double join = 1 - linear_difference, step = 1e-9;
    const NozzleFunction below = leak_function(join - step, gamma), above = leak_function(join + step, gamma);
    EXPECT_TRUE(close(below.value, above.value, 1e-5));
    EXPECT_TRUE(close(below.by_ratio, above.by_ratio, 1e-5));
  }
}

// Identity: slopes by differences, both ways; what leaves one space enters the other.
TEST(LeakFlow, GoesBothWaysAndHasItsSlopes) {
  const auto flow = [](double first, double second) {
    return leak_flow(2e-5, first, 400, second, 300, 1.4, R);
  };
  EXPECT_EQ(flow(1e5, 1e5).mass_flow_kg_s, 0.0);
  for (const auto& [first, second] : {std::pair{1.5e5, 1e5}, std::pair{1e5, 1.5e5}, std::pair{3e5, 1e5},
                                      std::pair{1.0005e5, 1e5}, std::pair{1e5, 1.0005e5}}) {
    const LeakFlow found = flow(first, second);
    EXPECT_EQ(found.mass_flow_kg_s > 0, first > second);
    const double step = 0.1;
    EXPECT_TRUE(close(
        found.by_first_kg_sPa,
        (flow(first + step, second).mass_flow_kg_s - flow(first - step, second).mass_flow_kg_s) / (2 * step),
        1e-4, 1e-14));
    EXPECT_TRUE(close(
        found.by_second_kg_sPa,
        (flow(first, second + step).mass_flow_kg_s - flow(first, second - step).mass_flow_kg_s) / (2 * step),
        1e-4, 1e-14));
  }
  // Hot air leaks less by the root of its temperature.
  EXPECT_TRUE(close(flow(2e5, 1e5).mass_flow_kg_s / -flow(1e5, 2e5).mass_flow_kg_s, std::sqrt(0.75), 1e-12));
}

TEST(BypassValve, AddsItsLeakToItsOpening) {
  BypassValve valve{0.025, 0.0, 0.7, 3e-6};
  EXPECT_EQ(valve.effective_area_m2(), 3e-6);
  valve.opening = 0.5;
  EXPECT_TRUE(close(valve.effective_area_m2(), pi / 4 * 0.025 * 0.025 * 0.35 + 3e-6, 1e-12));
}

} // namespace
} // namespace bellmouth::machine
