// SPDX-License-Identifier: GPL-3.0-or-later
// Distances of single pieces to single solids. Kind of the checks: another method (dense sampling with point
// distances written separately) and closed forms.
#include "bay_scene.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <numbers>

namespace bellmouth::bay {
namespace {

using namespace test;
using std::numbers::pi;
using test::apart;
using test::cross;
using test::dot;
using test::plus;

/// \name Point distances, written apart from those of the library
///@{
double outside(const build::Box& box, const Vector& p) {
  Vector clamped = box.centre_m;
  double deepest = 1e300;
  for (std::size_t i = 0; i < 3; ++i) {
    const double along = dot(plus(p, -1, box.centre_m), box.axes[i]);
    deepest = std::min({deepest, box.half_size_m[i] - along, box.half_size_m[i] + along});
    clamped = plus(clamped, std::min(std::max(along, -box.half_size_m[i]), box.half_size_m[i]), box.axes[i]);
  }
  return deepest > 0 ? -deepest : apart(p, clamped);
}
double outside(const build::Cylinder& cylinder, const Vector& p) {
  const Vector way = plus(cylinder.to_m, -1, cylinder.from_m);
  const double whole = norm(way), t = dot(plus(p, -1, cylinder.from_m), way) / whole;
  const double across = norm(cross(plus(p, -1, cylinder.from_m), way)) / whole;
  const double past = std::max(-t, t - whole), side = across - cylinder.radius_m;
  if (past < 0 && side < 0)
    return std::max(past, side);
  return std::hypot(std::max(past, 0.0), std::max(side, 0.0));
}
double outside(const build::Sphere& sphere, const Vector& p) {
  return apart(p, sphere.centre_m) - sphere.radius_m;
}
double outside(const build::HalfSpace& half, const Vector& p) {
  return dot(plus(half.point_m, -1, p), half.normal);
}
///@}

using Solid = std::variant<build::Box, build::Cylinder, build::Sphere, build::HalfSpace>;

Solid any_solid(Dice& dice, int kind) {
  const Vector centre = dice.point(0.35);
  switch (kind) {
  case 0:
    return build::Box{
        centre, {dice.between(0.02, 0.25), dice.between(0.02, 0.25), dice.between(0.02, 0.25)}, dice.axes()};
  case 1:
    return build::Cylinder{centre, plus(centre, dice.between(0.02, 0.5), dice.direction()),
                           dice.between(0.01, 0.15)};
  case 2:
    return build::Sphere{centre, dice.between(0.01, 0.2)};
  default:
    return build::HalfSpace{centre, dice.direction()};
  }
}
double outside(const Solid& solid, const Vector& p) {
  return std::visit([&](const auto& one) { return outside(one, p); }, solid);
}

/// The radius of a piece along its way, from the diameters that it was made with.
struct Made {
  build::Piece piece;
  double radius_in_m, radius_out_m;
};
Made any_piece(Dice& dice, int kind) {
  const double d = dice.between(0.03, 0.1);
  switch (kind) {
  case 0:
    return {tube(d, dice.between(0.03, 0.5)), d / 2, d / 2};
  case 1: {
    const double other = dice.between(0.03, 0.1);
    return {cone(d, other, dice.between(0.05, 0.3)), d / 2, other / 2};
  }
  case 2: {
    const double angle = dice.between(0.1, 3.1);
    return {bend(d, angle, dice.between(0.6, 2.5) * d, dice.between(0, 2 * pi)), d / 2, d / 2};
  }
  default: { // a moulded elbow whose bore changes along its arc
    const double other = dice.between(0.03, 0.1);
    build::HoseElbow elbow{
        d - 0.01, other - 0.01, 5e-3, dice.between(0.2, 2.8), 0.12, 0, 0, dice.between(0, 2 * pi),
        false,    {0, 0}};
    return {{elbow, {}, {}, {}}, d / 2, other / 2};
  }
  }
}

class EveryPair : public ::testing::TestWithParam<std::tuple<int, int>> {};

// Other method. The sampling's own error is below 1e-8 m: it zooms into the best samples.
TEST_P(EveryPair, AgreesWithDenseSampling) {
  const auto [solid_kind, piece_kind] = GetParam();
  Dice dice(100u + 10u * static_cast<unsigned>(solid_kind) + static_cast<unsigned>(piece_kind));
  int overlapping = 0;
  for (int i = 0; i < 250; ++i) {
    Scene scene;
    const Made made = any_piece(dice, piece_kind);
    scene.add({dice.point(0.35), dice.direction()}, {made.piece});
    const Solid solid = any_solid(dice, solid_kind);
    std::visit([&](const auto& one) { scene.stand(one); }, solid);
    const Frame start = scene.frames().front();
    const Track way = scene.tracks().front();
    const double whole = way.length_m();
    const auto radius = [&](double x) {
      return made.radius_in_m + (made.radius_out_m - made.radius_in_m) * x / whole;
    };
    const auto surface = [&](double x) {
      return outside(solid, along(start, way, x).position_m) - radius(x);
    };
    const Gap gap = scene.gap();
    EXPECT_NEAR(gap.distance_m, sampled_least(surface, 0, whole), 2e-8) << i;
    // Identities: the value is that of the place it names, and the two points are that far apart, on either
    // surface.
    EXPECT_NEAR(gap.distance_m, surface(gap.along_m), 1e-12);
    EXPECT_NEAR(apart(gap.on_piece_m, gap.on_neighbour_m), std::abs(gap.distance_m), 1e-9);
    EXPECT_NEAR(outside(solid, gap.on_neighbour_m), 0, 1e-9);
    EXPECT_NEAR(apart(gap.on_piece_m, along(start, way, gap.along_m).position_m), radius(gap.along_m), 1e-9);
    overlapping += gap.distance_m < 0 ? 1 : 0;
  }
  EXPECT_GT(overlapping, 5); // both sides of touching are there
  EXPECT_LT(overlapping, 245);
}
INSTANTIATE_TEST_SUITE_P(Clearance, EveryPair,
                         ::testing::Combine(::testing::Range(0, 4), ::testing::Range(0, 4)));

// Closed form: a tube that runs beside a wall, the normal case in a bay.
TEST(Clearance, OfATubeBesideAWallIsThatOfItsSide) {
  Dice dice(7);
  for (int i = 0; i < 200; ++i) {
    const auto axes = dice.axes();
    const double distance = dice.between(0.001, 0.2), d = dice.between(0.03, 0.1);
    const build::Box wall{dice.point(1), {1, 1, 0.1}, axes};
    const Vector start = plus(plus(wall.centre_m, 0.1 + distance + d / 2, axes[2]), -0.2, axes[0]);
    Scene scene;
    scene.add({start, axes[0]}, {tube(d, 0.4)});
    scene.stand(wall);
    EXPECT_NEAR(scene.gap().distance_m, distance, 1e-12);
    scene.build.keep_outs.clear();
    scene.stand(build::Cylinder{plus(start, -(d / 2 + distance + 0.04), axes[2]),
                                plus(plus(start, -(d / 2 + distance + 0.04), axes[2]), 0.4, axes[0]), 0.04});
    EXPECT_NEAR(scene.gap().distance_m, distance, 1e-12);
  }
}

// Closed form: an arc whose plane lies parallel to a wall is as far from it everywhere.
TEST(Clearance, OfABendBesideAWallIsThatOfItsSide) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {bend(0.06, pi / 2, 0.09, pi / 2)}); // to the right, level
  scene.stand(build::Box{{0, 0, -0.5}, {2, 2, 0.4}});
  EXPECT_NEAR(scene.gap().distance_m, 0.1 - 0.03, 1e-12);
  scene.build.keep_outs.clear();
  scene.stand(build::HalfSpace{{0, 0, 0.05}, {0, 0, 1}});
  EXPECT_NEAR(scene.gap().distance_m, 0.05 - 0.03, 1e-12);
}

