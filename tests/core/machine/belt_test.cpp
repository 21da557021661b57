// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"

#include <bellmouth/machine/belt.hpp>

#include <cmath>
#include <numbers>

namespace bellmouth::machine {
namespace {

using std::numbers::pi;
using test::close;

// Closed form, worked by hand to the printed digits: D 150, d 65, C 300 mm.
TEST(OpenBelt, GivesTheWorkedLengthAndWrap) {
  const Belt belt = open_belt(0.150, 0.065, 0.300);
  EXPECT_TRUE(close(belt.length_m, 0.944, 0, 0.5e-3));
  EXPECT_TRUE(close(belt.wrap_small_rad * 180 / pi, 163.7, 0, 0.05));
}

// Another method: the belt's four parts from the tangent points of the two circles, placed in the plane.
TEST(OpenBelt, AgreesWithTheTangentConstruction) {
  for (const double large : {0.08, 0.15, 0.3})
    for (const double centres : {0.2, 0.35, 1.0}) {
      const double small = 0.06;
      // The tangent touches both circles where their radii are parallel: at angle t from the centre line, cos
      // t = (R - r) / C.
      const double t = std::acos((large - small) / 2 / centres);
      const double x = centres + (small - large) / 2 * std::cos(t), y = (small - large) / 2 * std::sin(t);
      const double length = 2 * std::hypot(x, y) + large / 2 * (2 * pi - 2 * t) + small / 2 * 2 * t;
      const Belt belt = open_belt(large, small, centres);
      EXPECT_TRUE(close(belt.length_m, length, 1e-12)) << large << ' ' << centres;
      EXPECT_TRUE(close(belt.wrap_small_rad, 2 * t, 1e-12)) << large << ' ' << centres;
    }
}

// Identity: equal pulleys wrap half a turn each; the two wraps make one whole turn.
TEST(OpenBelt, WrapsHalfATurnOnEqualPulleys) {
  const Belt belt = open_belt(0.1, 0.1, 0.25);
  EXPECT_TRUE(close(belt.length_m, 0.5 + pi * 0.1, 1e-15));
  EXPECT_TRUE(close(belt.wrap_small_rad, pi, 1e-15));
  const Belt uneven = open_belt(0.2, 0.05, 0.25);
  EXPECT_TRUE(close(uneven.wrap_small_rad + uneven.wrap_large_rad, 2 * pi, 1e-15));
}

} // namespace
} // namespace bellmouth::machine
