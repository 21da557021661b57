// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/sample_parts.hpp"

#include <bellmouth/build/vectors.hpp>
#include <bellmouth/joint.hpp>
#include <bellmouth/joint/statics.hpp>

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

/// A spigot of 63.5 mm in a hose with a wall of 4.5 mm.
Joint joint_of(bool beaded, const build::StockItem* clamp) {
  Joint joint;
  joint.upstream = {.row = std::nullopt, .bore_m = mm(60.2), .outer_diameter_m = mm(63.5), .beaded = beaded};
  joint.downstream = {.row = 0, .flexible = true, .bore_m = mm(63.5), .outer_diameter_m = mm(72.5)};
  joint.kind = Kind::hose;
  joint.installed_diameter_m = mm(72.5);
  joint.clamp = clamp;
  return joint;
}
build::StockItem clamp_of(std::optional<build::ClampType> type, std::optional<double> band_mm = {},
                          std::optional<double> torque_Nm = {}) {
  build::StockItem item;
  item.kind = build::StockKind::clamp;
  item.clamp_type = type;
  if (band_mm)
    item.band_width_m = mm(*band_mm);
  item.torque_Nm = torque_Nm;
  return item;
}
const trade::Limits& usual = trade::defaults();

// Closed form: p D / (2 t). The worked figures of a handbook sheet take the outside diameter: 1.5 bar on 76
// mm with 1.65 mm is 3.5 MPa, 2 bar on 63.5 mm with 1.6 mm 3.97 MPa.
TEST(Statics, HoopStressAsWorked) {
  EXPECT_NEAR(hoop_stress_Pa(1.5 * bar, mm(76), mm(1.65)), 3.5e6, 0.05e6);
  EXPECT_NEAR(hoop_stress_Pa(2 * bar, mm(63.5), mm(1.6)), 3.97e6, 0.005e6);
}

// Other method: Lame's solution for a thick tube, whose greatest stress lies inside: p (ro^2 + ri^2) / (ro^2
// - ri^2).
TEST(Statics, HoopStressIsThatOfAThickTubeWithinATenth) {
  for (const double wall : {0.01, 0.05, 0.1, 0.2}) { // of the mean radius
    const double inside = 1 - wall / 2, outside = 1 + wall / 2;
    const double greatest = (outside * outside + inside * inside) / (outside * outside - inside * inside);
    EXPECT_TRUE(close(hoop_stress_Pa(1, 2, wall), greatest, 0.1));
  }
}

// Identity: with one pressure and area at both ends and no flow the resultant is the thrust on the bend, and
// points away from the middle of its arc.
TEST(Statics, ResultantIsTheBendThrustOutwards) {
  for (const double angle_deg : {0.0, 30.0, 90.0, 135.0, 180.0}) {
    const build::Vector out{std::cos(deg(angle_deg)), std::sin(deg(angle_deg)), 0};
    const build::Vector force =
        resultant_N({.direction = {1, 0, 0}, .gauge_Pa = bar, .pressed_diameter_m = mm(63.5)},
                    {.direction = out, .gauge_Pa = bar, .pressed_diameter_m = mm(63.5)});
    const double thrust_N = bend_thrust_N(bar, mm(63.5), deg(angle_deg));
    EXPECT_TRUE(close(build::length(force), thrust_N, 1e-12, 1e-9)) << angle_deg;
    const build::Vector outwards{std::sin(deg(angle_deg) / 2), -std::cos(deg(angle_deg) / 2), 0};
    EXPECT_TRUE(close(build::dot(force, outwards), thrust_N, 1e-12, 1e-9)) << angle_deg;
  }
}

