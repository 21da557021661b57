// SPDX-License-Identifier: GPL-3.0-or-later
// Gaps, humps and hoses that are not smooth inside.
#include "support/close.hpp"
#include "support/reference.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <cmath>

namespace bellmouth::loss {
namespace {

using test::close;
using test::Row;

constexpr double smooth_friction = 0.018;

// Published values: step_joints.csv ST001 to ST019. Steps and long gaps are the rows' own formulas; a short
// gap loses less than its long-gap row, "an upper bound" by the file's header. The other formula for the step
// down leaves the band at the two least steps; it lies within the 40 % that the file allows, or 0.01.
TEST(Gap, OfTheReferenceTable) {
  int steps = 0, gaps = 0, others = 0;
  for (const Row& row : test::reference("step_joints.csv")) {
    if (!row.has("d1_mm"))
      continue;
    const double first_m = row.number("d1_mm") / 1000, second_m = row.number("d2_mm") / 1000;
    const double published = row.number("K");
    if (row.text("kind").starts_with("step")) {
      ++steps;
      const Law step = law(Step{first_m, second_m});
      EXPECT_TRUE(close(step.at(0), published, 1e-6)) << row.text("row_id");
      const double other = row.number("K_alt");
      others += step.low(0) <= other * (1 + 1e-6) && other * (1 - 1e-6) <= step.high(0);
      EXPECT_NEAR(step.at(0), other, std::max(0.01, 0.4 * other)) << row.text("row_id");
      continue;
    }
    ++gaps;
    const double rise_m = (second_m - first_m) / 2;
    EXPECT_TRUE(close(law(Gap{first_m, second_m, 20 * rise_m}).at(0), published, 1e-6)) << row.text("row_id");
    EXPECT_LE(row.number("K_alt"), law(Gap{first_m, second_m, 20 * rise_m}).high(0)) << row.text("row_id");
    for (const double heights : {1.0, 3.0, 5.0}) {
      const Law gap = law(Gap{first_m, second_m, heights * rise_m});
      EXPECT_LT(gap.at(0), published) << row.text("row_id");
      EXPECT_GT(gap.at(0), 0) << row.text("row_id");
    }
  }
  EXPECT_EQ(steps, 14);
  EXPECT_EQ(gaps, 5);
  EXPECT_EQ(others, 12);
}

// Closed form: Hawthorne's formula, spelt as he gives it, while the jet has not met the hose wall.
TEST(Gap, ShortIsOneCorrugation) {
  for (const double length_m : {0.001, 0.003, 0.008}) {
    const double grown = 0.06 + 0.438 * length_m;
    const double ratio = 0.06 / grown;
    const Law gap = law(Gap{0.06, 0.064, length_m});
    EXPECT_TRUE(close(gap.constant, std::pow(1 - ratio * ratio, 2), 1e-12));
    EXPECT_EQ(gap.per_friction, 0);
  }
}

// Other method: the drag of a shallow recess in a wall is 0.01 to 0.02 of its area (Roshko, NACA TN 3488;
// from memory), 4 c L / d in K. The band of a short gap reaches it.
TEST(Gap, BandHoldsTheDragOfARecess) {
  for (const double length_m : {0.002, 0.005, 0.01})
    for (const double drag : {0.01, 0.02}) {
      const Law gap = law(Gap{0.05, 0.056, length_m});
      const double recess = 4 * drag * length_m / 0.05;
      EXPECT_LE(gap.low(0), recess) << length_m;
      EXPECT_GE(gap.high(0), recess * (1 - 1e-9)) << length_m;
    }
}

// Identity: grows with length and with bore, continuous, nothing for no gap.
TEST(Gap, GrowsFromNothing) {
  EXPECT_EQ(law(Gap{0.06, 0.06, 0.02}).at(smooth_friction), 0);
  EXPECT_EQ(law(Gap{0.06, 0.065, 0}).at(smooth_friction), 0);
  double before = 0;
  for (double length_m = 0.0001; length_m < 0.1; length_m += 0.0001) {
    const double k = law(Gap{0.06, 0.065, length_m}).at(smooth_friction);
    EXPECT_GE(k, before);
    EXPECT_LT(k - before, 0.001);
    before = k;
  }
  EXPECT_LE(law(Gap{0.06, 0.065, 0.01}).constant, law(Gap{0.06, 0.07, 0.01}).constant);
  EXPECT_TRUE(law(Gap{0.06, 0.1, 0.01}).outside_range);
  EXPECT_FALSE(law(Gap{0.06, 0.065, 0.01}).outside_range);
}

// Identity: a hump loses no more than a gap of its size, and a long gentle one no more than its two cones.
TEST(Hump, LiesBelowGapAndCones) {
  for (const double length_m : {0.01, 0.03, 0.06, 0.2, 0.8}) {
    const Law hump = law(Hump{0.06, 0.075, length_m});
    const double cones =
        law(Cone{0.06, 0.075, length_m / 2}).constant + law(Cone{0.075, 0.06, length_m / 2}).constant;
    EXPECT_LE(hump.constant, law(Gap{0.06, 0.075, length_m}).constant) << length_m;
    EXPECT_LE(hump.constant, cones * (1 + 1e-12)) << length_m;
  }
  EXPECT_LT(law(Hump{0.06, 0.075, 0.8}).constant, 0.05);
  EXPECT_EQ(law(Hump{0.06, 0.06, 0.1}).at(smooth_friction), 0);
}

// Closed form: a known hose is its corrugations one after the other. Pinned own value beside it: the friction
// factor of a hose of unknown corrugation, four to five times that of a smooth one.
TEST(CorrugatedHose, IsARowOfGaps) {
  const CorrugatedHose hose{0.5, 0.06, 0.008};
  EXPECT_TRUE(
      close(law(hose).at(smooth_friction), 0.5 / 0.008 * law(Gap{0.06, 0.08, 0.008}).constant, 1e-12));
  const Law unknown = law(CorrugatedHose{0.06, 0.06});
  EXPECT_TRUE(close(unknown.constant, 0.0790, 2e-3));
  // A hose of trade lies in the band of the unknown one.
  for (const double pitch_ratio : {0.06, 0.1, 0.15, 0.2, 0.22})
    EXPECT_TRUE(law(CorrugatedHose{0.06, 0.06, pitch_ratio * 0.06}).constant <= unknown.high(0) &&
                law(CorrugatedHose{0.06, 0.06, pitch_ratio * 0.06}).constant >= unknown.low(0))
        << pitch_ratio;
}

// Identity: without depth a corrugated hose is a smooth one; deep corrugations do not depend on depth.
TEST(CorrugatedHose, BetweenSmoothAndDeep) {
  const Law shallow = law(CorrugatedHose{0.5, 0.06, 0.008, 1e-6});
  EXPECT_TRUE(close(shallow.at(smooth_friction), law(Straight{0.5, 0.06}).at(smooth_friction), 1e-3));
  EXPECT_EQ(law(CorrugatedHose{0.5, 0.06, 0.008, 0.004}).constant,
            law(CorrugatedHose{0.5, 0.06, 0.008, 0.009}).constant);
}

// Closed form: the friction similarity law solved for f; and what is unknown is friction at the caller's
// roughness, whose band reaches the rib law of a usual wire.
TEST(WireHose, RibsAndUnknown) {
  const Law ribs = law(WireHose{0.06, 0.06, 0.010, 0.0008});
  EXPECT_TRUE(close(std::sqrt(8 / ribs.constant),
                    2.5 * std::log(0.06 / 0.0016) - 3.75 + 0.95 * std::pow(12.5, 0.53), 1e-9));
  EXPECT_FALSE(ribs.outside_range);
  const Law unknown = law(WireHose{0.5, 0.06});
  const double rough = darcy_friction_factor(1e5, roughness_m(Surface::wire_hose) / 0.06);
  EXPECT_DOUBLE_EQ(unknown.at(rough), law(Straight{0.5, 0.06}).at(rough));
  EXPECT_GT(unknown.high(rough), law(WireHose{0.5, 0.06, 0.012, 0.0006}).low(0));
  EXPECT_TRUE(law(WireHose{0.5, 0.06, 0.010, 0.0001}).outside_range);
}

} // namespace
} // namespace bellmouth::loss
