// SPDX-License-Identifier: GPL-3.0-or-later
#include "corners.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::way {

using bay::combined, bay::cross, bay::dot, bay::length, bay::minus, bay::plus, bay::times;

namespace {

/// How far a point may be too near to something and still count: a corner is cut by its bend.
constexpr double generous_m = 15e-3;

/// The least gap of a tube with its middle at a point, no more than `far_m`; any below `stop_m` will do.
double worst_gap_m(const Ground& ground, const Vector& point, double radius_m, double stop_m) {
  constexpr double far_m = 0.1;
  double worst = far_m;
  for (std::size_t k = 0; k < ground.size(); ++k) {
    worst = std::min(worst, ground.gap_m(k, point, radius_m + worst) - radius_m);
    if (worst < stop_m)
      break;
  }
  return worst;
}

double free_along_m(const Problem& problem, const Ground& ground, const End& end) {
  const double radius_m = 0.5 * end.outer_diameter_m;
  double at_m = 0;
  const double most_m = problem.tube.longest_m;
  while (at_m < most_m) {
    const double gap_m =
        worst_gap_m(ground, plus(end.position_m, at_m, end.direction), radius_m, -generous_m);
    if (gap_m < -generous_m && at_m > end.straight_m)
      break;
    at_m += std::max(gap_m + generous_m, 5e-3);
  }
  return std::min(at_m, most_m);
}

} // namespace

FreeSpace::FreeSpace(const Problem& problem, const Ground& ground, std::uint64_t seed)
    : start_m_(free_along_m(problem, ground, problem.start)),
      end_m_(free_along_m(problem, ground, problem.end)) {
  Vector low = problem.start.position_m, high = low;
  const auto include = [&](const Vector& point) {
    for (std::size_t i = 0; i < 3; ++i) {
      low[i] = std::min(low[i], point[i]);
      high[i] = std::max(high[i], point[i]);
    }
  };
  include(plus(problem.start.position_m, start_m_, problem.start.direction));
  include(problem.end.position_m);
  include(plus(problem.end.position_m, end_m_, problem.end.direction));
  const double room_m = 0.25 + 0.25 * length(minus(problem.start.position_m, problem.end.position_m));
  const double radius_m = 0.5 * std::min(problem.start.outer_diameter_m, problem.end.outer_diameter_m);
  for (std::size_t i = 0; i < 3; ++i) {
    low_[i] = low[i] - room_m;
    high_[i] = high[i] + room_m;
  }
  Random random(seed, ~std::uint64_t{0});
  constexpr std::size_t wanted = 400, most_tries = 4000;
  for (std::size_t i = 0; i < most_tries && places_.size() < wanted; ++i) {
    Vector point;
    for (std::size_t k = 0; k < 3; ++k)
      point[k] = random.between(low_[k], high_[k]);
    if (worst_gap_m(ground, point, radius_m, -generous_m) >= -generous_m)
      places_.push_back(point);
  }
  if (places_.empty())
    places_.push_back(combined(0.5, problem.start.position_m, 0.5, problem.end.position_m));
}

/// Past this the corner of a bend is too far off to be of use.
constexpr double widest_corner_rad = 0.85 * std::numbers::pi;

std::optional<Chain> along_corners(const Problem& problem, const Pattern& pattern, const Corners& corners) {
  Chain chain;
  const std::size_t n = pattern.turns;
  Vector from = problem.start.position_m, u = problem.start.direction, v = problem.reference;
  double tangent_before = 0;
  for (std::size_t i = 0; i <= n; ++i) {
    const Vector to = i < n ? corners[i] : problem.end.position_m;
    const Vector side = minus(to, from);
    const double side_m = length(side);
    double tangent = 0;
    if (i < n) {
      const Vector next_side = minus(i + 1 < n ? corners[i + 1] : problem.end.position_m, to);
      const double next_m = length(next_side);
      if (next_m < 1e-3)
        return std::nullopt;
      const Vector next = i + 1 < n ? times(1 / next_m, next_side) : times(-1, problem.end.direction);
      const double cosine = std::clamp(dot(u, next), -1.0, 1.0);
      const double angle = std::clamp(std::acos(cosine), pattern.turn[i].low_rad, pattern.turn[i].high_rad);
      Vector n_side = minus(next, times(cosine, u));
      const double across = length(n_side);
      const Vector normal = across > 1e-9 ? times(1 / across, n_side) : v;
      chain.angle_rad[i] = angle;
      chain.clocking_rad[i] = std::atan2(dot(normal, cross(u, v)), dot(normal, v));
      tangent = pattern.turn[i].radius_m * std::tan(0.5 * std::min(angle, widest_corner_rad));
      chain.straight_m[i] = std::clamp(side_m - tangent - tangent_before, pattern.straight[i].low_m,
                                       pattern.straight[i].high_m);
      v = combined(std::cos(angle), normal, -std::sin(angle), u);
      u = combined(std::cos(angle), u, std::sin(angle), normal);
    } else {
      chain.straight_m[i] =
          std::clamp(side_m - tangent_before, pattern.straight[i].low_m, pattern.straight[i].high_m);
    }
    tangent_before = tangent;
    from = to;
  }
  return chain;
}

Corners drawn_corners(const Problem& problem, const FreeSpace& space, const Pattern& pattern,
                      const LegLacks& lacks_m, Random& random) {
  Corners corners{};
  const std::size_t n = pattern.turns;
  const auto on_axis = [&](const End& end, double free_m, double radius_m) {
    const double low_m = end.straight_m + 0.15 * radius_m,
                 high_m = std::max(low_m + 0.2 * radius_m, free_m + 0.8 * radius_m);
    return plus(end.position_m, random.between(low_m, high_m), end.direction);
  };
  corners[0] = on_axis(problem.start, space.start_m(), pattern.turn[0].radius_m);
  corners[n - 1] = on_axis(problem.end, space.end_m(), pattern.turn[n - 1].radius_m);
  constexpr std::size_t offered = 6;
  for (std::size_t i = 1; i + 1 < n; ++i) {
    double least_m = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < offered; ++k) {
      const Vector& place = space.places()[random.below(space.places().size())];
      double sum_m = lacks_m(corners[i - 1], place);
      if (i + 2 == n && sum_m < least_m)
        sum_m += lacks_m(place, corners[n - 1]);
      if (sum_m < least_m) {
        least_m = sum_m;
        corners[i] = place;
      }
    }
  }
  return corners;
}

Corners corners_of(const Problem& problem, const Pattern& pattern, const Chain& chain) {
  Corners corners{};
  const Lie here = lie(problem, pattern, chain);
  for (std::size_t i = 0; i < pattern.turns; ++i) {
    const Element& arc = here.element[2 * i + 1];
    const double tangent = arc.radius_m * std::tan(0.5 * std::min(arc.angle_rad, widest_corner_rad));
    corners[i] = plus(arc.start, tangent, arc.direction);
  }
  return corners;
}

} // namespace bellmouth::way
