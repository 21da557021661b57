// SPDX-License-Identifier: GPL-3.0-or-later
#include "worker.hpp"

#include "directions.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace bellmouth::way {

namespace {

constexpr int fit_steps = 30, free_steps = 12;
/// A chain of free angles with more wrong than this is not tried with fixed ones [m2].
constexpr double hopeless_m2 = 15e-3 * 15e-3;
constexpr std::size_t drawn_at_once = 60, directed_at_once = 300, varied_at_once = 12, along_at_once = 24,
                      fitted_at_once = 4;
constexpr int slide_rounds = 20;

bool is_behind(const Pattern& pattern, std::size_t turn) {
  return pattern.has_reducer() && turn >= pattern.reduced_at;
}

} // namespace

Field::Field(const Problem& p, std::uint64_t seed)
    : problem(p), choice(p), ground(p), space(p, ground, seed) {}

/// All angles between the least and the widest that the stock has at a turn's radius.
TurnRange Worker::any_angle(const Pattern& pattern, std::size_t turn) const {
  const double radius_m = pattern.turn[turn].radius_m;
  const Turns& turns = field_.choice.turns(is_behind(pattern, turn));
  TurnRange range{radius_m, std::numbers::pi, 0};
  for (const TurnRange& r : turns.cut.empty() ? turns.fixed : turns.cut)
    if (std::abs(r.radius_m - radius_m) <= one_size) {
      range.low_rad = std::min(range.low_rad, r.low_rad);
      range.high_rad = std::max(range.high_rad, r.high_rad);
    }
  return range;
}

/// Chooses a radius for each turn; false where the stock has no bend for one.
bool Worker::choose_turns(Pattern& pattern, Random& random) const {
  for (std::size_t t = 0; t < pattern.turns; ++t) {
    const Turns& of = field_.choice.turns(is_behind(pattern, t));
    const auto& ranges = of.cut.empty() ? of.fixed : of.cut;
    if (ranges.empty())
      return false;
    pattern.turn[t].radius_m = ranges[random.below(ranges.size())].radius_m;
    pattern.turn[t] = any_angle(pattern, t);
  }
  return true;
}

std::optional<Draft> Worker::with_corners(Pattern pattern, const Corners& corners) {
  const Problem& problem = field_.problem;
  const auto chain = along_corners(problem, pattern, corners);
  if (!chain)
    return std::nullopt;
  Draft draft{pattern, *chain, 0};
  const Vector miss = bay::minus(lie(problem, draft.pattern, *chain).end, problem.end.position_m);
  draft.wrong = fitter_.wrong(draft.pattern, *chain) + 0.3 * bay::dot(miss, miss);
  return draft;
}

std::optional<Draft> Worker::drawn(std::size_t turns, Random& random) {
  const std::size_t reduced_at = field_.choice.has_reducer() ? random.below(turns + 1) : most_turns + 1;
  Pattern pattern = field_.choice.pattern(turns, reduced_at);
  pattern.reduces_early = random.share() < 0.5;
  if (!choose_turns(pattern, random))
    return std::nullopt;
  const auto lacks_m = [this](const Vector& from, const Vector& to) {
    return fitter_.lookout().leg_lacks_m(from, to);
  };
  const Corners corners =
      turns == 0 ? Corners{} : drawn_corners(field_.problem, field_.space, pattern, lacks_m, random);
  return with_corners(pattern, corners);
}

/// Fixed angles from the stock, laid by their directions.
std::optional<Draft> Worker::drawn_fixed(std::size_t turns, Random& random) {
  const std::size_t reduced_at = field_.choice.has_reducer() ? random.below(turns + 1) : most_turns + 1;
  Pattern pattern = field_.choice.pattern(turns, reduced_at);
  pattern.reduces_early = random.share() < 0.5;
  for (std::size_t t = 0; t < turns; ++t) {
    const auto& fixed = field_.choice.turns(is_behind(pattern, t)).fixed;
    if (fixed.empty())
      return std::nullopt;
    pattern.turn[t] = fixed[random.below(fixed.size())];
  }
  constexpr double most_miss_m = 60e-3;
  const auto chain = along_directions(field_.problem, pattern, most_miss_m, random);
  if (!chain)
    return std::nullopt;
  Draft draft{pattern, *chain, 0};
  const Vector miss =
      bay::minus(lie(field_.problem, draft.pattern, *chain).end, field_.problem.end.position_m);
  draft.wrong = fitter_.wrong(draft.pattern, *chain) + 0.3 * bay::dot(miss, miss);
  return draft;
}

