// SPDX-License-Identifier: GPL-3.0-or-later
// Clearance to scans. Kind of the checks: another method (the same body as a solid).
#include "bay_scene.hpp"

#include <gtest/gtest.h>

#include <array>
#include <numbers>

namespace bellmouth::bay {
namespace {

using namespace test;
using test::apart;
using test::plus;

/// The surface of a box of half sizes 1, 2 and 3 units, each face cut into 2 n x n triangles.
mesh::Surface boxed(std::uint32_t n) {
  mesh::Surface surface;
  const std::array<double, 3> half{1, 2, 3};
  for (std::size_t axis = 0; axis < 3; ++axis)
    for (const double side : {-1.0, 1.0}) {
      const std::size_t u = (axis + 1) % 3, v = (axis + 2) % 3;
      const auto base = static_cast<std::uint32_t>(surface.points.size());
      for (std::uint32_t i = 0; i <= n; ++i)
        for (std::uint32_t k = 0; k <= n; ++k) {
          mesh::Point p{};
          p[axis] = side * half[axis];
          p[u] = half[u] * (2.0 * i / n - 1);
          p[v] = half[v] * (2.0 * k / n - 1);
          surface.points.push_back(p);
        }
      for (std::uint32_t i = 0; i < n; ++i)
        for (std::uint32_t k = 0; k < n; ++k) {
          const std::uint32_t a = base + i * (n + 1) + k, b = a + n + 1;
          surface.triangles.push_back({a, b, a + 1});
          surface.triangles.push_back({a + 1, b, b + 1});
        }
    }
  return surface;
}

// 0.1 mm is promised; the chords of arcs leave them by 0.02 mm. As long as the middle line stays outside the
// body, surface and solid say the same.
TEST(Scan, SaysTheSameAsTheSolidItWasMadeFrom) {
  const auto ready = mesh::make_scan(boxed(12));
  Dice dice(31);
  int compared = 0;
  for (int i = 0; i < 200; ++i) {
    const double d = dice.between(0.03, 0.08);
    build::Piece piece = tube(d, dice.between(0.05, 0.4));
    if (i % 3 == 1)
      piece = bend(d, dice.between(0.3, 3.1), 1.5 * d, dice.between(0, 6.28));
    else if (i % 3 == 2)
      piece = cone(d, dice.between(0.03, 0.08), 0.2);
    build::Scan scan;
    scan.loaded = ready;
    scan.unit = i % 2 == 0 ? mesh::Unit::centimetre : mesh::Unit::inch;
    scan.origin_m = dice.point(0.2);
    scan.axes = dice.axes();
    const double scale = mesh::metres(scan.unit);
    const build::Box box{scan.origin_m, {scale, 2 * scale, 3 * scale}, scan.axes};
    if (i % 5 == 0) // mirrored: a box is its own mirror image
      scan.axes[0] = plus({}, -1, scan.axes[0]);
    const build::Pose start{dice.point(0.25), dice.direction()};
    Scene with_scan, with_box;
    with_scan.add(start, {piece});
    with_box.add(start, {piece});
    with_scan.stand(scan);
    with_box.stand(box);
    const Gap wanted = with_box.gap();
    const double radius =
        std::max(with_box.rooms()[0].rows[0].radius_in_m, with_box.rooms()[0].rows[0].radius_out_m);
    if (wanted.distance_m + radius < 1e-3)
      continue;
    ++compared;
    const Gap gap = with_scan.gap();
    EXPECT_NEAR(gap.distance_m, wanted.distance_m, 0.05e-3) << i;
    EXPECT_NEAR(distance_m(box, gap.on_neighbour_m), 0, 1e-9);
    EXPECT_NEAR(apart(gap.on_piece_m, gap.on_neighbour_m), std::abs(gap.distance_m), 1e-9);
  }
  EXPECT_GT(compared, 100);
}

// Closed form: a tube and a bend flat over a fine mesh, the case that searches make heavy work of.
TEST(Scan, IsAsFarFromWhatLiesOverItEverywhere) {
  build::Scan scan;
  scan.loaded = mesh::make_scan(boxed(100));
  scan.unit = mesh::Unit::inch;
  for (const auto& piece :
       {tube(0.02, 0.04), bend(0.02, std::numbers::pi / 2, 0.025, std::numbers::pi / 2)}) {
    Scene scene;
    scene.add({{-0.02, 0.02, 3 * 25.4e-3 + 0.017}, {1, 0, 0}}, {piece});
    scene.stand(scan);
    EXPECT_NEAR(scene.gap().distance_m, 0.007, 1e-9);
  }
}

TEST(Scan, ThatIsNotLoadedDoesNotCount) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3)});
  scene.stand(build::Scan{});
  EXPECT_EQ(scene.look().front().closest(), nullptr);
}

} // namespace
} // namespace bellmouth::bay
