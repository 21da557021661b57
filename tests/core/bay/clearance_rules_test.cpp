// SPDX-License-Identifier: GPL-3.0-or-later
// What counts against a piece: the own run, spigots, the machine's body, states of the bay,
// the engine's roll and shake, doubt.
#include "bay_scene.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>

namespace bellmouth::bay {
namespace {

using namespace test;
using std::numbers::pi;
using test::apart;
using test::dot;
using test::plus;
/// \name The own run
///@{
// Closed form: the legs of a U are 2 R apart.
TEST(OwnRun, ComesNearItselfBehindAUBend) {
  for (const double radius : {0.04, 0.06, 0.1}) {
    Scene scene;
    scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3), bend(0.06, pi, radius, 0), tube(0.06, 0.25)});
    const auto found = scene.look().front();
    EXPECT_NEAR(found.nearest[0]->distance_m, 2 * radius - 0.06, 1e-9);
    EXPECT_EQ(found.nearest[0]->neighbour, Neighbour(NearPiece{scene.runs[0].id, 2}));
    EXPECT_NEAR(found.nearest[2]->distance_m, 2 * radius - 0.06, 1e-9);
    // Below 10 mm it is too near: said once for the pair.
    EXPECT_EQ(found.tight.size(), 2 * radius - 0.06 < 0.01 ? 1u : 0u) << radius;
  }
}
// A run that only bends a little, or turns the other way again, is not near itself however short its pieces.
TEST(OwnRun, DoesNotCountWhatIsNextAlongTheWay) {
  Scene scene;
  std::vector<build::Piece> pieces;
  for (int i = 0; i < 8; ++i) {
    pieces.push_back(tube(0.06, 0.012));
    pieces.push_back(bend(0.06, pi / 4, 0.09, i % 2 == 0 ? 0 : pi));
  }
  scene.add({{0, 0, 0}, {1, 0, 0}}, pieces);
  const auto found = scene.look().front();
  EXPECT_TRUE(found.tight.empty());
  EXPECT_EQ(found.closest(), nullptr);
}
// One moulded piece can come near itself too: a tight U with long legs.
TEST(OwnRun, CountsTheTwoLegsOfOnePiece) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {bend(0.06, pi, 0.034, 0, 0.2)});
  const auto found = scene.look().front();
  ASSERT_EQ(found.tight.size(), 1u);
  EXPECT_NEAR(found.tight[0].distance_m, 0.008, 1e-9);
  EXPECT_EQ(found.tight[0].neighbour, Neighbour(NearPiece{scene.runs[0].id, 0}));
}
// Other method: a dense search over all pairs of places far enough along, on random chains.
TEST(OwnRun, IsAsTightAsASearchOverAllPlacesSays) {
  Dice dice(77);
  int too_near = 0;
  for (int i = 0; i < 60; ++i) {
    Scene scene;
    std::vector<build::Piece> pieces;
    for (int k = 0; k < 7; ++k) {
      pieces.push_back(tube(0.05, dice.between(0.01, 0.09)));
      pieces.push_back(bend(0.05, dice.between(1.0, 2.2), 0.05, dice.between(-0.6, 0.6)));
    }
    scene.add({{0, 0, 0}, {1, 0, 0}}, pieces);
    const auto tracks = scene.tracks();
    const auto frames = scene.frames();
    std::vector<Vector> places;
    double whole = 0;
    constexpr double step = 1e-3;
    for (std::size_t row = 0; row < tracks.size(); ++row) {
      for (double x = std::ceil(whole / step) * step - whole; x < tracks[row].length_m(); x += step)
        places.push_back(along(frames[row], tracks[row], x).position_m);
      whole += tracks[row].length_m();
    }
    const double too_near_m = 0.05 + 0.01, way = pi / 2 * too_near_m;
    double least = 1e300;
    for (std::size_t a = 0; a < places.size(); ++a)
      for (std::size_t b = a + static_cast<std::size_t>(std::ceil(way / step)); b < places.size(); ++b)
        least = std::min(least, apart(places[a], places[b]) - 0.05);
    const auto found = scene.look().front();
    double tightest = 1e300;
    for (const Gap& gap : found.tight)
      tightest = std::min(tightest, gap.distance_m);
    if (least < 0.01 - 1e-3) { // the sampling misses up to its step
      ++too_near;
      EXPECT_NEAR(tightest, least, 1.5e-3) << i;
    } else if (least > 0.01) {
      EXPECT_TRUE(found.tight.empty()) << i;
    }
  }
  EXPECT_GT(too_near, 5);
}
///@}

