// SPDX-License-Identifier: GPL-3.0-or-later
// Where a stretch comes nearest to a convex solid or to another stretch.
//
// Along a straight the distance to a convex solid less an evenly changing radius is a convex function with
// one valley, whether the straight runs at the solid or beside it. Along an arc it is not quite convex: what
// it can dip between two samples is no more than the sagitta between them. So the arc is sampled with
// sagittas of 0.02 mm, where the way to the solid does not rule that out, and each least sample is refined on
// the true arc.
#pragma once

#include <bellmouth/bay/stretch.hpp>

#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

namespace bellmouth::bay {

inline constexpr double far_away = std::numeric_limits<double>::infinity();
/// What is left of an interval when it has been narrowed enough [m].
inline constexpr double narrow_m = 2e-10;

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

/// The least value of a function with one valley whose slope is at most `steepest`: parabolas through the
/// best places where they serve, golden section where not (Brent 1973, ch. 5). Gives up, with what it has,
/// once no place can be lower than `cutoff`.
template <class Function>
Low valley(const Function& f, double low, double high, double steepest, double cutoff) {
  constexpr double golden = 0.3819660112501051; // (3 - sqrt 5) / 2
  double best = low + golden * (high - low), second = best, third = best;
  double at_best = f(best), at_second = at_best, at_third = at_best;
  double step = 0, last_but_one = 0;
  for (;;) {
    const double middle = 0.5 * (low + high);
    if (std::abs(best - middle) <= 2 * narrow_m - 0.5 * (high - low) ||
        at_best - steepest * (high - low) > cutoff)
      return {at_best, best};
    bool parabola = false;
    if (std::abs(last_but_one) > narrow_m) {
      const double r = (best - second) * (at_best - at_third), q = (best - third) * (at_best - at_second);
      double over = (best - third) * q - (best - second) * r, under = 2 * (q - r);
      over = under > 0 ? -over : over;
      under = std::abs(under);
      if (std::abs(over) < std::abs(0.5 * under * last_but_one) && over > under * (low - best) &&
          over < under * (high - best)) {
        last_but_one = step;
        step = over / under;
        const double next = best + step;
        if (next - low < 2 * narrow_m || high - next < 2 * narrow_m)
          step = best < middle ? narrow_m : -narrow_m;
        parabola = true;
      }
    }
    if (!parabola) {
      last_but_one = best < middle ? high - best : low - best;
      step = golden * last_but_one;
    }
    const double x = best + (std::abs(step) >= narrow_m ? step : std::copysign(narrow_m, step));
    const double at_x = f(x);
    if (at_x <= at_best) {
      (x < best ? high : low) = best;
      third = second;
      at_third = at_second;
      second = best;
      at_second = at_best;
      best = x;
      at_best = at_x;
    } else {
      (x < best ? low : high) = x;
      if (at_x <= at_second || second == best) {
        third = second;
        at_third = at_second;
        second = x;
        at_second = at_x;
      } else if (at_x <= at_third || third == best || third == second) {
        third = x;
        at_third = at_x;
      }
    }
  }
}

/// The least distance from the surface of a straight to a convex solid. One that is not below `cutoff` need
/// not be the least.
template <class Solid> Low nearest_on_straight(const Stretch& stretch, const Solid& solid, double cutoff) {
  const double growth = stretch.growth(), steepest = 1 + std::abs(growth), whole = stretch.length_m;
  const auto f = [&](double x) {
    return solid.distance(plus(stretch.start, x, stretch.direction)) - stretch.radius_in_m - growth * x;
  };
  const double at_start = f(0), at_end = f(whole);
  Low best = at_end < at_start ? Low{at_end, whole} : Low{at_start, 0};
  constexpr double level = 1e-13, small_step_m = 1e-7;
  if (whole <= 2 * small_step_m || 0.5 * (at_start + at_end - steepest * whole) >= cutoff)
    return best;
  // A convex function that is even half way is even all the way; one that falls into an end is least there.
  const double half_way = f(0.5 * whole);
  best.offer(half_way, 0.5 * whole);
  if (half_way >= 0.5 * (at_start + at_end) - level || (best.at == 0 && f(small_step_m) >= at_start) ||
      (best.at == whole && f(whole - small_step_m) >= at_end))
    return best;
  const Low inside = valley(f, 0, whole, steepest, cutoff);
  best.offer(inside.value, inside.at);
  return best;
}

/// The same for an arc.
template <class Solid> Low nearest_on_arc(const Stretch& stretch, const Solid& solid, double cutoff) {
  constexpr std::size_t fine_in_coarse = 8;
  const double growth = stretch.growth(), steepest = 1 + std::abs(growth);
  const auto f = [&](double x) { return solid.distance(stretch.at(x)) - stretch.radius_in_m - growth * x; };
  const double parts = std::ceil(stretch.length_m / (2 * half_chord_m(stretch.bend_m) * fine_in_coarse));
  const double coarse_m = stretch.length_m / parts, fine_m = coarse_m / fine_in_coarse;
  const auto coarse = static_cast<std::size_t>(parts);
  Low best;
  double at_start = f(0);
  best.offer(at_start, 0);
  for (std::size_t i = 0; i < coarse; ++i) {
    const double from = static_cast<double>(i) * coarse_m, at_end = f(from + coarse_m);
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
    StepsOnArc place(stretch, from, fine_m);
    for (std::size_t k = 1; k < fine_in_coarse; ++k)
      sample[k + 1] = solid.distance(place.next()) - stretch.radius(from + static_cast<double>(k) * fine_m);
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
      const Low least = valley(f, low, high, steepest, std::min(best.value, cutoff));
      best.offer(least.value, least.at);
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
