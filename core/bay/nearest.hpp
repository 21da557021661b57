// SPDX-License-Identifier: GPL-3.0-or-later
// Where a stretch comes nearest to a convex solid or to another stretch.
//
// Along a straight the distance to a convex solid less an evenly changing radius is a convex function: golden
// section finds its least value, whether the straight runs at the solid or beside it. Along an arc it is not
// quite convex: what it can dip between two samples is no more than the sagitta between them. So the arc is
// sampled with sagittas of 0.02 mm, where the way to the solid does not rule that out, and each least sample
// is refined on the true arc.
#pragma once

#include "stretch.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

namespace bellmouth::bay {

inline constexpr double far_away = std::numeric_limits<double>::infinity();
/// What is left of an interval when it has been narrowed enough [m].
inline constexpr double narrow_m = 4e-10;

/// The least value of a function, and where it is.
struct Low {
  double value = far_away, at = 0;

  void offer(double other_value, double other_at) {
    if (other_value < value) {
      value = other_value;
      at = other_at;
    }
  }
};

/// Golden section of a function with one valley whose slope is at most `steepest`. Gives up, with what it
/// has, once no place can be lower than `cutoff`.
template <class Function>
Low golden(const Function& f, double low, double high, double steepest, double cutoff) {
  constexpr double share = 0.6180339887498949;
  double left = high - share * (high - low), right = low + share * (high - low);
  double at_left = f(left), at_right = f(right);
  Low best;
  best.offer(at_left, left);
  best.offer(at_right, right);
  while (high - low > narrow_m && best.value - steepest * (high - low) <= cutoff) {
    if (at_left <= at_right) {
      high = right;
      right = left;
      at_right = at_left;
      left = high - share * (high - low);
      at_left = f(left);
      best.offer(at_left, left);
    } else {
      low = left;
      left = right;
      at_left = at_right;
      right = low + share * (high - low);
      at_right = f(right);
      best.offer(at_right, right);
    }
  }
  return best;
}

/// The least distance from the surface of a straight to a convex solid. One that is not below `cutoff` need
/// not be the least.
template <class Solid> Low nearest_on_straight(const Stretch& stretch, const Solid& solid, double cutoff) {
  const double growth = stretch.growth(), steepest = 1 + std::abs(growth);
  const auto f = [&](double x) {
    return solid.distance(plus(stretch.start, x, stretch.direction)) - stretch.radius_in_m - growth * x;
  };
  Low best;
  best.offer(f(0), 0);
  best.offer(f(stretch.length_m), stretch.length_m);
  if (stretch.length_m <= narrow_m)
    return best;
  const Low inside = golden(f, 0, stretch.length_m, steepest, cutoff);
  best.offer(inside.value, inside.at);
  return best;
}
/// Beside a plane the distance goes evenly: an end is nearest.
inline Low nearest_on_straight(const Stretch& stretch, const HalfSpaceSolid& solid, double /*cutoff*/) {
  Low best;
  for (const double x : {0.0, stretch.length_m})
    best.offer(solid.distance(stretch.at(x)) - stretch.radius(x), x);
  return best;
}

/// The same for an arc.
template <class Solid> Low nearest_on_arc(const Stretch& stretch, const Solid& solid, double cutoff) {
  constexpr std::size_t fine_in_coarse = 8;
  const double growth = stretch.growth(), steepest = 1 + std::abs(growth);
  const auto f = [&](double x) { return solid.distance(stretch.at(x)) - stretch.radius_in_m - growth * x; };
  const double coarse = std::ceil(stretch.length_m / (2 * half_chord_m(stretch.bend_m) * fine_in_coarse));
  const double coarse_m = stretch.length_m / coarse, fine_m = coarse_m / fine_in_coarse;
  Low best;
  double at_start = f(0);
  best.offer(at_start, 0);
  for (double i = 0; i < coarse; ++i) {
    const double from = i * coarse_m, at_end = f(from + coarse_m);
    best.offer(at_end, from + coarse_m);
    const double no_lower = 0.5 * (at_start + at_end - steepest * coarse_m);
    const double before = at_start;
    at_start = at_end;
    if (no_lower >= std::min(best.value, cutoff))
      continue;
    // One fine step to either side belongs to it, so that no valley is cut; beyond the arc's ends it rises.
    std::array<double, fine_in_coarse + 3> sample;
    sample.front() = i > 0 ? f(from - fine_m) : far_away;
    sample[1] = before;
    for (std::size_t k = 1; k < fine_in_coarse; ++k)
      sample[k + 1] = f(from + static_cast<double>(k) * fine_m);
    sample[fine_in_coarse + 1] = at_end;
    sample.back() = i + 1 < coarse ? f(from + coarse_m + fine_m) : far_away;
    for (std::size_t k = 1; k + 1 < sample.size(); ++k) {
      const double here = sample[k], left = sample[k - 1], right = sample[k + 1];
      constexpr double level = 1e-12; // beside a wall that the arc follows nothing is gained
      if (here > left || here > right || std::max(left, right) - here <= level)
        continue;
      const double x = from + (static_cast<double>(k) - 1) * fine_m;
      const double low = std::isinf(left) ? x : x - fine_m, high = std::isinf(right) ? x : x + fine_m;
      best.offer(here, x);
      const double lowest = here - 0.5 * steepest * fine_m;
      if (lowest >= std::min(best.value, cutoff) || high <= low)
        continue;
      const Low valley = golden(f, low, high, steepest, std::min(best.value, cutoff));
      best.offer(valley.value, valley.at);
    }
  }
  return best;
}

template <class Solid> Low nearest_on(const Stretch& stretch, const Solid& solid, double cutoff) {
  return stretch.is_straight() ? nearest_on_straight(stretch, solid, cutoff)
                               : nearest_on_arc(stretch, solid, cutoff);
}

/// Where two stretches come nearest: the distance of their surfaces, and the places on either.
struct PairLow {
  double value = far_away, at_a = 0, at_b = 0;

  void offer(const PairLow& other) {
    if (other.value < value)
      *this = other;
  }
};
/// A distance that is not below `cutoff` need not be the least.
[[nodiscard]] PairLow nearest_pair(const Stretch& a, const Stretch& b, double cutoff);

} // namespace bellmouth::bay