/// Moves a corner by up to so much; those at the ends stay on their axes.
void Worker::shift(Corners& corners, std::size_t turns, std::size_t i, double by_m, Random& random) const {
  if (i == 0)
    corners[i] = bay::plus(corners[i], random.between(-by_m, by_m), field_.problem.start.direction);
  else if (i + 1 == turns)
    corners[i] = bay::plus(corners[i], random.between(-by_m, by_m), field_.problem.end.direction);
  else
    for (double& x : corners[i])
      x += random.between(-by_m, by_m);
}

/// The first corners of one chain and the last of another.
std::optional<Draft> Worker::crossed(const Draft& from, const Draft& other, Random& random) {
  const Problem& problem = field_.problem;
  const std::size_t first = random.below(from.pattern.turns + 1),
                    last = random.below(other.pattern.turns + 1);
  const std::size_t n = first + last;
  if (n < std::max<std::size_t>(problem.rules.least_bends, 2) || n > problem.rules.most_bends)
    return std::nullopt;
  Corners corners = corners_of(problem, from.pattern, from.chain);
  const Corners behind = corners_of(problem, other.pattern, other.chain);
  for (std::size_t i = 0; i < last; ++i)
    corners[first + i] = behind[other.pattern.turns - last + i];
  std::size_t reduced_at = most_turns + 1;
  if (field_.choice.has_reducer())
    reduced_at = random.below(n + 1);
  Pattern pattern = field_.choice.pattern(n, reduced_at);
  pattern.reduces_early = random.share() < 0.5;
  if (!choose_turns(pattern, random))
    return std::nullopt;
  // Corners at the ends stay on their axes.
  shift(corners, n, random.below(n), 0.02, random);
  return with_corners(pattern, corners);
}

std::optional<Draft> Worker::varied(const Draft& from, Random& random) {
  const Problem& problem = field_.problem;
  Corners corners = corners_of(problem, from.pattern, from.chain);
  std::size_t n = from.pattern.turns;
  std::size_t reduced_at = from.pattern.reduced_at;
  if (n == 0)
    return std::nullopt;
  const double what = random.share();
  if (what < 0.15 && n > 2) {
    const std::size_t i = 1 + random.below(n - 2);
    corners[i] = field_.space.places()[random.below(field_.space.places().size())];
  } else if (what < 0.3 && n < problem.rules.most_bends && n >= 2) {
    const std::size_t i = 1 + random.below(n - 1);
    std::move_backward(corners.begin() + static_cast<std::ptrdiff_t>(i),
                       corners.begin() + static_cast<std::ptrdiff_t>(n),
                       corners.begin() + static_cast<std::ptrdiff_t>(n) + 1);
    const double share = random.between(0.2, 0.8);
    corners[i] = bay::combined(1 - share, corners[i - 1], share, corners[i + 1]);
    ++n;
    shift(corners, n, i, random.between(0.01, 0.12), random);
    if (reduced_at <= from.pattern.turns && reduced_at >= i)
      ++reduced_at;
  } else if (what < 0.38 && n > std::max<std::size_t>(problem.rules.least_bends, 2)) {
    const std::size_t i = random.below(n);
    std::move(corners.begin() + static_cast<std::ptrdiff_t>(i) + 1,
              corners.begin() + static_cast<std::ptrdiff_t>(n),
              corners.begin() + static_cast<std::ptrdiff_t>(i));
    --n;
    if (reduced_at <= from.pattern.turns && reduced_at > i)
      --reduced_at;
  } else {
    const double by_m = 0.1 * random.share() * random.share() + 0.003;
    shift(corners, n, random.below(n), by_m, random);
    if (random.share() < 0.6)
      shift(corners, n, random.below(n), by_m, random);
  }
  Pattern pattern = field_.choice.pattern(n, reduced_at);
  pattern.reduces_early = from.pattern.reduces_early != (random.share() < 0.1);
  if (n == from.pattern.turns && random.share() < 0.8) {
    pattern.turn = from.pattern.turn;
    for (std::size_t t = 0; t < n; ++t)
      pattern.turn[t] = any_angle(pattern, t);
  } else if (!choose_turns(pattern, random)) {
    return std::nullopt;
  }
  return with_corners(pattern, corners);
}

