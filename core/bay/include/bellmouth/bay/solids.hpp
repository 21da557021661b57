// SPDX-License-Identifier: GPL-3.0-or-later
// The convex solids that ducting stays clear of, made ready to be asked often: signed distance of a point,
// below zero inside, and the surface's point nearest to it. Signed distances to convex bodies are convex
// functions of the point and change by no more than the way gone.
#pragma once

#include <bellmouth/bay/vectors.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace bellmouth::bay {

class BoxSolid {
public:
  explicit BoxSolid(const build::Box& box)
      : centre_(box.centre_m),
        half_(box.half_size_m), axes_{unit(box.axes[0]), unit(box.axes[1]), unit(box.axes[2])} {}

  [[nodiscard]] double distance(const Vector& point) const {
    const Vector from_centre = minus(point, centre_);
    double outside = 0, deepest = -1e300;
    for (std::size_t i = 0; i < 3; ++i) {
      const double beyond = std::abs(dot(from_centre, axes_[i])) - half_[i];
      deepest = std::max(deepest, beyond);
      const double out = std::max(beyond, 0.0);
      outside += out * out;
    }
    return deepest > 0 ? std::sqrt(outside) : deepest;
  }
  [[nodiscard]] Vector nearest(const Vector& point) const;

private:
  Vector centre_, half_;
  std::array<Vector, 3> axes_;
};

/// With flat ends.
class CylinderSolid {
public:
  explicit CylinderSolid(const build::Cylinder& cylinder)
      : middle_(combined(0.5, cylinder.from_m, 0.5, cylinder.to_m)),
        axis_(unit(minus(cylinder.to_m, cylinder.from_m))),
        half_length_(0.5 * length(minus(cylinder.to_m, cylinder.from_m))), radius_(cylinder.radius_m) {}

  [[nodiscard]] double distance(const Vector& point) const {
    const Vector from_middle = minus(point, middle_);
    const double along = dot(from_middle, axis_);
    const double side = length(plus(from_middle, -along, axis_)) - radius_,
                 end = std::abs(along) - half_length_;
    if (side > 0 && end > 0)
      return std::sqrt(side * side + end * end);
    return std::max(side, end);
  }
  [[nodiscard]] Vector nearest(const Vector& point) const;

private:
  Vector middle_, axis_;
  double half_length_, radius_;
};

class SphereSolid {
public:
  explicit SphereSolid(const build::Sphere& sphere) : centre_(sphere.centre_m), radius_(sphere.radius_m) {}

  [[nodiscard]] double distance(const Vector& point) const { return length(minus(point, centre_)) - radius_; }
  [[nodiscard]] Vector nearest(const Vector& point) const;

private:
  Vector centre_;
  double radius_;
};

class HalfSpaceSolid {
public:
  explicit HalfSpaceSolid(const build::HalfSpace& half)
      : normal_(unit(half.normal)), offset_(dot(half.point_m, normal_)) {}

  [[nodiscard]] double distance(const Vector& point) const { return offset_ - dot(point, normal_); }
  [[nodiscard]] Vector nearest(const Vector& point) const { return plus(point, distance(point), normal_); }

private:
  Vector normal_;
  double offset_;
};

/// A ball pulled along a line while its radius goes evenly from one end to the other.
class PulledBall {
public:
  PulledBall(const Vector& from, const Vector& direction, double length_m, double radius_from_m,
             double radius_to_m)
      : from_(from), direction_(direction), length_(length_m), radius_(radius_from_m),
        growth_(length_m > 0 ? (radius_to_m - radius_from_m) / length_m : 0) {
    // The nearest place is not at the foot but where the widening hull's normal leaves from.
    if (std::abs(growth_) < 1)
      lean_ = growth_ / std::sqrt(1 - growth_ * growth_);
  }

  /// How far along the line the ball is that comes nearest to a point.
  [[nodiscard]] double along(const Vector& point) const {
    const Vector away = minus(point, from_);
    const double foot = dot(away, direction_);
    if (std::abs(growth_) >= 1) // the larger end holds all the others
      return growth_ > 0 ? length_ : 0;
    double at = foot;
    if (lean_ != 0)
      at += lean_ * length(plus(away, -foot, direction_));
    return std::clamp(at, 0.0, length_);
  }
  [[nodiscard]] double distance(const Vector& point) const {
    const double at = along(point);
    return length(minus(point, plus(from_, at, direction_))) - radius_ - growth_ * at;
  }

private:
  Vector from_, direction_;
  double length_, radius_, growth_, lean_ = 0;
};

} // namespace bellmouth::bay
