// SPDX-License-Identifier: GPL-3.0-or-later
#include "judge_room.hpp"

#include "winding.hpp"

#include <bellmouth/bay/nearest.hpp>
#include <bellmouth/bay/scan_surface.hpp>
#include <bellmouth/bay/solids.hpp>

#include <algorithm>
#include <cmath>

namespace bellmouth::way {
namespace {

using bay::length, bay::minus, bay::Stretch;

bay::BoxSolid ready(const build::Box& box) {
  return bay::BoxSolid(box);
}
bay::CylinderSolid ready(const build::Cylinder& cylinder) {
  return bay::CylinderSolid(cylinder);
}
bay::SphereSolid ready(const build::Sphere& sphere) {
  return bay::SphereSolid(sphere);
}
bay::HalfSpaceSolid ready(const build::HalfSpace& half) {
  return bay::HalfSpaceSolid(half);
}
bay::PulledBall ready(const Pipe& pipe) {
  const Vector along = minus(pipe.to_m, pipe.from_m);
  const double length_m = length(along);
  return {pipe.from_m, length_m > 0 ? bay::unit(along) : Vector{1, 0, 0}, length_m, pipe.radius_from_m,
          pipe.radius_to_m};
}

/// Leaves out what does not count for a keep-out.
std::vector<Stretch> counted(const Laid& laid, const KeepOut& keep_out) {
  const double from_m = keep_out.not_from_start_m, to_m = laid.length_m - keep_out.not_to_end_m;
  std::vector<Stretch> result;
  for (const Stretch& stretch : laid.stretches) {
    const double from = std::max(from_m - stretch.along_m, 0.0);
    const double to = std::min(to_m - stretch.along_m, stretch.length_m);
    if (from > 0 || to < stretch.length_m) {
      if (from < to)
        result.push_back(bay::part(stretch, from, to));
    } else {
      result.push_back(stretch);
    }
  }
  return result;
}

/// The least distance of the surface of some stretches, and where.
struct Least {
  double distance_m = bay::far_away, along_m = 0;
  Vector on_way_m{};

  void offer(const Stretch& stretch, const bay::Low& low) {
    if (low.value < distance_m)
      *this = {low.value, stretch.along(low.at), stretch.at(low.at)};
  }
};

template <class Solid>
Least least_to(const std::vector<Stretch>& stretches, const Solid& solid, double cutoff_m) {
  Least least;
  for (const Stretch& stretch : stretches) {
    const double needed_m = std::min(least.distance_m, cutoff_m);
    if (solid.distance(stretch.middle) - stretch.reach_m < needed_m)
      least.offer(stretch, bay::nearest_on(stretch, solid, needed_m));
  }
  return least;
}

/// Goes on with the deepest of some places inside a closed surface.
void go_inside(Least& least, const std::vector<Stretch>& stretches, const Surface& surface) {
  constexpr double step_m = 2e-3;
  constexpr int most_steps = 32;
  for (const Stretch& stretch : stretches) {
    const int steps =
        static_cast<int>(std::clamp(std::ceil(stretch.length_m / step_m), 1.0, 1.0 * most_steps));
    for (int i = 0; i <= steps; ++i) {
      const double x = stretch.length_m * i / steps;
      const Vector in_file = surface.placement.to_file(stretch.at(x));
      if (!is_inside(surface.scan->surface, in_file))
        continue;
      const double deep_m = surface.scan->tree.nearest(in_file).distance * surface.placement.scale;
      least.offer(stretch, {-deep_m - stretch.radius(x), x});
    }
  }
}

Least least_to(const std::vector<Stretch>& stretches, const Surface& surface, double cutoff_m) {
  constexpr double sagitta_m = 1e-10;
  const bay::ScanSurface scan = bay::scan_surface(surface.scan->tree, surface.placement);
  Least least;
  double middle_line_m = bay::far_away; // least distance of the middle line where it matters: 0 is crossing
  for (const Stretch& stretch : stretches) {
    const double needed_m = std::min(least.distance_m, cutoff_m);
    if (scan.hull.distance(stretch.middle) - stretch.reach_m >= needed_m)
      continue;
    const bay::Touch touch = bay::nearest_to(scan, stretch, needed_m, std::nullopt, sagitta_m);
    least.offer(stretch, touch.low);
    if (touch.low.value < needed_m)
      middle_line_m = std::min(middle_line_m, touch.low.value + stretch.radius(touch.low.at));
  }
  constexpr double crossing_m = 1e-7;
  if (surface.closed && !stretches.empty() &&
      (middle_line_m < crossing_m ||
       is_inside(surface.scan->surface, surface.placement.to_file(stretches.front().start))))
    go_inside(least, stretches, surface);
  return least;
}

/// Looks for the least distance of two stretches over those places that are far enough along the way apart.
class OverItself {
public:
  OverItself(double apart_m, double gap_m) : apart_m_(apart_m), gap_m_(gap_m) {}

