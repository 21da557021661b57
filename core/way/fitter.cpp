// SPDX-License-Identifier: GPL-3.0-or-later
#include "fitter.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::way {

using bay::cross, bay::dot, bay::minus, bay::plus;

namespace {

constexpr double aim_m = Lookout::aim_m;
/// What one radian at the end counts.
constexpr double arm_m = 0.3;
constexpr double end_weight = 30;
/// With less wrong than this a fit is given more time [m2].
constexpr double close_m2 = 1e-6;
/// With more wrong than this after some steps a fit is given up [m2].
constexpr double far_m2 = 1e-4;

} // namespace

Fitter::Fitter(const Problem& problem, const Ground& ground)
    : problem_(&problem), lookout_(problem, ground) {}

double Fitter::wrong(const Pattern& pattern, const Chain& chain) {
  const Lie here = lie(*problem_, pattern, chain);
  double sum = 0;
  for (const Place& place : lookout_.look(pattern, chain, here, aim_m))
    sum += (aim_m - place.value_m) * (aim_m - place.value_m);
  return sum;
}

void Fitter::stand(const Pattern& pattern, const Chain& chain, double reach_m, Standing& standing) {
  const Sizes sizes(pattern);
  const Lie here = lie(*problem_, pattern, chain);
  standing.bounds.clear();
  standing.least_m = reach_m;
  standing.sum = 0;

  // What a point moves, for each size, when the chain turns and slides like a rigid arm behind it.
  const auto moves = [&](std::size_t e, double share, const Vector& point, auto&& take) {
    const std::size_t whole = e / 2; // straights and arcs wholly before it
    for (std::size_t j = 0; j < whole + (e % 2); ++j)
      take(sizes.straight(j), here.element[2 * j].direction);
    if (e % 2 == 0)
      take(sizes.straight(whole), bay::times(share, here.element[e].direction));
    for (std::size_t j = 0; j < whole + (e % 2); ++j) {
      const Element& arc = here.element[2 * j + 1];
      take(sizes.clocking(j), cross(arc.direction, minus(point, arc.start)));
      if (sizes.angle(j) < sizes.count()) {
        const Vector centre = plus(arc.start, arc.radius_m, arc.normal);
        const Vector move = cross(cross(arc.direction, arc.normal), minus(point, centre));
        take(sizes.angle(j), j < whole ? move : bay::times(share, move));
      }
    }
  };
  static const std::vector<Place> nothing;
  for (const Place& place : reach_m < 0 ? nothing : lookout_.look(pattern, chain, here, reach_m)) {
    Bound bound;
    bound.value_m = place.value_m;
    moves(place.element, place.share, here.element[place.element].at(place.share),
          [&](std::size_t size, const Vector& move) { bound.slope[size] = dot(move, place.away); });
    standing.bounds.push_back(bound);
  }
  if (pattern.needs_long_straight) {
    const auto* const longest =
        std::max_element(chain.straight_m.data(), chain.straight_m.data() + pattern.turns + 1);
    const double value_m = *longest - problem_->rules.flexible_straight_m;
    if (value_m < reach_m) {
      Bound bound;
      bound.value_m = value_m;
      bound.slope[sizes.straight(static_cast<std::size_t>(longest - chain.straight_m.data()))] = 1;
      standing.bounds.push_back(bound);
    }
  }
  for (const Bound& bound : standing.bounds) {
    standing.least_m = std::min(standing.least_m, bound.value_m);
    const double lacks = std::max(aim_m - bound.value_m, 0.0);
    standing.sum += lacks * lacks;
  }

  const Vector miss = minus(here.end, problem_->end.position_m);
  const Vector turn = cross(here.direction, problem_->end.direction); // zero when opposed
  for (std::size_t i = 0; i < 3; ++i) {
    standing.miss[i] = miss[i];
    standing.miss[3 + i] = arm_m * turn[i];
    standing.miss_slope[i].fill(0);
    standing.miss_slope[3 + i].fill(0);
  }
  // Away from the port's axis the cross product alone would be content with the wrong way round.
  if (dot(here.direction, problem_->end.direction) > 0)
    for (std::size_t i = 0; i < 3; ++i)
      standing.miss[3 + i] += arm_m * (here.direction[i] + problem_->end.direction[i]);
  moves(2 * pattern.turns, 1, here.end, [&](std::size_t size, const Vector& move) {
    for (std::size_t i = 0; i < 3; ++i)
      standing.miss_slope[i][size] = move[i];
  });
  for (std::size_t j = 0; j < pattern.turns; ++j) {
    const Element& arc = here.element[2 * j + 1];
    const auto turned = [&](std::size_t size, const Vector& axis) {
      const Vector swing = cross(axis, here.direction);
      const Vector change = cross(swing, problem_->end.direction);
      const bool wrong_way = dot(here.direction, problem_->end.direction) > 0;
      for (std::size_t i = 0; i < 3; ++i)
        standing.miss_slope[3 + i][size] = arm_m * (change[i] + (wrong_way ? swing[i] : 0));
    };
    turned(sizes.clocking(j), arc.direction);
    if (sizes.angle(j) < sizes.count())
      turned(sizes.angle(j), cross(arc.direction, arc.normal));
  }
  for (const double m : standing.miss)
    standing.sum += end_weight * end_weight * m * m;
}