// Closed form: signed distances of points, one of each region.
TEST(PointDistance, IsExactInEveryRegion) {
  const build::Box box{{1, 2, 3}, {0.1, 0.2, 0.3}};
  EXPECT_NEAR(distance_m(box, {1, 2, 3}), -0.1, 1e-15);
  EXPECT_NEAR(distance_m(box, {1.05, 2, 3}), -0.05, 1e-15);
  EXPECT_NEAR(distance_m(box, {1.5, 2, 3}), 0.4, 1e-15);
  EXPECT_NEAR(distance_m(box, {1.4, 2.6, 3}), 0.5, 1e-15);
  EXPECT_NEAR(distance_m(box, {1.3, 2.5, 3.9}), 0.7, 1e-15); // 0.2, 0.3, 0.6
  const build::Cylinder cylinder{{0, 0, 0}, {0, 0, 2}, 0.5};
  EXPECT_NEAR(distance_m(cylinder, {0, 0, 1}), -0.5, 1e-15);
  EXPECT_NEAR(distance_m(cylinder, {0.1, 0, 1.9}), -0.1, 1e-15);
  EXPECT_NEAR(distance_m(cylinder, {0.8, 0, 2.4}), 0.5, 1e-15);
  EXPECT_NEAR(distance_m(cylinder, {0, 0.2, -1}), 1, 1e-15);
  EXPECT_NEAR(distance_m(build::Sphere{{1, 0, 0}, 0.25}, {1, 3, 4}), 4.75, 1e-15);
  EXPECT_NEAR(distance_m(build::HalfSpace{{0, 0, 0.7}, {0, 0, 1}}, {5, 5, 0.2}), 0.5, 1e-15);
  EXPECT_NEAR(distance_m(build::HalfSpace{{0, 0, 0.7}, {0, 0, 1}}, {5, 5, 0.9}), -0.2, 1e-15);
}

} // namespace
} // namespace bellmouth::bay
