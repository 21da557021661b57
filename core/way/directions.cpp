// SPDX-License-Identifier: GPL-3.0-or-later
#include "directions.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace bellmouth::way {

using bay::combined, bay::cross, bay::dot, bay::length, bay::minus, bay::plus, bay::square_to, bay::times;

namespace {

constexpr double turns_back_rad = 0.999 * std::numbers::pi; ///< the next direction says nothing of the side

Vector random_side(const Vector& direction, Random& random) {
  const double angle = random.between(0, 2 * std::numbers::pi);
  const Vector a = square_to(direction);
  return combined(std::cos(angle), a, std::sin(angle), cross(direction, a));
}

/// A direction at these angles to two others; unset where there is none.
std::optional<Vector> between(const Vector& a, double angle_to_a, const Vector& b, double angle_to_b,
                              Random& random) {
  const double cosine = dot(a, b), sine2 = 1 - cosine * cosine;
  if (sine2 < 1e-10) {
    // One and the same axis: any side will do, if the angles agree.
    const double same = cosine > 0 ? angle_to_b : std::numbers::pi - angle_to_b;
    if (std::abs(angle_to_a - same) > 1e-6)
      return std::nullopt;
    return combined(std::cos(angle_to_a), a, std::sin(angle_to_a), random_side(a, random));
  }
  const double ca = std::cos(angle_to_a), cb = std::cos(angle_to_b);
  const double x = (ca - cb * cosine) / sine2, y = (cb - ca * cosine) / sine2;
  const double in_plane2 = x * x + y * y + 2 * x * y * cosine;
  if (in_plane2 > 1 + 1e-9)
    return std::nullopt;
  const double out = std::sqrt(std::max(1 - in_plane2, 0.0) / sine2) * (random.share() < 0.5 ? -1 : 1);
  return plus(combined(x, a, y, b), out, cross(a, b));
}

} // namespace

std::optional<Chain> along_directions(const Problem& problem, const Pattern& pattern, double most_miss_m,
                                      Random& random) {
  const std::size_t n = pattern.turns;
  std::array<Vector, most_turns + 1> u{};
  std::array<Vector, most_turns> side{};
  u[0] = problem.start.direction;
  u[n] = times(-1, problem.end.direction);
  const std::size_t pair = random.below(n - 1); // this turn and the next are settled by the others
  for (std::size_t t = 0; t < pair; ++t) {
    const double a = pattern.turn[t].low_rad;
    side[t] = random_side(u[t], random);
    u[t + 1] = combined(std::cos(a), u[t], std::sin(a), side[t]);
  }
  for (std::size_t t = n; t-- > pair + 2;) {
    const double a = pattern.turn[t].low_rad;
    const Vector outer = random_side(u[t + 1], random);
    u[t] = combined(std::cos(a), u[t + 1], std::sin(a), outer);
    side[t] = a > turns_back_rad ? outer : times(1 / std::sin(a), minus(u[t + 1], times(std::cos(a), u[t])));
  }
  const auto middle =
      between(u[pair], pattern.turn[pair].low_rad, u[pair + 2], pattern.turn[pair + 1].low_rad, random);
  if (!middle)
    return std::nullopt;
  u[pair + 1] = *middle;
  for (const std::size_t t : {pair, pair + 1}) {
    const double a = pattern.turn[t].low_rad;
    const Vector across = minus(u[t + 1], times(std::cos(a), u[t]));
    const double far = length(across);
    side[t] = a > turns_back_rad || far < 1e-9 ? random_side(u[t], random) : times(1 / far, across);
  }
  // What is left for the straights once the bends have had their share.
  Vector rest = minus(problem.end.position_m, problem.start.position_m);
  Chain chain;
  Vector v = problem.reference;
  for (std::size_t t = 0; t < n; ++t) {
    const double a = pattern.turn[t].low_rad, radius_m = pattern.turn[t].radius_m;
    rest = minus(rest, combined(radius_m * std::sin(a), u[t], radius_m * (1 - std::cos(a)), side[t]));
    chain.angle_rad[t] = a;
    chain.clocking_rad[t] = std::atan2(dot(side[t], cross(u[t], v)), dot(side[t], v));
    v = combined(std::cos(a), side[t], -std::sin(a), u[t]);
  }
  for (std::size_t i = 0; i <= n; ++i) {
    const double share = random.share();
    chain.straight_m[i] = pattern.straight[i].low_m + 0.35 * share * share;
  }
  // The least change that brings the end to the port; what would be too short stays at its least.
  constexpr int most_rounds = 5;
  Vector miss = rest;
  for (int round = 0; round < most_rounds; ++round) {
    miss = rest;
    for (std::size_t i = 0; i <= n; ++i)
      miss = plus(miss, -chain.straight_m[i], u[i]);
    if (length(miss) < 1e-6)
      break;
    std::array<Vector, 3> square{};
    for (std::size_t i = 0; i <= n; ++i) {
      const bool held = round > 0 && chain.straight_m[i] <= pattern.straight[i].low_m && dot(miss, u[i]) < 0;
      if (!held)
        for (std::size_t r = 0; r < 3; ++r)
          square[r] = plus(square[r], u[i][r], u[i]);
    }
    for (std::size_t r = 0; r < 3; ++r)
      square[r][r] += 1e-6;
    // Cramer's rule for the three multipliers.
    const double all = dot(square[0], cross(square[1], square[2]));
    const Vector x{dot(miss, cross(square[1], square[2])) / all, dot(square[0], cross(miss, square[2])) / all,
                   dot(square[0], cross(square[1], miss)) / all};
    for (std::size_t i = 0; i <= n; ++i)
      chain.straight_m[i] = std::clamp(chain.straight_m[i] + dot(x, u[i]), pattern.straight[i].low_m,
                                       pattern.straight[i].high_m);
  }
  if (length(miss) > most_miss_m)
    return std::nullopt;
  return chain;
}

} // namespace bellmouth::way
