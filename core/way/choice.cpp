// SPDX-License-Identifier: GPL-3.0-or-later
#include "choice.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::way {
namespace {

bool is_one(double a, double b) {
  return std::abs(a - b) <= one_size;
}

void add_once(std::vector<TurnRange>& ranges, const TurnRange& range) {
  for (TurnRange& known : ranges)
    if (is_one(known.radius_m, range.radius_m) && known.is_fixed() == range.is_fixed()) {
      if (range.is_fixed() && !is_one(known.low_rad, range.low_rad))
        continue;
      known.high_rad = std::max(known.high_rad, range.high_rad);
      return;
    }
  ranges.push_back(range);
}

} // namespace

Turns Choice::turns_of(double outer_diameter_m) const {
  Turns result;
  result.least_cost = std::numeric_limits<double>::infinity();
  const Rules& rules = problem_->rules;
  const Weights& weights = problem_->weights;
  const double s = std::pow(problem_->start.outer_diameter_m / outer_diameter_m, 4);
  for (const Bend& bend : problem_->bends) {
    if (!is_one(bend.outer_diameter_m, outer_diameter_m))
      continue;
    add_once(result.fixed, {bend.radius_m, bend.angle_rad, bend.angle_rad});
    double least_rad = bend.angle_rad;
    if (rules.bends_may_be_cut && bend.kind == BendKind::mandrel &&
        bend.angle_rad > rules.least_cut_angle_rad) {
      least_rad = rules.least_cut_angle_rad;
      add_once(result.cut, {bend.radius_m, least_rad, bend.angle_rad});
    }
    const double loss = s * bend.k90 * std::pow(least_rad / (std::numbers::pi / 2), weights.k_exponent);
    result.least_cost =
        std::min(result.least_cost, weights.price * (bend.owned > 0 ? 0 : bend.price) + weights.loss * loss);
  }
  return result;
}

Choice::Choice(const Problem& problem)
    : problem_(&problem), differs_(!is_one(problem.start.outer_diameter_m, problem.end.outer_diameter_m)),
      before_(turns_of(problem.start.outer_diameter_m)), behind_(turns_of(problem.end.outer_diameter_m)) {}

Pattern Choice::pattern(std::size_t turns, std::size_t reduced_at) const {
  const Rules& rules = problem_->rules;
  Pattern result;
  result.turns = turns;
  for (std::size_t i = 0; i <= turns; ++i) {
    double low_m = i == 0       ? problem_->start.straight_m
                   : i == turns ? problem_->end.straight_m
                                : rules.straight_between_bends_m;
    if (turns == 0)
      low_m = std::max(low_m, problem_->end.straight_m);
    if (has_reducer() && i == reduced_at)
      low_m = std::max(low_m, problem_->reducer->length_m + 2 * problem_->reducer->clamp_m);
    result.straight[i] = {low_m, problem_->tube.longest_m};
  }
  if (has_reducer())
    result.reduced_at = reduced_at;
  return result;
}

double Choice::least_cost(std::size_t turns) const {
  const Weights& weights = problem_->weights;
  const auto count = static_cast<double>(turns);
  const double weld_price = problem_->weld_price.value_or(problem_->joint_price);
  const double far_m = bay::length(bay::minus(problem_->end.position_m, problem_->start.position_m));
  const double turn = has_reducer() ? std::min(before_.least_cost, behind_.least_cost) : before_.least_cost;
  double result =
      (turns > 0 ? count * turn : 0) +
      (count + 1) * (weights.price * std::min(problem_->joint_price, weld_price) + weights.joint) +
      weights.per_m * far_m;
  if (has_reducer())
    result += weights.price * problem_->reducer->price;
  return result;
}

