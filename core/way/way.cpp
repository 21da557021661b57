// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay.hpp>
#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/way.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::way {
namespace {

using bay::length, bay::minus;

double fourth_power(double x) {
  return x * x * x * x;
}

/// Where each straight starts.
std::vector<Vector> starts(const Problem& problem, const Way& way) {
  bay::Frame frame{problem.start.position_m, problem.start.direction, problem.reference};
  std::vector<Vector> result{frame.position_m};
  for (std::size_t i = 0; i < way.turns.size(); ++i) {
    const Turn& turn = way.turns[i];
    frame = bay::turned(bay::advanced(frame, way.straights_m[i]), turn.angle_rad,
                        problem.bends[turn.bend].radius_m, turn.clocking_rad);
    result.push_back(frame.position_m);
  }
  return result;
}

} // namespace

std::string name_of(const Problem& problem, std::size_t keep_out) {
  const std::string& name = problem.keep_outs[keep_out].name;
  return name.empty() ? fmt::format("keep-out {}", keep_out + 1) : name;
}

double outer_diameter_m(const Problem& problem, const Way& way, std::size_t straight, bool behind) {
  if (!way.reduction)
    return problem.start.outer_diameter_m;
  const bool reduced = straight > way.reduction->straight || (straight == way.reduction->straight && behind);
  return reduced ? problem.end.outer_diameter_m : problem.start.outer_diameter_m;
}

double legs_m(const Problem& problem, const Way& way, std::size_t straight) {
  const auto leg_m = [&](const Turn& turn, Leg side) {
    return turn.lost_leg == side ? 0 : problem.bends[turn.bend].leg_m;
  };
  return (straight > 0 ? leg_m(way.turns[straight - 1], Leg::out) : 0) +
         (straight < way.turns.size() ? leg_m(way.turns[straight], Leg::in) : 0);
}

int welds(bool lost_before, bool lost_behind, bool needs_tube) {
  const int sides = static_cast<int>(lost_before) + static_cast<int>(lost_behind);
  return needs_tube ? sides : std::min(sides, 1);
}

Figures figures(const Problem& problem, const Way& way) {
  assert(way.straights_m.size() == way.turns.size() + 1);
  const Weights& weights = problem.weights;
  const double start_m = problem.start.outer_diameter_m;
  const auto friction = [&](double length_m, double diameter_m) {
    return weights.friction_factor * fourth_power(start_m / diameter_m) * length_m / diameter_m;
  };
  Figures result;
  for (std::size_t i = 0; i < way.straights_m.size(); ++i) {
    const double straight_m = way.straights_m[i];
    result.length_m += straight_m;
    const double covered_m = legs_m(problem, way, i);
    constexpr double rounding_m = 1e-9;
    const bool needs_tube = straight_m > covered_m + rounding_m;
    const int joints = needs_tube ? 2 : 1;
    const int welded = welds(i > 0 && way.turns[i - 1].lost_leg == Leg::out,
                             i < way.turns.size() && way.turns[i].lost_leg == Leg::in, needs_tube);
    result.joints += joints;
    result.price +=
        problem.joint_price * (joints - welded) + problem.weld_price.value_or(problem.joint_price) * welded;
    if (needs_tube)
      result.price += problem.tube.price_per_m * (straight_m - covered_m);
    const double before_m = outer_diameter_m(problem, way, i, false),
                 behind_m = outer_diameter_m(problem, way, i, true);
    if (way.reduction && way.reduction->straight == i) {
      const double length_m = problem.reducer->length_m;
      result.loss += friction(way.reduction->from_m, before_m) +
                     friction(length_m, std::max(before_m, behind_m)) +
                     friction(straight_m - way.reduction->from_m - length_m, behind_m) +
                     problem.reducer->k * fourth_power(start_m / std::min(before_m, behind_m));
      result.price += problem.reducer->price;
    } else {
      result.loss += friction(straight_m, before_m);
    }
  }
  std::vector<int> used(problem.bends.size(), 0);
  for (std::size_t i = 0; i < way.turns.size(); ++i) {
    const Turn& turn = way.turns[i];
    const Bend& bend = problem.bends[turn.bend];
    const double length_m = turn.angle_rad * bend.radius_m, diameter_m = outer_diameter_m(problem, way, i);
    result.length_m += length_m;
    result.loss += friction(length_m, diameter_m) +
                   fourth_power(start_m / diameter_m) * bend.k90 *
                       std::pow(turn.angle_rad / (std::numbers::pi / 2), weights.k_exponent);
    if (++used[turn.bend] > bend.owned)
      result.price += bend.price;
  }
  result.cost = weights.price * result.price + weights.loss * result.loss + weights.joint * result.joints +
                weights.per_m * result.length_m;
  return result;
}

bool is_long_enough(const End& end, const Bend& bend, double straight_m) {
  constexpr double rounding_m = 1e-9;
  if (straight_m < end.straight_m - rounding_m)
    return false;
  return bend.kind != BendKind::silicone || straight_m >= end.straight_to_silicone_m - rounding_m ||
         (end.takes_silicone && straight_m <= bend.leg_m + rounding_m);
}

bool same(const Problem& problem, const Way& a, const Way& b) {
  if (a.turns.size() != b.turns.size())
    return false;
  const bool are_alike = problem.apart_m ? figures(problem, a).joints == figures(problem, b).joints
                                         : std::ranges::equal(a.turns, b.turns, {}, &Turn::bend, &Turn::bend);
  if (!are_alike)
    return false;
  const double within_m = problem.apart_m.value_or(0.5 * problem.start.outer_diameter_m);
  const auto at_a = starts(problem, a), at_b = starts(problem, b);
  for (std::size_t i = 0; i < at_a.size(); ++i)
    if (length(minus(at_a[i], at_b[i])) > within_m)
      return false;
  return true;
}

} // namespace bellmouth::way
