// SPDX-License-Identifier: GPL-3.0-or-later
// The bay's edits: what they change and what they leave. Closed forms of reflection; the rest are identities.
#include "support/sample_builds.hpp"

#include <bellmouth/build/edits.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <utility>

namespace bellmouth {
namespace {

using namespace build;

KeepOut thing(std::variant<Box, Cylinder, Sphere, HalfSpace, Scan> shape) {
  KeepOut made;
  made.name = "thing";
  made.shape = std::move(shape);
  return made;
}

TEST(BayEdits, TheImageOfAnImageIsTheThing) {
  const Build build = test::sample_build();
  ASSERT_FALSE(build.photographs.empty());
  Build twice = with_bay_mirrored(with_bay_mirrored(build, 0.25), 0.25);
  EXPECT_TRUE(twice.photographs.empty());
  twice.photographs = build.photographs;
  for (std::size_t i = 0; i < build.ports.size(); ++i)
    if (build.ports[i].pose) {
      EXPECT_NEAR(twice.ports[i].pose->position_m[1], build.ports[i].pose->position_m[1], 1e-15);
      twice.ports[i].pose = build.ports[i].pose;
    }
  for (std::size_t i = 0; i < build.keep_outs.size(); ++i) // places come back but for rounding
    twice.keep_outs[i].shape = build.keep_outs[i].shape;
  twice.movement = build.movement;
  EXPECT_EQ(twice, build);
}

TEST(BayEdits, MirrorsInThePlane) {
  const Pose pose = mirrored(Pose{{0.1, 0.2, 0.3}, {0.6, 0.8, 0}}, 0.05);
  EXPECT_EQ(pose.position_m, (Vector{0.1, -0.1, 0.3}));
  EXPECT_EQ(pose.direction, (Vector{0.6, -0.8, 0}));
  const KeepOut half = mirrored(thing(HalfSpace{{0, 0.4, 0}, {0, 1, 0}}), 0);
  EXPECT_EQ(std::get<HalfSpace>(half.shape), (HalfSpace{{0, -0.4, 0}, {0, -1, 0}}));
  Scan wing;
  wing.file = "wing.stl";
  wing.origin_m = {0, 1, 0};
  const KeepOut scan = mirrored(thing(wing), 0);
  // A point of the file at (1, 2, 3) mm lies at y = 1 + 0.002 m before, and at the negative of it after.
  const auto placement = std::get<Scan>(scan.shape).placement();
  EXPECT_NEAR(placement.to_bay({1, 2, 3})[1], -1.002, 1e-15);
  EXPECT_NEAR(placement.to_file({0.001, -1.002, 0.003})[1], 2, 1e-9);
}

TEST(BayEdits, AMirroredRollMovesTheMirroredPointToTheMirroredPlace) {
  // Right-handed turn about x by a small angle moves (0, 0, 1) towards -y. The image moves it towards +y,
  // which is the same angle about -x.
  Build build = test::sample_build();
  build.movement = EngineMovement{{0, 0.1, 0}, {1, 0, 0}, 0.03, 0.002};
  const EngineMovement image = *with_bay_mirrored(build, 0).movement;
  EXPECT_EQ(image.axis_point_m, (Vector{0, -0.1, 0}));
  EXPECT_EQ(image.axis_direction, (Vector{-1, 0, 0}));
  EXPECT_EQ(image.roll_rad, 0.03);
}

TEST(BayEdits, KeepOutsComeAndGo) {
  const Build build = test::sample_build();
  const std::size_t count = build.keep_outs.size();
  const KeepOut added = thing(Sphere{{0, 0, 0}, 0.01});
  const Build more = with_keep_out_inserted(build, 1, added);
  ASSERT_EQ(more.keep_outs.size(), count + 1);
  EXPECT_EQ(more.keep_outs[1], added);
  EXPECT_EQ(with_keep_out_removed(more, 1), build);
  EXPECT_EQ(with_keep_out_replaced(build, 0, added).keep_outs.front(), added);
  EXPECT_EQ(validate(more), std::nullopt);
}

TEST(BayEdits, KeepOutsForgetStatesThatAreGone) {
  const Build build = test::sample_build();
  const auto in_state = [](const Build& in) {
    return std::ranges::count_if(in.keep_outs, [](const KeepOut& one) { return !one.states.empty(); });
  };
  ASSERT_EQ(in_state(build), 1);
  const Build without = with_states(build, {});
  EXPECT_EQ(in_state(without), 0);
  EXPECT_EQ(validate(without), std::nullopt);
}

TEST(BayEdits, ClearancesGoByClassUnlessAKeepOutHasItsOwn) {
  Build build;
  KeepOut hot = thing(Sphere{{}, 0.1});
  hot.keep_out_class = KeepOutClass::hot;
  // A truck body-builder manual's table, as a trade figure: 76 mm from unshielded exhaust.
  EXPECT_EQ(build.clearance_m(hot), 0.076);
  ClearanceLimits limits;
  limits.hot_m = 0.05;
  build = with_clearances(build, limits);
  EXPECT_EQ(build.clearance_m(hot), 0.05);
  hot.clearance_m = 0.02;
  EXPECT_EQ(build.clearance_m(hot), 0.02);
}

TEST(BayEdits, NamesThatLeadNowhereAreErrors) {
  Build build = test::sample_build();
  const std::size_t last = build.keep_outs.size() - 1;
  build.keep_outs[last].states = {{"tailgate open"}};
  auto error = validate(build);
  ASSERT_TRUE(error);
  EXPECT_EQ(error->place.path, "$.keep_outs[" + std::to_string(last) + "].states");
  EXPECT_NE(error->found.find("tailgate open"), std::string::npos) << error->text();
  build.keep_outs[last].states.clear();
  build.keep_outs[last].machine = MachineId{"gearbox"};
  error = validate(build);
  ASSERT_TRUE(error);
  EXPECT_EQ(error->accepted, "the id of a machine of this build");
  build.keep_outs[last].machine = std::nullopt;
  build.states.push_back(build.states.front());
  error = validate(build);
  ASSERT_TRUE(error);
  EXPECT_EQ(error->accepted, "an id that no entry before has");
}

TEST(BayEdits, OnlyFlexiblePiecesGive) {
  Build build = test::sample_build();
  const PieceRef hose{build.options.front().id, {"suction"}, 0}, tube{hose.option, {"suction"}, 1};
  const Build given = with_give(build, hose, Give{8e-3, 4e-3, 0.07});
  EXPECT_EQ(find(given, hose)->give, (Give{8e-3, 4e-3, 0.07}));
  EXPECT_EQ(validate(given), std::nullopt);
  Piece stiff = *find(build, tube);
  stiff.give = Give{1e-3, 0, 0};
  const auto error = validate(with_piece_replaced(build, tube, stiff));
  ASSERT_TRUE(error);
  EXPECT_EQ(error->accepted, "movement of flexible pieces only");
}

} // namespace
} // namespace bellmouth
