// SPDX-License-Identifier: GPL-3.0-or-later
#include "ground.hpp"

#include <cmath>

namespace bellmouth::way {

using bay::cross, bay::dot, bay::length, bay::minus, bay::plus, bay::times, bay::unit;

namespace {

/// From the nearest point of a surface to the point outside, or from the point inside to the surface.
template <class Solid> Touch touch_convex(const Solid& solid, const Vector& point) {
  const double distance = solid.distance(point);
  const Vector from_surface = minus(point, solid.nearest(point));
  const double far = length(from_surface);
  constexpr double at_surface_m = 1e-9;
  if (far > at_surface_m)
    return {distance, times((distance < 0 ? -1 : 1) / far, from_surface)};
  // On the surface: by differences.
  constexpr double step_m = 1e-6;
  Vector slope{};
  for (std::size_t i = 0; i < 3; ++i) {
    Vector ahead = point, behind = point;
    ahead[i] += step_m;
    behind[i] -= step_m;
    slope[i] = solid.distance(ahead) - solid.distance(behind);
  }
  const double steep = length(slope);
  return {distance, steep > 0 ? times(1 / steep, slope) : Vector{0, 0, 1}};
}

Touch touch_ball(const bay::PulledBall& ball, const Vector& from, const Vector& direction,
                 const Vector& point) {
  const Vector middle = plus(from, ball.along(point), direction);
  const Vector out = minus(point, middle);
  const double far = length(out);
  return {ball.distance(point), far > 0 ? times(1 / far, out) : bay::square_to(direction)};
}

} // namespace

Ground::Ground(const Problem& problem) {
  for (const KeepOut& keep_out : problem.keep_outs) {
    auto shape = std::visit(
        [](const auto& s) -> decltype(Solid::shape) {
          using S = std::decay_t<decltype(s)>;
          if constexpr (std::is_same_v<S, build::Box>)
            return bay::BoxSolid(s);
          else if constexpr (std::is_same_v<S, build::Cylinder>)
            return bay::CylinderSolid(s);
          else if constexpr (std::is_same_v<S, build::Sphere>)
            return bay::SphereSolid(s);
          else if constexpr (std::is_same_v<S, build::HalfSpace>)
            return bay::HalfSpaceSolid(s);
          else if constexpr (std::is_same_v<S, Surface>)
            return SurfaceSolid{&s.scan->tree, &s.scan->surface, s.placement, s.closed};
          else {
            const double far = length(minus(s.to_m, s.from_m));
            const Vector direction = far > 0 ? unit(minus(s.to_m, s.from_m)) : Vector{1, 0, 0};
            return PipeSolid{bay::PulledBall(s.from_m, direction, far, s.radius_from_m, s.radius_to_m),
                             s.from_m, direction};
          }
        },
        keep_out.shape);
    solids_.push_back({shape, keep_out.clearance_m, keep_out.not_from_start_m, keep_out.not_to_end_m});
  }
}

Touch Ground::touch_surface(const SurfaceSolid& solid, const Vector& point, double cutoff_m) {
  const Vector in_file = solid.placement.to_file(point);
  // Deep inside a closed surface the way to it says nothing of being far from it.
  const mesh::Nearest nearest = solid.closed ? solid.tree->nearest(in_file)
                                             : solid.tree->nearest(in_file, cutoff_m / solid.placement.scale);
  if (std::isinf(nearest.distance))
    return {nearest.distance, {}};
  const Vector out = minus(point, solid.placement.to_bay(nearest.on_surface));
  const double far = length(out);
  double sign = 1;
  const auto& corners = solid.surface->triangles[nearest.triangle];
  const Vector a = solid.surface->points[corners[0]], b = solid.surface->points[corners[1]],
               c = solid.surface->points[corners[2]];
  const Vector normal = cross(minus(b, a), minus(c, a));
  if (solid.closed && dot(normal, minus(in_file, nearest.on_surface)) < 0)
    sign = -1;
  if (far > 1e-9)
    return {sign * far, times(sign / far, out)};
  return {0, unit(normal)};
}

double Ground::gap_m(std::size_t keep_out, const Vector& point, double cutoff_m) const {
  const Solid& solid = solids_[keep_out];
  return std::visit(
             [&](const auto& s) -> double {
               using S = std::decay_t<decltype(s)>;
               if constexpr (std::is_same_v<S, SurfaceSolid>)
                 return touch_surface(s, point, cutoff_m + solid.clearance_m).gap_m;
               else if constexpr (std::is_same_v<S, PipeSolid>)
                 return s.ball.distance(point);
               else
                 return s.distance(point);
             },
             solid.shape) -
         solid.clearance_m;
}

Touch Ground::touch(std::size_t keep_out, const Vector& point) const {
  const Solid& solid = solids_[keep_out];
  Touch result = std::visit(
      [&](const auto& s) -> Touch {
        using S = std::decay_t<decltype(s)>;
        if constexpr (std::is_same_v<S, SurfaceSolid>)
          return touch_surface(s, point, std::numeric_limits<double>::infinity());
        else if constexpr (std::is_same_v<S, PipeSolid>)
          return touch_ball(s.ball, s.from, s.direction, point);
        else
          return touch_convex(s, point);
      },
      solid.shape);
  result.gap_m -= solid.clearance_m;
  return result;
}

Cells::Cells(const Ground& ground, double cell_m, double reach_m)
    : ground_(&ground), cell_m_(cell_m), reach_m_(reach_m), table_(std::size_t{1} << 12U),
      last_(table_.data()) {}

/// Where a key is, or where it belongs.
std::size_t Cells::slot(std::uint64_t key) const {
  const std::size_t mask = table_.size() - 1;
  std::uint64_t mixed = key * 0x9E3779B97F4A7C15U;
  mixed ^= mixed >> 29U;
  std::size_t at = static_cast<std::size_t>(mixed) & mask;
  while (table_[at].key != key && table_[at].key != no_key)
    at = (at + 1) & mask;
  return at;
}

void Cells::grow() {
  std::vector<Cell> old(table_.size() * 2);
  old.swap(table_);
  for (const Cell& cell : old)
    if (cell.key != no_key)
      table_[slot(cell.key)] = cell;
}

const Cells::Cell& Cells::at(const Vector& point) {
  std::uint64_t key = 0;
  Vector cell{};
  for (std::size_t i = 0; i < 3; ++i) {
    constexpr double offset = 1 << 20;
    cell[i] = std::floor(point[i] / cell_m_);
    key = (key << 21U) | (static_cast<std::uint64_t>(cell[i] + offset) & 0x1FFFFFU);
  }
  if (key == last_->key)
    return *last_;
  std::size_t at = slot(key);
  if (table_[at].key == no_key) {
    constexpr std::size_t most_cells = 400'000; // some 40 MB
    if (used_ == most_cells) {
      table_.assign(table_.size(), {});
      lists_.clear();
      used_ = 0;
      at = slot(key);
    }
    if (2 * ++used_ > table_.size()) {
      grow();
      at = slot(key);
    }
    Cell& made = table_[at];
    made.key = key;
    made.middle = {(cell[0] + 0.5) * cell_m_, (cell[1] + 0.5) * cell_m_, (cell[2] + 0.5) * cell_m_};
    const double reach_m = reach_m_ + 0.5 * std::sqrt(3.0) * cell_m_;
    made.first = static_cast<std::uint32_t>(lists_.size());
    for (std::size_t i = 0; i < ground_->size(); ++i) {
      const double gap_m = ground_->gap_m(i, made.middle, reach_m);
      if (gap_m <= reach_m)
        lists_.push_back({static_cast<std::uint32_t>(i), gap_m});
    }
    made.count = static_cast<std::uint32_t>(lists_.size()) - made.first;
  }
  last_ = &table_[at];
  return *last_;
}

} // namespace bellmouth::way
