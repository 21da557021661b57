// SPDX-License-Identifier: GPL-3.0-or-later
// Inverse relations and heat addition in a duct.
#include "support/close.hpp"

#include <bellmouth/air/inverses.hpp>

#include <functional>
#include <limits>
#include <vector>

namespace bellmouth::air {
namespace {

using test::close;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();
const std::vector<double> gammas{1.1, 1.2, 1.3, 1.4, 1.5, 1.667, 1.67};

/// A relation, and its inverse.
struct Relation {
  const char* name;
  std::function<double(double, double)> ratio;
  std::function<MachFound(double, double, Branch)> inverse;
  bool two_branches;               ///< flat at Mach 1: a Mach number near there is lost in the last digit
  bool flat_at_rest;               ///< flat at Mach 0, likewise
  std::vector<double> no_flow_has; ///< at gamma 1.4
};

void PrintTo(const Relation& relation, std::ostream* stream) {
  *stream << relation.name;
}

template <class Function> auto of_one_branch(Function function) {
  return [function](double ratio, double gamma, Branch) { return function(ratio, gamma); };
}

std::vector<Relation> relations() {
  using Two = MachFound (*)(double, double, Branch);
  return {
      {"temperature",
       temperature_ratio,
       of_one_branch(mach_of_temperature_ratio),
       false,
       true,
       {0, -1, 1.0000001, infinite}},
      {"pressure",
       pressure_ratio,
       of_one_branch(mach_of_pressure_ratio),
       false,
       true,
       {0, -1, 1.1, infinite}},
      {"density", density_ratio, of_one_branch(mach_of_density_ratio), false, true, {0, -1, 1.1, infinite}},
      {"area", area_ratio, static_cast<Two>(mach_of_area_ratio), true, false, {0, -1, 0.999999, infinite}},
      {"mass_flow",
       mass_flow_function,
       static_cast<Two>(mach_of_mass_flow_function),
       true,
       false,
       {-1e-9, 0.685, 1, infinite}},
      {"fanno_length",
       fanno_parameter,
       static_cast<Two>(mach_of_fanno_parameter),
       true,
       false,
       {-1e-9, -infinite, infinite}},
      {"fanno_total_pressure",
       fanno_total_pressure_ratio,
       static_cast<Two>(mach_of_fanno_total_pressure_ratio),
       true,
       false,
       {0.5, -2, infinite}},
      {"fanno_pressure",
       fanno_pressure_ratio,
       of_one_branch(mach_of_fanno_pressure_ratio),
       false,
       false,
       {0, -1, infinite}},
      {"fanno_temperature",
       fanno_temperature_ratio,
       of_one_branch(mach_of_fanno_temperature_ratio),
       false,
       true,
       {0, -1, 1.2000001, infinite}},
      {"fanno_density",
       fanno_density_ratio,
       of_one_branch(mach_of_fanno_density_ratio),
       false,
       false,
       {0, -1, 0.408, infinite}},
      {"rayleigh_total_temperature",
       rayleigh_total_temperature_ratio,
       static_cast<Two>(mach_of_rayleigh_total_temperature_ratio),
       true,
       false,
       {-0.1, 1.0000001, infinite}}};
}

class Inverse : public testing::TestWithParam<Relation> {};

/// Mach numbers from 1e-8 to 50, close about 1.
std::vector<double> grid() {
  std::vector<double> machs{1, 50, 1 - 1e-9, 1 + 1e-9};
  for (double mach = 1e-8; mach < 50; mach *= 1.03)
    machs.push_back(mach);
  for (double away = 1e-12; away < 0.5; away *= 1.7) {
    machs.push_back(1 - away);
    machs.push_back(1 + away);
  }
  return machs;
}

// Identity: forward after inverse gives the ratio back; inverse after forward gives the Mach number back, as
// far as the ratio tells it.
TEST_P(Inverse, UndoesTheRelation) {
  const Relation& relation = GetParam();
  for (const double gamma : gammas)
    for (const double mach : grid()) {
      const double ratio = relation.ratio(mach, gamma);
      const Branch branch = mach <= 1 ? Branch::subsonic : Branch::supersonic;
      const auto found = relation.inverse(ratio, gamma, branch);
      ASSERT_TRUE(found.has_value()) << gamma << ' ' << mach;
      EXPECT_TRUE(close(relation.ratio(*found, gamma), ratio, 1e-11, 1e-15)) << gamma << ' ' << mach;
      // What half a unit in the last place of the ratio is worth.
      const double in_mach = relation.two_branches   ? 1e-14 / std::max(std::abs(mach - 1), 1e-8)
                             : relation.flat_at_rest ? 1e-14 / std::min(1., mach * mach)
                                                     : 0;
      EXPECT_TRUE(close(*found, mach, 1e-11 + 40 * in_mach, relation.flat_at_rest ? 4e-8 : 0))
          << gamma << ' ' << mach;
    }
}

TEST_P(Inverse, RefusesWhatNoFlowHas) {
  const Relation& relation = GetParam();
  std::vector<double> values = relation.no_flow_has;
  values.insert(values.end(), {nan, -infinite});
  for (const double value : values)
    for (const Branch branch : {Branch::subsonic, Branch::supersonic}) {
      const auto found = relation.inverse(value, 1.4, branch);
      ASSERT_FALSE(found.has_value()) << value << " gives " << *found;
      EXPECT_LT(found.error().lowest, found.error().highest);
      EXPECT_FALSE(value > found.error().lowest && value < found.error().highest) << value;
    }
}

// Identity: whatever double comes in, a Mach number or an error comes out, on the branch that was asked for.
TEST_P(Inverse, NeverGivesNonsense) {
  const Relation& relation = GetParam();
  for (const double gamma : gammas)
    for (int exponent = -1074; exponent < 1024; exponent += 3)
      for (const double significand : {1.0, 1.2345, 1.999999999999}) {
        const double value = std::ldexp(significand, exponent);
        for (const double each : {value, -value, 1 - value, 1 + value})
          for (const Branch branch : {Branch::subsonic, Branch::supersonic})
            if (const auto found = relation.inverse(each, gamma, branch)) {
              EXPECT_TRUE(std::isfinite(*found) && *found >= 0) << each;
              const bool on_branch = branch == Branch::subsonic ? *found <= 1 : *found >= 1;
              EXPECT_TRUE(on_branch || !relation.two_branches) << each << ' ' << *found;
            }
      }
}

INSTANTIATE_TEST_SUITE_P(Of, Inverse, testing::ValuesIn(relations()),
                         [](const auto& instance) { return std::string(instance.param.name); });

// Closed form: the ends of the supersonic branches at gamma 1.4 (Shapiro's tables print 0.8215 and 0.4898).
TEST(Inverses, EndAtInfiniteMach) {
  const auto fanno = mach_of_fanno_parameter(0.9, 1.4, Branch::supersonic);
  ASSERT_FALSE(fanno.has_value());
  EXPECT_TRUE(close(fanno.error().highest, 0.8215, 1e-4));
  EXPECT_TRUE(close(fanno.error().highest, fanno_parameter(1e8, 1.4), 1e-12));
  const auto rayleigh = mach_of_rayleigh_total_temperature_ratio(0.4, 1.4, Branch::supersonic);
  ASSERT_FALSE(rayleigh.has_value());
  EXPECT_TRUE(close(rayleigh.error().lowest, 0.4898, 1e-4));
  EXPECT_TRUE(close(rayleigh.error().lowest, rayleigh_total_temperature_ratio(1e8, 1.4), 1e-12));
}

// Published value, from memory of the tables of Shapiro (1953) and the textbooks that reprint them: gamma
// 1.4, five digits.
TEST(Rayleigh, GivesThePrintedTable) {
  struct Line {
    double mach, T0, T, p, p0, V;
  };
  for (const Line& line : {Line{0.2, 0.17355, 0.20661, 2.27273, 1.23460, 0.09091},
                           Line{0.5, 0.69136, 0.79012, 1.77778, 1.11405, 0.44444},
                           Line{2.0, 0.79339, 0.52893, 0.36364, 1.50310, 1.45455}}) {
    EXPECT_NEAR(rayleigh_total_temperature_ratio(line.mach, 1.4), line.T0, 6e-6);
    EXPECT_NEAR(rayleigh_temperature_ratio(line.mach, 1.4), line.T, 6e-6);
    EXPECT_NEAR(rayleigh_pressure_ratio(line.mach, 1.4), line.p, 6e-6);
    EXPECT_NEAR(rayleigh_total_pressure_ratio(line.mach, 1.4), line.p0, 6e-6);
    EXPECT_NEAR(rayleigh_velocity_ratio(line.mach, 1.4), line.V, 6e-6);
  }
}

// Identity: mass flow and impulse are the same at both ends, p V/T and p (1 + gamma M^2); total and static
// states belong together.
TEST(Rayleigh, ConservesMassAndImpulse) {
  for (const double gamma : gammas)
    for (double mach = 1e-4; mach < 8; mach *= 1.1) {
      const double p = rayleigh_pressure_ratio(mach, gamma);
      const double T = rayleigh_temperature_ratio(mach, gamma);
      EXPECT_TRUE(close(p * rayleigh_velocity_ratio(mach, gamma) / T, 1, 1e-13));
      EXPECT_TRUE(close(p * (1 + gamma * mach * mach), 1 + gamma, 1e-13));
      EXPECT_TRUE(close(rayleigh_total_temperature_ratio(mach, gamma),
                        T * temperature_ratio(1, gamma) / temperature_ratio(mach, gamma), 1e-13));
      EXPECT_TRUE(close(rayleigh_total_pressure_ratio(mach, gamma),
                        p * pressure_ratio(1, gamma) / pressure_ratio(mach, gamma), 1e-13));
    }
}

// Identity: the influence coefficient of Shapiro, dM^2/M^2 = (1 + gamma M^2)(1 + k M^2)/(1 - M^2) dT0/T0, and
// that of total pressure, dp0/p0 = -gamma M^2/2 dT0/T0.
TEST(Rayleigh, FollowsTheDifferentialEquation) {
  for (double mach = 0.02; mach < 0.95; mach += 0.03) {
    const double d = 1e-6;
    const double after = rayleigh_outlet_mach(mach, 1 + d, 1.4).value();
    const double x = mach * mach;
    EXPECT_TRUE(close((after * after - x) / x, (1 + 1.4 * x) * (1 + 0.2 * x) / (1 - x) * d, 1e-3)) << mach;
    EXPECT_TRUE(
        close(rayleigh_total_pressure_ratio(after, 1.4) / rayleigh_total_pressure_ratio(mach, 1.4) - 1,
              -0.7 * x * d, 2e-3, 1e-15))
        << mach;
  }
}

// Identity: heating by steps is heating at once, cooling undoes it, and the outlet is where T0/T0* says.
TEST(Rayleigh, OutletFollowsTheTotalTemperature) {
  for (const double gamma : gammas)
    for (double mach = 1e-6; mach < 0.999; mach = mach < 0.3 ? mach * 1.5 : mach + 0.05) {
      const double critical = rayleigh_critical_ratio(mach, gamma);
      for (const double share : {0.01, 0.3, 0.7, 0.99}) {
        const double ratio = std::pow(critical, share);
        const double outlet = rayleigh_outlet_mach(mach, ratio, gamma).value();
        EXPECT_TRUE(close(rayleigh_total_temperature_ratio(outlet, gamma),
                          ratio * rayleigh_total_temperature_ratio(mach, gamma), 1e-13));
        const double half = rayleigh_outlet_mach(mach, std::sqrt(ratio), gamma).value();
        EXPECT_TRUE(close(rayleigh_outlet_mach(half, std::sqrt(ratio), gamma).value(), outlet, 1e-11));
        EXPECT_TRUE(close(rayleigh_outlet_mach(outlet, 1 / ratio, gamma).value(), mach, 1e-11));
      }
    }
  EXPECT_EQ(rayleigh_outlet_mach(0, 3, 1.4).value(), 0.0);
  EXPECT_EQ(rayleigh_outlet_mach(0.4, 1, 1.4).value(), 0.4);
}

// Identity: at the critical ratio the flow leaves at Mach 1, a hair above it chokes.
TEST(Rayleigh, ChokesAtTheCriticalRatio) {
  for (const double gamma : gammas)
    for (double mach = 0.01; mach < 0.99; mach += 0.02) {
      const double critical = rayleigh_critical_ratio(mach, gamma);
      EXPECT_NEAR(rayleigh_outlet_mach(mach, critical * (1 - 1e-13), gamma).value(), 1, 2e-6);
      const auto beyond = rayleigh_outlet_mach(mach, critical * (1 + 1e-12), gamma);
      ASSERT_FALSE(beyond.has_value());
      EXPECT_TRUE(close(beyond.error().limit, critical, 1e-15));
    }
  EXPECT_FALSE(rayleigh_outlet_mach(1, 1 + 1e-12, 1.4).has_value());
  EXPECT_LT(rayleigh_outlet_mach(1, 1 - 1e-12, 1.4).value(), 1);
}

} // namespace
} // namespace bellmouth::air