std::optional<Way> Choice::dressed(const Pattern& pattern, const Chain& chain) const {
  struct Dress {
    std::size_t bend;
    std::optional<Leg> lost;
    double cost, leg_in_m, leg_out_m;
    double sum = 0;
    std::size_t before = 0;
  };
  const Weights& weights = problem_->weights;
  const double joint = weights.price * problem_->joint_price + weights.joint;
  const double weld = weights.price * problem_->weld_price.value_or(problem_->joint_price) + weights.joint;
  // Of a straight between two legs, either of which may be lost (by its cut) or be a port's.
  const auto straight_cost = [&](std::size_t i, double leg_before_m, bool lost_before, double leg_behind_m,
                                 bool lost_behind) {
    const double over_m = chain.straight_m[i] - leg_before_m - leg_behind_m;
    const bool needs_tube = over_m > 1e-9;
    const int welded = welds(lost_before, lost_behind, needs_tube), hosed = (needs_tube ? 2 : 1) - welded;
    return hosed * joint + welded * weld +
           (needs_tube ? weights.price * problem_->tube.price_per_m * over_m : 0);
  };
  std::array<std::vector<Dress>, most_turns> dresses;
  for (std::size_t i = 0; i < pattern.turns; ++i) {
    const bool behind = pattern.has_reducer() && i >= pattern.reduced_at;
    const double diameter_m = behind ? problem_->end.outer_diameter_m : problem_->start.outer_diameter_m;
    const double s = std::pow(problem_->start.outer_diameter_m / diameter_m, 4);
    for (std::size_t b = 0; b < problem_->bends.size(); ++b) {
      const Bend& bend = problem_->bends[b];
      const double angle_rad = chain.angle_rad[i];
      if (!is_one(bend.outer_diameter_m, diameter_m) || !is_one(bend.radius_m, pattern.turn[i].radius_m) ||
          angle_rad > bend.angle_rad + one_size)
        continue;
      if ((i == 0 && !is_long_enough(problem_->start, bend, chain.straight_m[0])) ||
          (i + 1 == pattern.turns && !is_long_enough(problem_->end, bend, chain.straight_m[pattern.turns])))
        continue;
      const double cost =
          weights.price * (bend.owned > 0 ? 0 : bend.price) +
          weights.loss * s * bend.k90 * std::pow(angle_rad / (std::numbers::pi / 2), weights.k_exponent);
      if (is_one(angle_rad, bend.angle_rad)) {
        dresses[i].push_back({b, std::nullopt, cost, bend.leg_m, bend.leg_m});
      } else if (problem_->rules.bends_may_be_cut && bend.kind == BendKind::mandrel &&
                 angle_rad >= problem_->rules.least_cut_angle_rad) {
        dresses[i].push_back({b, Leg::in, cost, 0, bend.leg_m});
        dresses[i].push_back({b, Leg::out, cost, bend.leg_m, 0});
      }
    }
    if (dresses[i].empty())
      return std::nullopt;
    for (Dress& dress : dresses[i]) {
      if (i == 0) {
        dress.sum = dress.cost + straight_cost(0, 0, false, dress.leg_in_m, dress.lost == Leg::in);
        continue;
      }
      dress.sum = std::numeric_limits<double>::infinity();
      for (std::size_t k = 0; k < dresses[i - 1].size(); ++k) {
        const Dress& before = dresses[i - 1][k];
        const double sum = before.sum + dress.cost +
                           straight_cost(i, before.leg_out_m, before.lost == Leg::out, dress.leg_in_m,
                                         dress.lost == Leg::in);
        if (sum < dress.sum) {
          dress.sum = sum;
          dress.before = k;
        }
      }
    }
  }
  Way way;
  way.straights_m.assign(chain.straight_m.begin(),
                         chain.straight_m.begin() + static_cast<std::ptrdiff_t>(pattern.turns) + 1);
  way.turns.resize(pattern.turns);
  if (pattern.turns > 0) {
    auto& last = dresses[pattern.turns - 1];
    std::size_t at = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < last.size(); ++k) {
      const double sum =
          last[k].sum + straight_cost(pattern.turns, last[k].leg_out_m, last[k].lost == Leg::out, 0, false);
      if (sum < least) {
        least = sum;
        at = k;
      }
    }
    for (std::size_t i = pattern.turns; i-- > 0;) {
      const Dress& dress = dresses[i][at];
      const bool whole = !dress.lost;
      way.turns[i] = {dress.bend, whole ? problem_->bends[dress.bend].angle_rad : chain.angle_rad[i],
                      std::remainder(chain.clocking_rad[i], 2 * std::numbers::pi), dress.lost};
      at = dress.before;
    }
  }
  if (pattern.has_reducer())
    way.reduction = Reduction{pattern.reduced_at, reducer_from_m(*problem_, pattern, chain)};
  return way;
}

} // namespace bellmouth::way
