// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/machine/tables_csv.hpp>

#include <gtest/gtest.h>

#include <ostream>
#include <random>

namespace bellmouth::machine {
namespace {

constexpr std::string_view blower_text =
    "# invented\n"
    "pressure_ratio,speed_rpm,adiabatic_efficiency,volumetric_efficiency\n"
    "1.6,4000,0.58,0.80\n"
    "1.2,4000,0.60,0.86\n"
    "1.2,9000,0.62,0.93\n"
    "1.6,9000,0.61,0.90\n";
constexpr std::string_view compressor_text =
    "corrected_speed_rpm,corrected_flow_kg_s,pressure_ratio,adiabatic_efficiency\r\n"
    "80000,0.10,1.5,0.66\r\n60000,0.03,1.4,0.70\r\n60000,0.08,1.2,0.68\r\n80000,0.05,1.8,0.71\r\n";

TEST(TablesCsv, ReadsMapsInAnyOrder) {
  const auto blower = read_blower_map_csv(blower_text, "blower.csv");
  ASSERT_TRUE(blower) << blower.error().text();
  ASSERT_EQ(blower->size(), 4U);
  EXPECT_EQ(blower->front(), (BlowerMapPoint{4000 / 60.0, 1.2, 0.86, 0.60}));
  EXPECT_EQ(blower->back(), (BlowerMapPoint{9000 / 60.0, 1.6, 0.90, 0.61}));
  const auto compressor = read_compressor_map_csv(compressor_text, "compressor.csv");
  ASSERT_TRUE(compressor) << compressor.error().text();
  EXPECT_EQ(compressor->front(), (CompressorMapPoint{60000 / 60.0, 0.03, 1.4, 0.70}));
  EXPECT_EQ(compressor->back(), (CompressorMapPoint{80000 / 60.0, 0.10, 1.5, 0.66}));
}

TEST(TablesCsv, ReadsCurvesAndSortsWhatHasAnOrder) {
  const auto curve = read_restriction_csv("drop_Pa,volume_flow_m3_s\n900,0.1\n300,0.05\n1000,0.1\n");
  ASSERT_TRUE(curve);
  EXPECT_EQ(*curve, (std::vector<RatedPoint>{{0.1, 900}, {0.05, 300}, {0.1, 1000}}));
  const auto efficiency = read_efficiency_csv("speed_rpm,volumetric_efficiency\n6000,0.85\n1500,0.8\n");
  ASSERT_TRUE(efficiency);
  EXPECT_EQ(*efficiency, (std::vector<EfficiencyPoint>{{25, 0.8}, {100, 0.85}}));
  const auto cooler = read_effectiveness_csv("charge_flow_kg_s,effectiveness\n0.2,0.6\n0.05,0.8\n");
  ASSERT_TRUE(cooler);
  EXPECT_EQ(*cooler, (std::vector<EffectivenessPoint>{{0.05, 0.8}, {0.2, 0.6}}));
}

// Identity: what is written is read again, to the digit.
TEST(TablesCsv, ReadsWhatItWrites) {
  const auto blower = *read_blower_map_csv(blower_text);
  EXPECT_EQ(*read_blower_map_csv(write_csv(blower)), blower);
  EXPECT_TRUE(write_csv(blower).starts_with(
      "speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic_efficiency\n4000,1.2,0.86,0.6\n"));
  const auto compressor = *read_compressor_map_csv(compressor_text);
  EXPECT_EQ(*read_compressor_map_csv(write_csv(compressor)), compressor);
  const std::vector<RatedPoint> curve{{0.1 / 3, 1000.0 / 7}};
  EXPECT_EQ(*read_restriction_csv(write_csv(curve)), curve);
  const std::vector<EfficiencyPoint> efficiency{{1234.5 / 60, 0.8125}};
  EXPECT_EQ(*read_efficiency_csv(write_csv(efficiency)), efficiency);
  const std::vector<EffectivenessPoint> cooler{{1.0 / 3, 2.0 / 3}};
  EXPECT_EQ(*read_effectiveness_csv(write_csv(cooler)), cooler);
}

struct Wrong {
  std::string_view text;
  int line;
  std::string_view path, found, accepted;

