// SPDX-License-Identifier: GPL-3.0-or-later
#include "fitter.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bellmouth::way {

using bay::cross, bay::dot, bay::minus, bay::plus;

namespace {

constexpr double sample_m = 16e-3;
constexpr double cell_m = 24e-3;
/// What a gap can dip between two samples: the square of their distance over eight times the way to the
/// solid.
constexpr double dip_m = 1.5e-3;
/// Gaps are brought to this, so that rounding and what lies between samples cannot break them.
constexpr double aim_m = 0.02e-3;
/// How near something must come to be looked at while fitting.
constexpr double near_reach_m = 0.5e-3;
/// What one radian at the end counts.
constexpr double arm_m = 0.3;
constexpr double end_weight = 30;
/// With less wrong than this a fit is given more time [m2].
constexpr double close_m2 = 1e-6;
/// With more wrong than this after some steps a fit is given up [m2].
constexpr double far_m2 = 1e-4;

double widest_radius_m(const Problem& problem) {
  return 0.5 * std::max(problem.start.outer_diameter_m, problem.end.outer_diameter_m);
}

std::vector<Ground> grounds(const std::vector<Waypoint>& waypoints) {
  std::vector<Ground> result;
  for (const Waypoint& waypoint : waypoints) {
    Problem one;
    one.keep_outs.push_back(
        {waypoint.name,
         std::visit([](const auto& s) -> decltype(KeepOut::shape) { return s; }, waypoint.shape), 0});
    result.emplace_back(one);
  }
  return result;
}

/// Goes along an element in even steps.
class Steps {
public:
  Steps(const Element& element, std::size_t steps) : element_(element) {
    const double count = static_cast<double>(std::max<std::size_t>(steps, 1));
    step_m_ = element.length_m / count;
    if (element.is_arc()) {
      step_sine_ = std::sin(element.angle_rad / count);
      step_cosine_ = std::cos(element.angle_rad / count);
    }
  }
  [[nodiscard]] Vector next() {
    if (!element_.is_arc()) {
      const Vector point = plus(element_.start, along_m_, element_.direction);
      along_m_ += step_m_;
      return point;
    }
    const Vector point = plus(plus(element_.start, element_.radius_m * sine_, element_.direction),
                              element_.radius_m * (1 - cosine_), element_.normal);
    const double sine = sine_ * step_cosine_ + cosine_ * step_sine_;
    cosine_ = cosine_ * step_cosine_ - sine_ * step_sine_;
    sine_ = sine;
    return point;
  }

private:
  const Element& element_;
  double along_m_ = 0, step_m_ = 0, sine_ = 0, cosine_ = 1, step_sine_ = 0, step_cosine_ = 1;
};

} // namespace

Sizes::Sizes(const Pattern& pattern) : turns_(pattern.turns), count_(2 * pattern.turns + 1) {
  for (std::size_t i = 0; i <= turns_; ++i) {
    low_[i] = pattern.straight[i].low_m;
    high_[i] = pattern.straight[i].high_m;
  }
  for (std::size_t i = 0; i < turns_; ++i) {
    low_[clocking(i)] = -std::numeric_limits<double>::infinity();
    high_[clocking(i)] = std::numeric_limits<double>::infinity();
  }
  for (std::size_t i = 0; i < turns_; ++i) {
    angle_[i] = most_sizes;
    if (pattern.turn[i].is_fixed())
      continue;
    turn_of_[count_ - (2 * turns_ + 1)] = i;
    low_[count_] = pattern.turn[i].low_rad;
    high_[count_] = pattern.turn[i].high_rad;
    angle_[i] = count_++;
  }
  for (std::size_t i = 0; i < turns_; ++i)
    angle_[i] = std::min(angle_[i], count_);
}

double Sizes::get(const Chain& chain, std::size_t size) const {
  if (size <= turns_)
    return chain.straight_m[size];
  if (size <= 2 * turns_)
    return chain.clocking_rad[size - turns_ - 1];
  return chain.angle_rad[turn_of_[size - 2 * turns_ - 1]];
}
void Sizes::set(Chain& chain, std::size_t size, double value) const {
  if (size <= turns_)
    chain.straight_m[size] = value;
  else if (size <= 2 * turns_)
    chain.clocking_rad[size - turns_ - 1] = value;
  else
    chain.angle_rad[turn_of_[size - 2 * turns_ - 1]] = value;
}

