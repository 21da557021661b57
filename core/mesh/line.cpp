// SPDX-License-Identifier: GPL-3.0-or-later
#include "line.hpp"

#include <algorithm>

namespace bellmouth::mesh {

namespace {

double ratio(double part, double whole) {
  return whole > 0 ? std::clamp(part / whole, 0.0, 1.0) : 0;
}

Vector nearest_on_side(const Vector& from, const Vector& to, const Vector& point) {
  const Vector side = to - from;
  return from + ratio(dot(point - from, side), squared(side)) * side;
}

/// A triangle whose height is less than this share of its length is no more than its sides.
constexpr double sliver = 1e-8;
bool is_sliver(double squared_normal, const Vector& side, const Vector& other_side) {
  const double longest = std::max({squared(side), squared(other_side), squared(other_side - side)});
  return squared_normal <= sliver * sliver * longest * longest;
}

} // namespace

bool is_further(const Corners& triangle, const Vector& point, double squared_limit) {
  const Vector slope = triangle.a - point;
  const double falls =
      std::min({0.0, dot(slope, triangle.b - triangle.a), dot(slope, triangle.c - triangle.a)});
  const double apart = squared(slope), least = apart + falls;
  return least > 0 && least * least >= squared_limit * apart;
}

Vector nearest_on(const Corners& triangle, const Vector& point) {
  const auto& [a, b, c] = triangle;
  const Vector ab = b - a, ac = c - a, ap = point - a, bp = point - b, cp = point - c;
  const double d1 = dot(ab, ap), d2 = dot(ac, ap);
  if (d1 <= 0 && d2 <= 0)
    return a;
  const double d3 = dot(ab, bp), d4 = dot(ac, bp);
  if (d3 >= 0 && d4 <= d3)
    return b;
  const double d5 = dot(ab, cp), d6 = dot(ac, cp);
  if (d6 >= 0 && d5 <= d6)
    return c;
  const double by_c = d1 * d4 - d3 * d2, by_b = d5 * d2 - d1 * d6, by_a = d3 * d6 - d5 * d4;
  const double whole = by_a + by_b + by_c; // the squared length of the normal
  if (is_sliver(whole, ab, ac)) {
    Vector best = nearest_on_side(a, b, point);
    for (const Vector& other : {nearest_on_side(b, c, point), nearest_on_side(c, a, point)})
      if (squared(other - point) < squared(best - point))
        best = other;
    return best;
  }
  if (by_c <= 0 && d1 >= 0 && d3 <= 0)
    return a + ratio(d1, d1 - d3) * ab;
  if (by_b <= 0 && d2 >= 0 && d6 <= 0)
    return a + ratio(d2, d2 - d6) * ac;
  if (by_a <= 0 && d4 >= d3 && d5 >= d6)
    return b + ratio(d4 - d3, (d4 - d3) + (d5 - d6)) * (c - b);
  return a + (by_b / whole) * ab + (by_c / whole) * ac;
}

Line::Line(const Vector& from, const Vector& to, double radius_from, double radius_to)
    : from_(from), along_(to - from), radius_(radius_from), growth_(radius_to - radius_from),
      squared_length_(squared(along_)), per_squared_length_(squared_length_ > 0 ? 1 / squared_length_ : 0) {
  blunt_ = growth_ != 0 && growth_ * growth_ >= squared_length_;
  size_ = std::abs(from.x) + std::abs(from.y) + std::abs(from.z) + std::sqrt(squared_length_) +
          std::max(std::abs(radius_from), std::abs(radius_to));
}

double Line::ahead(double foot, double aside, double squared) const {
  // d/dt of sqrt(squared (t - foot)^2 + aside^2) - growth t is nought
  return foot + growth_ * aside / std::sqrt(squared * (squared - growth_ * growth_));
}

double Line::nearest_to(const Vector& point) const {
  if (blunt_)
    return growth_ > 0 ? 1 : 0;
  const Vector to = point - from_;
  double t = dot(to, along_) * per_squared_length_;
  if (growth_ != 0)
    t = ahead(t, length(to - t * along_), squared_length_);
  return std::clamp(t, 0.0, 1.0);
}

double Line::bound(const Vector& low, const Vector& high) const {
  const Vector near_middle = at(nearest_to(0.5 * (low + high)));
  const Vector in_box{std::clamp(near_middle.x, low.x, high.x), std::clamp(near_middle.y, low.y, high.y),
                      std::clamp(near_middle.z, low.z, high.z)};
  const double t = nearest_to(in_box);
  const Vector slope = in_box - at(t);
  const double distance = length(slope);
  if (!(distance > rounded_direction()))
    return -thickest();
  const auto least = [](double s, double from, double to) { return s > 0 ? s * from : s * to; };
  const double falls = least(slope.x, low.x - in_box.x, high.x - in_box.x) +
                       least(slope.y, low.y - in_box.y, high.y - in_box.y) +
                       least(slope.z, low.z - in_box.z, high.z - in_box.z);
  return distance - radius(t) + falls / distance;
}

bool Line::consider(double t, const Vector& on_surface, Pair& pair) const {
  const Vector on_line = at(t);
  const double reach = pair.distance + radius(t), apart = squared(on_surface - on_line);
  if (!(reach > 0 && apart < reach * reach))
    return false;
  pair = {std::sqrt(apart) - radius(t), t, on_line, on_surface};
  return true;
}

bool Line::approach_side(const Vector& corner, const Vector& side, Pair& pair) const {
  bool nearer = consider(nearest_to(corner), corner, pair);
  const double whole = squared(side);
  if (!(whole > 0))
    return nearer;
  const double per_whole = 1 / whole;
  const Vector to = from_ - corner;
  const double start = dot(to, side) * per_whole, gain = dot(along_, side) * per_whole;
  const auto across_from = [&](double t) { return corner + std::clamp(start + t * gain, 0.0, 1.0) * side; };
  nearer |= consider(0, across_from(0), pair);
  nearer |= consider(1, across_from(1), pair);
  // Seen along the side, which then is a point.
  const Vector along = along_ - gain * side, aside = to - start * side;
  const double squared_along = squared(along);
  if (squared_along <= growth_ * growth_ || squared_along <= 1e-20 * squared_length_)
    return nearer;
  double t = -dot(aside, along) / squared_along;
  if (growth_ != 0)
    t = ahead(t, length(aside + t * along), squared_along);
  if (t > 0 && t < 1)
    nearer |= consider(t, across_from(t), pair);
  return nearer;
}

bool Line::approach(const Corners& triangle, Pair& pair) const {
  const auto& [a, b, c] = triangle;
  const Vector ab = b - a, ac = c - a;
  // The tangent plane of the distance at one corner: most triangles go no further.
  const double t_of_a = nearest_to(a);
  const Vector slope = a - at(t_of_a);
  const double apart = length(slope), falls = std::min({0.0, dot(slope, ab), dot(slope, ac)});
  if (apart > rounded_direction() && apart - radius(t_of_a) + falls / apart >= pair.distance - rounding())
    return false;
  const Vector normal = cross(ab, ac);
  const double squared_normal = squared(normal);
  bool nearer = false;
  if (!is_sliver(squared_normal, ab, ac)) {
    const Vector to = from_ - a;
    const double per_normal = 1 / squared_normal;
    // Heights over the plane, in units of the normal's length.
    const double start = dot(to, normal) * per_normal, gain = dot(along_, normal) * per_normal;
    const double end = start + gain;
    const auto inside = [&](const Vector& from_a) {
      const double v = dot(cross(from_a, ac), normal), w = dot(cross(ab, from_a), normal);
      return v >= 0 && w >= 0 && v + w <= squared_normal;
    };
    if ((start < 0) == (end < 0)) {
      const double unit = std::sqrt(squared_normal);
      const double reaches = std::min(std::abs(start) * unit - radius_, std::abs(end) * unit - radius(1));
      if (reaches >= pair.distance - rounding())
        return false;
    } else if (const double t = start / (start - end); inside(to + t * along_)) {
      nearer |= consider(t, at(t), pair);
    }
    if (inside(to))
      nearer |= consider(0, from_ - start * normal, pair);
    if (inside(to + along_))
      nearer |= consider(1, at(1) - end * normal, pair);
  }
  nearer |= approach_side(a, ab, pair);
  nearer |= approach_side(b, c - b, pair);
  nearer |= approach_side(c, a - c, pair);
  return nearer;
}

} // namespace bellmouth::mesh
