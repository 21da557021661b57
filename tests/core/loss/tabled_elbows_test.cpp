// SPDX-License-Identifier: GPL-3.0-or-later
// Segmented and pleated elbows against tests/reference/mitre_segmented.csv and bends_published.csv.
#include "support/close.hpp"
#include "support/reference.hpp"
#include "tally.hpp"

#include <bellmouth/loss.hpp>

#include <numbers>

namespace bellmouth::loss {
namespace {

using test::close;
using test::Row;

constexpr double degree = std::numbers::pi / 180;

SegmentedBend segmented(const Row& row, double bore_m) {
  return {row.number("angle_deg") * degree, row.number("r_over_D"), bore_m,
          static_cast<int>(row.number("joints"))};
}

/// What so many mitres lose when they stand far apart.
double apart(const SegmentedBend& bend) {
  return bend.joints * law(Mitre{bend.angle_rad / bend.joints}).constant;
}

// Published value: every row read from the handbook (class a). In the smallest bore three rows exceed what
// separate mitres would lose; there the law holds that bound and its band reaches up to the row.
TEST(SegmentedBend, IsTheTableItNames) {
  int rows = 0, bounded = 0;
  for (const Row& row : test::reference("mitre_segmented.csv")) {
    if (row.text("class") != "a")
      continue;
    ++rows;
    const SegmentedBend bend = segmented(row, row.has("D_m") ? row.number("D_m") : 0.1);
    const Law law = loss::law(bend);
    const double k = row.number("K");
    EXPECT_FALSE(law.outside_range) << row.text("row_id");
    if (k > apart(bend)) {
      ++bounded;
      EXPECT_EQ(bend.bore_m, 0.075) << row.text("row_id");
      EXPECT_DOUBLE_EQ(law.at(0.02), apart(bend));
      EXPECT_TRUE(close(std::max(law.high(0.02), k), law.high(0.02), 1e-12));
    } else {
      EXPECT_TRUE(close(law.at(0.02), k, 1e-9)) << row.text("row_id");
    }
  }
  EXPECT_EQ(rows, 45);
  EXPECT_EQ(bounded, 3);
}

// Published values from memory (class d): another trade table, without the bore; at 150 mm all but
// the elbow of radius ratio 0.5, which is off the table, lie inside the band.
TEST(SegmentedBend, BandAgainstTheOtherTable) {
  Tally tally;
  for (const Row& row : test::reference("mitre_segmented.csv"))
    if (row.text("class") == "d")
      tally.add(law(segmented(row, 0.15)), 0.02, row.number("K"));
  print_share("segmented bends, the other table", tally);
  EXPECT_EQ(tally, (Tally{12, 13}));
}

// Identity (the bounds rows): a segmented bend lies between the smooth bend of the same radius and its mitres
// apart, for the bores of this trade. The friction of the cuts, that of a smooth arc, is not in the law and
// is added here.
TEST(SegmentedBend, LiesBetweenSmoothAndSeparateMitres) {
  int rows = 0;
  for (const Row& row : test::reference("mitre_segmented.csv")) {
    if (row.text("class") != "b")
      continue;
    ++rows;
    for (const double bore : {0.05, 0.075, 0.10, 0.15}) {
      const SegmentedBend bend = segmented(row, bore);
      const double friction = darcy_friction_factor(1e5, 0);
      const double arc = friction * bend.angle_rad * bend.radius_ratio;
      EXPECT_TRUE(close(apart(bend), row.number("K"), 1e-6));
      EXPECT_LE(law(bend).at(friction), row.number("K") * (1 + 1e-6)) << row.text("row_id") << ' ' << bore;
      EXPECT_GE(law(bend).at(friction) + arc, law(Bend{bend.angle_rad, bend.radius_ratio}).at(friction))
          << row.text("row_id") << ' ' << bore;
    }
  }
  EXPECT_EQ(rows, 5);
}

// Identity: never more than separate mitres, never negative, for any shape; one joint is a single mitre.
TEST(SegmentedBend, HoldsTheBoundEverywhere) {
  for (int joints = 2; joints <= 9; ++joints)
    for (double angle = 20; angle <= 180; angle += 20)
      for (const double ratio : {0.6, 1.0, 1.5, 2.5, 4.0})
        for (const double bore : {0.04, 0.063, 0.1, 0.3, 2.0}) {
          const SegmentedBend bend{angle * degree, ratio, bore, joints};
          const Law law = loss::law(bend);
          EXPECT_GT(law.constant, 0);
          EXPECT_LE(law.constant, apart(bend) * (1 + 1e-12));
          EXPECT_EQ(law.per_friction, 0);
        }
  EXPECT_EQ(law(SegmentedBend{90 * degree, 1.5, 0.06, 1}).constant, law(Mitre{90 * degree}).constant);
}

TEST(SegmentedBend, SaysWhereItIsOutside) {
  EXPECT_TRUE(law(SegmentedBend{90 * degree, 1.5, 0.063, 4}).outside_range); // bore below the table
  EXPECT_TRUE(law(SegmentedBend{90 * degree, 2.0, 0.10, 4}).outside_range);  // radius ratio of no table
  EXPECT_TRUE(law(SegmentedBend{60 * degree, 1.5, 0.10, 4}).outside_range);  // angle of no table
  EXPECT_TRUE(law(SegmentedBend{90 * degree, 2.5, 0.10, 8}).outside_range);  // more joints than any table
  EXPECT_FALSE(law(SegmentedBend{75 * degree, 1.5, 0.10, 2}).outside_range); // between two tables
  EXPECT_DOUBLE_EQ(law(SegmentedBend{90 * degree, 1.5, 0.15, 4}).band_low, 0.30);
  EXPECT_DOUBLE_EQ(law(SegmentedBend{90 * degree, 1.5, 0.063, 4}).band_low, 0.50);
}

// Published value: ASHRAE CD3-5 and CD3-7, every row.
TEST(PleatedElbow, IsTheTableItNames) {
  int rows = 0;
  for (const Row& row : test::reference("bends_published.csv")) {
    if (!row.text("kind").starts_with("pleated"))
      continue;
    ++rows;
    const Law law = loss::law(PleatedElbow{row.number("angle_deg") * degree, row.number("D_m")});
    EXPECT_TRUE(close(law.at(0.03), row.number("K"), 1e-9)) << row.text("row_id");
    EXPECT_FALSE(law.outside_range) << row.text("row_id");
    EXPECT_TRUE(close(law.high(0.03), 1.5 * row.number("K"), 1e-9)); // a factor of 1.5 both ways
    EXPECT_TRUE(close(law.low(0.03), row.number("K") / 1.5, 1e-9));
  }
  EXPECT_EQ(rows, 14);
}

// Identity: continuous between and beyond the tables, and more than a smooth bend.
TEST(PleatedElbow, IsContinuous) {
  for (double angle = 5; angle <= 180; angle += 5) {
    const double k = law(PleatedElbow{angle * degree, 0.08}).constant;
    EXPECT_GT(law(PleatedElbow{(angle + 1) * degree, 0.08}).constant, k);
    EXPECT_LT(law(PleatedElbow{(angle + 1e-6) * degree, 0.08}).constant - k, 1e-6);
    EXPECT_GT(k, law(Bend{angle * degree, 1.5}).at(0.018) * 0.99) << angle;
  }
  EXPECT_TRUE(law(PleatedElbow{90 * degree, 0.06}).outside_range);
  EXPECT_TRUE(law(PleatedElbow{30 * degree, 0.15}).outside_range);
}

} // namespace
} // namespace bellmouth::loss