Fitter::Fitter(const Problem& problem, const Ground& ground)
    : problem_(&problem), ground_(&ground), through_(grounds(problem.waypoints)),
      cells_(ground, cell_m, widest_radius_m(problem) + dip_m + near_reach_m),
      far_cells_(ground, cell_m, widest_radius_m(problem) + dip_m + far_reach_m) {}

/// Finds the places of the chain that come within `reach_m` of a keep-out.
void Fitter::look(const Pattern& pattern, const Chain& chain, const Lie& lie, double reach_m) {
  places_.clear();
  if (reach_m < 0)
    return;
  Cells& cells = reach_m > near_reach_m ? far_cells_ : cells_;
  for (std::size_t e = 0; e < lie.elements; ++e) {
    const Element& element = lie.element[e];
    const double length_m = element.centreline_m();
    const auto steps = static_cast<std::size_t>(std::ceil(length_m / sample_m));
    near_.clear();
    const auto radius_at = [&](double share) { return half_diameter_m(*problem_, pattern, chain, e, share); };
    const bool is_even = !pattern.has_reducer() || e != 2 * pattern.reduced_at;
    const double even_radius = is_even ? radius_at(0.5) : 0;
    const auto counts = [&](std::uint32_t k, double share) {
      const double along_m = element.starts_m + share * length_m;
      return along_m >= ground_->not_from_start_m(k) && along_m <= lie.length_m - ground_->not_to_end_m(k);
    };
    Steps walk(element, steps);
    for (std::size_t s = 0; s <= steps; ++s) {
      const Vector point = walk.next();
      if (s == 0 && e > 0)
        continue; // the end of the element before
      const double share = steps > 0 ? static_cast<double>(s) / static_cast<double>(steps) : 0;
      const Cells::Cell& cell = cells.at(point);
      if (cell.count == 0)
        continue;
      const double radius_m = is_even ? even_radius : radius_at(share);
      const double away_m = bay::length(minus(point, cell.middle));
      for (const auto& [k, from_middle_m] : cells.near(cell)) {
        if (from_middle_m - away_m > radius_m + reach_m + dip_m)
          continue;
        const double value_m = ground_->gap_m(k, point) - radius_m;
        if (value_m > reach_m + dip_m || !counts(k, share))
          continue;
        const auto known = std::ranges::find(near_, k, &Sampled::keep_out);
        if (known == near_.end())
          near_.push_back({k, value_m, share});
        else if (value_m < known->value_m)
          *known = {k, value_m, share};
      }
    }
    for (const Sampled& sampled : near_) {
      Place place{e, sampled.share, 0, {}};
      const Touch touch = ground_->touch(sampled.keep_out, element.at(sampled.share));
      place.value_m = touch.gap_m - radius_at(sampled.share);
      place.away = touch.away;
      if (length_m > 0)
        to_valley(element, sampled.keep_out, touch, place, radius_at, counts);
      if (place.value_m < reach_m)
        places_.push_back(place);
    }
  }
}

/// From a sample to the lowest place beside it, where the distance neither grows nor shrinks along the way.
/// By what the distance to a solid bends at most, (1 - slope^2) / way to it, then by the slopes themselves
/// (secant).
template <class Radius, class Counts>
void Fitter::to_valley(const Element& element, std::uint32_t keep_out, const Touch& touch, Place& place,
                       const Radius& radius_at, const Counts& counts) {
  const double length_m = element.centreline_m();
  constexpr double settled_m = 0.5e-6; // what is still to be gained
  constexpr int most_steps = 7;
  struct Step {
    double at_m, slope, bend;
  };
  const auto step_of = [&](double share, const Touch& at) {
    Vector heading = element.direction;
    const double way_m = std::max(at.gap_m, 10e-3);
    double bend = 0;
    if (element.is_arc()) {
      const double angle = share * element.angle_rad;
      heading = bay::combined(std::cos(angle), element.direction, std::sin(angle), element.normal);
      const Vector inward =
          bay::combined(-std::sin(angle), element.direction, std::cos(angle), element.normal);
      bend = dot(at.away, inward) / element.radius_m;
    }
    const double slope = dot(at.away, heading);
    return Step{share * length_m, slope, std::max(bend + (1 - slope * slope) / way_m, 0.5 / way_m)};
  };
  Step here = step_of(place.share, touch);
  Step before = here;
  double stretch = 1;
  for (int i = 0; i < most_steps && here.slope * here.slope > 2 * settled_m * here.bend; ++i) {
    double next_m = here.at_m - std::clamp(stretch * here.slope / here.bend, -sample_m, sample_m);
    if (before.slope * here.slope < 0)
      next_m = here.at_m - here.slope * (here.at_m - before.at_m) / (here.slope - before.slope);
    next_m = std::clamp(next_m, 0.0, length_m);
    const double share = next_m / length_m;
    if (std::abs(next_m - here.at_m) < 1e-7 || !counts(keep_out, share))
      break;
    const Touch there = ground_->touch(keep_out, element.at(share));
    const Step next = step_of(share, there);
    if (next.slope * here.slope < 0 || before.slope * here.slope >= 0)
      before = here;
    stretch *= 2;
    here = next;
    const double value_m = there.gap_m - radius_at(share);
    if (value_m < place.value_m) {
      place.share = share;
      place.value_m = value_m;
      place.away = there.away;
    }
  }
}

