// SPDX-License-Identifier: GPL-3.0-or-later
// Filling the ducting.
#include "support/close.hpp"

#include <bellmouth/flow.hpp>

#include <gtest/gtest.h>

#include <cmath>

namespace bellmouth::test {
namespace {

// Closed form: without an engine the density rises straight, t = V (rho2 - rho1) / m.
TEST(Fill, WithoutAnEngineIsMassOverFlow) {
  EXPECT_TRUE(close(flow::fill_time_s(0.007, 1.2, 1.7, 0.1, 0).value(), 0.007 * 0.5 / 0.1, 1e-12));
  // Towards no engine the general law becomes the straight one.
  EXPECT_TRUE(close(flow::fill_time_s(0.007, 1.2, 1.7, 0.1, 1e-9).value(), 0.007 * 0.5 / 0.1, 1e-6));
}

// Other method: the balance V d(rho)/dt = m - q rho in a hundred thousand small steps (midpoint rule).
TEST(Fill, AgreesWithTheBalanceInSmallSteps) {
  struct Case {
    double volume, from, to, supply, swallow;
  };
  for (const auto& [volume, from, to, supply, swallow] :
       {Case{0.007, 1.2, 1.65, 0.12, 0.07}, Case{0.02, 1.7, 1.25, 0.05, 0.06},
        Case{0.003, 0.4, 1.1, 0.08, 0.05}}) {
    const int steps = 100000;
    double time = 0;
    for (int i = 0; i < steps; ++i) {
      const double density = from + (to - from) * (i + 0.5) / steps;
      time += volume * (to - from) / steps / (supply - swallow * density);
    }
    EXPECT_TRUE(close(flow::fill_time_s(volume, from, to, supply, swallow).value(), time, 1e-8));
  }
}

// Identity: half the way left takes ln 2 time constants V / q.
TEST(Fill, ComesNearByTimeConstants) {
  const double volume = 0.01, supply = 0.1, swallow = 0.06, end = supply / swallow;
  const double from = 1.0, half = from + 0.5 * (end - from);
  EXPECT_TRUE(close(flow::fill_time_s(volume, from, half, supply, swallow).value(),
                    std::log(2.0) * volume / swallow, 1e-12));
}

TEST(Fill, NeverGetsPastWhereItEnds) {
  EXPECT_FALSE(flow::fill_time_s(0.01, 1.0, 1.7, 0.1, 0.06)); // ends at 1.667
  EXPECT_FALSE(flow::fill_time_s(0.01, 1.0, 0.9, 0.1, 0.06)); // moves the other way
  EXPECT_EQ(flow::fill_time_s(0.01, 1.0, 1.0, 0.1, 0.06).value(), 0);
}

} // namespace
} // namespace bellmouth::test
