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

// Closed form: the normal distance between a line and a plane.
TEST(Tree, TubesParallelToAWallAreTheirHeightLessTheirRadius) {
  for (const double level : {0.0, 0.1, -1234.567}) {
    const Surface wall = test::sheet(80, 70, 600, 500, [&](double, double) { return level; });
    const Tree tree(wall);
    for (int degrees = 0; degrees < 180; degrees += 15)
      for (const double height : {-60.0, 30.0, 30.1, 500.0})
        for (const double growth : {0.0, 10.0, -10.0, 90.0}) {
          const double angle = degrees * std::numbers::pi / 180, radius = 25;
          const Point middle{310.3, 240.7, level + height};
          const Point half{100 * std::cos(angle), 100 * std::sin(angle), 0};
          const TestLine line{plus(middle, half, -1), plus(middle, half), radius, radius + growth};
          const Nearest found = line.asked(tree);
          const double wanted = std::abs(height) - std::max(radius, radius + growth);
          EXPECT_TRUE(close(found.distance, wanted, 0, 1e-9))
              << level << ' ' << degrees << ' ' << height << ' ' << growth;
          expect_consistent(found, line, wall, 1e-9);
          if (growth != 0) {
            EXPECT_TRUE(close(found.along, growth > 0 ? 1 : 0, 0, 1e-6));
          }
        }
  }
}

// Closed form: beside the wall's border the nearest place lies on the border.
TEST(Tree, TubesBesideABorderMeetTheBorder) {
  const Surface wall = test::sheet(20, 20, 100, 100, [](double, double) { return 0.0; });
  const Tree tree(wall);
  // Parallel to the border at 30 mm beside and 40 mm above it.
  EXPECT_TRUE(close(tree.nearest({-30, 10, 40}, {-30, 90, 40}, 5, 5).distance, 45, 1e-12));
  // Across the border, 40 mm above.
  EXPECT_TRUE(close(tree.nearest({-80, 50, 40}, {20, 50, 40}, 5, 5).distance, 35, 1e-12));
  // Away from the corner (0, 0, 0): the point (-30, -40, 0) is 50 off.
  const Nearest corner = tree.nearest({-30, -40, 0}, {-60, -80, 0}, 5, 5);
  EXPECT_TRUE(close(corner.distance, 45, 1e-12));
  EXPECT_EQ(corner.along, 0);
  EXPECT_LT(apart(corner.on_surface, {0, 0, 0}), 1e-12);
  // A cone along x beside the border y = 0: |x - p(t)| - r(t) is least where t runs ahead of x by the slope,
  // and the value is d cos a - r(x), sin a being the growth of the radius per length; least at the border's
  // end x = 100.
  const double d = 60, length = 400, from = -200, r0 = 10, r1 = 50, sine = (r1 - r0) / length;
  const Nearest flank = tree.nearest({from, -d, 0}, {from + length, -d, 0}, r0, r1);
  EXPECT_TRUE(close(flank.distance, d * std::sqrt(1 - sine * sine) - (r0 + sine * (100 - from)), 1e-12));
}

TEST(Tree, LinesThroughTheSurfaceAreInItByTheirRadius) {
  const Surface wall =
      test::sheet(50, 50, 100, 100, [](double x, double y) { return 3 * std::sin(x / 9) + y / 20; });
  const Tree tree(wall);
  double before = infinity;
  for (int i = 0; i <= 40; ++i) {
    const double height = 40 - 2.0 * i;
    const Nearest found = tree.nearest({31.7, 42.3, height}, {33.1, 44.9, height + 50}, 12, 12);
    EXPECT_LE(found.distance, before);
    before = found.distance;
    EXPECT_GE(found.distance, -12);
    if (height < -3) {
      EXPECT_EQ(found.distance, -12);
    }
  }
}

