// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/close.hpp"

#include <bellmouth/bay.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace bellmouth::bay {
namespace {

using build::Vector;
using std::numbers::pi;
using test::close;

double dot(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
double distance(const Vector& a, const Vector& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

::testing::AssertionResult same(const Vector& found, const Vector& wanted, double within = 1e-12) {
  if (distance(found, wanted) <= within)
    return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure()
         << ::testing::PrintToString(found) << " is not " << ::testing::PrintToString(wanted);
}
::testing::AssertionResult is_frame(const Frame& f) {
  const double worst =
      std::max({std::abs(dot(f.direction, f.direction) - 1), std::abs(dot(f.reference, f.reference) - 1),
                std::abs(dot(f.direction, f.reference))});
  if (worst < 1e-12)
    return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << "off by " << worst;
}

const Frame origin; // along x, reference up

// Closed form: the reference is up made square, forward for a port that points up or down.
TEST(FrameOf, TakesUpOrForwardAsReference) {
  EXPECT_TRUE(same(frame_of({{1, 2, 3}, {1, 0, 0}}).reference, {0, 0, 1}));
  EXPECT_TRUE(same(frame_of({{1, 2, 3}, {1, 0, 0}}).position_m, {1, 2, 3}));
  EXPECT_TRUE(same(frame_of({{}, {0, -1, 0}}).reference, {0, 0, 1}));
  EXPECT_TRUE(same(frame_of({{}, {0, 0, 1}}).reference, {1, 0, 0}));
  EXPECT_TRUE(same(frame_of({{}, {0, 0, -1}}).reference, {1, 0, 0}));
  const double r = std::sqrt(0.5);
  EXPECT_TRUE(same(frame_of({{}, {r, 0, r}}).reference, {-r, 0, r}));
  for (const double tilt_deg : {7.9, 8.1}) { // the reference changes over at 8 degrees from upright
    const double t = tilt_deg * pi / 180;
    const auto frame = frame_of({{}, {0, std::sin(t), -std::cos(t)}});
    EXPECT_TRUE(is_frame(frame));
    EXPECT_NEAR(frame.reference[0], tilt_deg < 8 ? 1 : 0, 1e-12);
  }
}

// The convention: x forward, z up, y left; clockwise for one who looks downstream.
TEST(Turned, ClocksClockwiseLookingDownstream) {
  EXPECT_TRUE(same(turned(origin, pi / 2, 0.1, 0).direction, {0, 0, 1}));        // 12 o'clock: up
  EXPECT_TRUE(same(turned(origin, pi / 2, 0.1, pi / 2).direction, {0, -1, 0}));  // 3 o'clock: right
  EXPECT_TRUE(same(turned(origin, pi / 2, 0.1, pi).direction, {0, 0, -1}));      // 6 o'clock: down
  EXPECT_TRUE(same(turned(origin, pi / 2, 0.1, 1.5 * pi).direction, {0, 1, 0})); // 9 o'clock: left
  EXPECT_TRUE(same(turned(origin, pi / 2, 0.1, 0).reference, {-1, 0, 0}));       // n carried along
  EXPECT_TRUE(same(turned(origin, pi / 2, 0.1, 0).position_m, {0.1, 0, 0.1}));
}

// Closed form: setback R tan(A/2) and arc R A, worked for a 63.5 mm tube at R 1.5 D = 95.25 mm: 95.3 and
// 149.6 mm at 90 degrees, 39.5 and 74.8 at 45 (tube-bending notes; textbook geometry).
TEST(Turned, HasTheSetbackAndTheArcOfTheTubeBender) {
  struct Case {
    double angle_deg, setback_mm, arc_mm;
  };
  for (const Case& c : {Case{90, 95.3, 149.6}, Case{45, 39.5, 74.8}}) {
    const double angle = c.angle_deg * pi / 180, radius = 0.09525;
    const auto end = turned(origin, angle, radius, 0);
    // The tangents through both ends meet `setback` from each.
    const double setback = end.position_m[0] - end.position_m[2] / std::tan(angle);
    EXPECT_NEAR(setback * 1e3, c.setback_mm, 0.051);
    const Track bend = track(build::TubeBend{0.0635, 2e-3, angle, radius, 0, 0, 0, {}}, 0, 0);
    EXPECT_NEAR(bend.length_m() * 1e3, c.arc_mm, 0.051);
  }
}

// Closed forms: full circles return; two equal bends back to back at 180 degrees give a parallel offset 2 R
// (1 - cos A).
TEST(Turned, ClosesCirclesAndOffsetsInAnS) {
  for (const int parts : {1, 2, 3, 4, 7}) {
    Frame frame = frame_of({{1, 2, 3}, {0.36, 0.48, 0.8}});
    const Frame start = frame;
    for (int i = 0; i < parts; ++i)
      frame = turned(frame, 2 * pi / parts, 0.11, i == 0 ? 0.7 : 0);
    EXPECT_TRUE(same(frame.position_m, start.position_m));
    EXPECT_TRUE(same(frame.direction, start.direction));
  }
  for (const double angle : {0.3, pi / 4, pi / 2}) {
    const auto end = turned(turned(origin, angle, 0.08, 0.4), angle, 0.08, pi);
    EXPECT_TRUE(same(end.direction, origin.direction));
    EXPECT_NEAR(std::hypot(end.position_m[1], end.position_m[2]), 2 * 0.08 * (1 - std::cos(angle)), 1e-14);
    EXPECT_NEAR(end.position_m[0], 2 * 0.08 * std::sin(angle), 1e-14);
  }
}

// Identity: the frame stays a frame, and does not turn about the direction on its way. Other method: the
// double reflection of Wang et al. (2008) over many short chords.
TEST(Turned, CarriesARotationMinimisingFrame) {
  Frame frame = frame_of({{}, {0.6, 0, 0.8}});
  const struct { double angle, clocking; } bends[] = {{1.2, 0.5}, {0.7, 2.2}, {2.0, -1.1}, {0.4, 3.0}};
  for (const auto& bend : bends) {
    const auto end = turned(frame, bend.angle, 0.1, bend.clocking);
    EXPECT_TRUE(is_frame(end));
    // Carry the bend's own normal along in small steps, and compare with the reference behind the bend.
    const double c = std::cos(bend.clocking), s = std::sin(bend.clocking);
    const Vector& u = frame.direction;
    const Vector& v = frame.reference;
    Vector carried{c * v[0] + s * (u[1] * v[2] - u[2] * v[1]), c * v[1] + s * (u[2] * v[0] - u[0] * v[2]),
                   c * v[2] + s * (u[0] * v[1] - u[1] * v[0])};
    Vector place = frame.position_m, heading = u;
    const int steps = 400;
    for (int i = 1; i <= steps; ++i) {
      const auto next = turned(frame, bend.angle * i / steps, 0.1, bend.clocking);
      const auto reflect = [](const Vector& mirror, const Vector& a) {
        const double k = 2 * dot(mirror, a) / dot(mirror, mirror);
        return Vector{a[0] - k * mirror[0], a[1] - k * mirror[1], a[2] - k * mirror[2]};
      };
      const Vector chord{next.position_m[0] - place[0], next.position_m[1] - place[1],
                         next.position_m[2] - place[2]};
      const Vector left = reflect(chord, carried), left_heading = reflect(chord, heading);
      const Vector second{next.direction[0] - left_heading[0], next.direction[1] - left_heading[1],
                          next.direction[2] - left_heading[2]};
      carried = dot(second, second) > 0 ? reflect(second, left) : left;
      place = next.position_m;
      heading = next.direction;
    }
    EXPECT_TRUE(same(end.reference, carried, 1e-8));
    frame = advanced(end, 0.05);
  }
}

// Closed form: covers come off the ends; a reducer, a cone or a hump hose is a straight; fittings are not on
// the line.
TEST(Track, TakesTheCoversOffTheEnds) {
  const build::Engagement over{0.04, 0.03};
  EXPECT_DOUBLE_EQ(track(build::Tube{0.0635, 2e-3, 0.3, {}}, 0, 0).length_m(), 0.3);
  EXPECT_DOUBLE_EQ(track(build::Hose{0.0635, 5e-3, 0.1, over}, 0.04, 0.03).length_m(), 0.03);
  EXPECT_DOUBLE_EQ(track(build::Cone{0.06, 0.08, 2e-3, 0.12, {}}, 0, 0).length_m(), 0.12);
  const Track elbow =
      track(build::HoseElbow{0.06, 0.06, 5e-3, pi / 2, 0.07, 0.1, 0.09, 0.3, false, over}, 0.04, 0.03);
  EXPECT_DOUBLE_EQ(elbow.straight_in_m, 0.06);
  EXPECT_DOUBLE_EQ(elbow.straight_out_m, 0.06);
  EXPECT_DOUBLE_EQ(elbow.clocking_rad, 0.3);
  EXPECT_DOUBLE_EQ(elbow.length_m(), 0.12 + pi / 2 * 0.07);
  EXPECT_EQ(track(build::SensorBoss{0.1, 0, "M12x1.5"}, 0, 0).length_m(), 0);
  // A mitred bend ends where the arc does that its cuts touch.
  const build::MitredBend mitred{0.0635, 2e-3, pi / 2, 0.0953, 3, 0.05, 0.06, 0, {}};
  const auto end = followed(origin, track(mitred, 0, 0));
  const double half = 0.0953 * std::tan(pi / 2 / 6);
  Frame cut = advanced(origin, 0.05);
  for (int joint = 0; joint < 3; ++joint)
    cut = advanced(turned(advanced(cut, half), pi / 6, 0, 0), half); // a mitre is a bend without radius
  cut = advanced(cut, 0.06);
  EXPECT_TRUE(same(end.position_m, cut.position_m));
  EXPECT_TRUE(same(end.direction, cut.direction));
}

// Identity: walking along a track in any number of steps ends where the track ends.
TEST(Along, WalksTheTrack) {
  const Track bend{0.05, 1.1, 0.09, 0.6, 0.07};
  const Frame start = frame_of({{0.1, 0.2, 0.3}, {0, 0.6, 0.8}});
  const Frame end = followed(start, bend);
  EXPECT_TRUE(same(along(start, bend, bend.length_m()).position_m, end.position_m));
  EXPECT_TRUE(same(along(start, bend, bend.length_m()).reference, end.reference));
  double walked = 0;
  Vector last = start.position_m;
  const int steps = 2000;
  for (int i = 1; i <= steps; ++i) {
    const Frame next = along(start, bend, bend.length_m() * i / steps);
    EXPECT_TRUE(is_frame(next));
    walked += distance(last, next.position_m);
    last = next.position_m;
  }
  EXPECT_TRUE(close(walked, bend.length_m(), 1e-6));
  const Track straight{.straight_in_m = 0.2};
  EXPECT_TRUE(same(along(origin, straight, 0.15).position_m, {0.15, 0, 0}));
}

TEST(Place, GivesAFrameAtTheStartAndBehindEveryTrack) {
  const build::Pose from{{0.1, 0, 0}, {1, 0, 0}};
  const auto frames = place(from, {Track{.straight_in_m = 0.2}, Track{0.1, pi / 2, 0.1, -pi / 2, 0.1}});
  ASSERT_EQ(frames.size(), 3U);
  EXPECT_TRUE(same(frames[1].position_m, {0.3, 0, 0}));
  EXPECT_TRUE(same(frames[2].position_m, {0.5, 0.2, 0}));
  EXPECT_TRUE(same(frames[2].direction, {0, 1, 0}));
  EXPECT_TRUE(place(std::nullopt, {Track{}}).empty());
}

// Closed form: 3-4-5 triangle, and a port turned by a known angle.
TEST(Meeting, MeasuresGapAndAngle) {
  const std::vector<Frame> frames{origin, advanced(origin, 1)};
  const auto met = meeting(frames, build::Pose{{1, 0.03, 0.04}, {-1, 0, 0}});
  ASSERT_TRUE(met);
  EXPECT_NEAR(met->gap_m, 0.05, 1e-15);
  EXPECT_NEAR(met->angle_rad, 0, 1e-15);
  EXPECT_NEAR(meeting(frames, build::Pose{{1, 0, 0}, {-std::cos(1e-4), std::sin(1e-4), 0}})->angle_rad, 1e-4,
              1e-12);
  EXPECT_NEAR(meeting(frames, build::Pose{{1, 0, 0}, {1, 0, 0}})->angle_rad, pi, 1e-12);
  EXPECT_FALSE(meeting(frames, std::nullopt));
  EXPECT_FALSE(meeting({}, build::Pose{}));
}

} // namespace
} // namespace bellmouth::bay
