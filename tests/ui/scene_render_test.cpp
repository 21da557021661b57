// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures of known shapes by our rasteriser: where they stand, what hides what, what a section shows. Closed
// forms: projections of cylinders. And the same scene by OpenGL: another method.
#include "view_sample.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <scene/look.hpp>
#include <set>

namespace bellmouth::ui::scene {
namespace {

constexpr QSize size_px(640, 400);
const QSizeF viewport(size_px);
constexpr double tube_diameter_m = 0.1, tube_wall_m = 0.005, tube_length_m = 0.3;

std::shared_ptr<const TriangleMesh> tube_mesh() {
  return std::make_shared<const TriangleMesh>(
      piece_mesh(build::Tube{tube_diameter_m, tube_wall_m, tube_length_m, {}}));
}
/// A tube along x whose middle lies at a place.
Item tube_at(const Vector& middle_m, std::uint32_t id) {
  Item item;
  item.mesh = tube_mesh();
  item.placement.origin_m = plus(middle_m, {-tube_length_m / 2, 0, 0});
  item.id = id;
  return item;
}
/// From the right-hand side: x runs to the right, z up, y away.
Camera side_camera(bool perspective) {
  Camera camera;
  camera.perspective = perspective;
  camera.distance_m = 1;
  return camera.seen_from(StandardView::right);
}
Picture drawn(const Scene& scene, const Camera& camera, const DrawOptions& options, unsigned threads = 1) {
  return make_cpu_renderer(threads)->draw(scene, camera, options);
}

struct Box {
  int left = size_px.width(), right = -1, top = size_px.height(), bottom = -1;
  int count = 0;
};
Box box_of(const Picture& picture, std::uint32_t id) {
  Box box;
  for (int y = 0; y < picture.image.height(); ++y)
    for (int x = 0; x < picture.image.width(); ++x)
      if (picture.id_at({x, y}) == id) {
        box.left = std::min(box.left, x);
        box.right = std::max(box.right, x);
        box.top = std::min(box.top, y);
        box.bottom = std::max(box.bottom, y);
        ++box.count;
      }
  return box;
}
const QPoint centre(size_px.width() / 2, size_px.height() / 2);

TEST(SceneRender, ATubeFromTheSideCoversItsRectangle) {
  const Camera camera = side_camera(false);
  const double px_m = camera.px_per_m({}, viewport);
  const double wide = tube_length_m * px_m, high = tube_diameter_m * px_m;
  for (const Quality quality : {Quality::dragging, Quality::resting}) {
    const Picture picture = drawn({{tube_at({}, 7)}}, camera, light_options(size_px, quality));
    ASSERT_EQ(picture.image.size(), size_px);
    const Box box = box_of(picture, 7);
    EXPECT_NEAR(box.left, viewport.width() / 2 - wide / 2, 1);
    EXPECT_NEAR(box.right + 1, viewport.width() / 2 + wide / 2, 1);
    EXPECT_NEAR(box.top, viewport.height() / 2 - high / 2, 1);
    EXPECT_NEAR(box.bottom + 1, viewport.height() / 2 + high / 2, 1);
    EXPECT_EQ(box.count, (box.right - box.left + 1) * (box.bottom - box.top + 1)) << "without holes";
  }
}

TEST(SceneRender, TheSurfaceSeenIsTheNearSide) {
  for (const bool perspective : {false, true}) {
    const Picture picture =
        drawn({{tube_at({}, 7)}}, side_camera(perspective), light_options(size_px, Quality::dragging));
    const auto point = picture.point_at(centre);
    ASSERT_TRUE(point.has_value());
    // The polygon has a corner there.
    EXPECT_NEAR((*point)[1], -tube_diameter_m / 2, 1e-4);
    EXPECT_NEAR((*point)[0], 0, 2e-3);
    EXPECT_NEAR((*point)[2], 0, 2e-3);
    EXPECT_FALSE(picture.point_at({0, 0}).has_value());
    EXPECT_FALSE(picture.point_at({-1, 0}).has_value());
    EXPECT_EQ(picture.id_at({0, 0}), 0U);
    EXPECT_EQ(picture.id_at({size_px.width(), 0}), 0U);
  }
}

TEST(SceneRender, TheNearerHidesTheFartherWhicheverComesFirst) {
  const Item near = tube_at({0, -0.2, 0}, 1), far = tube_at({0.1, 0.2, 0}, 2);
  for (const Scene& scene : {Scene{{near, far}}, Scene{{far, near}}}) {
    const Picture picture = drawn(scene, side_camera(true), light_options(size_px, Quality::dragging));
    EXPECT_EQ(picture.id_at(centre), 1U);
    EXPECT_GT(box_of(picture, 2).count, 100) << "it stands out beside the other";
  }
}

TEST(SceneRender, OnlyWhatIsThereHasAnId) {
  const Picture picture =
      drawn({{tube_at({}, 7)}}, side_camera(true), light_options(size_px, Quality::resting));
  EXPECT_EQ(std::set<std::uint32_t>(picture.ids.begin(), picture.ids.end()), (std::set<std::uint32_t>{0, 7}));
}

TEST(SceneRender, ThinThingsArePickedWithinReach) {
  const Picture picture =
      drawn({{tube_at({}, 7)}}, side_camera(false), light_options(size_px, Quality::dragging));
  const Box box = box_of(picture, 7);
  EXPECT_EQ(picture.id_near({box.left - 3, centre.y()}, 4), 7U);
  EXPECT_EQ(picture.id_near({box.left - 6, centre.y()}, 4), 0U);
}

// The opaque tube behind a glass one keeps its id; where there is none the glass has the id.
TEST(SceneRender, WhatIsTranslucentCanBePickedThrough) {
  Item glass = tube_at({0, -0.2, 0}, 9);
  glass.opacity = 0.4;
  glass.colour = 0xffd55e00;
  Item tube = tube_at({0.1, 0.2, 0}, 7);
  const DrawOptions options = light_options(size_px, Quality::dragging);
  const Picture bare = drawn({{tube}}, side_camera(false), options),
                both = drawn({{glass, tube}}, side_camera(false), options);
  EXPECT_EQ(both.id_at(centre), 7U);
  EXPECT_NE(both.image.pixel(centre), bare.image.pixel(centre)) << "seen through the glass";
  const Box box = box_of(both, 9);
  EXPECT_GT(box.count, 100);
  EXPECT_NEAR((*both.point_at({box.left + 10, centre.y()}))[1], -0.2 - tube_diameter_m / 2, 1e-3);
  Item hidden = glass;
  hidden.placement.origin_m[1] = 0.5;
  const Picture behind = drawn({{hidden, tube}}, side_camera(false), options);
  EXPECT_EQ(behind.image.pixel(centre + QPoint(20, 0)), bare.image.pixel(centre + QPoint(20, 0)));
}

// What needs no layer of its own is drawn as if it had one.
TEST(SceneRender, ConvexThingsLookTheSameLaidOverAtOnce) {
  TriangleMesh mesh = keep_out_mesh(build::Cylinder{{-0.1, -0.2, 0}, {0.1, -0.1, 0.05}, 0.06});
  ASSERT_TRUE(mesh.convex);
  Item at_once = tube_at({}, 9);
  at_once.placement = {};
  at_once.mesh = std::make_shared<const TriangleMesh>(mesh);
  at_once.opacity = 0.3;
  mesh.convex = false;
  Item layered = at_once;
  layered.mesh = std::make_shared<const TriangleMesh>(mesh);
  const Item tube = tube_at({0.1, 0.2, 0}, 7);
  for (const Quality quality : {Quality::dragging, Quality::resting}) {
    const DrawOptions options = light_options(size_px, quality);
    const Picture one = drawn({{tube, at_once}}, side_camera(true), options),
                  other = drawn({{tube, layered}}, side_camera(true), options);
    EXPECT_EQ(one.image, other.image);
    EXPECT_EQ(one.ids, other.ids);
    EXPECT_EQ(one.nearness, other.nearness);
  }
}

TEST(SceneRender, ABackdropLiesUnderEverything) {
  QImage backdrop(size_px, QImage::Format_RGB32);
  backdrop.fill(0xff102030);
  backdrop.setPixel(3, 5, 0xffabcdef);
  const MadeRenderer egl = make_renderer(Choice::egl);
  ASSERT_EQ(egl.renderer->kind(), Renderer::Kind::egl);
  for (const Quality quality : {Quality::dragging, Quality::resting}) {
    DrawOptions options = light_options(size_px, quality);
    options.backdrop = backdrop;
    const Scene scene{{tube_at({}, 7)}};
    for (const Picture& picture : {drawn(scene, side_camera(false), options),
                                   egl.renderer->draw(scene, side_camera(false), options)}) {
      EXPECT_EQ(picture.image.pixel(0, 0), 0xff102030);
      EXPECT_EQ(picture.image.pixel(3, 5), 0xffabcdef);
      EXPECT_EQ(picture.id_at({3, 5}), 0U);
      EXPECT_NE(picture.image.pixel(centre), 0xff102030);
    }
  }
}

TEST(SceneRender, ASectionOpensTheTube) {
  DrawOptions options = light_options(size_px, Quality::dragging);
  options.section = SectionPlane{{0, 0, 0}, {0, -1, 0}};
  for (const bool perspective : {false, true}) {
    const Picture picture = drawn({{tube_at({}, 7)}}, side_camera(perspective), options);
    EXPECT_EQ(picture.id_at(centre), 7U);
    EXPECT_NEAR((*picture.point_at(centre))[1], tube_diameter_m / 2 - tube_wall_m, 1e-3)
        << "the bore's far side";
  }
  options.section->normal = {0, 1, 0};
  const Picture uncut = drawn({{tube_at({0, -0.2, 0}, 7)}}, side_camera(false), options);
  EXPECT_NEAR((*uncut.point_at(centre))[1], -0.25, 1e-3) << "this side of the plane all stays";
  options.section = SectionPlane{{0, 0, 0}, {1, 0, 0}};
  const Camera camera = side_camera(false);
  const Picture half = drawn({{tube_at({}, 7)}}, camera, options);
  EXPECT_NEAR(box_of(half, 7).right + 1, viewport.width() / 2, 1);
  Item kept = tube_at({}, 7);
  kept.cuttable = false;
  EXPECT_EQ(box_of(drawn({{kept}}, camera, options), 7).right,
            box_of(drawn({{kept}}, camera, light_options(size_px, Quality::dragging)), 7).right);
}

TEST(SceneRender, FromInsideATubeItIsSeenAllRound) {
  Camera camera;
  camera.distance_m = 0.05;
  camera.target_m = {-0.05, 0, 0};
  camera.field_of_view_rad = 100 * std::numbers::pi / 180;
  const Picture picture = drawn({{tube_at({}, 7)}}, camera, light_options(size_px, Quality::dragging));
  EXPECT_EQ(picture.id_at({0, 0}), 7U);
  EXPECT_EQ(picture.id_at({size_px.width() - 1, size_px.height() - 1}), 7U);
  EXPECT_EQ(picture.id_at(centre), 0U) << "out at its far end";
}

TEST(SceneRender, MarkedItemsWearARim) {
  DrawOptions options = light_options(size_px, Quality::dragging);
  Item tube = tube_at({}, 7);
  tube.mark = Mark::selected;
  const Picture picture = drawn({{tube}}, side_camera(false), options);
  const Box box = box_of(picture, 7);
  EXPECT_EQ(picture.image.pixel(box.left - 1, centre.y()), options.selected);
  EXPECT_NE(picture.image.pixel(box.left - 8, centre.y()), options.selected);
}

TEST(SceneRender, ARampColoursAlongThePiece) {
  Item tube = tube_at({}, 7);
  tube.finish = Finish::glow;
  tube.ramp = {0xffff0000, 0xff00ff00, 0xff0000ff};
  for (const bool perspective : {false, true}) {
    const Picture picture =
        drawn({{tube}}, side_camera(perspective), light_options(size_px, Quality::dragging));
    const Box box = box_of(picture, 7);
    const QRgb in = picture.image.pixel(box.left + 4, centre.y()), middle = picture.image.pixel(centre),
               out = picture.image.pixel(box.right - 4, centre.y());
    EXPECT_GT(qRed(in), 150);
    EXPECT_LT(qBlue(in), 60);
    EXPECT_GT(qGreen(middle), 150);
    EXPECT_GT(qBlue(out), 150);
    EXPECT_LT(qRed(out), 60);
  }
}

TEST(SceneRender, WhileDraggingTheCoarseMeshIsDrawn) {
  Item item = tube_at({}, 7);
  item.coarse = std::make_shared<const TriangleMesh>(piece_mesh(build::Tube{0.05, 0.002, tube_length_m, {}}));
  const Camera camera = side_camera(false);
  const Box dragging = box_of(drawn({{item}}, camera, light_options(size_px, Quality::dragging)), 7),
            resting = box_of(drawn({{item}}, camera, light_options(size_px, Quality::resting)), 7);
  EXPECT_LT(dragging.bottom - dragging.top, 0.6 * (resting.bottom - resting.top));
}

/// Everything that a build can hold, a scan and a section included.
class SceneOfABuild : public ::testing::Test {
protected:
  SceneOfABuild() {
    build::Scan scan;
    scan.loaded = mesh::make_scan(waves());
    build.keep_outs.push_back({"bay", build::KeepOutClass::fixed, {}, scan});
    solids = maker.solids(build, evaluate(build, {"small"}));
    scene = dressed(solids, false);
    scene.items[2].mark = Mark::selected;
    camera = Camera{}.seen_from(StandardView::slanted).fitted(*extent(solids), viewport);
  }
  /// A wavy floor under the bay, in millimetres.
  static mesh::Surface waves() {
    mesh::Surface surface;
    constexpr int count = 60;
    for (int i = 0; i < count; ++i)
      for (int j = 0; j < count; ++j)
        surface.points.push_back({i * 20.0, j * 20.0 - 600, 40 * std::sin(i * 0.3) * std::cos(j * 0.2)});
    for (std::uint32_t i = 0; i + 1 < count; ++i)
      for (std::uint32_t j = 0; j + 1 < count; ++j) {
        const std::uint32_t at = i * count + j;
        surface.triangles.push_back({at, at + count, at + 1});
        surface.triangles.push_back({at + 1, at + count, at + count + 1});
      }
    return surface;
  }

