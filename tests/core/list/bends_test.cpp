// SPDX-License-Identifier: GPL-3.0-or-later
// Mandrel bends, segmented bends, clocking marks.
#include "core/list/small_work.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/vectors.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::list {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::mm;
using test::WorkOf;

constexpr Material aluminium = Material::aluminium;

/// One run between two ports of 63.5 mm.
Build build_with(std::vector<Piece> pieces) {
  Build b;
  b.demand = FixedFlow{0.1, 101325.0, 293.15};
  b.ports = {test::sample_port("a", {}, Mounting::body, 60.2, 63.5, 40, Vector{0, 0, 0}, {1, 0, 0}),
             test::sample_port("b", {}, Mounting::engine, 60.2, 63.5, 30)};
  b.path = {RunId{"run"}};
  b.budget = {test::euro(), std::nullopt};
  b.options = {{{"only"}, "", {Run{{"run"}, {"a"}, {"b"}, std::move(pieces)}}}};
  return b;
}
Piece bend(double angle_deg, double leg_in_mm, double leg_out_mm, double clocking_deg = 0,
           double radius_mm = 95.3) {
  return {TubeBend{mm(63.5),
                   mm(1.65),
                   deg(angle_deg),
                   mm(radius_mm),
                   mm(leg_in_mm),
                   mm(leg_out_mm),
                   deg(clocking_deg),
                   {}},
          aluminium,
          {"bend"},
          ""};
}
Piece mitred(double radius_mm, double angle_deg, int joints, double leg_mm = 0) {
  return {
      MitredBend{mm(63.5), mm(1.65), deg(angle_deg), mm(radius_mm), joints, mm(leg_mm), mm(leg_mm), 0, {}},
      aluminium,
      {},
      ""};
}
/// A bend in stock: 63.5 mm, radius 95.3 mm.
StockItem stock_bend(double angle_deg, double leg_in_mm, double leg_out_mm) {
  StockItem item;
  item.id = {"bend"};
  item.kind = StockKind::tube_bend;
  item.outer_diameter_m = mm(63.5);
  item.wall_m = mm(1.65);
  item.radius_m = mm(95.3);
  item.angle_rad = deg(angle_deg);
  item.leg_in_m = mm(leg_in_mm);
  item.leg_out_m = mm(leg_out_mm);
  item.price = test::euros(20, 0);
  return item;
}

// Values worked for 63.5 mm tube at a radius of 95.3 mm (derived from setback = R tan(angle / 2) and arc = R
// x angle, which tube benders' notes give): to the printed tenth.
TEST(Bends, SetbackAndArcAsWorked) {
  struct Worked {
    double angle_deg, setback_mm, arc_mm;
  };
  for (const Worked& worked : {Worked{90, 95.3, 149.6}, Worked{45, 39.5, 74.8}}) {
    const BendLine line = WorkOf(build_with({bend(worked.angle_deg, 50, 50)})).lists().bends.at(0);
    EXPECT_TRUE(close(line.setback_m, mm(worked.setback_mm), 0, mm(0.1))) << worked.angle_deg;
    EXPECT_TRUE(close(line.arc.centreline_m, mm(worked.arc_mm), 0, mm(0.15))) << worked.angle_deg;
  }
}

// Identities: the middle line is the mean of the two others; they lie an outside diameter x angle apart.
TEST(Bends, ThreeLinesOfAnArc) {
  for (const double angle_deg : {15.0, 30.0, 77.0, 90.0, 180.0}) {
    const OnArc arc = WorkOf(build_with({bend(angle_deg, 50, 50)})).lists().bends.at(0).arc;
    EXPECT_TRUE(close((arc.inside_m + arc.outside_m) / 2, arc.centreline_m, 1e-12));
    EXPECT_TRUE(close(arc.outside_m - arc.inside_m, mm(63.5) * deg(angle_deg), 1e-12));
  }
}

BendLine cut_from(const StockItem& item, const Piece& piece) {
  Build b = build_with({piece});
  b.stock = std::vector{item};
  return WorkOf(b).lists().bends.at(0);
}

TEST(Bends, LegsAreCutAtTheirDistanceFromTheArc) {
  const BendLine line = cut_from(stock_bend(90, 100, 100), bend(90, 60, 100));
  EXPECT_EQ(line.stock, StockId{"bend"});
  ASSERT_TRUE(line.cut_in);
  EXPECT_FALSE(line.cut_in->in_arc);
  EXPECT_TRUE(close(line.cut_in->from_arc_m, mm(60), 1e-12));
  EXPECT_FALSE(line.cut_out); // as bought
  EXPECT_FALSE(line.turned);
}