/// Each waypoint that the chain does not pass through, as a place that should be nearer to it.
void Fitter::waypoints(const Lie& lie) {
  for (const Ground& waypoint : through_) {
    Place best{0, 0, -std::numeric_limits<double>::infinity(), {}};
    for (std::size_t e = 0; e < lie.elements; ++e) {
      const auto steps = static_cast<std::size_t>(std::ceil(lie.element[e].centreline_m() / sample_m)) + 1;
      for (std::size_t s = 0; s <= steps; ++s) {
        const double share = static_cast<double>(s) / static_cast<double>(steps);
        const double inside_m = -waypoint.gap_m(0, lie.element[e].at(share));
        if (inside_m > best.value_m)
          best = {e, share, inside_m, {}};
      }
    }
    if (best.value_m < aim_m) {
      best.away = bay::times(-1, waypoint.touch(0, lie.element[best.element].at(best.share)).away);
      places_.push_back(best);
    }
  }
}

double Fitter::lacks_m(const Vector& point) {
  const double radius_m = 0.5 * std::min(problem_->start.outer_diameter_m, problem_->end.outer_diameter_m);
  const Cells::Cell& cell = cells_.at(point);
  const double away_m = bay::length(minus(point, cell.middle));
  double most = 0;
  for (const auto& [k, from_middle_m] : cells_.near(cell))
    if (radius_m - from_middle_m + away_m > most)
      most = std::max(most, radius_m - ground_->gap_m(k, point));
  return most;
}

double Fitter::ease(Vector& point, double most_m) {
  const double radius_m = 0.5 * std::min(problem_->start.outer_diameter_m, problem_->end.outer_diameter_m);
  const Vector from = point;
  double least = 0;
  Vector best = point;
  constexpr int most_steps = 4;
  for (int step = 0; step <= most_steps; ++step) {
    const Cells::Cell& cell = cells_.at(point);
    double most = 0;
    std::uint32_t worst = 0;
    for (const auto& [k, from_middle_m] : cells_.near(cell)) {
      const double lacks = radius_m - ground_->gap_m(k, point);
      if (lacks > most) {
        most = lacks;
        worst = k;
      }
    }
    if (step == 0 || most < least) {
      least = most;
      best = point;
    }
    if (most == 0 || most > 3 * most_m || step == most_steps)
      break;
    point = plus(point, most + 0.2e-3, ground_->touch(worst, point).away);
    const Vector moved = minus(point, from);
    const double far = bay::length(moved);
    if (far > most_m)
      point = plus(from, most_m / far, moved);
  }
  point = best;
  return least;
}

double Fitter::leg_lacks_m(const Vector& from, const Vector& to) {
  constexpr double rough_m = 30e-3;
  const auto steps = static_cast<std::size_t>(std::ceil(bay::length(minus(to, from)) / rough_m)) + 1;
  double most = 0;
  for (std::size_t s = 0; s <= steps; ++s) {
    const double share = static_cast<double>(s) / static_cast<double>(steps);
    most = std::max(most, lacks_m(bay::combined(1 - share, from, share, to)));
  }
  return most;
}

double Fitter::wrong(const Pattern& pattern, const Chain& chain) {
  const Lie here = lie(*problem_, pattern, chain);
  look(pattern, chain, here, aim_m);
  waypoints(here);
  double sum = 0;
  for (const Place& place : places_)
    sum += (aim_m - place.value_m) * (aim_m - place.value_m);
  return sum;
}

void Fitter::stand(const Pattern& pattern, const Chain& chain, double reach_m, Standing& standing) {
  const Sizes sizes(pattern);
  const Lie here = lie(*problem_, pattern, chain);
  look(pattern, chain, here, reach_m);
  if (reach_m >= 0)
    waypoints(here);
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
  for (const Place& place : places_) {
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
  constexpr double reach_m = near_reach_m;
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
