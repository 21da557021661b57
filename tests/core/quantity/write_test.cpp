// SPDX-License-Identifier: GPL-3.0-or-later
#include "dimensions.hpp"
#include "support/close.hpp"

#include <bellmouth/quantity.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

namespace bellmouth::quantity {
namespace {

using enum Dimension;

struct Case {
  Dimension dimension;
  double value_si;
  std::string_view unit;
  int digits;
  std::string_view text;
};

// Closed form: the text is the number in the unit, rounded by hand.
TEST(Write, GivesTheShortestPlainText) {
  const Case cases[] = {
      {length, 0.05715, "mm", 6, "57.15 mm"},
      {length, 0.05715, "in", 6, "2.25 in"},
      {length, 0.05715, "inch", 3, "2.25 in"},
      {length, 0.0635, "mm", 2, "64 mm"},
      {length, 1.0 / 3, "m", 6, "0.333333 m"},
      {length, 1.5e-6, "m", 6, "0.0000015 m"},
      {length, 1.5e-7, "m", 6, "1.5e-7 m"},
      {length, 0, "mm", 6, "0 mm"},
      {length, -0.0, "mm", 6, "0 mm"},
      {length, -0.001, "mm", 6, "-1 mm"},
      {length, 0.0099999999, "mm", 6, "10 mm"},
      {pressure, 123456789, "Pa", 6, "123457000 Pa"},
      {pressure, 123456789, "Pa", 9, "123456789 Pa"},
      {pressure, 1e14, "Pa", 3, "100000000000000 Pa"},
      {pressure, 1e15, "Pa", 3, "1e15 Pa"},
      {pressure, 1.234e300, "Pa", 3, "1.23e300 Pa"},
      {temperature, 293.15, "C", 6, "20 °C"},
      {temperature, 293.15, "K", 6, "293.15 K"},
      {temperature_difference, 20, "C", 6, "20 °C"},
      {angle, 1.5707963267948966, "deg", 6, "90°"},
      {ratio, 0.125, "", 6, "0.125"},
      {ratio, 0.125, "%", 6, "12.5 %"},
      {volume_flow, 0.0004719474432, "cfm", 6, "1 cfm"},
  };
  for (const auto& [dimension, value_si, unit, digits, text] : cases)
    EXPECT_EQ(write(dimension, value_si, unit, digits), text);
}

TEST(Write, KeepsAFixedNumberOfDecimals) {
  const Case cases[] = {
      {length, 0.05715, "mm", 1, "57.1 mm"}, // 57.15 as a double lies just below
      {length, 0.0572, "mm", 1, "57.2 mm"},
      {length, 0.057, "mm", 2, "57.00 mm"},
      {length, 0.0575, "mm", 0, "58 mm"},
      {length, -0.00004, "mm", 1, "0.0 mm"},
      {length, -0.0, "mm", 1, "0.0 mm"},
      {length, -0.00006, "mm", 1, "-0.1 mm"},
      {angle, 1.5707963267948966, "°", 1, "90.0°"},
  };
  for (const auto& [dimension, value_si, unit, decimals, text] : cases)
    EXPECT_EQ(write_fixed(dimension, value_si, unit, decimals), text);
  EXPECT_EQ(write_fixed(length, 0.0572, "mm", 1, false), "57.2");
  EXPECT_EQ(write_fixed(length, 0.0572, "mm", 1, false, ','), "57,2");
  EXPECT_EQ(write_fixed(pressure, 1e300, "Pa", 0).size(), 301 + std::string_view(" Pa").size());
}

TEST(Write, UsesTheDecimalSignAskedFor) {
  EXPECT_EQ(write(length, 0.05715, "mm", 6, ','), "57,15 mm");
  EXPECT_EQ(write(length, 1.5e-7, "m", 6, ','), "1,5e-7 m");
}

TEST(Write, NamesWhatIsNotANumber) {
  EXPECT_EQ(write(length, std::numeric_limits<double>::quiet_NaN(), "mm"), "nan mm");
  EXPECT_EQ(write_fixed(length, -std::numeric_limits<double>::infinity(), "mm", 1), "-inf mm");
}

TEST(InUnit, ConvertsBothWays) {
  EXPECT_TRUE(test::close(in_unit(length, 0.05715, "in"), 2.25, 1e-15));
  EXPECT_TRUE(test::close(in_unit(temperature, 273.15, "F"), 32, 1e-13));
  EXPECT_TRUE(test::close(in_unit(temperature, 0, "F"), -459.67, 1e-15));
  EXPECT_EQ(in_unit(temperature_difference, 5, "K"), 5);
}

// Identity: what is written reads back as the same value within half a unit of the last digit, for every unit
// of every dimension, both decimal signs, few digits and many.
TEST(Write, ReadsBack) {
  std::mt19937_64 random(20240229);
  std::uniform_real_distribution<double> exponent(-8, 9);
  std::uniform_real_distribution<double> mantissa(1, 10);
  for (const auto& [name, dimension] : test::dimensions)
    for (const Unit& unit : units(dimension))
      for (int i = 0; i < 200; ++i) {
        const bool below_zero = i % 2 == 1 && dimension != temperature;
        const double size = mantissa(random) * std::pow(10.0, std::floor(exponent(random)));
        const double in_the_unit = below_zero ? -size : size;
        const double value_si = in_the_unit * unit.factor + unit.offset;
        const int significant = 1 + i % 17;
        const char decimal = i % 3 == 0 ? ',' : '.';
        const std::string text = write(dimension, value_si, unit.symbol, significant, decimal);
        Reading reading;
        reading.decimal = decimal;
        reading.reference = Reference::difference;
        const auto back = read(dimension, text, reading);
        ASSERT_TRUE(back) << text << ": " << back.error().text();
        const double half_digit = 0.5 * std::pow(10.0, 1 - significant) * std::abs(size);
        const double rounding = 1e-15 * (std::abs(value_si) + unit.offset) / unit.factor;
        // A value beside a power of ten may round into the next decade, where a digit is ten times as large.
        EXPECT_LE(std::abs(in_unit(dimension, *back, unit.symbol) - in_the_unit),
                  1.0001 * half_digit + 4 * rounding)
            << text << " for " << in_the_unit << ' ' << name;
      }
}

} // namespace
} // namespace bellmouth::quantity