TEST(Bends, ABendThatIsTurnedTakesTheOtherLeg) {
  const BendLine line = cut_from(stock_bend(90, 60, 120), bend(90, 120, 50));
  EXPECT_TRUE(line.turned);
  EXPECT_FALSE(line.cut_in);
  ASSERT_TRUE(line.cut_out);
  EXPECT_TRUE(close(line.cut_out->from_arc_m, mm(50), 1e-12));
}

// A 60-degree bend out of one of 90 degrees: at two thirds of its arc. Inside 63.55, middle 95.3, outside
// 127.05 mm of radius, times pi / 3 (closed form, by hand).
TEST(Bends, CutDownTheSawGoesThroughTheArc) {
  const BendLine line = cut_from(stock_bend(90, 100, 100), bend(60, 80, 0));
  ASSERT_TRUE(line.cut_in);
  EXPECT_TRUE(close(line.cut_in->from_arc_m, mm(80), 1e-12));
  ASSERT_TRUE(line.cut_out);
  EXPECT_TRUE(line.cut_out->in_arc);
  EXPECT_TRUE(close(line.cut_out->place.inside_m, mm(66.5494), 1e-6));
  EXPECT_TRUE(close(line.cut_out->place.centreline_m, mm(99.7979), 1e-6));
  EXPECT_TRUE(close(line.cut_out->place.outside_m, mm(133.0464), 1e-6));
  const BendLine other = cut_from(stock_bend(90, 100, 100), bend(60, 0, 100));
  EXPECT_TRUE(other.cut_in && other.cut_in->in_arc);
  EXPECT_FALSE(other.cut_out);
}

TEST(Bends, WhatNothingInStockServesHasNoSawCuts) {
  const BendLine line = cut_from(stock_bend(45, 100, 100), bend(60, 80, 0));
  EXPECT_EQ(line.stock, std::nullopt);
  EXPECT_FALSE(line.cut_in || line.cut_out);
}

// Values worked for 63.5 mm tube (derived from sides = 2 (R +- OD/2) tan(angle / 2n)): to the printed tenth.
TEST(Wedges, AsWorked) {
  struct Worked {
    double radius_mm;
    int joints;
    double cut_deg, long_mm, short_mm, centre_mm;
  };
  for (const Worked& worked : {Worked{95.3, 5, 9, 40.2, 20.1, 30.2}, Worked{63.5, 6, 7.5, 25.1, 8.4, 16.7}}) {
    const WedgeLine line =
        WorkOf(build_with({mitred(worked.radius_mm, 90, worked.joints)})).lists().wedges.at(0);
    EXPECT_TRUE(close(line.saw_angle_rad, deg(worked.cut_deg), 1e-12));
    EXPECT_TRUE(close(line.wedge.long_m, mm(worked.long_mm), 0, mm(0.051)));
    EXPECT_TRUE(close(line.wedge.short_m, mm(worked.short_mm), 0, mm(0.051)));
    EXPECT_TRUE(close(line.wedge.centre_m, mm(worked.centre_mm), 0, mm(0.051)));
    EXPECT_EQ(line.pieces(), worked.joints + 1);
    EXPECT_EQ(line.full_wedges(), worked.joints - 1);
    // Below 10 mm a short side is hard to weld (common practice, no source found).
    EXPECT_EQ(line.too_short, worked.short_mm < 10);
  }
}

/// Where a straight from `from` along `way` meets the line through the origin at an angle from y: the length
/// along the way.
double meets(double from_x, double from_y, double way_x, double way_y, double angle_rad) {
  // Points of that line are t (sin a, cos a); it is square to (cos a, -sin a).
  const double c = std::cos(angle_rad), s = std::sin(angle_rad);
  return -(from_x * c - from_y * s) / (way_x * c - way_y * s);
}