  void pair(const Stretch& a, const Stretch& b) {
    if (b.along(b.length_m) - a.along_m < apart_m_ || between(a, b) >= needed())
      return;
    if (b.along_m - a.along(a.length_m) >= apart_m_) {
      const bay::PairLow low = bay::nearest_pair(a, b, needed());
      offer(low.value, a.along(low.at_a), b.along(low.at_b));
      return;
    }
    // No two places are nearer than those that may be too near along the way as well.
    if (bay::nearest_pair(a, b, needed()).value >= needed())
      return;
    constexpr double narrow_m = 1e-6;
    if (std::max(a.length_m, b.length_m) < narrow_m) {
      const double x = b.length_m;
      offer(length(minus(a.start, b.at(x))) - a.radius_in_m - b.radius_out_m, a.along_m, b.along(x));
    } else if (a.length_m >= b.length_m) {
      pair(bay::part(a, 0, a.length_m / 2), b);
      pair(bay::part(a, a.length_m / 2, a.length_m), b);
    } else {
      pair(a, bay::part(b, 0, b.length_m / 2));
      pair(a, bay::part(b, b.length_m / 2, b.length_m));
    }
  }
  [[nodiscard]] const std::optional<SelfNearness>& best() const { return best_; }

private:
  static double between(const Stretch& a, const Stretch& b) {
    return length(minus(a.middle, b.middle)) - a.reach_m - b.reach_m;
  }
  [[nodiscard]] double needed() const { return gap_m_ + (best_ ? best_->margin_m : near_m); }
  void offer(double distance_m, double at_a_m, double at_b_m) {
    if (distance_m < needed())
      best_ = {distance_m - gap_m_, at_a_m, at_b_m};
  }

  double apart_m_, gap_m_;
  std::optional<SelfNearness> best_;
};

} // namespace

std::vector<Nearness> nearest_keep_outs(const Problem& problem, const Laid& laid) {
  std::vector<Nearness> result;
  for (std::size_t i = 0; i < problem.keep_outs.size(); ++i) {
    const KeepOut& keep_out = problem.keep_outs[i];
    const double cutoff_m = keep_out.clearance_m + near_m;
    const std::vector<Stretch> stretches = counted(laid, keep_out);
    const Least least = std::visit(
        [&](const auto& shape) {
          if constexpr (std::is_same_v<std::decay_t<decltype(shape)>, Surface>)
            return least_to(stretches, shape, cutoff_m);
          else
            return least_to(stretches, ready(shape), cutoff_m);
        },
        keep_out.shape);
    if (least.distance_m < cutoff_m)
      result.push_back({i, least.distance_m - keep_out.clearance_m, least.along_m, least.on_way_m});
  }
  std::ranges::stable_sort(result, {}, &Nearness::margin_m);
  return result;
}

std::optional<SelfNearness> nearest_to_itself(const Laid& laid, double apart_m, double gap_m) {
  OverItself search(apart_m, gap_m);
  for (std::size_t i = 0; i < laid.stretches.size(); ++i)
    for (std::size_t k = i; k < laid.stretches.size(); ++k)
      search.pair(laid.stretches[i], laid.stretches[k]);
  return search.best();
}

double off_m(const Laid& laid, const Waypoint& waypoint) {
  std::vector<Stretch> line = laid.stretches;
  for (Stretch& stretch : line) {
    stretch.radius_in_m = stretch.radius_out_m = 0;
    bay::set_bounds(stretch);
  }
  const Least least = std::visit(
      [&](const auto& shape) { return least_to(line, ready(shape), bay::far_away); }, waypoint.shape);
  return std::max(least.distance_m, 0.0);
}

} // namespace bellmouth::way
