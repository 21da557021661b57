// SPDX-License-Identifier: GPL-3.0-or-later
// Isentropic and Fanno relations against tests/reference/isentropic.csv and fanno.csv, and identities.
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/air.hpp>

#include <random>

namespace bellmouth::air {
namespace {

using test::close;
using test::Row;

/// Compares the cells that a row has. Rows of class c are closed forms printed to seven figures; rows of
/// class a are printed tables of three or four figures.
void compare(const Row& row, const char* column, double found, double relative_of_tables,
             double absolute_of_tables) {
  if (!row.has(column))
    return;
  const bool closed_form = row.text("class") == "c";
  EXPECT_TRUE(close(found, row.number(column), closed_form ? 6e-7 : relative_of_tables,
                    closed_form ? 0 : absolute_of_tables))
      << row.text("row_id") << ' ' << column;
}

// Closed form (class c) and published values (class a): NACA Report 1135 equations and reprints of its
// tables.
TEST(Isentropic, AgreesWithEveryRow) {
  const auto rows = test::reference("isentropic.csv");
  EXPECT_EQ(rows.size(), 70u);
  for (const Row& row : rows) {
    const double mach = row.number("M");
    const double gamma = row.number("gamma");
    compare(row, "T_T0", temperature_ratio(mach, gamma), 0, 6e-5);
    compare(row, "p_p0", pressure_ratio(mach, gamma), 0, 6e-5);
    compare(row, "rho_rho0", density_ratio(mach, gamma), 0, 6e-5);
    compare(row, "A_Astar", area_ratio(mach, gamma), 1e-4, 6e-5);
    compare(row, "mfp_total", mass_flow_function(mach, gamma), 0, 6e-5);
    compare(row, "mfp_static", mass_flow_function(mach, gamma) / pressure_ratio(mach, gamma), 0, 6e-5);
  }
}

// Closed form (class c) and published values (class a).
TEST(Fanno, AgreesWithEveryRow) {
  const auto rows = test::reference("fanno.csv");
  EXPECT_EQ(rows.size(), 84u);
  for (const Row& row : rows) {
    const double mach = row.number("M");
    const double gamma = row.number("gamma");
    const double table = row.number("rtol");
    compare(row, "fLD", fanno_parameter(mach, gamma), table, 0);
    compare(row, "p_pstar", fanno_pressure_ratio(mach, gamma), table, 0);
    compare(row, "T_Tstar", fanno_temperature_ratio(mach, gamma), table, 0);
    compare(row, "rho_rhostar", fanno_density_ratio(mach, gamma), table, 0);
    compare(row, "p0_p0star", fanno_total_pressure_ratio(mach, gamma), table, 0);
    compare(row, "V_Vstar", 1 / fanno_density_ratio(mach, gamma), table, 0);
  }
}

class Random {
public:
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(engine_);
  }
  /// Evenly spread in the logarithm, so that small values come up as well.
  double log_between(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }

private:
  std::mt19937_64 engine_{7};
};

// Identity: inverse after forward, from Mach 1e-6 to 1 and for any gamma.
TEST(Isentropic, MachOfMassFlowFunctionInverts) {
  Random random;
  for (int i = 0; i < 20000; ++i) {
    const double gamma = random.between(1.1, 1.67);
    const double mach = random.log_between(1e-6, 0.9999);
    const auto found = mach_of_mass_flow_function(mass_flow_function(mach, gamma), gamma);
    ASSERT_TRUE(found.has_value());
    EXPECT_TRUE(close(*found, mach, 1e-14 / (1 - mach) + 2e-15)) << gamma;
  }
}

// Identity: near Mach 1 the function is flat, so a Mach number is known to the square root of the last digit;
// what is found must still give the value back to the last digits.
TEST(Isentropic, MachOfMassFlowFunctionReachesSonic) {
  for (const double gamma : {1.1, 1.3, 1.4, 1.667}) {
    const double sonic = mass_flow_function(1, gamma);
    EXPECT_EQ(mach_of_mass_flow_function(sonic, gamma).value(), 1.0);
    EXPECT_EQ(mach_of_mass_flow_function(0, gamma).value(), 0.0);
    for (double below = 1e-16; below < 0.1; below *= 3) {
      const double value = sonic * (1 - below);
      const auto mach = mach_of_mass_flow_function(value, gamma);
      ASSERT_TRUE(mach.has_value());
      EXPECT_LE(*mach, 1.0);
      EXPECT_TRUE(close(mass_flow_function(*mach, gamma), value, 4e-15)) << below;
    }
    const auto beyond = mach_of_mass_flow_function(sonic * (1 + 1e-12), gamma);
    ASSERT_FALSE(beyond.has_value());
    EXPECT_EQ(beyond.error().limit, sonic);
  }
}

// Identity: the series at low Mach number keep their relative accuracy; phi = sqrt(gamma) M (1 - (gamma+1)
// M^2/4 + ...).
TEST(Isentropic, KeepsItsDigitsAtLowMach) {
  for (double mach = 1e-9; mach < 2e-4; mach *= 1.7) {
    const double value = mass_flow_function(mach, 1.4);
    EXPECT_TRUE(close(value, std::sqrt(1.4) * mach * (1 - 0.6 * mach * mach), 1e-14));
    EXPECT_TRUE(close(mach_of_mass_flow_function(value, 1.4).value(), mach, 2e-15));
  }
}

// Identity: area ratio and mass-flow function say the same thing, p/p0 = (T/T0)^(gamma/(gamma-1)), p = rho R
// T.
TEST(Isentropic, RelationsAgreeWithEachOther) {
  Random random;
  for (int i = 0; i < 2000; ++i) {
    const double gamma = random.between(1.1, 1.67);
    const double mach = random.between(0.001, 3);
    EXPECT_TRUE(close(area_ratio(mach, gamma) * mass_flow_function(mach, gamma), mass_flow_function(1, gamma),
                      1e-13));
    EXPECT_TRUE(close(pressure_ratio(mach, gamma),
                      std::pow(temperature_ratio(mach, gamma), gamma / (gamma - 1)), 1e-13));
    EXPECT_TRUE(close(density_ratio(mach, gamma) * temperature_ratio(mach, gamma),
                      pressure_ratio(mach, gamma), 1e-13));
  }
}

// Closed form: the definition as the textbooks print it, away from Mach 1 where it does not cancel.
double printed_fanno_parameter(double mach, double gamma) {
  const double x = mach * mach;
  return (1 - x) / (gamma * x) +
         (gamma + 1) / (2 * gamma) * std::log((gamma + 1) * x / (2 + (gamma - 1) * x));
}

TEST(Fanno, ParameterIsThePrintedOne) {
  for (const double gamma : {1.2, 1.4, 1.67})
    for (double mach = 1e-5; mach < 0.85; mach *= 1.1)
      EXPECT_TRUE(close(fanno_parameter(mach, gamma), printed_fanno_parameter(mach, gamma), 1e-12)) << mach;
  EXPECT_TRUE(close(fanno_parameter(2.5, 1.4), printed_fanno_parameter(2.5, 1.4), 1e-12));
}

// Closed form: towards Mach 1 the parameter goes as 4 (1 - M)^2 / (gamma (gamma+1)), where the printed form
// has lost all its digits.
TEST(Fanno, ParameterKeepsItsDigitsNearSonic) {
  for (const double gamma : {1.2, 1.4, 1.67})
    for (double below = 1e-3; below > 1e-9; below /= 7) {
      const double mach = 1 - below;
      const double exact_below = 1 - mach;
      EXPECT_TRUE(close(fanno_parameter(mach, gamma), 4 * exact_below * exact_below / (gamma * (gamma + 1)),
                        5 * below))
          << below;
    }
  EXPECT_EQ(fanno_parameter(1, 1.4), 0.0);
}

// Identity: inverse after forward.
TEST(Fanno, MachOfParameterInverts) {
  Random random;
  for (int i = 0; i < 20000; ++i) {
    const double gamma = random.between(1.1, 1.67);
    const double mach = random.log_between(1e-6, 1);
    EXPECT_TRUE(close(mach_of_fanno_parameter(fanno_parameter(mach, gamma), gamma), mach, 2e-14));
  }
  for (double below = 1e-12; below < 0.1; below *= 3)
    EXPECT_NEAR(mach_of_fanno_parameter(fanno_parameter(1 - below, 1.4), 1.4), 1 - below, 1e-15);
  EXPECT_EQ(mach_of_fanno_parameter(0, 1.4), 1.0);
}

// Identity: the friction lengths add up, and two half ducts are one duct.
TEST(Fanno, OutletMachSplitsTheLength) {
  Random random;
  int choked = 0;
  for (int i = 0; i < 20000; ++i) {
    const double gamma = random.between(1.1, 1.67);
    const double mach = random.log_between(1e-4, 0.99);
    const double length = random.log_between(1e-3, 20);
    const auto outlet = fanno_outlet_mach(mach, length, gamma);
    const double longest = fanno_parameter(mach, gamma);
    ASSERT_EQ(outlet.has_value(), length <= longest);
    if (!outlet) {
      ++choked;
      EXPECT_TRUE(close(outlet.error().limit, longest, 1e-14));
      continue;
    }
    EXPECT_GE(*outlet, mach);
    EXPECT_LE(*outlet, 1.0);
    EXPECT_TRUE(close(longest - fanno_parameter(*outlet, gamma), length, 1e-9, 1e-13 * longest));
    const auto half = fanno_outlet_mach(mach, length / 2, gamma);
    ASSERT_TRUE(half.has_value());
    if (longest - length >
        1e-3 * longest) { // at the choking limit the last half is ill-conditioned by nature
      EXPECT_TRUE(close(fanno_outlet_mach(*half, length / 2, gamma).value(), *outlet, 1e-11));
    }
  }
  EXPECT_GT(choked, 1000);
}

// Identity: the choking limit is consistent: a duct of just that length ends sonic, a hair more does not
// flow.
TEST(Fanno, ChokesAtTheParameter) {
  for (double mach = 0.05; mach < 0.99; mach += 0.03) {
    const double longest = fanno_parameter(mach, 1.4);
    const double outlet = fanno_outlet_mach(mach, longest * (1 - 1e-12), 1.4).value();
    EXPECT_TRUE(close(fanno_parameter(outlet, 1.4), 1e-12 * longest, 1e-3, 1e-15 * longest));
    EXPECT_FALSE(fanno_outlet_mach(mach, longest * (1 + 1e-12), 1.4).has_value());
  }
}

// Closed form: at low Mach number a duct is incompressible: dM/M = gamma M^2 f L/D / 2, loss of total
// pressure f L/D gamma M^2 / 2.
TEST(Fanno, IsIncompressibleAtLowMach) {
  for (const double mach : {1e-4, 3e-4, 1e-3, 1e-2}) {
    const double length = 0.7;
    const double outlet = fanno_outlet_mach(mach, length, 1.4).value();
    const double small = 1.4 * mach * mach * length / 2;
    EXPECT_TRUE(close(outlet / mach - 1, small, 4 * mach * mach, 4e-16));
    EXPECT_TRUE(close(1 - fanno_total_pressure_ratio(outlet, 1.4) / fanno_total_pressure_ratio(mach, 1.4),
                      small, 4 * mach * mach, 4e-15));
  }
  EXPECT_EQ(fanno_outlet_mach(0, 5, 1.4).value(), 0.0);
  EXPECT_EQ(fanno_outlet_mach(0.3, 0, 1.4).value(), 0.3);
}

// Identity: dM/dx of Shapiro's influence coefficients, dM^2/M^2 = gamma M^2 (1 + k M^2)/(1 - M^2) f dL/D.
TEST(Fanno, FollowsTheDifferentialEquation) {
  for (double mach = 0.05; mach < 0.9; mach += 0.05) {
    const double d = 1e-6 * fanno_parameter(mach, 1.4);
    const double before = mach;
    const double after = fanno_outlet_mach(mach, d, 1.4).value();
    const double x = mach * mach;
    EXPECT_TRUE(close((after * after - before * before) / x, 1.4 * x * (1 + 0.2 * x) / (1 - x) * d, 1e-4))
        << mach;
  }
}

// Identity: mass flow, rho V, is the same along a Fanno line, and total temperature too.
TEST(Fanno, ConservesMassAndEnergy) {
  for (double mach = 0.05; mach < 1; mach += 0.05) {
    const double velocity = mach * std::sqrt(fanno_temperature_ratio(mach, 1.4));
    EXPECT_TRUE(close(fanno_density_ratio(mach, 1.4) * velocity, 1, 1e-14));
    EXPECT_TRUE(close(fanno_pressure_ratio(mach, 1.4),
                      fanno_density_ratio(mach, 1.4) * fanno_temperature_ratio(mach, 1.4), 1e-14));
    EXPECT_TRUE(close(fanno_total_pressure_ratio(mach, 1.4),
                      fanno_pressure_ratio(mach, 1.4) / pressure_ratio(mach, 1.4) * pressure_ratio(1, 1.4),
                      1e-14));
  }
}

} // namespace
} // namespace bellmouth::air