// Other method: the cut planes all go through the middle of the bend. Each generator of the straight tube of
// a wedge is cut by the two planes next to it; the unrolled wedge is as long there as they lie apart.
TEST(Wedges, PlanesThroughTheMiddleCutTheTubeAlike) {
  for (const double radius_mm : {63.5, 95.3, 152.0})
    for (const int joints : {2, 3, 5, 8}) {
      const double angle_deg = 75;
      const WedgeLine line =
          WorkOf(build_with({mitred(radius_mm, angle_deg, joints, 40)})).lists().wedges.at(0);
      const double half_rad = deg(angle_deg) / (2 * joints), r = mm(63.5) / 2;
      double longest = 0, shortest = std::numeric_limits<double>::infinity();
      constexpr int around = 720;
      for (int i = 0; i < around; ++i) {
        const double y = mm(radius_mm) + r * std::cos(2 * std::numbers::pi * i / around);
        const double length = meets(0, y, 1, 0, half_rad) - meets(0, y, 1, 0, -half_rad);
        longest = std::max(longest, length);
        shortest = std::min(shortest, length);
      }
      EXPECT_TRUE(close(line.wedge.long_m, longest, 1e-12));
      EXPECT_TRUE(close(line.wedge.short_m, shortest, 1e-12));
      EXPECT_TRUE(close(line.end_in.long_m, mm(40) + longest / 2, 1e-12));
      EXPECT_TRUE(close(line.end_out.short_m, mm(40) + shortest / 2, 1e-12));
    }
}

// Identity: wedges and ends add up to the length of the piece, and with the kerfs to the tube they are sawn
// from. A kerf at an angle takes kerf / cos(angle) out of the tube.
TEST(Wedges, AddUpToTheTube) {
  for (const int joints : {1, 2, 5}) {
    const Piece piece = mitred(95.3, 90, joints, 55);
    const WedgeLine line = WorkOf(build_with({piece})).lists().wedges.at(0);
    const double sum_m =
        line.end_in.centre_m + line.full_wedges() * line.wedge.centre_m + line.end_out.centre_m;
    EXPECT_TRUE(close(sum_m, full_length_m(piece.shape), 1e-12));
    EXPECT_TRUE(close(line.material_m, sum_m + joints * line.kerf_m / std::cos(line.saw_angle_rad), 1e-12));
    EXPECT_EQ(line.kerf_m, trade::defaults().kerf_m);
  }
}

TEST(Wedges, WhatIsBoughtWeldedIsNotSawn) {
  StockItem item = stock_bend(90, 55, 55);
  item.kind = StockKind::mitred_bend;
  Piece piece = mitred(95.3, 90, 5, 55);
  piece.stock = item.id;
  Build b = build_with({piece});
  EXPECT_FALSE(WorkOf(b).lists().wedges.at(0).bought);
  EXPECT_EQ(std::ranges::count(WorkOf(b).lists().welds, WeldLine::Kind::mitre, &WeldLine::kind), 1);
  b.stock = std::vector{item};
  EXPECT_TRUE(WorkOf(b).lists().wedges.at(0).bought);
  EXPECT_EQ(std::ranges::count(WorkOf(b).lists().welds, WeldLine::Kind::mitre, &WeldLine::kind), 0);
}

/// Towards the middle of the arc that a frame follows `at` along a track, from points of the centreline
/// alone.
bay::Vector inward(const bay::Frame& start, const bay::Track& track, double at) {
  const double step = track.radius_m * 1e-3;
  const auto point = [&](double distance) { return bay::along(start, track, distance).position_m; };
  const bay::Vector ahead = bay::minus(point(at + step), point(at)),
                    back = bay::minus(point(at - step), point(at));
  return bay::unit(bay::plus(ahead, 1, back));
}

// Other method: the angle between the planes of two bends, from points of the placed centreline, as seen
// looking downstream; round the tube it is that part of pi x OD.
TEST(Marks, AreTheAnglesBetweenTheBendsInSpace) {
  for (const double clocking_deg : {0.0, 35.0, 90.0, 135.0, -20.0, -170.0, 180.0, 215.0, -350.0}) {
    const Build b = build_with({bend(60, 50, 50, 20),
                                {Tube{mm(63.5), mm(1.65), mm(120), {}}, aluminium, {}, ""},
                                bend(90, 40, 60, clocking_deg)});
    const WorkOf work(b);
    const std::vector<bay::Track> tracks = joint::tracks(*work.runs()[0], work.fits()[0]);
    const std::vector<bay::Frame> frames = bay::place(b.ports[0].pose, tracks);
    const double arc_m = tracks[0].radius_m * tracks[0].angle_rad;
    const bay::Vector first = inward(frames[0], tracks[0], tracks[0].straight_in_m + 0.5 * arc_m);
    // Carried to the end of its arc: square to the way out, in the bend's plane.
    const bay::Vector u = frames[1].direction;
    const bay::Vector from = bay::unit(bay::plus(first, -bay::dot(first, u), u));
    const bay::Vector second = inward(
        frames[2], tracks[2], tracks[2].straight_in_m + 0.5 * tracks[2].radius_m * tracks[2].angle_rad);
    const bay::Vector v = frames[2].direction;
    const bay::Vector to = bay::unit(bay::plus(second, -bay::dot(second, v), v));
    const double wanted_rad = std::atan2(bay::dot(v, bay::cross(from, to)), bay::dot(from, to));
    const MarkLine line = work.lists().marks.at(1);
    EXPECT_TRUE(close(std::remainder(line.clocking_rad - wanted_rad, 2 * std::numbers::pi), 0, 0, 1e-6))
        << clocking_deg;
    EXPECT_GT(line.clocking_rad, -std::numbers::pi);
    EXPECT_LE(line.clocking_rad, std::numbers::pi);
    EXPECT_TRUE(
        close(line.round_m, line.clocking_rad / (2 * std::numbers::pi) * std::numbers::pi * mm(63.5), 1e-12));
    EXPECT_EQ(line.reference.kind, Reference::Kind::bend);
    EXPECT_EQ(line.reference.bend->row, 0u);
    EXPECT_EQ(line.before->row, 1u);
  }
}

