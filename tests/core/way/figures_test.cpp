// SPDX-License-Identifier: GPL-3.0-or-later
// What a way comes to, summed by hand.
#include "support/close.hpp"

#include <bellmouth/way.hpp>

#include <gtest/gtest.h>

#include <numbers>

namespace bellmouth::way {
namespace {

using test::close;

constexpr double quarter_rad = std::numbers::pi / 2;

Problem one_bend() {
  Problem problem;
  problem.start = {{0, 0, 0}, {1, 0, 0}, 0.06, build::Mounting::engine, 0};
  problem.end = {{0.4, 0.4, 0}, {0, -1, 0}, 0.06, build::Mounting::engine, 0};
  problem.reference = {0, 1, 0};
  problem.bends = {{"bend", BendKind::mandrel, 0.06, quarter_rad, 0.09, 0.1, 15, 0.2}};
  problem.tube = {30, 1};
  problem.joint_price = 11;
  problem.weights.price = 1;
  return problem;
}

// Identity: legs of 100 mm at straights of 310 mm leave 210 mm of tube on both sides: 4 joints.
TEST(Figures, SumPieces) {
  const Figures got = figures(one_bend(), {{{0, quarter_rad, 0, std::nullopt}}, {0.31, 0.31}, std::nullopt});
  EXPECT_EQ(got.joints, 4);
  EXPECT_TRUE(close(got.price, 15 + 4 * 11 + 30 * 0.42, 1e-12));
  EXPECT_TRUE(close(got.length_m, 0.62 + 0.09 * quarter_rad, 1e-12));
}

// Identity: a lost leg is replaced by tube, and the joint on that side is the weld.
TEST(Figures, WeldWhereALegIsLost) {
  Problem problem = one_bend();
  const Way way{{{0, 0.8 * quarter_rad, 0, Leg::in}}, {0.31, 0.31}, std::nullopt};
  EXPECT_TRUE(close(figures(problem, way).price, 15 + 4 * 11 + 30 * 0.52, 1e-12));
  problem.weld_price = 2;
  EXPECT_TRUE(close(figures(problem, way).price, 15 + 3 * 11 + 2 + 30 * 0.52, 1e-12));
  EXPECT_EQ(figures(problem, way).joints, 4);
}

// Identity: without a piece of tube between them there is one joint, whichever side lost its leg.
TEST(Figures, CountWelds) {
  EXPECT_EQ(welds(false, false, true), 0);
  EXPECT_EQ(welds(true, true, true), 2);
  EXPECT_EQ(welds(true, true, false), 1);
  EXPECT_EQ(welds(false, true, false), 1);
}

// Identity: 20 mm to the side is nearer than half a diameter of 60 mm, 40 mm is not; whole and cut bends
// differ in what they are bought as, not in what one sees.
TEST(Figures, CallWaysTheSame) {
  Problem problem = one_bend();
  problem.bends.push_back(problem.bends.front());
  const auto way = [](std::size_t bend, double first_m) {
    return Way{{{bend, quarter_rad, 0, std::nullopt}}, {first_m, 0.31}, std::nullopt};
  };
  EXPECT_TRUE(same(problem, way(0, 0.31), way(0, 0.33)));
  EXPECT_FALSE(same(problem, way(0, 0.31), way(0, 0.35)));
  EXPECT_FALSE(same(problem, way(0, 0.31), way(1, 0.31)));
  problem.apart_m = 0.09;
  EXPECT_TRUE(same(problem, way(0, 0.31), way(1, 0.39)));
  EXPECT_FALSE(same(problem, way(0, 0.31), way(1, 0.41)));
  EXPECT_FALSE(same(problem, way(0, 0.31), way(0, 0.09))); // needs no tube: a joint less
}

} // namespace
} // namespace bellmouth::way
