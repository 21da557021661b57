// SPDX-License-Identifier: GPL-3.0-or-later
// The cost of a way is made less step by step: each step is the least of a linear model of the cost within
// linear models of all bounds, kept short by a quadratic term (sequential quadratic programming). What the
// end of the chain must not do is taken out of every direction beforehand; the bounds' multipliers are found
// one after the other (Hildreth 1957).
#include "worker.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::way {

namespace {

using Row = std::array<double, most_sizes>;

double product(const Row& a, const Row& b, std::size_t n) {
  double sum = 0;
  for (std::size_t i = 0; i < n; ++i)
    sum += a[i] * b[i];
  return sum;
}

/// What the cost gains by each size, its pieces staying the same.
Row cost_slope(const Field& field, const Candidate& candidate, const Sizes& sizes) {
  const Problem& problem = field.problem;
  const Weights& weights = problem.weights;
  const Pattern& pattern = candidate.draft.pattern;
  Row slope{};
  const auto diameter_m = [&](bool behind) {
    return behind ? problem.end.outer_diameter_m : problem.start.outer_diameter_m;
  };
  const auto share = [&](double d) { return std::pow(problem.start.outer_diameter_m / d, 4); };
  for (std::size_t i = 0; i <= pattern.turns; ++i) {
    // The part of the straight that grows, beside the reducer, is the one that does not hold it at its clamp.
    const bool behind = pattern.has_reducer() &&
                        (i > pattern.reduced_at || (i == pattern.reduced_at && pattern.reduces_early));
    const double d = diameter_m(behind);
    slope[sizes.straight(i)] = weights.per_m + weights.loss * weights.friction_factor * share(d) / d;
    if (candidate.way.straights_m[i] > legs_m(problem, candidate.way, i) + 1e-9)
      slope[sizes.straight(i)] += weights.price * problem.tube.price_per_m;
  }
  for (std::size_t t = 0; t < pattern.turns; ++t) {
    if (sizes.angle(t) >= sizes.count())
      continue;
    const Bend& bend = problem.bends[candidate.way.turns[t].bend];
    const double d = diameter_m(pattern.has_reducer() && t >= pattern.reduced_at);
    const double turned = candidate.draft.chain.angle_rad[t] / (std::numbers::pi / 2);
    slope[sizes.angle(t)] =
        bend.radius_m * (weights.per_m + weights.loss * weights.friction_factor * share(d) / d) +
        weights.loss * share(d) * bend.k90 * weights.k_exponent * std::pow(turned, weights.k_exponent - 1) /
            (std::numbers::pi / 2);
  }
  return slope;
}

/// Takes out of a direction what would move the end: by an orthonormal basis of those directions.
class EndKept {
public:
  EndKept(const Standing& standing, std::size_t n) : n_(n) {
    for (const auto& slope : standing.miss_slope) {
      Row row = slope;
      take_out(row);
      const double length = std::sqrt(product(row, row, n));
      if (length < 1e-7)
        continue;
      for (double& x : row)
        x /= length;
      basis_[count_++] = row;
    }
  }
  void take_out(Row& row) const {
    for (int twice = 0; twice < 2; ++twice)
      for (std::size_t k = 0; k < count_; ++k) {
        const double along = product(row, basis_[k], n_);
        for (std::size_t i = 0; i < n_; ++i)
          row[i] -= along * basis_[k][i];
      }
  }

private:
  std::size_t n_, count_ = 0;
  std::array<Row, 6> basis_{};
};

struct Fence {
  Row slope{};
  double room = 0, square = 0, multiplier = 0;
};

} // namespace