/// Whether a chain comes back too near to itself, by samples.
bool Worker::meets_itself(const Draft& draft) const {
  const Problem& problem = field_.problem;
  const Pattern& pattern = draft.pattern;
  if (pattern.turns < 2)
    return false;
  double least_radius_m = pattern.turn[0].radius_m, turned_rad = 0;
  for (std::size_t t = 0; t < pattern.turns; ++t) {
    least_radius_m = std::min(least_radius_m, pattern.turn[t].radius_m);
    turned_rad += draft.chain.angle_rad[t];
  }
  if (turned_rad < 0.5 * std::numbers::pi)
    return false;
  const double apart_m = std::numbers::pi * least_radius_m;
  struct Sample {
    Vector point;
    double along_m, radius_m;
  };
  std::vector<Sample> samples;
  const Lie here = lie(problem, pattern, draft.chain);
  constexpr double step_m = 20e-3;
  for (std::size_t e = 0; e < here.elements; ++e) {
    const Element& element = here.element[e];
    const double length_m = element.centreline_m();
    const auto steps = static_cast<std::size_t>(length_m / step_m) + 1;
    for (std::size_t s = 0; s < steps; ++s) {
      const double share = static_cast<double>(s) / static_cast<double>(steps);
      samples.push_back({element.at(share), element.starts_m + share * length_m,
                         half_diameter_m(problem, pattern, draft.chain, e, share)});
    }
  }
  for (std::size_t i = 0; i < samples.size(); ++i)
    for (std::size_t k = 0; k < i && samples[k].along_m + apart_m < samples[i].along_m; ++k) {
      const double least_m = problem.rules.self_gap_m + samples[i].radius_m + samples[k].radius_m;
      const Vector between = bay::minus(samples[i].point, samples[k].point);
      if (bay::dot(between, between) < least_m * least_m)
        return true;
    }
  return false;
}

std::optional<Candidate> Worker::candidate(const Draft& draft) const {
  if (meets_itself(draft))
    return std::nullopt;
  auto way = field_.choice.dressed(draft.pattern, draft.chain);
  if (!way)
    return std::nullopt;
  const Figures f = figures(field_.problem, *way);
  return Candidate{draft, std::move(*way), f};
}

std::optional<Candidate> Worker::fitted(Draft draft, int most_steps, Yield* strays) {
  if (fitter_.fit(draft.pattern, draft.chain, most_steps))
    return candidate(draft);
  if (strays) {
    draft.wrong = fitter_.sum_m2();
    strays->strays.push_back(draft);
  }
  return std::nullopt;
}

/// What could make a candidate cheaper, each with one thing settled or set free.
std::vector<Draft> Worker::moves(const Candidate& candidate) const {
  std::vector<Draft> result;
  const Pattern& pattern = candidate.draft.pattern;
  const Chain& chain = candidate.draft.chain;
  const Problem& problem = field_.problem;
  const Pattern usual = field_.choice.pattern(pattern.turns, pattern.reduced_at);
  for (std::size_t i = 0; i <= pattern.turns; ++i) {
    const double covered_m = legs_m(problem, candidate.way, i);
    if (chain.straight_m[i] > covered_m && covered_m >= usual.straight[i].low_m) {
      Draft held = candidate.draft;
      held.pattern.straight[i].high_m = covered_m;
      result.push_back(held);
    } else if (pattern.straight[i].high_m < usual.straight[i].high_m) {
      Draft loose = candidate.draft;
      loose.pattern.straight[i].high_m = usual.straight[i].high_m;
      result.push_back(loose);
    }
  }
  for (std::size_t t = 0; t < pattern.turns; ++t) {
    const Turns& of = field_.choice.turns(is_behind(pattern, t));
    const double angle = chain.angle_rad[t];
    for (const TurnRange& fixed : of.fixed) {
      const bool is_same = std::abs(fixed.radius_m - pattern.turn[t].radius_m) <= one_size;
      if (pattern.turn[t].is_fixed() && is_same && std::abs(fixed.low_rad - angle) <= one_size)
        continue;
      // Its neighbours among the fixed angles.
      const bool is_next = std::ranges::none_of(of.fixed, [&](const TurnRange& other) {
        if (std::abs(other.radius_m - fixed.radius_m) > one_size)
          return false;
        return fixed.low_rad < angle - one_size
                   ? other.low_rad > fixed.low_rad && other.low_rad < angle - one_size
                   : other.low_rad < fixed.low_rad && other.low_rad > angle + one_size;
      });
      if (!is_next)
        continue;
      Draft settled = candidate.draft;
      settled.pattern.turn[t] = fixed;
      settled.chain.angle_rad[t] = fixed.low_rad;
      result.push_back(settled);
      if (problem.rules.bends_may_be_cut && is_same && !pattern.turn[t].is_fixed() && fixed.low_rad < angle &&
          fixed.low_rad > pattern.turn[t].low_rad) {
        Draft less = candidate.draft; // cut from a smaller bend
        less.pattern.turn[t].high_rad = fixed.low_rad;
        less.chain.angle_rad[t] = fixed.low_rad;
        result.push_back(less);
      }
    }
    for (const TurnRange& cut : of.cut) {
      if (pattern.turn[t] == cut)
        continue;
      Draft loose = candidate.draft;
      loose.pattern.turn[t] = cut;
      loose.chain.angle_rad[t] = std::clamp(angle, cut.low_rad, cut.high_rad);
      result.push_back(loose);
    }
  }
  if (pattern.has_reducer()) {
    Draft other = candidate.draft;
    other.pattern.reduces_early = !pattern.reduces_early;
    result.push_back(other);
  }
  return result;
}

