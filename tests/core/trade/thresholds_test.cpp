// SPDX-License-Identifier: GPL-3.0-or-later
// The table of thresholds against the figures at work. Identities: nothing outside the project is asked.
#include <bellmouth/trade.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstddef>
#include <set>
#include <string>

namespace bellmouth::trade {
namespace {

/// Where a limit lies among the figures.
std::ptrdiff_t place(const Limits& limits, double Limits::*limit) {
  return &(limits.*limit) - reinterpret_cast<const double*>(&limits);
}

// Limits holds nothing but doubles, so that as many thresholds at different places are all of them.
TEST(Thresholds, HaveEachFigureOnce) {
  const Limits limits;
  std::set<std::ptrdiff_t> places;
  for (const Threshold& threshold : thresholds())
    EXPECT_TRUE(places.insert(place(limits, threshold.limit)).second) << threshold.key;
  EXPECT_EQ(places.size(), sizeof(Limits) / sizeof(double));
}

TEST(Thresholds, HaveKeysOfTheirOwn) {
  std::set<std::string_view> keys;
  for (const Threshold& threshold : thresholds()) {
    EXPECT_TRUE(keys.insert(threshold.key).second) << threshold.key;
    EXPECT_EQ(find(threshold.key), &threshold);
    EXPECT_TRUE(std::ranges::all_of(threshold.key, [](unsigned char c) {
      return std::isalnum(c) != 0 || c == '_';
    })) << threshold.key;
    EXPECT_FALSE(threshold.title.empty()) << threshold.key;
    EXPECT_FALSE(threshold.group.empty()) << threshold.key;
  }
  EXPECT_EQ(find("no_such_thing"), nullptr);
}

TEST(Thresholds, AreAcceptedAsTheTradeHasThem) {
  for (const Threshold& threshold : thresholds()) {
    EXPECT_LT(threshold.least, threshold.most) << threshold.key;
    EXPECT_GE(value(threshold, defaults()), threshold.least) << threshold.key;
    EXPECT_LE(value(threshold, defaults()), threshold.most) << threshold.key;
  }
}

TEST(Thresholds, ComeBackAsTheyWereSet) {
  for (const Threshold& threshold : thresholds())
    for (const double share : {0.0, 0.3, 1.0}) {
      Limits limits;
      const double wanted = threshold.least + share * (threshold.most - threshold.least);
      set(threshold, limits, wanted);
      EXPECT_NEAR(value(threshold, limits), wanted, 1e-12 * std::abs(wanted)) << threshold.key;
      limits.*threshold.limit = defaults().*threshold.limit;
      EXPECT_EQ(limits, defaults()) << threshold.key << " moves another figure too";
    }
}

// What the key ends in is the unit that the value is stated in.
TEST(Thresholds, AreStatedInTheUnitOfTheirKeys) {
  for (const Threshold& threshold : thresholds()) {
    EXPECT_EQ(threshold.unit == Unit::millimetres, threshold.key.ends_with("_mm")) << threshold.key;
    EXPECT_EQ(threshold.unit == Unit::degrees, threshold.key.ends_with("_deg")) << threshold.key;
  }
  EXPECT_NEAR(value(*find("kerf_mm"), defaults()), 2.5, 1e-12);
  EXPECT_NEAR(value(*find("cone_note_deg"), defaults()), 14, 1e-12);
  EXPECT_EQ(value(*find("bead_from_gauge_Pa"), defaults()), 30e3);
  EXPECT_EQ(unit_text(*find("kerf_mm")), "mm");
  EXPECT_EQ(unit_text(*find("worm_torque_Nm")), "N m");
  EXPECT_EQ(unit_text(*find("parting_force_N")), "N");
  EXPECT_EQ(unit_text(*find("velocity_before_blower_m_s")), "m/s");
  EXPECT_EQ(unit_text(*find("condensate_caution_kg_s")), "kg/s");
  EXPECT_EQ(unit_text(*find("stiff_plies")), "");
  EXPECT_EQ(accepted(*find("kerf_mm")), "a number from 0 to 20");
}

} // namespace
} // namespace bellmouth::trade
