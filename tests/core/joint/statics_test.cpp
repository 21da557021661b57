// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/sample_parts.hpp"

#include <bellmouth/joint.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace bellmouth::joint {
namespace {

using test::close;
using test::deg;
using test::mm;

constexpr double bar = 1e5;

// Closed form: force = gauge pressure x circle of the outside diameter, worked separately and rounded to
// whole newtons.
TEST(Statics, PartingForceAsInTheTable) {
  constexpr double pressures_bar[] = {0.5, 0.7, 1.0, 1.5, 2.0};
  struct Row {
    double outer_mm;
    double forces_N[5];
  };
  constexpr Row rows[] = {{50.8, {101, 142, 203, 304, 405}},
                          {63.5, {158, 222, 317, 475, 633}},
                          {76.2, {228, 319, 456, 684, 912}},
                          {101.6, {405, 568, 811, 1216, 1621}}};
  for (const Row& row : rows)
    for (int i = 0; i < 5; ++i)
      EXPECT_NEAR(parting_force_N(pressures_bar[i] * bar, mm(row.outer_mm)), row.forces_N[i], 0.5)
          << row.outer_mm << " mm, " << pressures_bar[i] << " bar";
}

// Closed form, another worked set with one decimal.
TEST(Statics, PartingForceToATenthOfANewton) {
  EXPECT_NEAR(parting_force_N(1.0 * bar, mm(63.5)), 316.7, 0.05);
  EXPECT_NEAR(parting_force_N(2.0 * bar, mm(63.5)), 633.4, 0.05);
  EXPECT_NEAR(parting_force_N(1.0 * bar, mm(76.2)), 456.0, 0.05);
}

// Closed form: 63.5 mm, 1 bar, 90 degrees.
TEST(Statics, BendThrustAsWorked) {
  EXPECT_NEAR(bend_thrust_N(1.0 * bar, mm(63.5), deg(90)), 448, 0.5);
}

// Other method: the outward push is the vector sum of the pressure forces on the two open ends.
TEST(Statics, BendThrustIsTheSumOfTheEndForces) {
  for (const double angle_deg : {0.0, 15.0, 45.0, 90.0, 135.0, 180.0}) {
    const double end_N = parting_force_N(0.7 * bar, mm(57));
    const double x_N = end_N - end_N * std::cos(deg(angle_deg)), y_N = end_N * std::sin(deg(angle_deg));
    EXPECT_TRUE(close(bend_thrust_N(0.7 * bar, mm(57), deg(angle_deg)), std::hypot(x_N, y_N), 1e-12, 1e-9));
  }
}

// Closed form: geometry of a mitre, worked to a tenth of a millimetre.
TEST(Wedge, AsWorked) {
  const Wedge five = wedge(mm(63.5), mm(95.3), deg(90), 5);
  EXPECT_TRUE(close(five.cut_angle_rad, deg(9), 1e-12));
  EXPECT_NEAR(five.long_side_m, mm(40.2), mm(0.05));
  EXPECT_NEAR(five.short_side_m, mm(20.1), mm(0.05));
  EXPECT_NEAR((five.long_side_m + five.short_side_m) / 2, mm(30.2), mm(0.05));
  const Wedge six = wedge(mm(63.5), mm(63.5), deg(90), 6);
  EXPECT_TRUE(close(six.cut_angle_rad, deg(7.5), 1e-12));
  EXPECT_NEAR(six.long_side_m, mm(25.1), mm(0.05));
  EXPECT_NEAR(six.short_side_m, mm(8.4), mm(0.05));
}

// Identity: with ever more joints the wedges' centrelines add up to the arc.
TEST(Wedge, ManyWedgesMakeTheArc) {
  const Wedge thin = wedge(mm(63.5), mm(95.3), deg(90), 10000);
  EXPECT_TRUE(
      close(10000 * (thin.long_side_m + thin.short_side_m) / 2, mm(95.3) * std::numbers::pi / 2, 1e-8));
}

TEST(Wedge, ATightRadiusHasNoShortSide) {
  EXPECT_LT(wedge(mm(80), mm(30), deg(90), 3).short_side_m, 0);
}

} // namespace
} // namespace bellmouth::joint
