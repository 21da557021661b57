// SPDX-License-Identifier: GPL-3.0-or-later
// How far a line with a radius is from points, boxes and triangles.
#pragma once

#include "vector.hpp"

namespace bellmouth::mesh {

/// Three corners.
struct Corners {
  Vector a, b, c;
};

/// The point of a triangle that is nearest to `point` (Ericson, Real-Time Collision Detection, 2005, 5.1.5;
/// triangles that are hardly more than a line go by their sides).
[[nodiscard]] Vector nearest_on(const Corners& triangle, const Vector& point);

/// Whether the triangle surely is no nearer to `point` than the root of `squared_limit`: quick, and seldom
/// wrong in saying no. The plane across the way to one corner bounds the distance of the others.
[[nodiscard]] bool is_further(const Corners& triangle, const Vector& point, double squared_limit);

/// A straight line p(t), 0 <= t <= 1, with a radius r(t) that goes evenly from one end to the other: a ball
/// pulled along it. The distance from x is the least |x - p(t)| - r(t), a convex function of x.
class Line {
public:
  Line(const Vector& from, const Vector& to, double radius_from, double radius_to);

  /// Where on the line the nearest place to `point` is.
  [[nodiscard]] double nearest_to(const Vector& point) const;
  [[nodiscard]] Vector at(double t) const { return from_ + t * along_; }
  [[nodiscard]] double radius(double t) const { return radius_ + t * growth_; }
  /// The least and the greatest radius.
  [[nodiscard]] double thickest() const { return growth_ > 0 ? radius_ + growth_ : radius_; }

  /// No point of the box is nearer than this. The tangent plane of the (convex) distance at the point of the
  /// box that is about the nearest bounds it from below all over the box.
  [[nodiscard]] double bound(const Vector& low, const Vector& high) const;

  /// The nearest pair of places so far.
  struct Pair {
    double distance, along;
    Vector on_line, on_surface;
  };
  /// Puts the nearest pair of line and triangle into `pair` if it is nearer than what is there; whether so.
  /// Exact: the minimum lies at an end of the line over the face, where the line pierces the face, or at a
  /// side of the triangle, and each of these has a closed form.
  bool approach(const Corners& triangle, Pair& pair) const;

  /// Distances that differ by less are one and the same: rounding.
  [[nodiscard]] double rounding() const { return 1e-12 * size_; }

private:
  Vector from_, along_;
  double radius_, growth_;
  double squared_length_, per_squared_length_;
  bool blunt_ = false; ///< the radius grows faster than the line: the thicker end's ball holds the rest
  double size_;        ///< of the numbers at work, for their rounding

  /// A way that is no longer has a direction by rounding only.
  [[nodiscard]] double rounded_direction() const { return 1e-5 * size_; }
  bool consider(double t, const Vector& on_surface, Pair& pair) const;
  bool approach_side(const Vector& corner, const Vector& side, Pair& pair) const;
  /// Where the distance to something that the line passes at t = `foot`, `aside` away, is least; `squared` is
  /// the part of its squared length that counts. Not limited to the line.
  [[nodiscard]] double ahead(double foot, double aside, double squared) const;
};

} // namespace bellmouth::mesh
