// SPDX-License-Identifier: GPL-3.0-or-later
#include "pieces.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::find {
namespace {

constexpr double degree = std::numbers::pi / 180;
/// A bend is not cut smaller than this: what is left has hardly an arc (common practice, no source found).
constexpr double least_cut_rad = 10 * degree;

/// \name What one unit of each counts when all matter as usual, as shares of what a bend and a joint cost
/// together (this program's own, as the example problems have it)
///@{
constexpr double loss_share = 2.0, joint_share = 0.15, metre_share = 1.0;
///@}

way::Weights weights(const build::Build& build, const Ask& ask, const Setting& set) {
  const double tube_m = ask.tube.outer_diameter_m;
  double bend_price = 0;
  bool first = true;
  for (const Turning& turning : set.turnings) {
    bend_price = first ? turning.bend.price : std::min(bend_price, turning.bend.price);
    first = false;
  }
  const double usual_price = bend_price + price_of(build, set.coupler, tube_m, tube_m);
  const double unit = usual_price > 0 ? usual_price : 1;
  way::Weights result;
  result.price = ask.matters.price;
  result.loss = ask.matters.drop * loss_share * unit;
  result.joint = ask.matters.joints * joint_share * unit;
  result.per_m = ask.matters.length * metre_share * unit;
  result.friction_factor = loss::darcy_friction_factor(set.air.reynolds, relative_roughness(ask.tube));
  // K of half a quarter turn against that of a whole one says how K goes with the angle.
  const double radius_m = set.turnings.front().bend.radius_m;
  const double quarter = turn_loss(ask.tube, radius_m, std::numbers::pi / 2, set.air.reynolds);
  const double eighth = turn_loss(ask.tube, radius_m, std::numbers::pi / 4, set.air.reynolds);
  if (quarter > 0 && eighth > 0)
    result.k_exponent = std::log2(quarter / eighth);
  return result;
}

/// The straight that a port wants before it: an impeller's inlet as the checks ask for it.
double straight_before_m(const build::Build& build, const build::Port& port) {
  const build::Machine* const machine = port.machine ? build.find(*port.machine) : nullptr;
  const bool impeller =
      machine != nullptr && std::holds_alternative<machine::TargetCompressor>(machine->kind);
  return std::max(port.free_straight_m, impeller ? trade::defaults().impeller_bores * port.bore_m : 0);
}

way::End end_of(const bay::Frame& frame, bool backwards, double tube_m, build::Mounting mounting,
                double straight_m) {
  build::Vector direction = frame.direction;
  if (backwards)
    for (double& each : direction)
      each = -each;
  return {frame.position_m, direction, tube_m, mounting, straight_m};
}

/// Between a hose and an elbow goes a tube of two engagements; an elbow of the port's size goes right onto
/// it. A straight from end to end has a hose at either.
void tell_elbows(const Setting& set, double tube_m, way::Problem& problem) {
  const double in_elbow_m = set.coupler.engagement_in_m;
  problem.start.straight_to_silicone_m = set.least_at_start_m() + in_elbow_m;
  problem.end.straight_to_silicone_m = set.least_at_end_m() + in_elbow_m;
  const auto takes = [&](const Joined& joined) {
    return !joined.flexible && joined.engagement_m >= in_elbow_m &&
           std::abs(joined.diameter_m - tube_m) <= joint::weld_mismatch_m &&
           std::ranges::all_of(set.turnings, [&](const Turning& turning) {
             return turning.bend.kind != way::BendKind::silicone ||
                    goes_on(*turning.item->bore_m, joined.diameter_m);
           });
  };
  problem.start.takes_silicone = takes(set.before);
  problem.end.takes_silicone = takes(set.behind);
  const double apart_m = std::sqrt(std::pow(problem.end.position_m[0] - problem.start.position_m[0], 2) +
                                   std::pow(problem.end.position_m[1] - problem.start.position_m[1], 2) +
                                   std::pow(problem.end.position_m[2] - problem.start.position_m[2], 2));
  if (apart_m < set.least_at_start_m() + set.least_at_end_m())
    problem.rules.least_bends = 1;
}

} // namespace

Ask usual(const build::Build& build, const build::OptionId& option, const build::RunId& run_id) {
  Ask ask;
  ask.option = option;
  ask.run = run_id;
  const auto sizes = stock::tube_sizes(build);
  if (sizes.empty())
    return ask;
  const build::Option* const chosen = build.find(option);
  const build::Run* const run = chosen != nullptr ? chosen->find(run_id) : nullptr;
  if (run == nullptr)
    return ask;
  // The size that most of the run's length is of.
  double most_m = 0;
  for (const stock::TubeSize& size : sizes) {
    double length_m = 0;
    for (const build::Piece& piece : run->pieces) {
      const build::Shape& shape = piece.shape;
      const bool in_size = build::is_rigid(shape) && piece.material == size.material &&
                           std::abs(build::outer_diameter_in_m(shape) - size.outer_diameter_m) < 1e-5 &&
                           std::abs(build::outer_diameter_out_m(shape) - size.outer_diameter_m) < 1e-5 &&
                           std::abs(build::wall_m(shape) - size.wall_m) < 1e-5;
      if (in_size)
        length_m += build::full_length_m(shape);
    }
    if (length_m > most_m) {
      most_m = length_m;
      ask.tube = size;
    }
  }
  if (most_m > 0)
    return ask;
  const double port_m = build.find(run->from)->outer_diameter_m;
  ask.tube = *std::ranges::min_element(
      sizes, {}, [&](const stock::TubeSize& size) { return std::abs(size.outer_diameter_m - port_m); });
  return ask;
}