Yield Worker::bettered(Candidate best, Random& random) {
  constexpr std::size_t most_tries = 60;
  slide(field_, fitter_, best, slide_rounds);
  std::size_t tries = 0;
  for (bool better = true; better && tries < most_tries;) {
    better = false;
    std::vector<Draft> list = moves(best);
    while (!list.empty() && tries < most_tries) {
      const std::size_t i = random.below(list.size());
      Draft draft = list[i];
      list[i] = list.back();
      list.pop_back();
      ++tries;
      auto other = fitted(draft, fit_steps, nullptr);
      // A short slide tells whether a long one is worth while.
      for (const auto& [within, rounds] : {std::pair{0.05, 5}, std::pair{0.01, slide_rounds}})
        if (other && other->figures.cost < best.figures.cost * (1 + within))
          slide(field_, fitter_, *other, rounds);
      if (other && other->figures.cost < best.figures.cost - 1e-6) {
        best = std::move(*other);
        better = true;
        break;
      }
    }
  }
  best.is_bettered = true;
  Yield yield;
  yield.ways.push_back(std::move(best));
  return yield;
}

void Worker::settle(const Draft& draft, Yield& yield) {
  if (auto found = fitted(draft, fit_steps, &yield))
    yield.ways.push_back(std::move(*found));
}

/// The fixed angles nearest to a free chain's: of all combinations of the two beside each, those that change
/// least. What comes out of none of them is one stray.
void Worker::snap(const Draft& draft, Yield& yield) {
  const Pattern& pattern = draft.pattern;
  std::array<std::array<double, 2>, most_turns> angle{};
  for (std::size_t t = 0; t < pattern.turns; ++t) {
    double below = -1, above = 10;
    for (const TurnRange& r : field_.choice.turns(is_behind(pattern, t)).fixed) {
      if (std::abs(r.radius_m - pattern.turn[t].radius_m) > one_size)
        continue;
      if (r.low_rad <= draft.chain.angle_rad[t])
        below = std::max(below, r.low_rad);
      if (r.low_rad >= draft.chain.angle_rad[t])
        above = std::min(above, r.low_rad);
    }
    angle[t] = {below < 0 ? above : below, above > 9 ? below : above};
  }
  struct Combination {
    double change;
    std::size_t sides;
  };
  std::vector<Combination> combinations;
  for (std::size_t c = 0; c < (std::size_t{1} << pattern.turns); ++c) {
    double change = 0;
    bool is_new = true;
    for (std::size_t t = 0; t < pattern.turns; ++t) {
      const std::size_t side = (c >> t) & 1U;
      is_new = is_new && (side == 0 || angle[t][0] != angle[t][1]);
      const double by = angle[t][side] - draft.chain.angle_rad[t];
      change += by * by;
    }
    if (is_new)
      combinations.push_back({change, c});
  }
  constexpr std::size_t most_combinations = 8;
  std::ranges::stable_sort(combinations, {}, &Combination::change);
  combinations.resize(std::min(combinations.size(), most_combinations));
  Yield strays;
  for (const Combination& combination : combinations) {
    Draft fixed = draft;
    for (std::size_t t = 0; t < pattern.turns; ++t)
      fixed.pattern.turn[t].low_rad = fixed.pattern.turn[t].high_rad = fixed.chain.angle_rad[t] =
          angle[t][(combination.sides >> t) & 1U];
    if (auto found = fitted(fixed, fit_steps, &strays))
      yield.ways.push_back(std::move(*found));
  }
  const auto best = std::ranges::min_element(strays.strays, {}, &Draft::wrong);
  if (best != strays.strays.end())
    yield.strays.push_back(*best);
}