// Identity: turned round, a line is as far away.
TEST(Tree, TheWayOfALineDoesNotMatter) {
  std::mt19937 random(20240509);
  std::uniform_real_distribution<double> anywhere(0, 1000), radius(0, 60);
  const Surface surface = test::scattered(3000, random);
  const Tree tree(surface);
  for (int i = 0; i < 300; ++i) {
    const TestLine line{{anywhere(random), anywhere(random), anywhere(random)},
                        {anywhere(random), anywhere(random), anywhere(random)},
                        radius(random),
                        radius(random)};
    const Nearest one = line.asked(tree);
    const Nearest other = TestLine{line.to, line.from, line.radius_to, line.radius_from}.asked(tree);
    EXPECT_TRUE(close(one.distance, other.distance, 0, 1e-9));
    // The cut-off: something nearer or nothing.
    EXPECT_EQ(line.asked(tree, one.distance - 1e-6).distance, infinity);
    EXPECT_TRUE(close(line.asked(tree, one.distance + 1e-6).distance, one.distance, 0, 1e-9));
  }
}

// Other method: every triangle by samples and thirds, over a surface like a scan's, far from the origin too.
TEST(Tree, LinesOverABumpySheetAgreeWithEveryTriangleSampled) {
  std::mt19937 random(20240510);
  std::uniform_real_distribution<double> share(0, 1);
  for (const double far : {0.0, 1e6}) {
    Surface sheet = test::sheet(30, 30, 300, 300,
                                [](double x, double y) { return 15 * std::sin(x / 17) * std::cos(y / 23); });
    for (Point& point : sheet.points)
      point = plus(point, {far, -far, far});
    const Tree tree(sheet);
    for (int i = 0; i < 25; ++i) {
      TestLine line{{300 * share(random), 300 * share(random), 100 * share(random)},
                    {300 * share(random), 300 * share(random), 100 * share(random)},
                    20 * share(random),
                    20 * share(random)};
      line.from = plus(line.from, {far, -far, far});
      line.to = plus(line.to, {far, -far, far});
      const Nearest found = line.asked(tree);
      EXPECT_TRUE(close(found.distance, line.least(sheet), 0, 1e-6));
      expect_consistent(found, line, sheet, 1e-6);
    }
  }
}

TEST(Tree, TrianglesWithoutAreaCountAsLines) {
  // By hand: a triangle that is the line from (0,0,0) to (10,0,0), one that is a point, a very thin one.
  Surface thin;
  thin.points = {{0, 0, 0}, {10, 0, 0}, {4, 0, 0}, {0, 0, 50}, {0, 100, 0}, {10, 100, 0}, {5, 100, 1e-12}};
  thin.triangles = {{0, 1, 2}, {3, 3, 3}, {4, 5, 6}};
  const Tree tree(thin);
  EXPECT_TRUE(close(tree.nearest({7, 3, 4}).distance, 5, 1e-12));
  EXPECT_TRUE(close(tree.nearest({3, 4, 50}).distance, 5, 1e-12));
  EXPECT_TRUE(close(tree.nearest({13, 104, 0}).distance, 5, 1e-12));
  EXPECT_TRUE(close(tree.nearest({8, 103, 4}).distance, 5, 1e-9));
  EXPECT_TRUE(close(tree.nearest({7, -3, 4}, {7, 9, 4}, 1, 1).distance, 3, 1e-12));
  EXPECT_TRUE(close(tree.nearest({-20, 0, 57}, {20, 0, 57}, 1, 1).distance, 6, 1e-12));
  EXPECT_TRUE(close(tree.nearest({5, 90, 4}, {5, 110, 4}, 1, 1).distance, 3, 1e-9));
  EXPECT_EQ(tree.hit({7, 0, 5}, {0, 0, -1}), infinity);
}

TEST(Tree, SmallSurfacesAndNone) {
  const Tree none{Surface{}};
  EXPECT_EQ(none.nearest({0, 0, 0}).distance, infinity);
  EXPECT_EQ(none.nearest({0, 0, 0}, {1, 1, 1}, 1, 2).distance, infinity);
  EXPECT_EQ(none.hit({0, 0, 0}, {0, 0, 1}), infinity);
  const Surface whole = test::cube();
  for (std::size_t count = 1; count <= whole.triangles.size(); ++count) {
    Surface some = whole;
    some.triangles.resize(count);
    const Tree tree(some);
    for (const Point& point : {Point{0.3, 0.2, 0.1}, Point{3, -2, 1}, Point{0.5, 0.5, 7}})
      EXPECT_TRUE(close(tree.nearest(point).distance, to_surface(point, some), 1e-13));
  }
  Surface same; // all middles at one place
  same.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
  same.triangles.assign(1000, {0, 1, 2});
  EXPECT_TRUE(close(Tree(same).nearest({0.2, 0.2, 3}).distance, 3, 1e-13));
}