/// \name Spigots and bodies
///@{
// Closed form: a spigot is a cylinder back from the port as long as its land; the own ports do not count.
TEST(Spigots, OfOtherPortsStandInTheWay) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3)});
  build::Port other;
  other.id = {"other"};
  other.outer_diameter_m = 0.05;
  other.land_m = 0.08;
  other.pose = build::Pose{{0.15, 0, 0.2}, {0, 0, 1}}; // the spigot ends there and comes from below
  scene.build.ports.push_back(other);
  const Gap gap = scene.gap();
  EXPECT_EQ(gap.neighbour, Neighbour(NearPort{{"other"}}));
  EXPECT_NEAR(gap.distance_m, 0.2 - 0.08 - 0.03, 1e-12);
  scene.build.ports.back().land_m = 0.02;
  EXPECT_NEAR(scene.gap().distance_m, 0.2 - 0.02 - 0.03, 1e-12);
}

/// A tube straight out of a machine's flat face, at the port's place.
Scene out_of_a_face(double clearance_m, double tolerance_m) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3)});
  scene.build.ports[0].machine = build::MachineId{"pump"};
  build::KeepOut body;
  body.shape = build::Box{{-0.1, 0, 0}, {0.1, 0.2, 0.2}};
  body.machine = build::MachineId{"pump"};
  body.clearance_m = clearance_m;
  body.survey = build::Survey{true, tolerance_m, {}};
  scene.build.keep_outs.push_back(body);
  return scene;
}
// A tube straight out of a face never counts against it; of another machine's body every place counts.
TEST(MachineBody, LeavesOutTheFirstStretch) {
  for (const double tolerance : {0.0, 0.004}) {
    Scene scene = out_of_a_face(0.01, tolerance);
    const auto found = scene.look().front();
    EXPECT_TRUE(found.tight.empty());
    EXPECT_FALSE(found.nearest[0].has_value());
    scene.build.keep_outs[0].machine = build::MachineId{"another"};
    EXPECT_NEAR(scene.look().front().tight.at(0).distance_m, -0.03, 1e-12);
  }
  // At the run's end as well.
  Scene scene = out_of_a_face(0.01, 0);
  scene.build.ports[0].machine.reset();
  scene.build.ports[1].machine = build::MachineId{"pump"};
  scene.build.ports[0].pose = build::Pose{{0.3, 0, 0}, {-1, 0, 0}};
  EXPECT_TRUE(scene.look().front().tight.empty());
  // A bend that comes back to the face is too near all the same.
  Scene back = out_of_a_face(0.01, 0);
  back.runs[0].pieces = {bend(0.06, pi, 0.07), tube(0.06, 0.1)};
  EXPECT_NEAR(back.look().front().closest()->distance_m, -0.03 - 0.06, 1e-9); // 60 mm below its top
}
// Closed form: the outer corner of a right-angled mitre, whichever way the run goes there, is sqrt 2 radii
// from the corner of its axes. It passes the body's corner square to its own way, so it counts.
TEST(MachineBody, CountsTheCornersOfMitredBends) {
  for (const int axis : {0, 1, 2}) {
    const auto turned = [axis](const Vector& v) { // x, y and z one for the other
      Vector result;
      for (std::size_t i = 0; i < 3; ++i)
        result[(i + static_cast<std::size_t>(axis)) % 3] = v[i];
      return result;
    };
    Scene scene;
    scene.add({{}, turned({0, 1, 0})},
              {tube(0.06, 0.3), {build::MitredBend{0.06, 2e-3, pi / 2, 0.1, 1, 0, 0.05, 0, {}}, {}, {}, {}}});
    const Frame start = scene.frames()[1];
    // The corner of the axes is 100 mm on; outside it, at 45 degrees to both, is the corner of the box.
    const Vector corner = plus(start.position_m, 0.1, start.direction);
    const Vector box_corner = plus(plus(corner, 0.05, start.direction), -0.05, start.reference);
    build::Box box{plus(plus(box_corner, 0.1, start.direction), -0.1, start.reference),
                   {0.1, 0.1, 0.1},
                   {start.direction, start.reference, cross(start.direction, start.reference)}};
    scene.stand(box);
    scene.build.keep_outs[0].machine = scene.build.ports[0].machine = build::MachineId{"pump"};
    scene.build.keep_outs[0].clearance_m = 0.05;
    const auto found = scene.look().front();
    ASSERT_FALSE(found.tight.empty()) << axis;
    EXPECT_NEAR(found.tight[0].distance_m, (0.05 - 0.03) * std::sqrt(2), 1e-12) << axis;
  }
}
// Two runs that leave one machine side by side: too near in their first stretch does not count, behind it
// does.
TEST(MachineBody, LeavesOutWhereRunsLeaveItTogether) {
  Scene scene;
  for (const double y : {0.0, 0.065}) {
    scene.add({{0, y, 0}, {1, 0, 0}}, {tube(0.06, 0.02), tube(0.06, 0.2)});
    scene.build.ports[scene.build.ports.size() - 2].machine = build::MachineId{"pump"};
  }
  const auto found = scene.look();
  // The second tube to both tubes, the first to the other's second.
  ASSERT_EQ(found[0].tight.size(), 3u);
  EXPECT_EQ(
      std::ranges::count_if(found[0].tight,
                            [](const Gap& gap) {
                              return gap.row == 0 && gap.neighbour == Neighbour(NearPiece{{"run 1"}, 0});
                            }),
      0);
  EXPECT_NEAR(found[0].tight[0].distance_m, 0.005, 1e-12);
}
///@}

