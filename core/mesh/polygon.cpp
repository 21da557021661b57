// SPDX-License-Identifier: GPL-3.0-or-later
#include "polygon.hpp"

#include "vector.hpp"

#include <algorithm>
#include <cassert>
#include <numeric>

namespace bellmouth::mesh {

namespace {

/// A corner as seen against the polygon's area vector.
struct Flat {
  double x, y;
};

/// Twice the area of a triangle, above zero when it turns left.
double turn(const Flat& a, const Flat& b, const Flat& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/// The outline in the plane across its area vector (Newell), seen so that it turns left on the whole.
std::vector<Flat> flattened(std::span<const Point> outline) {
  const Vector origin(outline.front());
  Vector area;
  for (std::size_t i = 1; i + 1 < outline.size(); ++i)
    area = area + cross(Vector(outline[i]) - origin, Vector(outline[i + 1]) - origin);
  const Vector least = std::abs(area.x) <= std::abs(area.y) && std::abs(area.x) <= std::abs(area.z)
                           ? Vector{1, 0, 0}
                       : std::abs(area.y) <= std::abs(area.z) ? Vector{0, 1, 0}
                                                              : Vector{0, 0, 1};
  const double size = length(area);
  const Vector normal = size > 0 ? (1 / size) * area : Vector{0, 0, 1};
  Vector right = cross(least, normal);
  right = (1 / std::max(length(right), 1e-9)) * right;
  const Vector up = cross(normal, right);
  std::vector<Flat> result;
  result.reserve(outline.size());
  for (const Point& point : outline) {
    const Vector to = Vector(point) - origin;
    result.push_back({dot(to, right), dot(to, up)});
  }
  return result;
}

/// All corners turn left (or go straight on, unless strictly), and the outline goes round once: seen from its
/// first corner the others come in order.
bool turns_one_way(const std::vector<Flat>& flat, bool strictly) {
  const std::size_t count = flat.size();
  const auto turns = [&](std::size_t a, std::size_t b, std::size_t c) {
    const double found = turn(flat[a % count], flat[b % count], flat[c % count]);
    return strictly ? found > 0 : found >= 0;
  };
  for (std::size_t i = 0; i < count; ++i)
    if (!turns(i, i + 1, i + 2))
      return false;
  for (std::size_t i = 1; i + 1 < count; ++i)
    if (!turns(0, i, i + 1))
      return false;
  return true;
}

bool holds(const Flat& a, const Flat& b, const Flat& c, const Flat& point) {
  return turn(a, b, point) >= 0 && turn(b, c, point) >= 0 && turn(c, a, point) >= 0;
}

} // namespace

bool is_convex(std::span<const Point> outline) {
  return turns_one_way(flattened(outline), false);
}

Split split(std::span<const Point> outline) {
  assert(outline.size() >= 3);
  Split result;
  std::vector<std::uint32_t> left(outline.size());
  std::iota(left.begin(), left.end(), 0U);
  const auto fan = [&] {
    for (std::size_t i = 1; i + 1 < left.size(); ++i)
      result.triangles.push_back({left[0], left[i], left[i + 1]});
  };
  if (outline.size() == 3) {
    fan();
    return result;
  }
  const std::vector<Flat> flat = flattened(outline);
  // A straight corner would leave a triangle of the fan without area.
  if (turns_one_way(flat, outline.size() <= corners_at_most)) {
    fan();
    return result;
  }
  assert(outline.size() <= corners_at_most);
  const auto is_ear = [&](std::size_t i) {
    const std::size_t count = left.size(), before = (i + count - 1) % count, behind = (i + 1) % count;
    const Flat &a = flat[left[before]], &b = flat[left[i]], &c = flat[left[behind]];
    if (turn(a, b, c) <= 0)
      return false;
    return std::ranges::none_of(left, [&](std::uint32_t other) {
      const Flat& point = flat[other];
      const auto same = [&](const Flat& corner) { return corner.x == point.x && corner.y == point.y; };
      return !same(a) && !same(b) && !same(c) && holds(a, b, c, point);
    });
  };
  // Where to look next goes on from the last ear, so that thin wedges are not all cut from one corner.
  std::size_t at = 0;
  while (left.size() > 3) {
    std::size_t tried = 0;
    while (tried < left.size() && !is_ear(at % left.size())) {
      ++at;
      ++tried;
    }
    if (tried == left.size()) {
      // No ear is left: a crossing, or corners on one line, which lose nothing when they go.
      const auto straight = std::ranges::find_if(left, [&](const std::uint32_t& corner) {
        const auto i = static_cast<std::size_t>(&corner - left.data());
        const std::size_t count = left.size();
        return turn(flat[left[(i + count - 1) % count]], flat[corner], flat[left[(i + 1) % count]]) == 0;
      });
      if (straight == left.end()) {
        result.crosses = true;
        break;
      }
      at = static_cast<std::size_t>(straight - left.begin());
    }
    const std::size_t count = left.size(), i = at % count;
    result.triangles.push_back({left[(i + count - 1) % count], left[i], left[(i + 1) % count]});
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(i));
  }
  double whole = 0;
  for (std::size_t i = 1; i + 1 < flat.size(); ++i)
    whole += turn(flat[0], flat[i], flat[i + 1]);
  constexpr double rounding = 1e-9;
  result.crosses |= turn(flat[left[0]], flat[left[1]], flat[left[2]]) < -rounding * whole;
  fan();
  return result;
}

} // namespace bellmouth::mesh
