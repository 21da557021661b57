// SPDX-License-Identifier: GPL-3.0-or-later
// A round wall pulled along a centreline.
#pragma once

#include "scene/solid.hpp"

#include <functional>
#include <vector>

namespace bellmouth::ui::scene {

/// A cut through a centreline: points of a ring lie at centre + r (cos a e1 + sin a e2), their normals along
/// cos a n1 + sin a n2. At a mitre the ring lies in the cut, so e1 is longer than 1.
struct Section {
  Vector centre_m{}, e1{}, e2{}, n1{}, n2{}, direction{};
};

/// Straights, arcs and mitres from the origin along x; rings begin at z, or at the inside of the first bend.
class Centreline {
public:
  [[nodiscard]] static Centreline straight(double length_m);
  [[nodiscard]] static Centreline bend(double leg_in_m, double angle_rad, double radius_m,
                                       double clocking_rad, double leg_out_m);
  /// Straight cuts that touch the arc.
  [[nodiscard]] static Centreline mitred(double leg_in_m, double angle_rad, double radius_m, int joints,
                                         double clocking_rad, double leg_out_m);

  [[nodiscard]] double length_m() const { return ends_m_.back(); }
  /// Places where a wall needs a ring, in order: ends, steps of an arc, mitres.
  [[nodiscard]] const std::vector<double>& stops_m() const { return ends_m_; }
  [[nodiscard]] bool mitre_at(double s_m) const;
  /// The section at a distance from the start. At a mitre, `behind` says whose normals: those of the straight
  /// before it or behind it.
  [[nodiscard]] Section at(double s_m, bool behind) const;

private:
  std::vector<double> ends_m_;     ///< stops
  std::vector<double> mitres_m_;   ///< where mitres are
  double cut_rad_ = 0;             ///< of each mitre: half of what it turns
  std::vector<bay::Frame> pieces_; ///< mitred: the start of each straight; else the start
  bay::Track track_;               ///< not mitred
};

/// A radius by the distance along a centreline.
using Radius = std::function<double(double s_m)>;

/// A hollow wall between an outer and an inner radius, closed at its ends. `rings_m`: further places where
/// the radii need a ring. `lines_m`: where a line is drawn round the outside besides rims and mitres. Rings
/// lie at all of them.
[[nodiscard]] TriangleMesh hollow(const Centreline& centreline, const Radius& outer_m, const Radius& inner_m,
                                  const std::vector<double>& rings_m = {},
                                  const std::vector<double>& lines_m = {});

/// A corner of a turned outline: the distance along the axis, and the radius.
struct Corner {
  double s_m, r_m;
};
/// The outline turned about the x axis; it runs clockwise with x to the right and the radius up, and is
/// closed from the last corner to the first. Flat between corners, an edge at each.
[[nodiscard]] TriangleMesh turned(const std::vector<Corner>& outline, int sides = ring_sides);
/// A box from corner to corner.
[[nodiscard]] TriangleMesh box(const Vector& low_m, const Vector& high_m);

} // namespace bellmouth::ui::scene