namespace {

/// Solves A x = b in place, A symmetric and positive; false where it is not.
bool solve(std::array<std::array<double, most_sizes>, most_sizes>& a, std::array<double, most_sizes>& b,
           std::size_t n) {
  for (std::size_t j = 0; j < n; ++j) {
    double d = a[j][j];
    for (std::size_t k = 0; k < j; ++k)
      d -= a[j][k] * a[j][k];
    if (!(d > 1e-300))
      return false;
    d = std::sqrt(d);
    a[j][j] = d;
    for (std::size_t i = j + 1; i < n; ++i) {
      double s = a[i][j];
      for (std::size_t k = 0; k < j; ++k)
        s -= a[i][k] * a[j][k];
      a[i][j] = s / d;
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k)
      b[i] -= a[i][k] * b[k];
    b[i] /= a[i][i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k)
      b[i] -= a[k][i] * b[k];
    b[i] /= a[i][i];
  }
  return true;
}

double miss_of(const Standing& standing) {
  double most = 0;
  for (const double m : standing.miss)
    most = std::max(most, std::abs(m));
  return most;
}

} // namespace

bool Fitter::fit(const Pattern& pattern, Chain& chain, int most_steps) {
  const Sizes sizes(pattern);
  const std::size_t n = sizes.count();
  for (std::size_t i = 0; i < n; ++i)
    sizes.set(chain, i, std::clamp(sizes.get(chain, i), sizes.low(i), sizes.high(i)));
  constexpr double reach_m = Lookout::near_reach_m;
  stand(pattern, chain, reach_m, standing_);
  double damping = 1e-3;
  int slow = 0;
  for (int step = 0; step < most_steps; ++step) {
    if (miss_of(standing_) < 1e-6 && standing_.least_m >= 0.25 * aim_m)
      break;
    std::array<std::array<double, most_sizes>, most_sizes> normal{};
    std::array<double, most_sizes> down{};
    const auto add = [&](const std::array<double, most_sizes>& slope, double value, double weight) {
      const double w = weight * weight;
      for (std::size_t i = 0; i < n; ++i) {
        if (slope[i] == 0)
          continue;
        down[i] -= w * value * slope[i];
        for (std::size_t j = 0; j <= i; ++j)
          normal[i][j] += w * slope[i] * slope[j];
      }
    };
    for (std::size_t i = 0; i < 6; ++i)
      add(standing_.miss_slope[i], standing_.miss[i], end_weight);
    for (const Bound& bound : standing_.bounds)
      if (bound.value_m < aim_m)
        add(bound.slope, bound.value_m - aim_m, 1);
    if ((step == 8 && standing_.sum > far_m2) || (step == 16 && standing_.sum > 0.1 * far_m2))
      break;
    bool better = false;
    for (int attempt = 0; attempt < 6 && !better; ++attempt) {
      auto a = normal;
      auto b = down;
      for (std::size_t i = 0; i < n; ++i) {
        const double x = sizes.get(chain, i);
        const bool stuck = (x <= sizes.low(i) && down[i] < 0) || (x >= sizes.high(i) && down[i] > 0);
        a[i][i] += damping * normal[i][i] + 1e-9;
        if (stuck) {
          for (std::size_t j = 0; j < i; ++j)
            a[i][j] = 0;
          for (std::size_t j = i + 1; j < n; ++j)
            a[j][i] = 0;
          a[i][i] = 1;
          b[i] = 0;
        }
      }
      if (!solve(a, b, n)) {
        damping = std::max(damping * 10, 1e-6);
        continue;
      }
      Chain next = chain;
      for (std::size_t i = 0; i < n; ++i) {
        const double most = i <= pattern.turns ? 0.15 : 0.8; // metres or radians in one step
        const double x = sizes.get(chain, i) + std::clamp(b[i], -most, most);
        sizes.set(next, i, std::clamp(x, sizes.low(i), sizes.high(i)));
      }
      stand(pattern, next, reach_m, tried_);
      if (tried_.sum < standing_.sum) {
        better = true;
        slow = tried_.sum > 0.9 * standing_.sum ? slow + 1 : 0;
        chain = next;
        std::swap(standing_, tried_);
        damping = std::max(damping * 0.2, 1e-7);
      } else {
        damping *= 8;
      }
    }
    if (!better || slow > (standing_.sum < close_m2 ? 15 : 4))
      break;
  }
  if (miss_of(standing_) > 1e-3 || standing_.least_m < 0.25 * aim_m)
    return false;
  if (!close(pattern, chain))
    return false;
  stand(pattern, chain, aim_m, standing_);
  return standing_.least_m >= 0.1 * aim_m;
}