// Closed form: a jet of 0.1 kg/s turned by 90 degrees at 50 m/s pushes with 5 N along each leg, whatever the
// pressure adds.
TEST(Statics, ResultantHoldsTheMomentumOfTheAir) {
  const build::Vector force = resultant_N({{1, 0, 0}, 0, mm(60), 0.1, 50}, {{0, 1, 0}, 0, mm(60), 0.1, 50});
  EXPECT_TRUE(close(force[0], 5.0, 1e-12));
  EXPECT_TRUE(close(force[1], -5.0, 1e-12));
  // A straight cone: the difference of the pressed areas, and the air slowing down.
  const build::Vector cone =
      resultant_N({{0, 0, 1}, bar, mm(60), 0.1, 50}, {{0, 0, 1}, bar, mm(80), 0.1, 28});
  EXPECT_TRUE(
      close(cone[2], bar * std::numbers::pi / 4 * (0.06 * 0.06 - 0.08 * 0.08) + 0.1 * (50 - 28), 1e-12));
}

// Published values: 4.5 N m for 12 mm and 7.5 N m for 14 mm bands on new hose, 1.4 N m for 7.5 mm bands, 7.5
// N m for constant-tension clamps (an engine maker's service manual); 55 to 60 lb in for round-bolt clamps
// (TM 10-3930-643-34, table E-2).
TEST(Torque, GoesByTypeAndBand) {
  using enum build::ClampType;
  const auto torque_of = [](const build::StockItem& clamp) {
    const auto found = torque(clamp, usual);
    return found ? found->torque_Nm : 0;
  };
  EXPECT_EQ(torque_of(clamp_of(worm)), 4.5);
  EXPECT_EQ(torque_of(clamp_of(worm, 12)), 4.5);
  EXPECT_EQ(torque_of(clamp_of(worm, 14)), 7.5);
  EXPECT_EQ(torque_of(clamp_of(worm, 7.5)), 1.4);
  EXPECT_EQ(torque_of(clamp_of(constant_tension)), 7.5);
  constexpr double lb_in = 0.112984829;
  EXPECT_GE(torque_of(clamp_of(round_bolt)), 55 * lb_in);
  EXPECT_LE(torque_of(clamp_of(round_bolt)), 60 * lb_in);
  EXPECT_EQ(torque_of(clamp_of(worm, 12, 3.4)), 3.4);
  EXPECT_EQ(torque_of(clamp_of(std::nullopt, 12, 3.4)), 3.4);
  EXPECT_EQ(torque(clamp_of(worm, 12, 3.4), usual)->basis, "the clamp's own");
  EXPECT_FALSE(torque(clamp_of(std::nullopt, 12), usual));
  EXPECT_FALSE(torque(clamp_of(lug, 12), usual));
  EXPECT_FALSE(torque(clamp_of(spring, 12, 3.4), usual));
}

// Closed form: torque over nut factor and screw diameter; 0.2 and 8 or 6 mm.
TEST(Torque, DrawsTheBand) {
  using enum build::ClampType;
  EXPECT_NEAR(*band_tension_N(clamp_of(worm), usual), 2812.5, 1e-9);
  EXPECT_NEAR(*band_tension_N(clamp_of(round_bolt), usual), 6.5 / (0.2 * 0.006), 1e-9);
  EXPECT_FALSE(band_tension_N(clamp_of(std::nullopt, 12, 4.5), usual));
  EXPECT_FALSE(band_tension_N(clamp_of(lug, 12, 4.5), usual));
}

// Other method: the band pressing on the tube in 10 000 places, T d(angle) in each, summed.
TEST(Hold, OfAPlainEndIsTheFrictionRoundTheBand) {
  constexpr double tension_N = 1000;
  constexpr int places = 10000;
  double pressed_N = 0;
  for (int i = 0; i < places; ++i)
    pressed_N += 2 * tension_N * std::sin(std::numbers::pi / places);
  const Hold held = hold(tension_N, false, usual);
  EXPECT_TRUE(close(held.low_N, usual.clamp_kept_low * usual.friction_low * pressed_N, 1e-6));
  EXPECT_TRUE(close(held.high_N, usual.clamp_kept_high * usual.friction_high * pressed_N, 1e-6));
}