  build::Build build = test::full_build();
  SolidMaker maker;
  std::vector<Solid> solids;
  Scene scene;
  Camera camera;
};

TEST_F(SceneOfABuild, IsTheSameWithAnyNumberOfThreads) {
  for (const Quality quality : {Quality::dragging, Quality::resting}) {
    DrawOptions options = dark_options(size_px, quality);
    options.section = SectionPlane{camera.target_m, {0, 1, 0}};
    const Picture one = drawn(scene, camera, options, 1);
    for (const unsigned threads : {1U, 2U, 4U}) {
      const auto renderer = make_cpu_renderer(threads);
      for (int time = 0; time < 2; ++time) {
        const Picture other = renderer->draw(scene, camera, options);
        EXPECT_EQ(other.image, one.image) << threads;
        EXPECT_EQ(other.ids, one.ids) << threads;
        EXPECT_EQ(other.nearness, one.nearness) << threads;
      }
    }
  }
}

TEST_F(SceneOfABuild, ShowsEveryPieceFromSomeSide) {
  std::set<std::uint32_t> seen;
  for (const StandardView view : {StandardView::front, StandardView::rear, StandardView::left,
                                  StandardView::right, StandardView::above, StandardView::below}) {
    const Camera from = camera.seen_from(view).fitted(*extent(solids), viewport);
    const Picture picture = drawn(scene, from, light_options(size_px, Quality::resting));
    seen.insert(picture.ids.begin(), picture.ids.end());
  }
  for (std::size_t i = 0; i < solids.size(); ++i)
    if (solids[i].part.kind == Part::Kind::piece) {
      EXPECT_TRUE(seen.count(static_cast<std::uint32_t>(i + 1))) << i;
    }
}

TEST_F(SceneOfABuild, OpenGlWithoutADisplayShowsTheSame) {
  const MadeRenderer egl = make_renderer(Choice::egl);
  ASSERT_EQ(egl.renderer->kind(), Renderer::Kind::egl) << egl.missing.join(' ').toStdString();
  for (const bool perspective : {true, false})
    for (const bool cut : {false, true})
      for (const Quality quality : {Quality::dragging, Quality::resting}) {
        camera.perspective = perspective;
        DrawOptions options = light_options(size_px, quality);
        if (cut)
          options.section = SectionPlane{camera.target_m, {0, 1, 0}};
        const Picture ours = drawn(scene, camera, options),
                      theirs = egl.renderer->draw(scene, camera, options);
        ASSERT_EQ(ours.ids.size(), theirs.ids.size());
        std::size_t same = 0, near = 0, close_colour = 0, things = 0;
        for (std::size_t i = 0; i < ours.ids.size(); ++i) {
          same += ours.ids[i] == theirs.ids[i] ? 1 : 0;
          if (ours.ids[i] == 0 || ours.ids[i] != theirs.ids[i])
            continue;
          ++things;
          near +=
              std::abs(ours.nearness[i] - theirs.nearness[i]) < 2e-3F * std::abs(ours.nearness[i]) ? 1 : 0;
          const int x = static_cast<int>(i) % size_px.width(), y = static_cast<int>(i) / size_px.width();
          const QRgb a = ours.image.pixel(x, y), b = theirs.image.pixel(x, y);
          close_colour += std::abs(qRed(a) - qRed(b)) < 24 && std::abs(qGreen(a) - qGreen(b)) < 24 &&
                                  std::abs(qBlue(a) - qBlue(b)) < 24
                              ? 1
                              : 0;
        }
        const auto share = [](std::size_t part, std::size_t whole) {
          return static_cast<double>(part) / static_cast<double>(whole);
        };
        EXPECT_GT(things, ours.ids.size() / 10);
        EXPECT_GT(share(same, ours.ids.size()), 0.99) << perspective << cut;
        EXPECT_GT(share(near, things), 0.98) << perspective << cut;
        EXPECT_GT(share(close_colour, things), 0.95) << perspective << cut;
      }
}

TEST_F(SceneOfABuild, OpenGlForgetsMeshesThatAreGone) {
  const MadeRenderer egl = make_renderer(Choice::egl);
  ASSERT_EQ(egl.renderer->kind(), Renderer::Kind::egl);
  const DrawOptions options = light_options(size_px, Quality::dragging);
  const Picture before = egl.renderer->draw(scene, camera, options);
  // New meshes may come to lie where old ones lay.
  for (int time = 0; time < 3; ++time) {
    SolidMaker another;
    scene = dressed(another.solids(build, evaluate(build, {"small"})), false);
    scene.items[2].mark = Mark::selected;
    EXPECT_EQ(egl.renderer->draw(scene, camera, options).image, before.image);
  }
}

TEST(SceneRenderers, TheEnvironmentChooses) {
  qputenv("BELLMOUTH_RENDERER", "cpu");
  EXPECT_EQ(make_renderer().renderer->kind(), Renderer::Kind::cpu);
  EXPECT_TRUE(make_renderer().missing.isEmpty());
  qputenv("BELLMOUTH_RENDERER", "egl");
  EXPECT_EQ(make_renderer().renderer->kind(), Renderer::Kind::egl);
  qputenv("BELLMOUTH_RENDERER", "steam");
  const MadeRenderer unknown = make_renderer();
  ASSERT_FALSE(unknown.missing.isEmpty());
  EXPECT_TRUE(unknown.missing.front().contains("steam"));
  qunsetenv("BELLMOUTH_RENDERER");
  const MadeRenderer automatic = make_renderer();
  ASSERT_NE(automatic.renderer, nullptr);
  for (const QString& sentence : automatic.missing)
    EXPECT_TRUE(sentence.endsWith('.')) << sentence.toStdString();
}

} // namespace
} // namespace bellmouth::ui::scene
