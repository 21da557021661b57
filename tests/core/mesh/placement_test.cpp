// SPDX-License-Identifier: GPL-3.0-or-later
#include "shapes.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <numbers>

namespace bellmouth::mesh {
namespace {

using test::apart;
using test::close;
using test::inner;
using test::plus;

Point crossed(const Point& a, const Point& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
double handedness(const Placement& placement) {
  return inner(crossed(placement.axes[0], placement.axes[1]), placement.axes[2]);
}

/// Turns about a unit axis (Rodrigues' formula).
Point turned(const Point& p, const Point& axis, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return plus(plus(plus({}, p, c), crossed(axis, p), s), axis, inner(axis, p) * (1 - c));
}

/// A motion out of the file into the bay.
struct Motion {
  Point axis{0, 0, 1};
  double angle = 0;
  Point shift{};
  [[nodiscard]] Point of(const Point& p) const { return plus(turned(p, axis, angle), shift); }
};

Point random_point(std::mt19937& random, double size) {
  std::uniform_real_distribution<double> share(-size, size);
  const double x = share(random), y = share(random), z = share(random);
  return {x, y, z};
}

Motion random_motion(std::mt19937& random) {
  Motion motion;
  motion.axis = random_point(random, 1);
  motion.axis = plus({}, motion.axis, 1 / std::sqrt(inner(motion.axis, motion.axis)));
  motion.angle = std::uniform_real_distribution<double>(-3.14, 3.14)(random);
  motion.shift = random_point(random, 5);
  return motion;
}

// Identity: what a placement does it undoes, mirrored or not.
TEST(Placement, ThereAndBackIsTheSame) {
  std::mt19937 random(20240505);
  for (int i = 0; i < 100; ++i) {
    const Motion motion = random_motion(random);
    Placement placement;
    placement.scale = metres(static_cast<Unit>(i % 4));
    for (std::size_t axis = 0; axis < 3; ++axis) {
      Point unit{};
      unit[axis] = i % 2 == 1 && axis == 1 ? -1 : 1;
      placement.axes[axis] = turned(unit, motion.axis, motion.angle);
    }
    placement.origin_m = motion.shift;
    const Point in_file = random_point(random, 2 / placement.scale);
    const Point in_bay = placement.to_bay(in_file);
    EXPECT_LT(apart(placement.to_file(in_bay), in_file), 1e-12 / placement.scale);
    Point by_hand = plus({}, in_file, placement.scale);
    by_hand[1] *= i % 2 == 1 ? -1 : 1;
    EXPECT_LT(apart(in_bay, motion.of(by_hand)), 1e-13);
  }
}

// Published value: the international inch (NIST SP 811, 2008, B.8) is 25.4 mm by definition.
TEST(Placement, UnitsAreTheirMetres) {
  EXPECT_EQ(metres(Unit::millimetre), 0.001);
  EXPECT_EQ(metres(Unit::centimetre), 0.01);
  EXPECT_EQ(metres(Unit::metre), 1);
  EXPECT_EQ(metres(Unit::inch), 0.0254);
}

// Closed form: Rodrigues' formula.
TEST(PlacedBy, FindsAnyRigidMotion) {
  std::mt19937 random(20240506);
  for (int i = 0; i < 300; ++i) {
    const Motion motion = random_motion(random);
    const Unit unit = static_cast<Unit>(i % 4);
    std::array<Point, 3> in_file, in_bay;
    for (std::size_t j = 0; j < 3; ++j) {
      const Point p = random_point(random, 1);
      in_file[j] = plus({}, p, 1 / metres(unit));
      in_bay[j] = motion.of(p);
    }
    const auto fitted = placed_by(in_file, in_bay, unit);
    ASSERT_TRUE(fitted) << fitted.error().text();
    EXPECT_LT(fitted->largest_miss_m, 1e-12);
    EXPECT_TRUE(close(handedness(fitted->placement), 1, 1e-12));
    EXPECT_EQ(fitted->placement.scale, metres(unit));
    const Point other = random_point(random, 1);
    EXPECT_LT(apart(fitted->placement.to_bay(plus({}, other, 1 / metres(unit))), motion.of(other)), 1e-10);
  }
}

/// The sum of squares that is left after `motion`, the middles laid on one another.
double sum_of_squares(const std::array<Point, 3>& from, const std::array<Point, 3>& to,
                      const Motion& motion) {
  const auto middle = [](const std::array<Point, 3>& points) {
    return plus({}, plus(plus(points[0], points[1]), points[2]), 1.0 / 3);
  };
  double sum = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const double miss = apart(turned(plus(from[i], middle(from), -1), motion.axis, motion.angle),
                              plus(to[i], middle(to), -1));
    sum += miss * miss;
  }
  return sum;
}

// Closed form: in a plane the best turn is atan2 of the sums of cross and dot products; and no turn nearby is
// better in space.
TEST(PlacedBy, LeavesTheLeastSumOfSquares) {
  std::mt19937 random(20240507);
  std::uniform_real_distribution<double> error(-0.01, 0.01);
  for (int i = 0; i < 100; ++i) {
    std::array<Point, 3> in_file{{{0, 0, 0}, {1, 0.1, 0}, {0.2, 0.8, 0}}}, in_bay;
    const double angle = 0.06 * i - 3;
    for (std::size_t j = 0; j < 3; ++j)
      in_bay[j] =
          plus(plus(turned(in_file[j], {0, 0, 1}, angle), {3, 2, 1}), {error(random), error(random), 0});
    const auto fitted = placed_by(in_file, in_bay, Unit::metre);
    ASSERT_TRUE(fitted);
    Point middle_file{}, middle_bay{};
    for (std::size_t j = 0; j < 3; ++j) {
      middle_file = plus(middle_file, in_file[j], 1.0 / 3);
      middle_bay = plus(middle_bay, in_bay[j], 1.0 / 3);
    }
    double along = 0, across = 0;
    for (std::size_t j = 0; j < 3; ++j) {
      const Point p = plus(in_file[j], middle_file, -1), q = plus(in_bay[j], middle_bay, -1);
      along += p[0] * q[0] + p[1] * q[1];
      across += p[0] * q[1] - p[1] * q[0];
    }
    const double best = std::atan2(across, along);
    EXPECT_TRUE(close(fitted->placement.axes[0][0], std::cos(best), 0, 1e-12));
    EXPECT_TRUE(close(fitted->placement.axes[0][1], std::sin(best), 0, 1e-12));
    EXPECT_LT(apart(fitted->placement.to_bay(middle_file), middle_bay), 1e-12);
    // In space as well: lift the points off the plane, and compare with turns a little off.
    for (Point& p : in_bay)
      p[2] += error(random);
    const auto lifted = placed_by(in_file, in_bay, Unit::metre);
    ASSERT_TRUE(lifted);
    double found = 0, largest = 0;
    for (std::size_t j = 0; j < 3; ++j) {
      const double miss = apart(lifted->placement.to_bay(in_file[j]), in_bay[j]);
      found += miss * miss;
      largest = std::max(largest, miss);
    }
    EXPECT_TRUE(close(lifted->largest_miss_m, largest, 1e-12));
    std::array<Point, 3> laid;
    for (std::size_t j = 0; j < 3; ++j)
      laid[j] = lifted->placement.to_bay(in_file[j]);
    for (int k = 0; k < 20; ++k) {
      Motion off = random_motion(random);
      off.angle *= 0.003;
      EXPECT_LE(found, sum_of_squares(laid, in_bay, off) + 1e-15);
    }
  }
}

TEST(PlacedBy, PointsOfTheOtherHandStillGiveATurn) {
  // Three points lie in a plane: their mirror image is a turn of them by half a turn.
  const std::array<Point, 3> in_file{{{0, 0, 0}, {500, 0, 0}, {0, 300, 0}}};
  const std::array<Point, 3> in_bay{{{0, 0, 0}, {-0.5, 0, 0}, {0, 0.3, 0}}};
  const auto fitted = placed_by(in_file, in_bay, Unit::millimetre);
  ASSERT_TRUE(fitted);
  EXPECT_TRUE(close(handedness(fitted->placement), 1, 1e-12));
  EXPECT_LT(fitted->largest_miss_m, 1e-12);
  EXPECT_LT(apart(fitted->placement.to_bay({0, 0, 100}), {0, 0, -0.1}), 1e-12);
}

TEST(PlacedBy, RefusesPointsThatSayNothing) {
  const std::array<Point, 3> good{{{0, 0, 0}, {500, 0, 0}, {0, 300, 0}}},
      good_m{{{1, 0, 0}, {1.5, 0, 0}, {1, 0.3, 0}}};
  const auto refused = [](const std::array<Point, 3>& in_file, const std::array<Point, 3>& in_bay,
                          Unit unit) {
    const auto fitted = placed_by(in_file, in_bay, unit);
    return fitted ? std::string() : fitted.error().text();
  };
  EXPECT_EQ(refused(good, good_m, Unit::millimetre), "");
  EXPECT_EQ(refused({{{0, 0, 0}, {500, 0, 0}, {250, 0.9, 0}}}, good_m, Unit::millimetre),
            "points of the file: found three points that lie on one line within 0.9 mm; accepted: three "
            "points, each at "
            "least 1 mm off the line through the others");
  EXPECT_EQ(refused({{{0, 0, 0}, {500, 0, 0}, {250, 1.1, 0}}}, {{{0, 0, 0}, {0.5, 0, 0}, {0.25, 0.0011, 0}}},
                    Unit::millimetre),
            "");
  EXPECT_NE(refused(good, {{{1, 0, 0}, {1, 0, 0}, {1, 0.3, 0}}}, Unit::millimetre)
                .find("points of the bay: found three points"),
            std::string::npos);
  EXPECT_EQ(refused({{{0, 0, 0}, {20, 0, 0}, {0, 12, 0}}}, {{{0, 0, 0}, {0.508, 0, 0}, {0, 0.3048, 0}}},
                    Unit::centimetre),
            "points 1 and 2: found 200 mm between them in the file (in centimetres), 508 mm in the bay; "
            "accepted: distances that "
            "agree within a tenth: they do with the file in inches");
  // One point far off: no unit is right.
  EXPECT_NE(refused(good, {{{1, 0, 0}, {1.5, 0, 0}, {1, 0.4, 0}}}, Unit::millimetre)
                .find("accepted: distances that agree within a tenth"),
            std::string::npos);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_NE(refused({{{0, nan, 0}, {20, 0, 0}, {0, 12, 0}}}, good_m, Unit::millimetre), "");
  EXPECT_NE(refused(good, {{{1, 0, 0}, {1.5, nan, 0}, {1, 0.4, 0}}}, Unit::millimetre), "");
}

} // namespace
} // namespace bellmouth::mesh
