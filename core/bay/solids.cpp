// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/solids.hpp>

#include <bellmouth/bay/clearance.hpp>

namespace bellmouth::bay {

Vector BoxSolid::nearest(const Vector& point) const {
  const Vector from_centre = minus(point, centre_);
  Vector in_box{dot(from_centre, axes_[0]), dot(from_centre, axes_[1]), dot(from_centre, axes_[2])};
  std::size_t nearest_side = 0;
  bool inside = true;
  for (std::size_t i = 0; i < 3; ++i) {
    const double beyond = std::abs(in_box[i]) - half_[i];
    inside = inside && beyond < 0;
    if (beyond > std::abs(in_box[nearest_side]) - half_[nearest_side])
      nearest_side = i;
  }
  if (inside)
    in_box[nearest_side] = std::copysign(half_[nearest_side], in_box[nearest_side]);
  Vector result = centre_;
  for (std::size_t i = 0; i < 3; ++i)
    result = plus(result, std::clamp(in_box[i], -half_[i], half_[i]), axes_[i]);
  return result;
}

Vector CylinderSolid::nearest(const Vector& point) const {
  const Vector from_middle = minus(point, middle_);
  double along = dot(from_middle, axis_);
  const Vector across = plus(from_middle, -along, axis_);
  double from_axis = length(across);
  const Vector outward = from_axis > 0 ? combined(1 / from_axis, across, 0, across) : square_to(axis_);
  const double side = from_axis - radius_, end = std::abs(along) - half_length_;
  if (side < 0 && end < 0)
    (side > end ? from_axis : along) = side > end ? radius_ : std::copysign(half_length_, along);
  along = std::clamp(along, -half_length_, half_length_);
  from_axis = std::min(from_axis, radius_);
  return plus(plus(middle_, along, axis_), from_axis, outward);
}

Vector SphereSolid::nearest(const Vector& point) const {
  const Vector away = minus(point, centre_);
  const double distance = length(away);
  return plus(centre_, radius_, distance > 0 ? combined(1 / distance, away, 0, away) : Vector{0, 0, 1});
}

double distance_m(const build::Box& box, const Vector& point_m) {
  return BoxSolid(box).distance(point_m);
}
double distance_m(const build::Cylinder& cylinder, const Vector& point_m) {
  return CylinderSolid(cylinder).distance(point_m);
}
double distance_m(const build::Sphere& sphere, const Vector& point_m) {
  return SphereSolid(sphere).distance(point_m);
}
double distance_m(const build::HalfSpace& half, const Vector& point_m) {
  return HalfSpaceSolid(half).distance(point_m);
}

} // namespace bellmouth::bay