void slide(const Field& field, Fitter& fitter, Candidate& candidate, int most_rounds) {
  // A straight that its legs cover stays covered.
  const Problem& problem = field.problem;
  double step_length = 20e-3;
  Standing standing;
  std::vector<Fence> fences;
  int idle = 0;
  for (int round = 0; round < most_rounds && idle < 3 && step_length > 0.2e-3; ++round) {
    Pattern pattern = candidate.draft.pattern;
    const Chain& chain = candidate.draft.chain;
    for (std::size_t i = 0; i <= pattern.turns; ++i) {
      const double covered_m = legs_m(problem, candidate.way, i);
      if (chain.straight_m[i] <= covered_m + 1e-9)
        pattern.straight[i].high_m = std::min(pattern.straight[i].high_m, covered_m);
    }
    const Sizes sizes(pattern);
    const std::size_t n = sizes.count();
    // Angles count by an arm, so that all sizes are lengths.
    constexpr double arm_m = 0.15;
    Row scale{};
    for (std::size_t i = 0; i < n; ++i)
      scale[i] = i <= pattern.turns ? 1 : 1 / arm_m;
    fitter.stand(pattern, chain, Lookout::far_reach_m, standing);
    for (auto& slope : standing.miss_slope)
      for (std::size_t i = 0; i < n; ++i)
        slope[i] *= scale[i];
    const EndKept kept(standing, n);
    Row down = cost_slope(field, candidate, sizes);
    for (std::size_t i = 0; i < n; ++i)
      down[i] *= -scale[i];
    kept.take_out(down);
    const double steepest = std::sqrt(product(down, down, n));
    if (steepest < 1e-9)
      return;
    fences.clear();
    const auto fence = [&](Row slope, double room) {
      kept.take_out(slope);
      const double square = product(slope, slope, n);
      if (square > 1e-12)
        fences.push_back({slope, room, square, 0});
    };
    for (const Bound& bound : standing.bounds) {
      Row slope{};
      for (std::size_t i = 0; i < n; ++i)
        slope[i] = bound.slope[i] * scale[i];
      fence(slope, bound.value_m - 0.01e-3);
    }
    for (std::size_t i = 0; i < n; ++i) {
      const double x = sizes.get(chain, i);
      Row slope{};
      if (std::isfinite(sizes.low(i))) {
        slope[i] = 1;
        fence(slope, (x - sizes.low(i)) / scale[i]);
      }
      if (std::isfinite(sizes.high(i))) {
        slope[i] = -1;
        fence(slope, (sizes.high(i) - x) / scale[i]);
      }
    }
    Row step{};
    for (std::size_t i = 0; i < n; ++i)
      step[i] = down[i] * step_length / steepest;
    for (int sweep = 0; sweep < 60; ++sweep) {
      double most = 0;
      for (Fence& f : fences) {
        const double short_of = -f.room - product(f.slope, step, n);
        const double change = std::max(-f.multiplier, short_of / f.square);
        if (change == 0)
          continue;
        f.multiplier += change;
        for (std::size_t i = 0; i < n; ++i)
          step[i] += change * f.slope[i];
        most = std::max(most, std::abs(change) * std::sqrt(f.square));
      }
      if (most < 1e-7)
        break;
    }
    const double gain = product(down, step, n);
    if (gain < 1e-7 * candidate.figures.cost) {
      step_length *= 0.3;
      ++idle;
      continue;
    }
    Draft next{pattern, chain, 0};
    for (std::size_t i = 0; i < n; ++i)
      sizes.set(next.chain, i,
                std::clamp(sizes.get(chain, i) + step[i] * scale[i], sizes.low(i), sizes.high(i)));
    bool accepted = false;
    if (fitter.fit(next.pattern, next.chain, 5)) {
      next.pattern = candidate.draft.pattern;
      if (auto way = field.choice.dressed(next.pattern, next.chain)) {
        const Figures f = figures(problem, *way);
        if (f.cost < candidate.figures.cost) {
          idle = f.cost > candidate.figures.cost * (1 - 2e-5) ? idle + 1 : 0;
          candidate = {next, std::move(*way), f};
          accepted = true;
        }
      }
    }
    step_length *= accepted ? 1.7 : 0.3;
    step_length = std::min(step_length, 60e-3);
  }
}

} // namespace bellmouth::way
