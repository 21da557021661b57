// SPDX-License-Identifier: GPL-3.0-or-later
#include "shapes.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <numbers>

namespace bellmouth::mesh {
namespace {

using test::apart;
using test::between;
using test::close;
using test::inner;
using test::plus;

constexpr double infinity = std::numeric_limits<double>::infinity();

std::array<Point, 3> corners(const Surface& surface, std::size_t triangle) {
  const Triangle& numbers = surface.triangles[triangle];
  return {surface.points[numbers[0]], surface.points[numbers[1]], surface.points[numbers[2]]};
}

/// Distance from a point to a triangle by another way than the tree's: the triangle is the set of a + u ab +
/// v ac; the foot on its plane by the two normal equations, else the nearest of three sides by their own.
double to_triangle(const Point& point, const std::array<Point, 3>& triangle) {
  const Point ab = plus(triangle[1], triangle[0], -1), ac = plus(triangle[2], triangle[0], -1),
              ap = plus(point, triangle[0], -1);
  const double bb = inner(ab, ab), bc = inner(ab, ac), cc = inner(ac, ac), b = inner(ab, ap),
               c = inner(ac, ap);
  const double whole = bb * cc - bc * bc, u = (cc * b - bc * c) / whole, v = (bb * c - bc * b) / whole;
  if (u >= 0 && v >= 0 && u + v <= 1)
    return apart(point, plus(plus(triangle[0], ab, u), ac, v));
  double least = infinity;
  for (std::size_t i = 0; i < 3; ++i) {
    const Point &from = triangle[i], &to = triangle[(i + 1) % 3];
    const Point side = plus(to, from, -1);
    const double t = std::clamp(inner(plus(point, from, -1), side) / inner(side, side), 0.0, 1.0);
    least = std::min(least, apart(point, between(from, to, t)));
  }
  return least;
}

double to_surface(const Point& point, const Surface& surface) {
  double least = infinity;
  for (std::size_t i = 0; i < surface.triangles.size(); ++i)
    least = std::min(least, to_triangle(point, corners(surface, i)));
  return least;
}

struct TestLine {
  Point from, to;
  double radius_from, radius_to;
  [[nodiscard]] double radius(double t) const { return radius_from + t * (radius_to - radius_from); }
  /// The distance to a triangle at one place of the line.
  [[nodiscard]] double at(double t, const std::array<Point, 3>& triangle) const {
    return to_triangle(between(from, to, t), triangle) - radius(t);
  }
  /// The least over the line: samples, then the neighbourhood of the least by thirds (it is convex).
  [[nodiscard]] double least(const std::array<Point, 3>& triangle) const {
    constexpr int samples = 40;
    int best = 0;
    for (int i = 1; i <= samples; ++i)
      if (at(double(i) / samples, triangle) < at(double(best) / samples, triangle))
        best = i;
    double low = std::max(0.0, double(best - 1) / samples), high = std::min(1.0, double(best + 1) / samples);
    for (int i = 0; i < 60; ++i) {
      const double third = (high - low) / 3;
      (at(low + third, triangle) < at(high - third, triangle) ? high : low) +=
          at(low + third, triangle) < at(high - third, triangle) ? -third : third;
    }
    return std::min({at(0.5 * (low + high), triangle), at(0, triangle), at(1, triangle)});
  }
  [[nodiscard]] double least(const Surface& surface) const {
    double result = infinity;
    for (std::size_t i = 0; i < surface.triangles.size(); ++i)
      result = std::min(result, least(corners(surface, i)));
    return result;
  }
  [[nodiscard]] Nearest asked(const Tree& tree, double cutoff = infinity) const {
    return tree.nearest(from, to, radius_from, radius_to, cutoff);
  }
};

/// What is said of the nearest place must fit together.
void expect_consistent(const Nearest& found, const TestLine& line, const Surface& surface, double tolerance) {
  ASSERT_LT(found.triangle, surface.triangles.size());
  EXPECT_LE(apart(found.on_line, between(line.from, line.to, found.along)), tolerance);
  EXPECT_LE(to_triangle(found.on_surface, corners(surface, found.triangle)), tolerance);
  EXPECT_TRUE(
      close(found.distance, apart(found.on_line, found.on_surface) - line.radius(found.along), 0, tolerance));
  EXPECT_GE(found.along, 0);
  EXPECT_LE(found.along, 1);
}

// Closed form or other method: every triangle by samples and thirds.
TEST(Tree, LinesOfAnyTaperAgreeWithEveryTriangleSampled) {
  std::mt19937 random(20240501);
  std::uniform_real_distribution<double> anywhere(-200, 1200), share(0, 1);
  const Surface surface = test::scattered(300, random);
  const Tree tree(surface);
  for (int i = 0; i < 200; ++i) {
    TestLine line{
        {anywhere(random), anywhere(random), anywhere(random)}, {}, 40 * share(random), 40 * share(random)};
    const double reach = std::pow(10, 3 * share(random));
    line.to = plus(line.from, {share(random) - 0.5, share(random) - 0.5, share(random) - 0.5}, reach);
    if (i % 3 == 0)
      line.radius_to = line.radius_from;
    if (i % 10 == 1)
      line.radius_to = line.radius_from + 3 * reach; // a ball that holds all others
    if (i % 10 == 2)
      line.to = line.from;
    const Nearest found = line.asked(tree);
    EXPECT_TRUE(close(found.distance, line.least(surface), 0, 1e-7)) << i;
    expect_consistent(found, line, surface, 1e-9);
  }
}

// Closed form or other method: the normal equations over every triangle.
TEST(Tree, PointsAgreeWithEveryTriangle) {
  std::mt19937 random(20240502);
  std::uniform_real_distribution<double> anywhere(-200, 1200);
  const Surface surface = test::scattered(2000, random);
  const Tree tree(surface);
  for (int i = 0; i < 500; ++i) {
    const Point point{anywhere(random), anywhere(random), anywhere(random)};
    const Nearest found = tree.nearest(point);
    const double wanted = to_surface(point, surface);
    EXPECT_TRUE(close(found.distance, wanted, 1e-12)) << i;
    EXPECT_LE(to_triangle(found.on_surface, corners(surface, found.triangle)), 1e-9);
    EXPECT_EQ(tree.nearest(point, wanted * 0.999).distance, infinity);
    EXPECT_EQ(tree.nearest(point, wanted * 1.001).distance, found.distance);
  }
}

} // namespace
} // namespace bellmouth::mesh