// The first bend counts from the port's reference: up, or forward for a port that points up or down.
TEST(Marks, TheFirstCountsFromThePort) {
  Build b = build_with({bend(60, 50, 50, 20)});
  struct Case {
    std::optional<Vector> direction;
    Reference::Kind kind;
  };
  const double tilted = deg(7);
  for (const Case& c :
       {Case{Vector{1, 0, 0}, Reference::Kind::port_up}, Case{Vector{0.6, 0, 0.8}, Reference::Kind::port_up},
        Case{Vector{0, -1, 0}, Reference::Kind::port_up},
        Case{Vector{0, 0, -1}, Reference::Kind::port_forward},
        Case{Vector{std::sin(tilted), 0, std::cos(tilted)}, Reference::Kind::port_forward},
        Case{Vector{0, std::sin(tilted), -std::cos(tilted)}, Reference::Kind::port_forward},
        Case{std::nullopt, Reference::Kind::port_unknown}}) {
    b.ports[0].pose = c.direction ? std::optional(Pose{{}, *c.direction}) : std::nullopt;
    const MarkLine line = WorkOf(b).lists().marks.at(0);
    EXPECT_EQ(line.reference.kind, c.kind);
    EXPECT_EQ(line.before, std::nullopt);
    EXPECT_TRUE(close(line.clocking_rad, deg(20), 1e-12));
  }
}

// A hose over the tube before it: the same angle is more millimetres on the thicker one (closed form).
TEST(Marks, AreMeasuredOnBothEnds) {
  const Piece elbow{
      HoseElbow{
          mm(63.5), mm(63.5), mm(4.5), deg(45), mm(75), mm(60), mm(60), deg(-90), false, {mm(32), mm(32)}},
      Material::silicone,
      {},
      ""};
  const MarkLine line = WorkOf(build_with({elbow})).lists().marks.at(0);
  EXPECT_TRUE(close(line.round_before_m, mm(-63.5 * std::numbers::pi / 4), 1e-12));
  EXPECT_TRUE(close(line.round_m, mm(-72.5 * std::numbers::pi / 4), 1e-12));
}

// Bosses count from the bend before them; in and behind the arc of their own host, from that.
TEST(Fittings, CountFromTheBendTheySitOn) {
  const auto boss = [](double position_mm) {
    return Piece{SensorBoss{mm(position_mm), 0, "M10x1.0"}, aluminium, {}, ""};
  };
  const Build b = build_with({{Tube{mm(63.5), mm(1.65), mm(120), {}}, aluminium, {}, ""},
                              boss(60),
                              bend(90, 50, 50),
                              boss(30),
                              boss(100),
                              boss(220),
                              bend(45, 60, 60),
                              boss(20)});
  const std::vector<FittingLine> lines = WorkOf(b).lists().fittings;
  ASSERT_EQ(lines.size(), 5u);
  EXPECT_EQ(lines[0].reference.kind, Reference::Kind::port_up);
  EXPECT_EQ(lines[1].reference.kind, Reference::Kind::port_up); // in the leg before the arc
  for (const std::size_t i : {2u, 3u, 4u}) {
    ASSERT_EQ(lines[i].reference.kind, Reference::Kind::bend) << i;
    EXPECT_EQ(lines[i].reference.bend->row, 2u) << i;
  }
}

} // namespace
} // namespace bellmouth::list
