// SPDX-License-Identifier: GPL-3.0-or-later
#include "chain.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::way {

using bay::combined, bay::cross, bay::plus;

Lie lie(const Problem& problem, const Pattern& pattern, const Chain& chain) {
  Lie result;
  Vector at = problem.start.position_m, u = problem.start.direction, v = problem.reference;
  for (std::size_t i = 0; i <= pattern.turns; ++i) {
    Element& straight = result.element[result.elements++];
    straight = {at, u, {}, chain.straight_m[i], 0, 0, result.length_m};
    at = plus(at, chain.straight_m[i], u);
    result.length_m += chain.straight_m[i];
    if (i == pattern.turns)
      break;
    const double radius = pattern.turn[i].radius_m, angle = chain.angle_rad[i];
    const double c = std::cos(chain.clocking_rad[i]), s = std::sin(chain.clocking_rad[i]);
    const Vector n = combined(c, v, s, cross(u, v));
    result.element[result.elements++] = {at, u, n, 0, radius, angle, result.length_m};
    const double sine = std::sin(angle), cosine = std::cos(angle);
    at = plus(plus(at, radius * sine, u), radius * (1 - cosine), n);
    const Vector next = combined(cosine, u, sine, n);
    v = combined(cosine, n, -sine, u);
    u = next;
    result.length_m += radius * angle;
  }
  result.end = at;
  result.direction = u;
  return result;
}

double reducer_from_m(const Problem& problem, const Pattern& pattern, const Chain& chain) {
  const double clamp_m = problem.reducer->clamp_m;
  if (pattern.reduces_early)
    return clamp_m;
  return chain.straight_m[pattern.reduced_at] - clamp_m - problem.reducer->length_m;
}

double half_diameter_m(const Problem& problem, const Pattern& pattern, const Chain& chain,
                       std::size_t element, double share) {
  const double before = 0.5 * problem.start.outer_diameter_m, behind = 0.5 * problem.end.outer_diameter_m;
  if (!pattern.has_reducer() || element < 2 * pattern.reduced_at)
    return before;
  if (element > 2 * pattern.reduced_at)
    return behind;
  const double along_m = share * chain.straight_m[pattern.reduced_at];
  const double from_m = reducer_from_m(problem, pattern, chain), to_m = from_m + problem.reducer->length_m;
  if (along_m < from_m)
    return before;
  return along_m > to_m ? behind : std::max(before, behind);
}

} // namespace bellmouth::way
