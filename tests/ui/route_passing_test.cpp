// SPDX-License-Identifier: GPL-3.0-or-later
// Places to pass. Closed forms: how far solids reach.
#include "view_sample.hpp"

#include <numbers>
#include <route_passing.hpp>

namespace bellmouth::ui {
namespace {

build::KeepOut keep_out(decltype(build::KeepOut::shape) shape) {
  build::KeepOut made;
  made.name = "thing";
  made.shape = std::move(shape);
  return made;
}

TEST(RoutePassing, ReachOfSolids) {
  const build::Vector up{0, 0, 1}, left{0, 1, 0};
  EXPECT_NEAR(*reach_m(keep_out(build::Sphere{{1, 2, 3}, 0.5}), up), 3.5, 1e-12);
  EXPECT_NEAR(*reach_m(keep_out(build::Box{{1, 2, 3}, {0.1, 0.2, 0.3}}), left), 2.2, 1e-12);
  // Turned by an eighth about forward: a corner is on top.
  const double s = 1 / std::numbers::sqrt2;
  EXPECT_NEAR(
      *reach_m(keep_out(build::Box{{0, 0, 0}, {1, 0.2, 0.2}, {{{1, 0, 0}, {0, s, s}, {0, -s, s}}}}), up),
      0.2 * std::numbers::sqrt2, 1e-12);
  // A lying and a standing bar.
  EXPECT_NEAR(*reach_m(keep_out(build::Cylinder{{0, 0, 1}, {2, 0, 1}, 0.1}), up), 1.1, 1e-12);
  EXPECT_NEAR(*reach_m(keep_out(build::Cylinder{{0, 0, 1}, {0, 0, 4}, 0.1}), up), 4, 1e-12);
  EXPECT_FALSE(reach_m(keep_out(build::HalfSpace{{0, 0, 1}, {0, 0, 1}}), up));
}

TEST(RoutePassing, ReachOfAScanIsThatOfItsPoints) {
  build::Scan scan;
  scan.unit = mesh::Unit::millimetre;
  scan.origin_m = {0, 0, 1};
  EXPECT_FALSE(reach_m(keep_out(scan), {0, 0, 1})) << "not loaded";
  scan.loaded = mesh::make_scan({{{0, 0, 0}, {100, 0, 0}, {0, 50, 250}}, {{0, 1, 2}}});
  EXPECT_NEAR(*reach_m(keep_out(scan), {0, 0, 1}), 1.25, 1e-12);
  EXPECT_NEAR(*reach_m(keep_out(scan), {1, 0, 0}), 0.1, 1e-12);
}

// A tube that begins higher than a thing, but beside it, does not pass over it.
TEST(RoutePassing, IsBesideTheThingBeyondItsOutermostPoint) {
  build::Build build = test::full_build();
  build.keep_outs = {keep_out(build::Sphere{{1, 2, 3}, 0.5})};
  const std::array outermost{3.5, 2.5, 2.5, 1.5, 1.5, 0.5};
  for (std::size_t i = 0; i < all_passings.size(); ++i) {
    const auto waypoint = waypoint_past(build, 0, all_passings[i]);
    ASSERT_TRUE(waypoint);
    EXPECT_EQ(waypoint->name, passing_word(all_passings[i]).toStdString() + " thing");
    const auto& box = std::get<build::Box>(waypoint->shape);
    const std::size_t axis = i < 2 ? 2 : i < 4 ? 1 : 0;
    const double onward = i % 2 == 0 ? 1 : -1;
    EXPECT_NEAR(box.centre_m[axis] - onward * box.half_size_m[axis], outermost[i], 1e-12);
    EXPECT_GT(box.half_size_m[axis], 0.5);
    for (std::size_t across = 0; across < 3; ++across)
      if (across != axis) {
        EXPECT_NEAR(box.centre_m[across], static_cast<double>(across + 1), 1e-12);
        EXPECT_NEAR(box.half_size_m[across], 0.5, 1e-12);
      }
  }
}

} // namespace
} // namespace bellmouth::ui
