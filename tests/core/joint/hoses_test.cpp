// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"
#include "support/sample_parts.hpp"

#include <bellmouth/joint/hoses.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::joint {
namespace {

using test::close;
using test::mm;

const trade::Limits& usual = trade::defaults();

build::Piece hose(double bore_mm, double wall_mm, build::Lining lining = build::Lining::smooth) {
  return {build::Hose{mm(bore_mm), mm(wall_mm), mm(200), {mm(40), mm(40)}, lining},
          build::Material::silicone,
          {},
          ""};
}

// Published value: a very long steel tube, radius 6.75 in, wall 0.375 in, 29e6 lbf/in^2, Poisson's ratio
// 0.290: 1.357e3 lbf/in^2 (Roark's Formulas for Stress and Strain, table 35 case 19a, as a worked sheet at
// studylib.net/doc/26029783).
TEST(Collapse, OfALongTubeAsInTheHandbook) {
  constexpr double psi = 6894.757, inch = 0.0254;
  const double folds_Pa = collapse_Pa(29e6 * psi, 13.5 * inch, 0.375 * inch, 100000 * inch, 0.290);
  EXPECT_NEAR(folds_Pa / psi, 1357, 0.5);
}

/// R. von Mises (1929) for a tube held round at both ends under pressure on side and ends, as Windenburg and
/// Trilling (1934) have it: the least over the number of lobes.
double von_mises_Pa(double modulus_Pa, double diameter_m, double wall_m, double length_m, double poisson) {
  const double radius_m = diameter_m / 2;
  const double alpha = std::numbers::pi * radius_m / length_m;
  double least_Pa = std::numeric_limits<double>::infinity();
  for (int lobes = 2; lobes < 40; ++lobes) {
    const double n2 = lobes * lobes, sum = n2 + alpha * alpha;
    const double membrane = std::pow(alpha, 4) / (sum * sum);
    const double bending =
        wall_m * wall_m / (12 * radius_m * radius_m * (1 - poisson * poisson)) * (sum - 1) * (sum - 1);
    least_Pa = std::min(least_Pa,
                        modulus_Pa * wall_m / radius_m * (membrane + bending) / (n2 - 1 + alpha * alpha / 2));
  }
  return least_Pa;
}

// Other method: von Mises's solution, which the short formula approaches: within 10 % on thin shells, within
// 25 % on walls as hoses have them.
TEST(Collapse, OfAShortTubeIsNearVonMises) {
  for (const double length : {0.5, 1.0, 2.0, 3.0}) {
    EXPECT_TRUE(
        close(collapse_Pa(2e11, 1, 0.003, length, 0.3), von_mises_Pa(2e11, 1, 0.003, length, 0.3), 0.1))
        << length;
    EXPECT_TRUE(close(collapse_Pa(5e6, 0.08, 0.0045, 0.08 * length),
                      von_mises_Pa(5e6, 0.08, 0.0045, 0.08 * length, 0.5), 0.25))
        << length;
  }
}

// Identities: in proportion to the stiffness, never less than a long tube, more the shorter it is, and by
// size only in proportion.
TEST(Collapse, FollowsStiffnessLengthAndShape) {
  const double long_Pa = collapse_Pa(5e6, mm(80), mm(5), 1000);
  EXPECT_TRUE(close(long_Pa, 2 * 5e6 / 0.75 * std::pow(5.0 / 80, 3), 1e-12));
  double before_Pa = std::numeric_limits<double>::infinity();
  for (int step = 0; step < 22; ++step) {
    const double length_mm = 10 * std::pow(1.3, step);
    const double folds_Pa = collapse_Pa(5e6, mm(80), mm(5), mm(length_mm));
    EXPECT_LE(folds_Pa, before_Pa);
    EXPECT_GE(folds_Pa, long_Pa * (1 - 1e-12));
    before_Pa = folds_Pa;
    if (std::isfinite(folds_Pa)) {
      EXPECT_TRUE(close(collapse_Pa(10e6, mm(80), mm(5), mm(length_mm)), 2 * folds_Pa, 1e-12));
      EXPECT_TRUE(close(collapse_Pa(5e6, mm(40), mm(2.5), mm(length_mm / 2)), folds_Pa, 1e-12));
    }
  }
  EXPECT_TRUE(std::isinf(collapse_Pa(5e6, mm(80), mm(5), 0)));
}

TEST(Collapse, TakesTheLargerBoreAndNoCorrugatedWall) {
  const auto even = collapse(hose(76.2, 4.5).shape, mm(150), usual);
  ASSERT_TRUE(even);
  EXPECT_EQ(even->low_Pa, collapse_Pa(usual.hose_modulus_low_Pa, mm(80.7), mm(4.5), mm(150)));
  EXPECT_EQ(even->high_Pa, collapse_Pa(usual.hose_modulus_high_Pa, mm(80.7), mm(4.5), mm(150)));
  const build::Shape reducer = build::HoseReducer{mm(51), mm(76.2), mm(4.5), mm(150), {mm(40), mm(40)}};
  EXPECT_EQ(collapse(reducer, mm(150), usual)->low_Pa, even->low_Pa);
  EXPECT_FALSE(collapse(hose(76.2, 4.5, build::Lining::corrugated).shape, mm(150), usual));
}

TEST(Stiffness, ComesFromWireAndPlies) {
  const auto smooth = hose(76.2, 4.5).shape;
  build::StockItem item;
  EXPECT_FALSE(is_stiff(smooth, nullptr, usual));
  EXPECT_FALSE(is_stiff(smooth, &item, usual));
  item.plies = 3;
  EXPECT_FALSE(is_stiff(smooth, &item, usual));
  item.plies = 4;
  EXPECT_TRUE(is_stiff(smooth, &item, usual));
  item = {};
  item.wire = true;
  EXPECT_TRUE(is_stiff(smooth, &item, usual));
  EXPECT_TRUE(is_stiff(hose(76.2, 4.5, build::Lining::wire).shape, nullptr, usual));
}

// Closed form: the stress in a thin wall goes with bore over wall.
TEST(WorkingPressure, FallsAsTheBoreGrowsAndNeverRises) {
  build::StockItem item;
  item.max_gauge_Pa = 310e3;
  EXPECT_EQ(working_gauge_Pa(hose(63.5, 4.5), &item, usual).value, 310e3);
  EXPECT_TRUE(working_gauge_Pa(hose(63.5, 4.5), &item, usual).stated);
  EXPECT_FALSE(working_gauge_Pa(hose(76, 5), nullptr, usual).stated);
  EXPECT_TRUE(close(working_gauge_Pa(hose(76, 5), nullptr, usual).value, 200e3, 1e-12));
  EXPECT_TRUE(close(working_gauge_Pa(hose(102, 5), nullptr, usual).value, 200e3 * 76 / 102, 1e-12));
  EXPECT_TRUE(close(working_gauge_Pa(hose(76, 3), nullptr, usual).value, 120e3, 1e-12));
  EXPECT_EQ(working_gauge_Pa(hose(25, 5), nullptr, usual).value, 200e3);
  const build::Piece reducer{build::HoseReducer{mm(51), mm(102), mm(5), mm(150), {mm(40), mm(40)}},
                             build::Material::silicone,
                             {},
                             ""};
  EXPECT_TRUE(close(working_gauge_Pa(reducer, nullptr, usual).value, 200e3 * 76 / 102, 1e-12));
}

TEST(Temperature, IsTheItemsOrTheMaterials) {
  auto piece = hose(63.5, 4.5);
  EXPECT_EQ(greatest_temperature_K(piece, nullptr, usual).value, usual.silicone_K);
  piece.material = build::Material::rubber;
  EXPECT_EQ(greatest_temperature_K(piece, nullptr, usual).value, usual.rubber_K);
  piece.material = build::Material::plastic;
  EXPECT_EQ(greatest_temperature_K(piece, nullptr, usual).value, usual.plastic_K);
  build::StockItem item;
  item.max_temperature_K = 493.15;
  EXPECT_EQ(greatest_temperature_K(piece, &item, usual).value, 493.15);
  EXPECT_TRUE(greatest_temperature_K(piece, &item, usual).stated);
}

} // namespace
} // namespace bellmouth::joint
