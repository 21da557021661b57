// SPDX-License-Identifier: GPL-3.0-or-later
// One tube run from port to port as a question by itself: what may be used, what must be stayed clear of,
// what counts as cheap; a way through as an answer; and what that answer comes to.
//
// A way is the centreline of straights and bends, whatever the pieces are joined with. How the reference that
// clocking is measured from goes along a way is bay::turned.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/mesh.hpp>

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace bellmouth::way {

using build::Vector;

/// A port that the way begins or ends at.
struct End {
  Vector position_m{};
  Vector direction{1, 0, 0}; ///< unit vector out of the port
  double outer_diameter_m = 0;
  build::Mounting mounting = build::Mounting::engine;
  double straight_m = 0; ///< least straight between it and the bend next to it
  /// Least straight between it and a silicone bend next to it, where that is more: room for a tube between.
  double straight_to_silicone_m = 0;
  bool takes_silicone = false; ///< or the straight is no longer than the bend's leg, which goes right onto it
};

enum class BendKind { mandrel, silicone };
/// A piece in stock that turns.
struct Bend {
  std::string id;
  BendKind kind = BendKind::mandrel;
  double outer_diameter_m = 0; ///< of the tube; of a silicone bend, of the tube that it takes
  double angle_rad = 0, radius_m = 0;
  double leg_m = 0; ///< straight on both sides
  double price = 0;
  double k90 = 0; ///< loss factor of a quarter turn
  int owned = 0;  ///< that many cost nothing
};
struct Tube {
  double price_per_m = 0;
  double longest_m = 0; ///< of one straight
};
/// Used once, where the ports differ in diameter.
struct Reducer {
  double length_m = 0;
  double clamp_m = 0; ///< least straight on both sides of it
  double price = 0, k = 0;
};

struct Rules {
  bool bends_may_be_cut = false;
  double least_cut_angle_rad = 0; ///< of a bend that is cut
  std::size_t least_bends = 0, most_bends = 5;
  double straight_between_bends_m = 0;
  /// Of the longest straight of a way between engine and body that has neither a silicone bend nor a reducer.
  double flexible_straight_m = 0;
  double self_gap_m = 0;
  double end_gap_m = 1e-4, end_angle_rad = 1.7453292519943296e-3; ///< allowed at the end
};

/// What one unit of each counts. Cost = price x price + loss x loss + joint x joints + per_m x length.
struct Weights {
  double price = 1, loss = 0, joint = 0, per_m = 0;
  double friction_factor = 0, k_exponent = 1; ///< of the loss, see figures()
};

/// A closed surface, or one side of things only (a scan).
struct Surface {
  std::shared_ptr<const mesh::Scan> scan;
  mesh::Placement placement{};
  bool closed =
      false; ///< it has an inside, where distances are below zero; its triangles turn left seen from outside
};
/// A ball pulled along a straight: part of another run.
struct Pipe {
  Vector from_m{}, to_m{};
  double radius_from_m = 0, radius_to_m = 0;
};
struct KeepOut {
  std::string name;
  std::variant<build::Box, build::Cylinder, build::Sphere, build::HalfSpace, Surface, Pipe> shape;
  double clearance_m = 0;
  /// So much of the way from its start and up to its end does not count: it begins or ends at this body.
  double not_from_start_m = 0, not_to_end_m = 0;
};
/// A solid that the way must pass through. A half-space: the way must go beyond the plane somewhere.
struct Waypoint {
  std::string name;
  std::variant<build::Box, build::Cylinder, build::Sphere, build::HalfSpace> shape;
};

struct Problem {
  std::string name, class_name;
  End start, end;
  Vector reference{}; ///< at right angles to start.direction: clocking of the first bend is measured from it
  std::vector<Bend> bends;
  Tube tube;
  double joint_price = 0;
  /// Of a joint where a cut bend has lost its leg: no hose holds on the arc, so it is welded. Unset: as
  /// others.
  std::optional<double> weld_price;
  std::optional<Reducer> reducer;
  Rules rules;
  Weights weights;
  std::vector<KeepOut> keep_outs;
  std::vector<Waypoint> waypoints;
  std::optional<double> apart_m; ///< how far ways must be apart not to count as the same, see same()
};

/// Of a keep-out: its name, or "keep-out 4", counted from 1.
[[nodiscard]] std::string name_of(const Problem& problem, std::size_t keep_out);

enum class Leg { in, out };
/// A bend as it is used.
struct Turn {
  std::size_t bend = 0; ///< among the problem's
  double angle_rad = 0, clocking_rad = 0;
  std::optional<Leg> lost_leg; ///< set: it is cut, and this leg went
  friend bool operator==(const Turn&, const Turn&) = default;
};
/// Where the reducer begins: on this straight, so far from the straight's start.
struct Reduction {
  std::size_t straight = 0;
  double from_m = 0;
  friend bool operator==(const Reduction&, const Reduction&) = default;
};
struct Way {
  std::vector<Turn> turns;
  std::vector<double> straights_m; ///< one more than turns; a reducer's length is part of its straight's
  std::optional<Reduction> reduction;
  friend bool operator==(const Way&, const Way&) = default;
};

/// What a way comes to.
/// - joints: a straight no longer than the legs beside it needs 1; a longer one 2 and a piece of tube. A port
///   has no leg, nor has a cut bend on the side that it lost.
/// - price: bends, reducer, joints (those at a lost leg are welds), and the tube of each straight beyond its
/// legs.
/// - loss, on the dynamic pressure at the start: with s = (start's diameter / D)^4, s k90 (angle / 90
///   degrees)^k_exponent of each bend, friction_factor s length / D along the centreline (the larger D along
///   a reducer), and k (start's diameter / smaller D)^4 of the reducer.
struct Figures {
  double length_m = 0, price = 0, loss = 0;
  int joints = 0;
  double cost = 0;
};
[[nodiscard]] Figures figures(const Problem& problem, const Way& way);
/// Outside diameter [m] of the tube in a straight before (`behind` false) and behind its reducer, if any.
[[nodiscard]] double outer_diameter_m(const Problem& problem, const Way& way, std::size_t straight,
                                      bool behind = true);

/// The legs beside a straight that its bends have kept [m]: so much of it needs no tube.
[[nodiscard]] double legs_m(const Problem& problem, const Way& way, std::size_t straight);
/// How many of a straight's joints are where a bend has lost its leg, with or without a piece of tube.
[[nodiscard]] int welds(bool lost_before, bool lost_behind, bool needs_tube);

/// Where a way and a keep-out come nearest.
struct Nearness {
  std::size_t keep_out = 0;
  double margin_m = 0; ///< distance from the tube's surface beyond the clearance
  double along_m = 0;  ///< from the way's start
  Vector on_way_m{};
};
/// How a way keeps the rules.
struct Judgement {
  double end_gap_m = 0, end_angle_rad = 0;
  std::vector<Nearness> nearest; ///< to each keep-out within 50 mm beyond its clearance, least margin first
  std::optional<double> self_room_m; ///< least margin of the way to itself; unset: it never turns back
  std::vector<std::string> faults;   ///< rules broken, in words; empty: the way is good

  [[nodiscard]] bool good() const { return faults.empty(); }
};
/// Judges by the exact distances of bay/. Allows 1e-9 m for rounding.
[[nodiscard]] Judgement judge(const Problem& problem, const Way& way);

/// Whether the straight between a port and the bend next to it is long enough for that bend. Allows 1e-9 m.
[[nodiscard]] bool is_long_enough(const End& end, const Bend& bend, double straight_m);

/// Whether two ways count as the same: the same bends in the same order, and every straight starts within
/// half the start's diameter of its counterpart. With `apart_m`: as many bends and joints, and every straight
/// starts within that of its counterpart.
[[nodiscard]] bool same(const Problem& problem, const Way& a, const Way& b);

/// The first thing wrong with a problem, its path in `place.path` ("$.stock.bends[2].clr"): see way/file.hpp.
[[nodiscard]] std::optional<Error> validate(const Problem& problem);

} // namespace bellmouth::way