/// \name States, roll and shake
///@{
TEST(States, HaveTheirOwnKeepOuts) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3)});
  scene.build.states = {{{"wheels at lock"}, 0}, {{"bonnet open"}, 0}};
  scene.stand(build::Sphere{{0.1, 0, 0.2}, 0.1});
  scene.build.keep_outs[0].states = {{"wheels at lock"}};
  EXPECT_EQ(scene.look().front().closest(), nullptr);
  EXPECT_EQ(scene.look(build::StateId{"bonnet open"}).front().closest(), nullptr);
  EXPECT_NEAR(scene.look(build::StateId{"wheels at lock"}).front().closest()->distance_m, 0.07, 1e-12);
}
// Closed form: a point turned about an axis that is not at the origin.
TEST(States, RollTheEngineAboutItsAxis) {
  const build::EngineMovement movement{{1, 2, 3}, {0, 0, 1}, pi / 3, 0};
  const Vector p = moved(movement, 0.5, {2, 2, 7});
  EXPECT_NEAR(p[0], 1 + std::cos(pi / 6), 1e-15);
  EXPECT_NEAR(p[1], 2 + 0.5, 1e-15);
  EXPECT_NEAR(p[2], 7, 1e-15);
  EXPECT_NEAR(apart(moved(movement, -0.5, p), {2, 2, 7}), 0, 1e-15);
}
// Closed form, by hand: an engine-mounted tube 400 mm above a lengthwise roll axis, turned by 3 degrees, goes
// 400 sin 3 = 20.9 mm sideways and drops 400 (1 - cos 3) = 0.55 mm.
TEST(States, RollWhatFollowsTheEngine) {
  const double angle = 3 * pi / 180;
  Scene scene;
  scene.add({{0, 0, 0.4}, {1, 0, 0}}, {tube(0.06, 0.3)}, build::Mounting::engine, build::Mounting::engine);
  scene.build.movement = build::EngineMovement{{0, 0, 0}, {1, 0, 0}, angle, 0};
  scene.build.states = {{{"one way"}, 1}, {{"other way"}, -0.5}};
  scene.stand(build::HalfSpace{{0, -0.1, 0}, {0, -1, 0}}); // a wall to the right
  const auto distance = [&](const std::optional<build::StateId>& state) {
    return scene.look(state).front().closest()->distance_m;
  };
  EXPECT_NEAR(distance({}), 0.07, 1e-12);
  // Right-handed about x forward: the top goes to the right, towards the wall.
  EXPECT_NEAR(distance(build::StateId{"one way"}), 0.07 - 0.4 * std::sin(angle), 1e-12);
  EXPECT_NEAR(distance(build::StateId{"other way"}), 0.07 + 0.4 * std::sin(angle / 2), 1e-12);
  // A wall of the engine goes along: nothing changes. So does a bend.
  scene.build.keep_outs[0].mounting = build::Mounting::engine;
  EXPECT_NEAR(distance(build::StateId{"one way"}), 0.07, 1e-12);
  scene.runs[0].pieces = {bend(0.06, pi / 2, 0.1, 0.3), tube(0.06, 0.2)};
  EXPECT_NEAR(distance(build::StateId{"one way"}), distance({}), 1e-12);
}
// Closed form: the shake counts between what moves and what does not, only with a roll, and on top of it.
TEST(States, ShakeWhatFollowsTheEngine) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3)}, build::Mounting::engine, build::Mounting::engine);
  scene.add({{0, 0.1, 0}, {1, 0, 0}}, {tube(0.06, 0.3)});
  scene.build.movement = build::EngineMovement{{0, 0, 0}, {1, 0, 0}, 1e-12, 0.006};
  scene.build.states = {{{"rocked"}, 1}, {{"still"}, 0}};
  scene.build.ports[0].outer_diameter_m = scene.build.ports[2].outer_diameter_m = 0.01;
  EXPECT_NEAR(scene.look(build::StateId{"still"}).front().closest()->distance_m, 0.04, 1e-9);
  const Gap gap = *scene.look(build::StateId{"rocked"}).front().closest();
  EXPECT_NEAR(gap.distance_m, 0.034, 1e-9);
  EXPECT_NEAR(apart(gap.on_piece_m, gap.on_neighbour_m), 0.04, 1e-9);
  scene.stand(build::Box{{0.15, -0.15, 0}, {0.2, 0.1, 0.1}});
  EXPECT_NEAR(scene.look(build::StateId{"rocked"}).front().closest()->distance_m, 0.02 - 0.006, 1e-9);
  scene.build.keep_outs[0].mounting = build::Mounting::engine;
  EXPECT_NEAR(scene.look(build::StateId{"rocked"}).front().closest()->distance_m, 0.02, 1e-9);
}
// Closed form: a hose between engine and body is drawn between where its ends go.
TEST(States, StretchAHoseBetweenItsEnds) {
  const double angle = 4 * pi / 180;
  Scene scene;
  const build::Piece hose{build::Hose{0.05, 5e-3, 0.2, {0, 0}}, {}, {}, {}};
  scene.add({{0, 0, 0.4}, {1, 0, 0}}, {tube(0.06, 0.1), hose, tube(0.06, 0.1)}, build::Mounting::engine,
            build::Mounting::body);
  const auto rooms = scene.rooms();
  EXPECT_EQ(rooms[0].rows[0].follows_out, 1);
  EXPECT_EQ(rooms[0].rows[1].follows_in, 1);
  EXPECT_EQ(rooms[0].rows[1].follows_out, 0);
  EXPECT_EQ(rooms[0].rows[2].follows_in, 0);
  scene.build.movement = build::EngineMovement{{0, 0, 0}, {1, 0, 0}, angle, 0};
  scene.build.states = {{{"rocked"}, 1}};
  // A small ball beside the middle of the hose, on the side that the engine goes to.
  const double aside = 0.4 * std::sin(angle), down = 0.4 * (1 - std::cos(angle));
  const Vector ball{0.2, -0.1, 0.4};
  scene.stand(build::Sphere{ball, 0.01});
  const Vector from{0.1, -aside, 0.4 - down}, to{0.3, 0, 0.4};
  const Vector way = plus(to, -1, from);
  const double t = dot(plus(ball, -1, from), way) / dot(way, way);
  const double expected = apart(ball, plus(from, t, way)) - 0.03 - 0.01;
  EXPECT_NEAR(scene.look(build::StateId{"rocked"}).front().nearest[1]->distance_m, expected, 1e-12);
}
///@}