TEST(Tree, TellsItsExtentAndMemory) {
  const Surface sheet = test::sheet(200, 100, 20, 10, [](double x, double) { return 2 * x; });
  const Tree tree(sheet);
  EXPECT_EQ(tree.extent().low, (Point{0, 0, 0}));
  EXPECT_EQ(tree.extent().high, (Point{20, 10, 40}));
  EXPECT_GT(tree.bytes(), sheet.triangles.size() * 9 * sizeof(double));
  EXPECT_LT(tree.bytes(), sheet.triangles.size() * 200);
}

/// Where a ray meets a triangle by Cramer's rule.
double met(const Point& from, const Point& direction, const std::array<Point, 3>& triangle) {
  const auto det = [](const Point& a, const Point& b, const Point& c) {
    return a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1]) +
           c[0] * (a[1] * b[2] - a[2] * b[1]);
  };
  const Point ab = plus(triangle[1], triangle[0], -1), ac = plus(triangle[2], triangle[0], -1),
              to = plus(from, triangle[0], -1), back = plus({}, direction, -1);
  const double whole = det(ab, ac, back);
  const double u = det(to, ac, back) / whole, v = det(ab, to, back) / whole, t = det(ab, ac, to) / whole;
  return u >= 0 && v >= 0 && u + v <= 1 && t >= 0 ? t : infinity;
}

// Other method: Cramer's rule for every triangle.
TEST(Tree, RaysMeetWhatEveryTriangleSays) {
  std::mt19937 random(20240511);
  std::uniform_real_distribution<double> anywhere(-300, 1300), share(-1, 1);
  const Surface surface = test::scattered(3000, random, 300);
  const Tree tree(surface);
  int hits = 0;
  for (int i = 0; i < 2000; ++i) {
    const Point from{anywhere(random), anywhere(random), anywhere(random)};
    const Point towards{150 + 150 * share(random), 150 + 150 * share(random), 150 + 150 * share(random)};
    const Point direction = plus({}, plus(towards, from, -1), i % 2 == 0 ? 0.01 : 3);
    double wanted = infinity;
    for (std::size_t j = 0; j < surface.triangles.size(); ++j)
      wanted = std::min(wanted, met(from, direction, corners(surface, j)));
    const double found = tree.hit(from, direction);
    if (wanted == infinity) {
      EXPECT_EQ(found, infinity);
    } else {
      ++hits;
      EXPECT_TRUE(close(found, wanted, 1e-9));
    }
  }
  EXPECT_GT(hits, 300);
}

TEST(Tree, NoRaySlipsBetweenNeighbours) {
  const Surface sheet =
      test::sheet(20, 20, 100, 100, [](double x, double y) { return std::sin(x) + std::cos(y); });
  const Tree tree(sheet);
  const Point eye{41.3, 57.9, 80};
  for (int j = 2; j < 58; ++j)
    for (int i = 2; i < 58; ++i) { // corners, sides and diagonals
      const double x = 100.0 * i / 60, y = 100.0 * j / 60;
      const std::size_t near = static_cast<std::size_t>(std::lround(y / 5) * 21 + std::lround(x / 5));
      EXPECT_LT(tree.hit({x, y, 50}, {0, 0, -1}), 53) << x << ' ' << y;
      EXPECT_TRUE(close(tree.hit(eye, plus(sheet.points[near], eye, -1)), 1, 0, 1e-3)) << x << ' ' << y;
    }
  EXPECT_EQ(tree.hit({50, 50, 50}, {0, 0, 1}), infinity);
  EXPECT_EQ(tree.hit({50, 50, 50}, {0, 0, 0}), infinity);
  EXPECT_TRUE(close(tree.hit({-50, 50, 50}, {1, 0, 0}), infinity, 0));
}

} // namespace
} // namespace bellmouth::mesh