bool Fitter::close(const Pattern& pattern, Chain& chain) {
  const Sizes sizes(pattern);
  const std::size_t n = sizes.count();
  std::array<bool, most_sizes> held{};
  for (int step = 0; step < 12; ++step) {
    // The same slopes as a fit's, without anything in the way.
    stand(pattern, chain, -1, tried_);
    if (miss_of(tried_) < 1e-10)
      return true;
    std::array<std::array<double, most_sizes>, most_sizes> a{};
    std::array<double, most_sizes> b{};
    for (std::size_t i = 0; i < 6; ++i) {
      for (std::size_t j = 0; j <= i; ++j)
        for (std::size_t k = 0; k < n; ++k)
          if (!held[k])
            a[i][j] += tried_.miss_slope[i][k] * tried_.miss_slope[j][k];
      a[i][i] += 1e-12;
      b[i] = -tried_.miss[i];
    }
    if (!solve(a, b, 6))
      return false;
    for (std::size_t k = 0; k < n; ++k) {
      if (held[k])
        continue;
      double change = 0;
      for (std::size_t i = 0; i < 6; ++i)
        change += tried_.miss_slope[i][k] * b[i];
      const double x = sizes.get(chain, k) + change;
      const double inside = std::clamp(x, sizes.low(k), sizes.high(k));
      held[k] = inside != x;
      sizes.set(chain, k, inside);
    }
  }
  // A single bend can only be as near as the port was measured.
  double gap2 = 0, turn2 = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    gap2 += tried_.miss[i] * tried_.miss[i];
    turn2 += tried_.miss[3 + i] * tried_.miss[3 + i];
  }
  return std::sqrt(gap2) < 0.5 * problem_->rules.end_gap_m &&
         std::sqrt(turn2) < 0.5 * arm_m * problem_->rules.end_angle_rad;
}

} // namespace bellmouth::way