/// \name Room and doubt
///@{
TEST(Room, IsOverWallLaggingHumpAndCover) {
  Scene scene;
  build::Piece lagged = tube(0.06, 0.1);
  lagged.lagging = build::Lagging{0.01, 0.04};
  const build::Piece hump{build::HumpHose{0.05, 5e-3, 0.12, 0.04, 0.066, {0.03, 0.02}}, {}, {}, {}};
  const build::Piece adapter{build::Adapter{0.05, 0.07, 0.04, 0.06, 0.05, {}}, {}, {}, {}};
  const build::Piece boss{build::SensorBoss{0.01, 0, "M10x1", {}}, {}, {}, {}};
  scene.add({}, {lagged, boss, hump, adapter});
  const std::vector<Track> tracks{
      track(lagged.shape, 0, 0), {}, track(hump.shape, 0.03, 0.02), track(adapter.shape, 0, 0)};
  const auto found = room(scene.build, scene.runs[0], tracks, place(scene.build.ports[0].pose, tracks));
  EXPECT_NEAR(found.rows[0].radius_in_m, 0.04, 1e-15);
  EXPECT_EQ(found.rows[1].radius_in_m, 0);
  EXPECT_NEAR(found.rows[2].radius_in_m, 0.038, 1e-15);
  EXPECT_NEAR(found.rows[2].cover_in_m, 0.03, 1e-15);
  EXPECT_NEAR(found.rows[2].cover_out_m, 0.02, 1e-15);
  EXPECT_NEAR(found.rows[3].radius_in_m, 0.035, 1e-15);
  // The hose's outside counts over the spigot before it too.
  scene.stand(build::Sphere{{0.08, 0, 0.1}, 0.01});
  const auto gaps = clearances(scene.build, {found}).front();
  EXPECT_NEAR(gaps.nearest[2]->distance_m, 0.1 - 0.038 - 0.01, 1e-12);
  EXPECT_NEAR(gaps.nearest[2]->along_m, -0.02, 1e-9);
  EXPECT_FALSE(gaps.nearest[1]);
}
// Closed form: the outer corner of a single right-angled mitre is sqrt 2 radii from the corner of its axes.
TEST(Room, ReachesIntoTheCornersOfAMitredBend) {
  Scene scene;
  const build::Piece mitred{build::MitredBend{0.06, 2e-3, pi / 2, 0.1, 1, 0.05, 0.05, 0, {}}, {}, {}, {}};
  scene.add({{0, 0, 0}, {1, 0, 0}}, {mitred}); // axes: 150 mm forward, then up
  const double r = std::sqrt(0.5);
  scene.stand(build::HalfSpace{{0.15 + 0.1 * r, 0, -0.1 * r}, {r, 0, -r}}); // 100 mm beyond the corner
  EXPECT_NEAR(scene.gap().distance_m, 0.1 - std::sqrt(2) * 0.03, 1e-12);
  EXPECT_NEAR(scene.gap().along_m, 0.05 + 0.1 * pi / 4, 1e-12); // the middle of the arc that it is drawn on
}
TEST(Doubt, IsTheSumOfBothTolerances) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3)});
  scene.stand(build::Sphere{{0.1, 0, 0.15}, 0.107});
  EXPECT_TRUE(scene.look().front().tight.empty()); // 13 mm, 10 mm asked for
  scene.build.ports[0].survey = build::Survey{true, 0.001, {}};
  scene.build.ports[1].survey = build::Survey{false, 0.002, {}};
  scene.build.keep_outs[0].survey = build::Survey{false, 0.003, {}};
  const Gap gap = scene.look().front().tight.at(0);
  EXPECT_NEAR(gap.doubt_m, 0.005, 1e-15);
  EXPECT_NEAR(gap.distance_m, 0.013, 1e-12);
  EXPECT_NEAR(gap.margin_m(), 0.003, 1e-12);
}
TEST(Required, IsTheKeepOutsOwnOrThatOfItsClass) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3)});
  scene.stand(build::Sphere{{0.1, 0, 0.15}, 0.05});
  for (const auto& [kind, required] : {std::pair{build::KeepOutClass::fixed, 0.01},
                                       {build::KeepOutClass::moving, 0.025},
                                       {build::KeepOutClass::hot, 0.076}}) {
    scene.build.keep_outs[0].keep_out_class = kind;
    EXPECT_EQ(scene.gap().required_m, required);
  }
  scene.build.keep_outs[0].clearance_m = 0.123;
  EXPECT_EQ(scene.gap().required_m, 0.123);
}
// Identity: asked for what is tight alone, the same is found, in crowded bays too.
TEST(Tight, IsTheSameWhenItAloneIsWanted) {
  Dice dice(9);
  std::size_t tight = 0;
  for (int i = 0; i < 30; ++i) {
    Scene scene;
    for (int run = 0; run < 3; ++run)
      scene.add(
          {dice.point(0.4), dice.direction()},
          {tube(0.06, 0.1), bend(0.06, dice.between(0.5, 3), 0.08, dice.between(0, 6)), tube(0.06, 0.2)});
    for (int k = 0; k < 4; ++k)
      scene.stand(build::Sphere{dice.point(0.5), dice.between(0.02, 0.1)});
    const auto all = scene.look();
    const auto only = clearances(scene.build, scene.rooms(), std::nullopt, Wanted::tight);
    for (std::size_t run = 0; run < all.size(); ++run) {
      ASSERT_EQ(only[run].tight.size(), all[run].tight.size()) << i;
      tight += all[run].tight.size();
      for (std::size_t k = 0; k < all[run].tight.size(); ++k) {
        EXPECT_NEAR(only[run].tight[k].distance_m, all[run].tight[k].distance_m, 1e-9);
        EXPECT_EQ(only[run].tight[k].neighbour, all[run].tight[k].neighbour);
      }
      EXPECT_EQ(only[run].closest(), nullptr);
    }
  }
  EXPECT_GT(tight, 20u);
}
// A run whose start is not measured has no place, and nothing to say.
TEST(Unmeasured, HasNoClearance) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {tube(0.06, 0.3)});
  scene.build.ports[0].pose.reset();
  scene.stand(build::Sphere{{0.1, 0, 0.15}, 0.05});
  const auto found = scene.look().front();
  ASSERT_EQ(found.nearest.size(), 1u);
  EXPECT_FALSE(found.nearest[0]);
  EXPECT_EQ(found.closest(), nullptr);
}
///@}

} // namespace
} // namespace bellmouth::bay