Yield Worker::fresh(std::size_t turns, Random& random) {
  Yield yield;
  drafts_.clear();
  // Of fixed angles, by directions and by corners in turn.
  const bool by_directions =
      !field_.problem.rules.bends_may_be_cut && turns >= 2 && random.share() < (turns > 3 ? 0.2 : 0.67);
  for (std::size_t i = 0; i < (by_directions ? directed_at_once : drawn_at_once); ++i)
    if (auto draft = by_directions ? drawn_fixed(turns, random) : drawn(turns, random))
      drafts_.push_back(*draft);
  try_best(yield, random);
  return yield;
}

Yield Worker::passage_drawn(double liking, Random& random) {
  const Problem& problem = field_.problem;
  const double radius_m = 0.5 * std::min(problem.start.outer_diameter_m, problem.end.outer_diameter_m);
  Yield yield;
  const auto ease = [this](Vector& point, double most_m) { return fitter_.lookout().ease(point, most_m); };
  yield.path = passage(problem, field_.space, radius_m, ease, liking, random);
  return yield;
}

Yield Worker::along(const Path& path, std::size_t turns, Random& random) {
  Yield yield;
  drafts_.clear();
  const Corners middle = corners_along(field_.problem, path, turns);
  for (std::size_t i = 0; i < along_at_once; ++i) {
    const std::size_t reduced_at = field_.choice.has_reducer() ? random.below(turns + 1) : most_turns + 1;
    Pattern pattern = field_.choice.pattern(turns, reduced_at);
    pattern.reduces_early = random.share() < 0.5;
    if (!choose_turns(pattern, random))
      break;
    Corners corners = middle;
    if (i > 0)
      for (std::size_t t = 0; t < turns; ++t)
        shift(corners, turns, t, 35e-3 * random.share(), random);
    if (auto draft = with_corners(pattern, corners))
      drafts_.push_back(*draft);
  }
  try_best(yield, random);
  return yield;
}

Yield Worker::altered(const Draft& from, const Draft* other, Random& random) {
  Yield yield;
  drafts_.clear();
  for (std::size_t i = 0; i < varied_at_once; ++i)
    if (auto draft = other != nullptr ? crossed(from, *other, random) : varied(from, random))
      drafts_.push_back(*draft);
  try_best(yield, random);
  return yield;
}

void Worker::try_best(Yield& yield, Random& random) {
  std::ranges::stable_sort(drafts_, {}, &Draft::wrong);
  drafts_.resize(std::min(drafts_.size(), fitted_at_once));
  const bool may_go_long =
      field_.problem.start.mounting != field_.problem.end.mounting && !field_.choice.has_reducer();
  for (Draft& draft : drafts_) {
    draft.pattern.needs_long_straight = may_go_long && random.share() < 0.85;
    const bool is_settled =
        std::all_of(draft.pattern.turn.begin(),
                    draft.pattern.turn.begin() + static_cast<std::ptrdiff_t>(draft.pattern.turns),
                    [](const TurnRange& turn) { return turn.is_fixed(); });
    if (field_.problem.rules.bends_may_be_cut || is_settled) {
      settle(draft, yield);
    } else {
      fitter_.fit(draft.pattern, draft.chain, free_steps);
      draft.wrong = fitter_.sum_m2();
      if (draft.wrong > hopeless_m2)
        continue;
      snap(draft, yield);
    }
  }
}

} // namespace bellmouth::way
