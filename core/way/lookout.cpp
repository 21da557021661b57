// SPDX-License-Identifier: GPL-3.0-or-later
#include "lookout.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bellmouth::way {

using bay::dot, bay::minus, bay::plus;

namespace {

constexpr double sample_m = 16e-3;
constexpr double cell_m = 24e-3;
/// What a gap can dip between two samples: the square of their distance over eight times the way to the
/// solid.
constexpr double dip_m = 1.5e-3;

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

Lookout::Lookout(const Problem& problem, const Ground& ground)
    : problem_(&problem), ground_(&ground), through_(grounds(problem.waypoints)),
      cells_(ground, cell_m, widest_radius_m(problem) + dip_m + near_reach_m),
      far_cells_(ground, cell_m, widest_radius_m(problem) + dip_m + far_reach_m) {}

const std::vector<Place>& Lookout::look(const Pattern& pattern, const Chain& chain, const Lie& lie,
                                        double reach_m) {
  places_.clear();
  look_for_keep_outs(pattern, chain, lie, reach_m);
  look_for_waypoints(lie);
  return places_;
}

void Lookout::look_for_keep_outs(const Pattern& pattern, const Chain& chain, const Lie& lie, double reach_m) {
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
        const double value_m = ground_->gap_m(k, point, radius_m + reach_m + dip_m) - radius_m;
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
void Lookout::to_valley(const Element& element, std::uint32_t keep_out, const Touch& touch, Place& place,
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
void Lookout::look_for_waypoints(const Lie& lie) {
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

double Lookout::lacks_m(const Vector& point) {
  const double radius_m = 0.5 * std::min(problem_->start.outer_diameter_m, problem_->end.outer_diameter_m);
  const Cells::Cell& cell = cells_.at(point);
  const double away_m = bay::length(minus(point, cell.middle));
  double most = 0;
  for (const auto& [k, from_middle_m] : cells_.near(cell))
    if (radius_m - from_middle_m + away_m > most)
      most = std::max(most, radius_m - ground_->gap_m(k, point, radius_m - most));
  return most;
}

double Lookout::ease(Vector& point, double most_m) {
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
      const double lacks = radius_m - ground_->gap_m(k, point, radius_m - most);
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

double Lookout::leg_lacks_m(const Vector& from, const Vector& to) {
  constexpr double rough_m = 30e-3;
  const auto steps = static_cast<std::size_t>(std::ceil(bay::length(minus(to, from)) / rough_m)) + 1;
  double most = 0;
  for (std::size_t s = 0; s <= steps; ++s) {
    const double share = static_cast<double>(s) / static_cast<double>(steps);
    most = std::max(most, lacks_m(bay::combined(1 - share, from, share, to)));
  }
  return most;
}

} // namespace bellmouth::way
