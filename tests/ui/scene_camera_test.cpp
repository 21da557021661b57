// SPDX-License-Identifier: GPL-3.0-or-later
// The camera of the view in space. Identities: there and back, what stays where it is, what fits.
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <scene/camera.hpp>
#include <vector>

namespace bellmouth::ui::scene {
namespace {

const QSizeF viewport(1280, 800);

/// Cameras all round, in both projections, from a fixed series of random numbers.
std::vector<Camera> some_cameras() {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> place(-2, 2), yaw(-3.1, 3.1), pitch(-1.57, 1.57), distance(0.2, 5);
  std::vector<Camera> cameras;
  for (int i = 0; i < 200; ++i) {
    Camera camera;
    camera.target_m = {place(random), place(random), place(random)};
    camera.yaw_rad = yaw(random);
    camera.pitch_rad = pitch(random);
    camera.distance_m = distance(random);
    camera.perspective = i % 2 == 0;
    cameras.push_back(camera);
  }
  return cameras;
}

void expect_near(const Vector& a, const Vector& b, double within) {
  EXPECT_LT(length(minus(a, b)), within)
      << a[0] << ' ' << a[1] << ' ' << a[2] << " against " << b[0] << ' ' << b[1] << ' ' << b[2];
}
void expect_near(QPointF a, QPointF b, double within_px) {
  EXPECT_NEAR(a.x(), b.x(), within_px);
  EXPECT_NEAR(a.y(), b.y(), within_px);
}

TEST(SceneCamera, ItsAxesAreRightHandedUnits) {
  for (const Camera& camera : some_cameras()) {
    EXPECT_NEAR(length(camera.forward()), 1, 1e-12);
    EXPECT_NEAR(length(camera.right()), 1, 1e-12);
    expect_near(cross(camera.right(), camera.up()), times(-1, camera.forward()), 1e-12);
  }
}

TEST(SceneCamera, ARayPassesThroughThePointItsPixelShows) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> aside(-300, 300), deep(0.05, 3);
  for (const Camera& camera : some_cameras()) {
    const QPointF pixel(640 + aside(random), 400 + aside(random));
    const double depth_m = deep(random);
    const Vector point = camera.point_at(pixel, depth_m, viewport);
    const Projected seen = camera.project(point, viewport);
    expect_near(seen.pixel, pixel, 1e-6);
    EXPECT_NEAR(seen.depth_m, depth_m, 1e-9);
    const Ray ray = camera.ray(pixel, viewport);
    EXPECT_NEAR(length(ray.direction), 1, 1e-12);
    EXPECT_LT(length(cross(minus(point, ray.origin_m), ray.direction)), 1e-9);
  }
}

TEST(SceneCamera, BehindAPerspectiveEyeTheDepthIsNegative) {
  Camera camera;
  camera.distance_m = 1;
  EXPECT_LT(camera.project(plus(camera.eye_m(), camera.forward(), -0.5), viewport).depth_m, 0);
  EXPECT_EQ(camera.px_per_m(plus(camera.eye_m(), camera.forward(), -0.5), viewport), 0);
}

TEST(SceneCamera, BothProjectionsAgreeInThePlaneOfTheTarget) {
  for (Camera camera : some_cameras()) {
    const Vector point = plus(plus(camera.target_m, camera.right(), 0.1), camera.up(), -0.05);
    camera.perspective = true;
    const QPointF near = camera.project(point, viewport).pixel;
    camera.perspective = false;
    expect_near(camera.project(point, viewport).pixel, near, 1e-6);
  }
}

// Differences of the projection itself.
TEST(SceneCamera, PixelsToAMetreAreWhatTheProjectionDoes) {
  for (const Camera& camera : some_cameras()) {
    const Vector point = plus(camera.target_m, camera.forward(), 0.1);
    const QPointF a = camera.project(point, viewport).pixel,
                  b = camera.project(plus(point, camera.right(), 1e-3), viewport).pixel;
    EXPECT_TRUE(bellmouth::test::close((b.x() - a.x()) / 1e-3, camera.px_per_m(point, viewport), 1e-6));
  }
}

TEST(SceneCamera, StandardViewsLookAlongTheVehiclesAxes) {
  struct Row {
    StandardView view;
    Vector forward, right, up;
  };
  // x forward, y left, z up (ISO 8855).
  for (const Row& row : std::vector<Row>{{StandardView::front, {-1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
                                         {StandardView::rear, {1, 0, 0}, {0, -1, 0}, {0, 0, 1}},
                                         {StandardView::left, {0, -1, 0}, {-1, 0, 0}, {0, 0, 1}},
                                         {StandardView::right, {0, 1, 0}, {1, 0, 0}, {0, 0, 1}},
                                         {StandardView::above, {0, 0, -1}, {1, 0, 0}, {0, 1, 0}},
                                         {StandardView::below, {0, 0, 1}, {1, 0, 0}, {0, -1, 0}}}) {
    const Camera camera = Camera{.target_m = {1, 2, 3}, .distance_m = 1.5}.seen_from(row.view);
    expect_near(camera.forward(), row.forward, 1e-12);
    expect_near(camera.right(), row.right, 1e-12);
    expect_near(camera.up(), row.up, 1e-12);
    EXPECT_EQ(camera.target_m, (Vector{1, 2, 3}));
    EXPECT_EQ(camera.distance_m, 1.5);
  }
  const Camera slanted = Camera{}.seen_from(StandardView::slanted);
  EXPECT_LT(slanted.forward()[0], 0) << "from the front";
  EXPECT_GT(slanted.forward()[1], 0) << "from the right-hand side";
  EXPECT_LT(slanted.forward()[2], 0) << "from above";
}

TEST(SceneCamera, FitsABoxAndTouchesTheMargin) {
  const Extent box{{-0.3, -0.1, 0.2}, {0.9, 0.5, 0.7}};
  constexpr double margin = 0.06;
  for (const QSizeF size : {QSizeF(1280, 800), QSizeF(500, 900)})
    for (const Camera& camera : some_cameras()) {
      const Camera fitted = camera.fitted(box, size, margin);
      double least = 1;
      for (int corner = 0; corner < 8; ++corner) {
        const Vector at{(corner & 1) != 0 ? box.high[0] : box.low[0],
                        (corner & 2) != 0 ? box.high[1] : box.low[1],
                        (corner & 4) != 0 ? box.high[2] : box.low[2]};
        const Projected seen = fitted.project(at, size);
        EXPECT_GT(seen.depth_m, 0);
        least = std::min({least, seen.pixel.x() / size.width(), 1 - seen.pixel.x() / size.width(),
                          seen.pixel.y() / size.height(), 1 - seen.pixel.y() / size.height()});
      }
      EXPECT_NEAR(least, margin, 1e-6);
      EXPECT_EQ(fitted.yaw_rad, camera.yaw_rad);
    }
}

TEST(SceneCamera, ZoomKeepsWhatIsUnderThePointer) {
  for (const Camera& camera : some_cameras()) {
    const QPointF pixel(200, 650);
    const Vector under = camera.point_at(pixel, camera.distance_m, viewport);
    const Camera zoomed = camera.zoomed_about(pixel, 1.3, viewport);
    expect_near(zoomed.project(under, viewport).pixel, pixel, 1e-6);
    EXPECT_TRUE(bellmouth::test::close(zoomed.px_per_m(under, viewport),
                                       1.3 * camera.px_per_m(under, viewport), 1e-9));
  }
}

TEST(SceneCamera, ZoomEndsSomewhere) {
  Camera camera;
  EXPECT_EQ(camera.zoomed_about({0, 0}, 1e9, viewport).distance_m, 0.01);
  EXPECT_EQ(camera.zoomed_about({0, 0}, 1e-9, viewport).distance_m, 200);
}

TEST(SceneCamera, PanPullsThePictureAlong) {
  for (const Camera& camera : some_cameras()) {
    const Vector point = plus(camera.target_m, camera.right(), 0.03);
    const QPointF before = camera.project(point, viewport).pixel;
    const QPointF after = camera.panned({37, -12}, viewport).project(point, viewport).pixel;
    expect_near(after - before, {37, -12}, 1e-6);
  }
}

TEST(SceneCamera, OrbitTurnsAboutItsPoint) {
  for (const Camera& camera : some_cameras()) {
    const Camera turned = camera.orbited({25, 10}, viewport);
    expect_near(turned.project(turned.target_m, viewport).pixel, {640, 400}, 1e-9);
    const Vector point = plus(plus(camera.target_m, camera.right(), 0.04), camera.forward(), -0.05);
    const Projected before = camera.project(point, viewport),
                    after = camera.orbited_about(point, {25, 10}, viewport).project(point, viewport);
    expect_near(after.pixel, before.pixel, 1e-6);
    EXPECT_NEAR(after.depth_m, before.depth_m, 1e-9);
  }
  EXPECT_NEAR(Camera{}.orbited({0, 1e6}, viewport).pitch_rad, std::numbers::pi / 2, 1e-12);
  EXPECT_NEAR(std::abs(Camera{}.orbited({800, 0}, viewport).yaw_rad), std::numbers::pi, 1e-9)
      << "half a turn";
}

// Whoever pulls to the right sees the front of the bay come to the right.
TEST(SceneCamera, OrbitFollowsThePointer) {
  Camera camera = Camera{}.seen_from(StandardView::right);
  const Vector near = plus(camera.target_m, camera.forward(), -0.2);
  const QPointF before = camera.project(near, viewport).pixel,
                after = camera.orbited({20, 15}, viewport).project(near, viewport).pixel;
  EXPECT_GT(after.x(), before.x());
  EXPECT_GT(after.y(), before.y());
}

} // namespace
} // namespace bellmouth::ui::scene