// Identity: a bead of no height is none, a higher one holds more, and no friction leaves its slope.
TEST(Hold, OfABeadedEndIsItsSlopeAndFriction) {
  trade::Limits flat = usual;
  flat.bead_height_m = 0;
  EXPECT_TRUE(close(hold(1000, true, flat).low_N, hold(1000, false, flat).low_N, 1e-12));
  EXPECT_GT(hold(1000, true, usual).low_N, hold(1000, false, usual).low_N);
  EXPECT_GT(hold(1000, true, usual).high_N, hold(1000, false, usual).high_N);
  trade::Limits smooth = usual;
  smooth.friction_low = 0;
  EXPECT_TRUE(close(
      hold(1000, true, smooth).low_N,
      2 * std::numbers::pi * 1000 * usual.clamp_kept_low * usual.bead_height_m / usual.bead_width_m, 1e-12));
}

TEST(Load, SaysWhatAJointBears) {
  const auto clamp = clamp_of(build::ClampType::worm);
  const Load pressed = load(joint_of(true, &clamp), bar, usual);
  EXPECT_NEAR(pressed.parting_force_N, 316.7, 0.05);
  EXPECT_TRUE(close(pressed.hoop_stress_Pa, bar * 0.068 / (2 * 0.0045), 1e-12));
  EXPECT_TRUE(pressed.held_known);
  EXPECT_EQ(pressed.held_low_N, hold(2812.5, true, usual).low_N);
  // The hose bursts at 4 x 2 bar, on 63.5 mm 2534 N, before it slides dry over the bead.
  EXPECT_NEAR(pressed.held_high_N, 2534, 0.5);
  EXPECT_NEAR(load(joint_of(true, &clamp), bar, usual, 1.5 * bar).held_high_N, 1900, 0.5);
  EXPECT_NEAR(load(joint_of(true, &clamp), bar, usual, 1.5 * bar).held_low_N, 1900, 0.5);
  EXPECT_GT(pressed.held_low_N, pressed.parting_force_N); // a bead and a clamp hold a bar

  const Load sucked = load(joint_of(true, &clamp), -5e3, usual);
  EXPECT_EQ(sucked.parting_force_N, 0);
  EXPECT_EQ(sucked.hoop_stress_Pa, 0);
  EXPECT_EQ(sucked.gauge_Pa, -5e3);
}

TEST(Load, SaysNothingOfClampsThatAreNotKnown) {
  EXPECT_FALSE(load(joint_of(true, nullptr), bar, usual).held_known);
  const auto unsaid = clamp_of(std::nullopt), spring = clamp_of(build::ClampType::spring);
  EXPECT_FALSE(load(joint_of(true, &unsaid), bar, usual).held_known);
  EXPECT_FALSE(load(joint_of(true, &spring), bar, usual).held_known);
  EXPECT_EQ(load(joint_of(true, &spring), bar, usual).held_high_N, 0);
}

// Published value: 2.4 mm per metre and 100 K, an aluminium handbook.
TEST(Growth, OfAluminiumAsInTheHandbook) {
  EXPECT_NEAR(growth_per_K(build::Material::aluminium) * 100, 2.4e-3, 0.05e-3);
  EXPECT_LT(growth_per_K(build::Material::mild_steel), growth_per_K(build::Material::stainless_steel));
  EXPECT_EQ(growth_per_K(build::Material::rubber), 0);
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

// Closed form: the arc of 63.5 mm tube on 95.3 mm is 149.6 mm at 90 and 74.8 mm at 45 degrees, worked to a
// tenth.
TEST(Arc, AsWorked) {
  const auto length_m = [](double angle_deg) {
    return build::full_length_m(build::TubeBend{mm(63.5), mm(1.65), deg(angle_deg), mm(95.25), 0, 0, 0, {}});
  };
  EXPECT_NEAR(length_m(90), mm(149.6), mm(0.05));
  EXPECT_NEAR(length_m(45), mm(74.8), mm(0.05));
}

TEST(Wedge, ATightRadiusHasNoShortSide) {
  EXPECT_LT(wedge(mm(80), mm(30), deg(90), 3).short_side_m, 0);
}

} // namespace
} // namespace bellmouth::joint
