// SPDX-License-Identifier: GPL-3.0-or-later
// Vapour in air: dew point, saturation, condensate.
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/air.hpp>

#include <cmath>

namespace bellmouth::air {
namespace {

using test::close;

// Other method (psychrolib) and published value (ASHRAE Fundamentals 2017, chapter 1, Table 3): the rows of
// air.csv backwards. A relative tolerance r of the pressure is about r T^2/5400 K in the dew point.
TEST(DewPoint, InvertsTheSaturationTables) {
  std::size_t rows = 0;
  for (const test::Row& row : test::reference("air.csv"))
    for (const char* quantity : {"psat_water_ASHRAE", "psat_water_ASHRAE_table"})
      if (row.text("quantity") == quantity) {
        ++rows;
        const double temperature = row.number("T_K");
        const auto found = dew_point_of_vapour_K(row.number("value"));
        ASSERT_TRUE(found.has_value()) << row.text("row_id");
        const double digits = temperature * temperature / 5000 * row.number("rtol");
        EXPECT_NEAR(*found, temperature, digits) << row.text("row_id");
      }
  EXPECT_EQ(rows, 24u);
}

// Identity: inverse after forward.
TEST(DewPoint, InvertsTheSaturationPressure) {
  for (double t = lowest_saturation_K; t <= highest_saturation_K; t += 0.05) {
    const auto found = dew_point_of_vapour_K(saturation_pressure_Pa(t));
    ASSERT_TRUE(found.has_value()) << t;
    EXPECT_NEAR(*found, t, 1e-9);
  }
  // Where the laws of ice and of water meet they leave a gap of 0.06 Pa.
  EXPECT_EQ(dew_point_of_vapour_K(611.18).value(), 273.15);
}

TEST(DewPoint, IsNotThereOutsideTheRange) {
  EXPECT_FALSE(dew_point_of_vapour_K(0).has_value());
  EXPECT_FALSE(dew_point_of_vapour_K(1e-4).has_value());
  EXPECT_FALSE(dew_point_of_vapour_K(1.6e6).has_value());
  EXPECT_FALSE(dew_point_of_vapour_K(std::nan("")).has_value());
  EXPECT_FALSE(dew_point_K(Mixture(), 101325).has_value());
}

// Identity: air of a relative humidity holds that share of the saturation pressure; its dew point is where it
// would be saturated; compressing it raises the dew point.
TEST(DewPoint, BelongsToTheHumidity) {
  for (double t = 250; t < 330; t += 5)
    for (const double humidity : {0.05, 0.4, 0.9, 1.0}) {
      const Mixture air(humidity_ratio(t, 101325, humidity));
      EXPECT_TRUE(close(vapour_pressure_Pa(air.humidity_ratio(), 101325),
                        humidity * saturation_pressure_Pa(t), 1e-14));
      const double dew = dew_point_K(air, 101325).value();
      EXPECT_LE(dew, t + 1e-9);
      EXPECT_TRUE(
          close(saturated_humidity_ratio(dew, 101325).value(), air.humidity_ratio(), 2e-4)); // the gap
      EXPECT_GT(dew_point_K(air, 200e3).value(), dew);
    }
  // From memory of ASHRAE Fundamentals, chapter 1, example 1: humidity ratio 0.0065, dew point 7 C.
  EXPECT_NEAR(dew_point_K(Mixture(0.0065), 101325).value() - 273.15, 7, 0.8);
}

// Published value: ASHRAE Fundamentals 2017, chapter 1, Table 2, as github psychrometrics/psychrolib quotes
// it in its tests. The table holds real air, whose enhancement of 0.4 to 0.5 % is left out here (more by the
// leverage of p - p_s where vapour is the greater part).
TEST(Saturation, AgreesWithTheHandbookTable) {
  struct Line {
    double celsius, humidity_ratio, relative;
  };
  for (const Line& line : {Line{-50, 0.0000243, 0.01}, Line{-20, 0.0006373, 0.005},
                           Line{-5, 0.0024863, 0.005}, Line{5, 0.005425, 0.005}, Line{25, 0.020173, 0.005},
                           Line{50, 0.086863, 0.007}, Line{85, 0.838105, 0.013}}) {
    const double found = saturated_humidity_ratio(273.15 + line.celsius, 101325).value();
    EXPECT_TRUE(close(found, line.humidity_ratio, line.relative)) << line.celsius;
    EXPECT_LT(found, line.humidity_ratio) << line.celsius;
  }
}

// Closed form: what falls out is what was there less what is held; none where water boils.
TEST(Condensate, IsWhatCannotBeHeld) {
  const double wet = humidity_ratio(303.15, 101325, 0.8);
  const Mixture air(wet);
  // After a blower at 1.8 bar and a cooler at 25 C: e_s(25 C) = 3169.7 Pa (ASHRAE, Table 3), 0.622 e/(p - e).
  const double held = 0.621945 * 3169.7 / (180e3 - 3169.7);
  EXPECT_TRUE(close(condensate_kg_kg(air, 298.15, 180e3), wet - held, 3e-4));
  const double dew = dew_point_K(air, 180e3).value();
  EXPECT_EQ(condensate_kg_kg(air, dew + 0.01, 180e3), 0.0);
  EXPECT_GT(condensate_kg_kg(air, dew - 0.01, 180e3), 0.0);
  EXPECT_EQ(condensate_kg_kg(Mixture(), 250, 180e3), 0.0);
  EXPECT_FALSE(saturated_humidity_ratio(373.5, 101325).has_value());
  EXPECT_EQ(condensate_kg_kg(Mixture(0.3), 373.5, 101325), 0.0);
}

} // namespace
} // namespace bellmouth::air
