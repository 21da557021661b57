// SPDX-License-Identifier: GPL-3.0-or-later
#include "collector.hpp"

#include "polygon.hpp"
#include "vector.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>

namespace bellmouth::mesh {

namespace {

std::uint64_t hash(const Point& place) {
  std::uint64_t mixed = 0;
  for (const double x : place) {
    mixed = (mixed ^ std::bit_cast<std::uint64_t>(x)) * 0x9E3779B97F4A7C15ULL;
    mixed ^= mixed >> 32U;
  }
  return mixed;
}

} // namespace

bool Collector::take(const Point& a, const Point& b, const Point& c) {
  if (++taken_ > triangles_at_most)
    source_.fault(fmt::format("more than {} triangles", triangles_at_most),
                  fmt::format("at most {} triangles", triangles_at_most));
  // The sine of the angle at a: next to nothing is rounding.
  constexpr double least_sine = 1e-14;
  const Vector ab = Vector(b) - Vector(a), ac = Vector(c) - Vector(a);
  const bool has_area = squared(cross(ab, ac)) > least_sine * least_sine * squared(ab) * squared(ac);
  without_area_ += has_area ? 0 : 1;
  return has_area;
}

void Collector::grow() {
  table_.assign(std::max<std::size_t>(1024, table_.size() * 2), none);
  const std::size_t mask = table_.size() - 1;
  for (std::uint32_t number = 0; number < surface_.points.size(); ++number) {
    std::size_t slot = hash(surface_.points[number]) & mask;
    while (table_[slot] != none)
      slot = (slot + 1) & mask;
    table_[slot] = number;
  }
}

std::uint32_t Collector::joined(const Point& place) {
  if (2 * surface_.points.size() >= table_.size())
    grow();
  const Point key{place[0] + 0.0, place[1] + 0.0, place[2] + 0.0}; // no minus nought
  const std::size_t mask = table_.size() - 1;
  std::size_t slot = hash(key) & mask;
  for (; table_[slot] != none; slot = (slot + 1) & mask)
    if (surface_.points[table_[slot]] == key)
      return table_[slot];
  table_[slot] = static_cast<std::uint32_t>(surface_.points.size());
  surface_.points.push_back(key);
  return table_[slot];
}

std::uint32_t Collector::joined(Numbered& numbered) {
  if (numbered.joined == none)
    numbered.joined = joined(numbered.point);
  return numbered.joined;
}

void Collector::add(const Point& a, const Point& b, const Point& c) {
  if (!take(a, b, c))
    return;
  const std::uint32_t first = joined(a), second = joined(b), third = joined(c);
  surface_.triangles.push_back({first, second, third});
}

void Collector::add_face(std::span<const std::uint32_t> corners) {
  assert(corners.size() >= 3);
  const auto add_triangle = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    if (!take(numbered_[a].point, numbered_[b].point, numbered_[c].point))
      return;
    const std::uint32_t first = joined(numbered_[a]), second = joined(numbered_[b]),
                        third = joined(numbered_[c]);
    surface_.triangles.push_back({first, second, third});
  };
  if (corners.size() == 3) {
    add_triangle(corners[0], corners[1], corners[2]);
    return;
  }
  outline_.clear();
  for (const std::uint32_t corner : corners)
    outline_.push_back(numbered_[corner].point);
  if (corners.size() > corners_at_most && !is_convex(outline_))
    source_.fault(fmt::format("a face with {} corners that is not convex", corners.size()),
                  fmt::format("faces with at most {} corners, or convex ones", corners_at_most));
  const Split parts = split(outline_);
  crossing_ += parts.crosses ? 1 : 0;
  for (const Triangle& part : parts.triangles)
    add_triangle(corners[part[0]], corners[part[1]], corners[part[2]]);
}

void Collector::remark(std::size_t count, std::string_view one, std::string_view many) {
  if (count > 0)
    remark(fmt::format("{} {}", count, count == 1 ? one : many));
}

Imported Collector::finish() && {
  if (surface_.triangles.empty())
    source_.fault(without_area_ > 0 ? fmt::format("no triangle with an area ({} without one)", without_area_)
                                    : std::string("no triangle"),
                  "a file with at least one triangle");
  remark(without_area_, "triangle without area was left out", "triangles without area were left out");
  remark(crossing_, "face crosses itself and was split as a fan",
         "faces cross themselves and were split as fans");
  const auto unused =
      std::ranges::count_if(numbered_, [](const Numbered& each) { return each.joined == none; });
  remark(static_cast<std::size_t>(unused), "point that no triangle uses was left out",
         "points that no triangle uses were left out");
  return {std::move(surface_), std::move(remarks_)};
}

} // namespace bellmouth::mesh
