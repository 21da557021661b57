// SPDX-License-Identifier: GPL-3.0-or-later
// Small pictures of routes. Closed forms.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <route_picture.hpp>

namespace bellmouth::ui {
namespace {

/// Forward, and at a right angle to what `reference` and the clocking say.
way::Problem problem() {
  way::Problem problem;
  problem.start.outer_diameter_m = problem.end.outer_diameter_m = 0.05;
  problem.reference = {0, 0, 1};
  problem.bends = {{.id = "bend", .radius_m = 0.1}};
  return problem;
}
way::Way quarter(double clocking_rad) {
  return {.turns = {{0, std::numbers::pi / 2, clocking_rad, {}}}, .straights_m = {0.3, 0.2}, .reduction = {}};
}

TEST(RoutePicture, FollowsTheCentreline) {
  const std::vector<build::Vector> line = centreline_of(problem(), quarter(0));
  EXPECT_EQ(line.front(), (build::Vector{0, 0, 0}));
  // On by 0.3, round to up at 0.1, up by 0.2.
  EXPECT_NEAR(line.back()[0], 0.4, 1e-12);
  EXPECT_NEAR(line.back()[1], 0, 1e-12);
  EXPECT_NEAR(line.back()[2], 0.3, 1e-12);
  for (const build::Vector& point : line)
    if (point[0] > 0.3 && point[2] < 0.1 - 1e-9) {
      EXPECT_NEAR(std::hypot(point[0] - 0.3, point[2] - 0.1), 0.1, 1e-12) << "on the arc";
    }
}

TEST(RoutePicture, OutlinesSolids) {
  const QPolygonF box = outline_of({"", build::Box{{1, 2, 3}, {0.1, 0.2, 0.3}}, 0, 0, 0}, PictureSide::above);
  EXPECT_EQ(box.size(), 4);
  EXPECT_NEAR(box.boundingRect().left(), 0.9, 1e-12);
  EXPECT_NEAR(box.boundingRect().width(), 0.2, 1e-12);
  EXPECT_NEAR(box.boundingRect().height(), 0.4, 1e-12);
  const QRectF ball =
      outline_of({"", build::Sphere{{1, 2, 3}, 0.5}, 0, 0, 0}, PictureSide::front).boundingRect();
  EXPECT_NEAR(ball.center().x(), 2, 1e-12);
  EXPECT_NEAR(ball.center().y(), 3, 1e-12);
  EXPECT_NEAR(ball.width(), 1, 1e-12);
  const QRectF bar = outline_of({"", build::Cylinder{{0, 0, 0}, {2, 0, 0}, 0.5}, 0, 0, 0}, PictureSide::right)
                         .boundingRect();
  EXPECT_NEAR(bar.width(), 2, 1e-12);
  EXPECT_NEAR(bar.height(), 1, 1e-12);
  EXPECT_NEAR(outline_of({"", way::Pipe{{0, 0, 0}, {2, 0, 0}, 0.5, 0.5}, 0, 0, 0}, PictureSide::above)
                  .boundingRect()
                  .width(),
              3, 1e-12);
}

TEST(RoutePicture, APlaneIsOutlinedOnEdgeOnly) {
  const way::KeepOut bonnet{"", build::HalfSpace{{0, 0, 0.5}, {0, 0, 1}}, 0, 0, 0};
  EXPECT_TRUE(outline_of(bonnet, PictureSide::above).isEmpty());
  const QPolygonF edge = outline_of(bonnet, PictureSide::right);
  ASSERT_FALSE(edge.isEmpty());
  EXPECT_NEAR(edge.boundingRect().top(), 0.5, 1e-12) << "all that is higher";
}

TEST(RoutePicture, IsSeenFromWhereRoutesDiffer) {
  using std::numbers::pi;
  // One goes left, one right: the same from the right-hand side.
  EXPECT_NE(telling_side(problem(), {quarter(pi / 2), quarter(-pi / 2)}), PictureSide::right);
  // One goes up, one down: the same from above.
  EXPECT_NE(telling_side(problem(), {quarter(0), quarter(pi)}), PictureSide::above);
  // A single one that goes up lies in the plane of forward and up.
  EXPECT_EQ(telling_side(problem(), {quarter(0)}), PictureSide::right);
}

TEST(RoutePicture, DrawsTheRouteOverWhatItStaysClearOf) {
  way::Problem asked = problem();
  asked.keep_outs = {{"", build::Box{{0.05, 0, 0.3}, {0.05, 0.05, 0.05}}, 0, 0, 0}};
  const Theme& colours = theme(Look::light);
  const std::vector<way::Way> ways{quarter(0)};
  const QImage image = RoutePictures(asked, ways, PictureSide::right).picture(0, {120, 90}, 2, colours);
  EXPECT_EQ(image.size(), QSize(240, 180));
  EXPECT_EQ(image.devicePixelRatio(), 2);
  int tube = 0, solid = 0;
  for (int y = 4; y < image.height() - 4; ++y)
    for (int x = 4; x < image.width() - 4; ++x) {
      const QRgb pixel = image.pixel(x, y);
      tube += pixel == colours.accent.rgb();
      solid += pixel != colours.accent.rgb() && pixel != colours.background.rgb();
    }
  EXPECT_GT(tube, 500);
  EXPECT_GT(solid, 100);
  way::Problem open = problem();
  EXPECT_NE(RoutePictures(open, ways, PictureSide::right).picture(0, {120, 90}, 2, colours), image);
}

} // namespace
} // namespace bellmouth::ui
