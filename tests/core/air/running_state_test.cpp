// SPDX-License-Identifier: GPL-3.0-or-later
// The running state against the functions that it stands for. All of them other method, unless they say
// otherwise: those functions are tested against published tables and closed forms in relations_test.cpp.
#include "support/close.hpp"

#include <bellmouth/air/running_state.hpp>

#include <algorithm>
#include <random>

namespace bellmouth::air {
namespace {

using test::close;

class Random {
public:
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(engine_);
  }
  double log_between(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }

private:
  std::mt19937_64 engine_{11};
};

/// What a Mach number can be known to from phi: the last digits, and towards Mach 1, where phi is flat, less.
double digits(double mach) {
  return 1e-12 + 4e-15 / (1 - mach);
}

void expect_state_at(const RunningState& state, double mach, double tolerance) {
  const double gamma = state.gamma();
  EXPECT_TRUE(close(state.mach_squared(), mach * mach, tolerance)) << gamma << ' ' << mach;
  EXPECT_TRUE(close(state.pressure_ratio(), pressure_ratio(mach, gamma), tolerance)) << gamma << ' ' << mach;
  EXPECT_TRUE(close(state.phi(), mass_flow_function(mach, gamma), tolerance)) << gamma << ' ' << mach;
  EXPECT_TRUE(close(state.temperature_ratio(), temperature_ratio(mach, gamma), tolerance));
  EXPECT_TRUE(close(state.dynamic_pressure_share(), gamma / 2 * mach * mach * pressure_ratio(mach, gamma),
                    2 * tolerance));
}

TEST(RunningState, FindsTheStateOfAMassFlow) {
  Random random;
  for (int i = 0; i < 400; ++i) {
    RunningState state(random.between(1.1, 1.67));
    for (int j = 0; j < 100; ++j) {
      const double mach = j % 2 == 0 ? random.log_between(1e-4, 0.95) : random.between(0.2, 0.5);
      ASSERT_TRUE(state.set(mass_flow_function(mach, state.gamma())));
      expect_state_at(state, mach, digits(mach));
    }
  }
}

// Just below the share of the greatest flow up to which the series is taken, where it leaves out most.
TEST(RunningState, IsWorstWhereTheSeriesEnds) {
  for (double gamma = 1.1; gamma <= 1.67; gamma += 0.01) {
    RunningState state(gamma);
    const double phi = 0.52 * state.greatest() * (1 - 1e-12);
    ASSERT_TRUE(state.set(phi));
    const auto wanted = SubsonicStates(gamma).at(phi);
    EXPECT_TRUE(close(state.mach_squared(), wanted->mach * wanted->mach, 1e-12)) << gamma;
    EXPECT_TRUE(close(state.pressure_ratio(), wanted->pressure_ratio, 1e-12)) << gamma;
  }
}

TEST(RunningState, MovesAsFarAsAsked) {
  Random random;
  for (int i = 0; i < 4000; ++i) {
    RunningState state(random.between(1.2, 1.45));
    double mach = random.log_between(1e-4, 0.95);
    ASSERT_TRUE(state.set(mass_flow_function(mach, state.gamma())));
    // steps of all sizes, one after the other, so that errors would pile up
    for (int j = 0; j < 40; ++j) {
      mach = std::clamp(mach * (1 + random.log_between(1e-9, 0.4) * (j % 2 == 0 ? 1 : -1)), 1e-4, 0.95);
      ASSERT_TRUE(state.move(mass_flow_function(mach, state.gamma())));
      expect_state_at(state, mach, 2 * digits(mach));
    }
  }
}

TEST(RunningState, FollowsADuct) {
  Random random;
  int choked = 0;
  for (int i = 0; i < 100000; ++i) {
    RunningState state(random.between(1.2, 1.45));
    const double mach = random.log_between(1e-4, 0.95);
    const double length = random.log_between(1e-5, 3);
    ASSERT_TRUE(state.set(mass_flow_function(mach, state.gamma())));
    const double before = state.phi();
    const auto outlet = fanno_outlet_mach(mach, length, state.gamma());
    const double longest = fanno_parameter(mach, state.gamma());
    if (std::abs(length - longest) < 1e-9 * longest)
      continue;
    ASSERT_EQ(state.duct(length), outlet.has_value());
    if (!outlet) {
      ++choked;
      EXPECT_EQ(state.phi(), before);
      continue;
    }
    // A Mach number near 1 stands for a friction length that goes as (1 - M)^2.
    const double tolerance = digits(mach) + 1e-14 / ((1 - *outlet) * (1 - *outlet));
    expect_state_at(state, *outlet, tolerance);
    EXPECT_TRUE(close(state.phi() / before,
                      fanno_total_pressure_ratio(mach, state.gamma()) /
                          fanno_total_pressure_ratio(*outlet, state.gamma()),
                      2 * tolerance));
  }
  EXPECT_GT(choked, 1000);
}

// Closed form: many short ducts are one long one; here their errors would add up.
TEST(RunningState, AddsUpShortDucts) {
  for (const double mach : {0.02, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6}) {
    RunningState state(1.4);
    ASSERT_TRUE(state.set(mass_flow_function(mach, 1.4)));
    const double length = 0.5 * fanno_parameter(mach, 1.4);
    for (int i = 0; i < 1000; ++i)
      ASSERT_TRUE(state.duct(length / 1000));
    expect_state_at(state, fanno_outlet_mach(mach, length, 1.4).value(), 1e-11);
  }
}

TEST(RunningState, StopsWhereTheFlowChokes) {
  for (const double gamma : {1.1, 1.4, 1.67}) {
    RunningState state(gamma);
    const double phi = mass_flow_function(0.4, gamma);
    ASSERT_TRUE(state.set(phi));
    const double x = state.mach_squared();
    EXPECT_FALSE(state.set(state.greatest() * (1 + 1e-9)));
    EXPECT_FALSE(state.move(state.greatest() * (1 + 1e-9)));
    EXPECT_FALSE(state.duct(fanno_parameter(0.4, gamma) * (1 + 1e-9)));
    EXPECT_EQ(state.phi(), phi);
    EXPECT_EQ(state.mach_squared(), x);

    ASSERT_TRUE(state.move(state.greatest()));
    EXPECT_EQ(state.mach_squared(), 1.0);
    EXPECT_TRUE(state.duct(0));
    EXPECT_FALSE(state.duct(1e-9));
    EXPECT_TRUE(state.move(phi));
    EXPECT_TRUE(close(state.mach_squared(), 0.16, 1e-12));
  }
}

TEST(RunningState, LeavesStillAirStill) {
  RunningState state(1.4);
  EXPECT_EQ(state.pressure_ratio(), 1.0);
  ASSERT_TRUE(state.set(0));
  EXPECT_TRUE(state.duct(3));
  EXPECT_EQ(state.phi(), 0.0);
  EXPECT_EQ(state.mach_squared(), 0.0);
  EXPECT_EQ(state.pressure_ratio(), 1.0);
  EXPECT_TRUE(state.move(1e-8));
  EXPECT_TRUE(close(state.mach_squared(), 1e-16 / 1.4, 1e-12)); // incompressible
  EXPECT_TRUE(state.move(0.6));
  EXPECT_TRUE(state.move(0));
  EXPECT_EQ(state.mach_squared(), 0.0);
}

} // namespace
} // namespace bellmouth::air
