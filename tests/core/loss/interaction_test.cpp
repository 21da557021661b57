// SPDX-License-Identifier: GPL-3.0-or-later
// Bends close together, and diffusers behind them.
#include "support/close.hpp"

#include <bellmouth/loss.hpp>
#include <bellmouth/loss/interaction.hpp>

#include <array>
#include <numbers>
#include <vector>

namespace bellmouth::loss {
namespace {

using test::close;

constexpr double degree = std::numbers::pi / 180;
constexpr double go_on = 0, turn_back = 180 * degree, square = 90 * degree;

BendPair right_angles(double spacing, double twist_rad, double first_ratio, double second_ratio) {
  return {spacing, twist_rad, 90 * degree, first_ratio, 90 * degree, second_ratio};
}
double factor(double spacing, double twist_rad, double first_ratio, double second_ratio) {
  return interaction(right_angles(spacing, twist_rad, first_ratio, second_ratio)).factor;
}

// Published values: Miller, Internal Flow Systems (1990), table 10.1, corners and middle of the blocks for
// radius ratios (1, 1), (1, 3), (2, 1), (2, 2) and (3, 3). Its combination angle is 180 degrees less our
// twist.
TEST(Interaction, PublishedFigures) {
  struct Cell {
    double first, second, spacing, twist_deg, factor;
  };
  constexpr std::array<Cell, 16> cells{{{1, 1, 0, 180, 1.00},
                                        {1, 1, 0, 150, 1.16},
                                        {1, 1, 0, 0, 0.53},
                                        {1, 1, 4, 90, 0.74},
                                        {1, 1, 8, 0, 0.80},
                                        {1, 3, 0, 180, 1.02},
                                        {1, 3, 1, 60, 0.82},
                                        {1, 3, 8, 180, 0.87},
                                        {2, 1, 0, 180, 0.76},
                                        {2, 1, 0, 0, 0.57},
                                        {2, 2, 0, 90, 0.73},
                                        {2, 2, 1, 30, 0.65},
                                        {2, 2, 8, 0, 0.80},
                                        {3, 3, 0, 0, 0.71},
                                        {3, 3, 4, 120, 0.81},
                                        {3, 3, 8, 180, 0.85}}};
  for (const Cell& cell : cells) {
    const Interaction found =
        interaction(right_angles(cell.spacing, cell.twist_deg * degree, cell.first, cell.second));
    EXPECT_TRUE(close(found.factor, cell.factor, 1e-9))
        << cell.first << ' ' << cell.second << ' ' << cell.spacing << ' ' << cell.twist_deg;
    EXPECT_FALSE(found.outside_range);
    EXPECT_DOUBLE_EQ(found.band, 0.10);
  }
}

// Other method: two bends of one radius that go on turning the same way without a space between are one bend
// of the angles together. That also fixes which end of the table the U is: the S end would miss by far.
TEST(Interaction, JoinedBendsAreOne) {
  for (const double ratio : {1.0, 1.5, 2.0, 3.0})
    for (const double angle : {30.0, 45.0, 60.0, 90.0}) {
      const BendPair pair{0, go_on, angle * degree, ratio, angle * degree, ratio};
      const Law together = law(Bend{2 * angle * degree, ratio});
      const Interaction found = interaction(pair);
      const double sum = 2 * found.factor * law(Bend{angle * degree, ratio}).at(0.015);
      EXPECT_LE(together.low(0.015), sum * (1 + found.band)) << ratio << ' ' << angle;
      EXPECT_GE(together.high(0.015), sum * (1 - found.band)) << ratio << ' ' << angle;
      EXPECT_TRUE(close(sum, together.at(0.015), angle == 90 ? 0.26 : 0.20)) << ratio << ' ' << angle;
    }
}

// Published value: for long separations two elbows lose within about 10 % of twice one (Mylaram & Idem 2005).
// Identity: no interaction from 30 bores on, nor of bends that hardly turn.
TEST(Interaction, EndsWithDistanceAndWithTheAngle) {
  for (const double ratio : {1.0, 2.0, 3.0})
    for (const double twist : {go_on, square, turn_back}) {
      EXPECT_NEAR(factor(20, twist, ratio, ratio), 1, 0.10);
      EXPECT_EQ(factor(30, twist, ratio, ratio), 1);
      EXPECT_EQ(factor(300, twist, ratio, ratio), 1);
      EXPECT_EQ(interaction(right_angles(30, twist, ratio, ratio)).band, 0);
      EXPECT_NEAR(factor(30 - 1e-9, twist, ratio, ratio), 1, 1e-9);
      EXPECT_NEAR(interaction(right_angles(30 - 1e-9, twist, ratio, ratio)).band, 0, 1e-9);
      EXPECT_NEAR(interaction({0, twist, 1e-6, ratio, 90 * degree, ratio}).factor, 1, 1e-6);
    }
}

// Identity: signs. Close bends lose less than two apart, except the tightest that turn back; a U loses less
// than an S.
TEST(Interaction, HasTheRightSigns) {
  for (const double first : {1.0, 2.0, 3.0})
    for (const double second : {1.0, 2.0, 3.0}) {
      EXPECT_LT(factor(0, go_on, first, second), factor(0, square, first, second));
      EXPECT_LT(factor(0, square, first, second), factor(0, turn_back, first, second));
      EXPECT_LT(factor(0, go_on, first, second), 0.72);
      EXPECT_GT(factor(20, go_on, first, second), factor(8, go_on, first, second));
    }
}

// Identity: factor and band are continuous in spacing, twist and both radius ratios, and do not mind the sign
// of the twist or whole turns.
TEST(Interaction, IsContinuous) {
  const double step = 1e-7;
  for (double spacing = 0; spacing < 32; spacing += 0.5)
    for (double twist = 0; twist < 361; twist += 15)
      for (const double first : {0.8, 1.0, 1.5, 2.0, 3.0, 4.0})
        for (const double second : {1.0, 2.7}) {
          const double here = factor(spacing, twist * degree, first, second);
          EXPECT_TRUE(std::isfinite(here) && here > 0.5 && here < 1.2);
          EXPECT_NEAR(factor(spacing + step, twist * degree, first, second), here, 1e-6);
          EXPECT_NEAR(factor(spacing, twist * degree + step, first, second), here, 1e-6);
          EXPECT_NEAR(factor(spacing, twist * degree, first + step, second), here, 1e-6);
          EXPECT_NEAR(factor(spacing, twist * degree, first, second + step), here, 1e-6);
          EXPECT_NEAR(factor(spacing, -twist * degree, first, second), here, 1e-9);
          EXPECT_NEAR(factor(spacing, (twist + 720) * degree, first, second), here, 1e-9);
        }
}

TEST(Interaction, SaysWhereItIsOutside) {
  EXPECT_FALSE(interaction(right_angles(2, square, 1, 3)).outside_range);
  EXPECT_TRUE(interaction(right_angles(2, square, 0.9, 3)).outside_range);
  EXPECT_TRUE(interaction(right_angles(2, square, 1, 3.5)).outside_range);
  EXPECT_FALSE(interaction({2, square, 94 * degree, 2, 86 * degree, 2}).outside_range);
  EXPECT_EQ(interaction(right_angles(2, square, 0.9, 3)).range, "two near bends of radius ratio 1 to 3 each");
  // Other angles have the wider band, and that is all.
  const Interaction other = interaction({2, square, 45 * degree, 2, 90 * degree, 2});
  EXPECT_FALSE(other.outside_range);
  EXPECT_DOUBLE_EQ(other.band, 0.25);
}

// Closed form: the loss of a pair is the factor times the sum, and the bands add.
TEST(Interaction, ScalesTheLaw) {
  const Interaction near = interaction(right_angles(1, go_on, 1, 2));
  const Law first = law(Bend{90 * degree, 1}), second = law(Bend{90 * degree, 2});
  const double pair = beside(first, near).at(0.02) + beside(second, near).at(0.02);
  EXPECT_DOUBLE_EQ(pair, near.factor * (first.at(0.02) + second.at(0.02)));
  EXPECT_DOUBLE_EQ(beside(first, near).band_high, first.band_high + 0.10);
  EXPECT_DOUBLE_EQ(beside(first, near).band_low, first.band_low + 0.10);
  EXPECT_EQ(beside(first, near).range, first.range);
  EXPECT_EQ(beside(first, Interaction{}).at(0.02), first.at(0.02));
  const Interaction odd = interaction({1, go_on, 45 * degree, 0.9, 90 * degree, 2});
  EXPECT_TRUE(beside(first, odd).outside_range);
  EXPECT_EQ(beside(first, odd).range, odd.range);
}

// Closed form: twice the band within four bores of a bend or a blower, none of it from ten on.
TEST(BehindDisturbance, DoublesTheBand) {
  const Law clean = law(Cone{0.05, 0.06, 0.05});
  ASSERT_FALSE(clean.outside_range);
  for (const double spacing : {0.0, 3.9, 4.0}) {
    const Law law = behind_disturbance(clean, spacing);
    EXPECT_EQ(law.at(0.02), clean.at(0.02));
    EXPECT_DOUBLE_EQ(law.band_low, 2 * clean.band_low);
    EXPECT_DOUBLE_EQ(law.band_high, 2 * clean.band_high);
    EXPECT_DOUBLE_EQ(law.band_absolute, 2 * clean.band_absolute);
    EXPECT_TRUE(law.outside_range);
  }
  EXPECT_DOUBLE_EQ(behind_disturbance(clean, 7).band_high, 1.5 * clean.band_high);
  EXPECT_DOUBLE_EQ(behind_disturbance(clean, 10).band_high, clean.band_high);
  EXPECT_FALSE(behind_disturbance(clean, 10).outside_range);
}

} // namespace
} // namespace bellmouth::loss