Result<Question> question(const build::Build& build, const Ask& ask) {
  const auto made = setting(build, ask);
  if (!made)
    return fail(made.error());
  const Setting& set = *made;
  const double tube_m = ask.tube.outer_diameter_m;
  Question result;
  result.ask = ask;
  way::Problem& problem = result.problem;
  problem.name = ask.run.text;
  // The free straight of a port counts from the port.
  const double start_m = std::max(set.least_at_start_m(), set.from.free_straight_m - set.head.length_m);
  const double end_m = std::max(set.least_at_end_m(), straight_before_m(build, set.to) - set.tail.length_m);
  problem.start = end_of(set.start, false, tube_m, set.from.mounting, start_m);
  problem.end = end_of(set.end, true, tube_m, set.to.mounting, end_m);
  problem.reference = set.start.reference;
  for (const Turning& turning : set.turnings) {
    problem.bends.push_back(turning.bend);
    result.bends.push_back(turning.item->id);
  }
  problem.tube = set.tube;
  problem.joint_price = price_of(build, set.coupler, tube_m, tube_m);
  problem.apart_m = 1.5 * tube_m; // nearer than that, two routes look like one
  problem.weld_price = 0;         // stock has no price for a weld
  way::Rules& rules = problem.rules;
  rules.bends_may_be_cut = ask.cut_bends;
  rules.least_cut_angle_rad = least_cut_rad;
  rules.most_bends = ask.most_bends;
  rules.straight_between_bends_m = set.least_between_m();
  rules.flexible_straight_m = 0; // every way begins and ends with a hose, or with rows that stay
  tell_elbows(set, tube_m, problem);
  const double ducting_m = build.clearances.value_or(build::ClearanceLimits{}).ducting_m;
  rules.self_gap_m = ducting_m + 2 * set.stands_out_m;
  problem.weights = weights(build, ask, set);
  Surroundings around = surroundings(build, set, tube_m);
  problem.keep_outs = std::move(around.keep_outs);
  result.keep_outs = std::move(around.of_build);
  problem.waypoints = ask.through;

  const auto id_of = [](const std::optional<Coupler>& coupler) {
    return coupler ? std::optional(coupler->item->id) : std::nullopt;
  };
  result.coupler_in = id_of(set.coupler_in);
  result.coupler = set.coupler.item->id;
  result.coupler_out = id_of(set.coupler_out);
  for (const auto* coupler : {&set.coupler_in, &set.coupler_out})
    if (*coupler && (*coupler)->item->kind == build::StockKind::hose_reducer)
      result.reducer = (*coupler)->item->id;
  result.engagement_m = set.coupler.engagement_in_m;
  result.gap_m = set.coupler.gap_m;
  if (auto wrong = way::validate(problem))
    return fail(*std::move(wrong));
  return result;
}

way::Weights weights(const build::Build& build, const Ask& ask) {
  const auto set = setting(build, ask);
  return set ? weights(build, ask, *set) : way::Weights{};
}

bool can_be_made(const build::Build& build, const Question& question, const way::Way& way) {
  const auto set = setting(build, question.ask);
  assert(set);
  return pieces_of(*set, question.ask, way).has_value();
}

way::Found made(const build::Build& build, const Question& question, way::Found found) {
  const auto set = setting(build, question.ask);
  assert(set);
  const auto cannot = [&](const way::Answer& answer) { return !pieces_of(*set, question.ask, answer.way); };
  const std::size_t best = found.answers.size();
  std::erase_if(found.answers, cannot);
  std::erase_if(found.others, cannot);
  // Others step up in the place of those that went.
  std::ranges::stable_sort(found.others, {}, [](const way::Answer& answer) { return answer.figures.cost; });
  for (auto next = found.others.begin(); next != found.others.end() && found.answers.size() < best;) {
    const bool known = std::ranges::any_of(found.answers, [&](const way::Answer& answer) {
      return way::same(question.problem, answer.way, next->way);
    });
    if (known) {
      ++next;
      continue;
    }
    found.answers.push_back(std::move(*next));
    next = found.others.erase(next);
  }
  std::ranges::stable_sort(found.answers, {}, [](const way::Answer& answer) { return answer.figures.cost; });
  return found;
}

} // namespace bellmouth::find
