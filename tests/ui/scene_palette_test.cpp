// SPDX-License-Identifier: GPL-3.0-or-later
// Colours for values.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <scene/palette.hpp>
#include <vector>

namespace bellmouth::ui::scene {
namespace {

using Linear = std::array<double, 3>;

/// IEC 61966-2-1: from the code to light.
double light_of(int code) {
  const double c = code / 255.0;
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}
Linear linear(QRgb colour) {
  return {light_of(qRed(colour)), light_of(qGreen(colour)), light_of(qBlue(colour))};
}
/// CIE 1976 lightness of the luminance (weights of IEC 61966-2-1).
double lightness(const Linear& c) {
  const double y = 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2];
  return y > 216.0 / 24389 ? 116 * std::cbrt(y) - 16 : y * 24389 / 27;
}
double lightness(QRgb colour) {
  return lightness(linear(colour));
}

/// What eyes without red or green cones see: Machado, Oliveira and Fernandes, "A physiologically-based model
/// for simulation of color vision deficiency", IEEE TVCG 15(6), 2009, matrices for severity 1.0.
constexpr std::array<Linear, 3> without_red{
    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}};
constexpr std::array<Linear, 3> without_green{
    {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}};

Linear seen_by(const std::array<Linear, 3>& eye, QRgb colour) {
  const Linear c = linear(colour);
  Linear seen{};
  for (std::size_t row = 0; row < 3; ++row)
    seen[row] = std::clamp(eye[row][0] * c[0] + eye[row][1] * c[1] + eye[row][2] * c[2], 0.0, 1.0);
  return seen;
}

// Closed form: equal steps of the share are equal steps of CIE lightness (half a step of the screen's codes
// is some 0.4).
TEST(ScenePalette, LightnessRisesEvenly) {
  const double low = lightness(colour_at(ColourMap::sequential, 0)),
               high = lightness(colour_at(ColourMap::sequential, 1));
  EXPECT_GT(high - low, 60);
  for (int i = 0; i <= 64; ++i)
    EXPECT_NEAR(lightness(colour_at(ColourMap::sequential, i / 64.0)), low + (high - low) * i / 64, 0.7) << i;
}

TEST(ScenePalette, LightnessRisesForColourBlindEyesToo) {
  for (const auto& eye : {without_red, without_green})
    for (int i = 1; i <= 32; ++i)
      EXPECT_GT(lightness(seen_by(eye, colour_at(ColourMap::sequential, i / 32.0))),
                lightness(seen_by(eye, colour_at(ColourMap::sequential, (i - 1) / 32.0))))
          << i;
}

TEST(ScenePalette, DivergingIsLightestInTheMiddle) {
  for (int i = 1; i <= 16; ++i) {
    EXPECT_LT(lightness(colour_at(ColourMap::diverging, 0.5 - i / 32.0)),
              lightness(colour_at(ColourMap::diverging, 0.5 - (i - 1) / 32.0)));
    EXPECT_LT(lightness(colour_at(ColourMap::diverging, 0.5 + i / 32.0)),
              lightness(colour_at(ColourMap::diverging, 0.5 + (i - 1) / 32.0)));
  }
}

TEST(ScenePalette, BeyondTheEndsTheEndsHold) {
  EXPECT_EQ(colour_at(ColourMap::sequential, -3), colour_at(ColourMap::sequential, 0));
  EXPECT_EQ(colour_at(ColourMap::sequential, 7), colour_at(ColourMap::sequential, 1));
}

TEST(ScenePalette, ClassesDifferForEveryEye) {
  for (std::size_t a = 0; a < 5; ++a)
    for (std::size_t b = 0; b < a; ++b)
      for (const auto& eye : {without_red, without_green}) {
        const Linear one = seen_by(eye, class_colour(a)), other = seen_by(eye, class_colour(b));
        const double apart = std::hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);
        EXPECT_GT(apart, 0.08) << a << " and " << b;
      }
  EXPECT_EQ(class_colour(5), class_colour(0));
}

TEST(ScenePalette, TicksAreRound) {
  struct Row {
    double low, high;
    int most;
    std::vector<double> ticks;
  };
  for (const Row& row : std::vector<Row>{{0, 100, 6, {0, 20, 40, 60, 80, 100}},
                                         {3.2, 9.7, 4, {4, 6, 8}},
                                         {-1, 1, 5, {-1, -0.5, 0, 0.5, 1}},
                                         {101325, 181325, 5, {120000, 140000, 160000, 180000}},
                                         {0.011, 0.019, 5, {0.012, 0.014, 0.016, 0.018}}}) {
    const auto ticks = ValueScale{row.low, row.high}.ticks(row.most);
    ASSERT_EQ(ticks.size(), row.ticks.size()) << row.low;
    for (std::size_t i = 0; i < ticks.size(); ++i)
      EXPECT_NEAR(ticks[i], row.ticks[i], 1e-9 * row.high);
  }
}

TEST(ScenePalette, AScaleHoldsItsValues) {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  const ValueScale scale = scale_of({4, nan, -2, 1});
  EXPECT_EQ(scale.low, -2);
  EXPECT_EQ(scale.high, 4);
  EXPECT_EQ(scale.share(1), 0.5);
  EXPECT_EQ(scale.colour(-2), colour_at(ColourMap::sequential, 0));
  const ValueScale single = scale_of({5, 5});
  EXPECT_LT(single.low, 5);
  EXPECT_GT(single.high, 5);
  EXPECT_EQ(scale_of({nan}).low, 0);
  EXPECT_EQ(scale_of({}).high, 1);
}

} // namespace
} // namespace bellmouth::ui::scene