  friend void PrintTo(const Wrong& wrong, std::ostream* out) { *out << wrong.found; }
};
class BadMap : public ::testing::TestWithParam<Wrong> {};

TEST_P(BadMap, IsRefusedAtItsPlace) {
  const auto map = read_blower_map_csv(GetParam().text, "map.csv");
  ASSERT_FALSE(map);
  const Error& error = map.error();
  EXPECT_EQ(error.place.file, "map.csv");
  EXPECT_EQ(error.place.line, GetParam().line) << error.text();
  EXPECT_EQ(error.place.path, GetParam().path) << error.text();
  EXPECT_EQ(error.found, GetParam().found);
  EXPECT_NE(error.accepted.find(GetParam().accepted), std::string::npos) << error.text();
}
INSTANTIATE_TEST_SUITE_P(
    TablesCsv, BadMap,
    ::testing::Values(
        Wrong{"speed_rpm,pressure_ratio,volumetric_efficiency\n1,1,1\n", 1, "header",
              "no column \"adiabatic_efficiency\"",
              "speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic"},
        Wrong{"speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic_efficiency,maker\n", 1, "header",
              "a column \"maker\"", "the columns speed_rpm"},
        Wrong{"speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic_efficiency\n", 1, "header",
              "no rows below the header", "at least one row"},
        Wrong{"speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic_efficiency\n4000,1.2,0.9,0.6\n4000,1."
              "6,80,0.6\n",
              3, "row 2, volumetric_efficiency", "\"80\"", "a number from 0.01 to 1.2"},
        Wrong{"speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic_efficiency\n4000,1.2,0.9,60 %\n", 2,
              "row 1, adiabatic_efficiency", "\"60 %\"", "decimal point"},
        Wrong{"speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic_efficiency\n4000,1.2,0.9\n", 2, "",
              "3 cells", "4, one for each"},
        Wrong{"speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic_efficiency\n4000,1.2,0.9,0.6\n"
              "4000,1.6,0.9,0.6\n9000,1.2,0.9,0.6\n",
              0, "", "a speed that lacks one of the pressure ratios of the others",
              "every speed with every"}));

TEST(TablesCsv, RefusesPointsThatMakeNoTable) {
  const auto compressor = read_compressor_map_csv(
      "corrected_speed_rpm,corrected_flow_kg_s,pressure_ratio,adiabatic_efficiency\n"
      "60000,0.03,1.4,0.7\n60000,0.03,1.2,0.7\n80000,0.05,1.8,0.7\n80000,0.1,1.5,0.7\n",
      "c.csv");
  ASSERT_FALSE(compressor);
  EXPECT_EQ(compressor.error().found, "a line of constant speed whose flows do not rise");
  const auto efficiency =
      read_efficiency_csv("speed_rpm,volumetric_efficiency\n1500,0.8\n1500,0.9\n", "e.csv");
  ASSERT_FALSE(efficiency);
  EXPECT_EQ(efficiency.error().place.file, "e.csv");
  EXPECT_EQ(efficiency.error().found, "two rows with one speed_rpm");
}

// Whatever the bytes: a map that can be used, or one complaint.
TEST(TablesCsv, TakesAnyBytes) {
  std::mt19937 random(99);
  const auto below = [&](std::size_t count) { return random() % count; };
  int maps = 0;
  for (int round = 0; round < 5000; ++round) {
    std::string text(round % 2 == 0 ? blower_text : compressor_text);
    for (std::size_t i = 1 + below(3); i > 0; --i)
      text[below(text.size())] = below(3) == 0 ? static_cast<char>(below(256)) : "0123456789.,\n"[below(13)];
    if (round % 2 == 0) {
      const auto map = read_blower_map_csv(text, "any.csv");
      maps += map ? 1 : 0;
      if (!map) {
        ASSERT_FALSE(map.error().found.empty());
      }
    } else {
      const auto map = read_compressor_map_csv(text, "any.csv");
      maps += map ? 1 : 0;
      if (!map) {
        ASSERT_FALSE(map.error().found.empty());
      }
    }
  }
  EXPECT_GT(maps, 100);
}

} // namespace
} // namespace bellmouth::machine
