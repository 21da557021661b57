// SPDX-License-Identifier: GPL-3.0-or-later
#include "pieces.hpp"

#include <bellmouth/buy.hpp>

#include <algorithm>
#include <cassert>
#include <numbers>
#include <utility>

namespace bellmouth::find {
namespace {

build::Option with_run(const build::Option& option, const build::Run& run) {
  build::Option result = option;
  for (auto& each : result.runs)
    if (each->id == run.id)
      each = run;
  return result;
}

/// A route is priced while others wait; a plan of one run is proven in far less.
constexpr double most_seconds = 0.1;

quantity::Money price_of(build::Build build, const build::Option& option, const build::Run& run,
                         bool use_owned) {
  if (!use_owned)
    build.owned.clear();
  const std::vector<const build::Run*> runs{&run};
  const std::vector<joint::RunFit> fits{joint::fit(build, run)};
  return buy::purchase({build, option, runs, fits}, {.seconds = most_seconds}).totals.total;
}

/// Whether the option as it is has been told this. Figures differ with every run, so it is enough that the
/// rule has spoken of the run, or of the same machine, no less severely; but what comes too near is another
/// thing each time.
bool is_known(const check::Finding& finding, const std::vector<check::Finding>& before,
              const build::RunId& run) {
  const auto concerns_run = [&](const check::Finding& each) {
    return each.where.piece && each.where.piece->run == run;
  };
  const bool is_nearness = finding.rule == "too-near" || finding.rule == "near-within-doubt";
  return std::ranges::any_of(before, [&](const check::Finding& old) {
    if (old.rule != finding.rule || old.severity < finding.severity)
      return false;
    if (is_nearness)
      return old.message == finding.message;
    return concerns_run(finding) ? concerns_run(old) : old.where.text == finding.where.text;
  });
}

/// rho V^2 / 2 of the stream where the run starts, were it in a tube of that size; 0: there is no stream.
double dynamic_pressure_Pa(const flow::RunFlow& flow, const stock::TubeSize& tube) {
  if (flow.rows.empty())
    return 0;
  const air::Station& start = flow.rows.front().inlet.station;
  const double bore_m = tube.outer_diameter_m - 2 * tube.wall_m;
  const double flux = start.mass_flow_kg_s / (std::numbers::pi / 4 * bore_m * bore_m);
  return start.density_kg_m3 > 0 ? flux * flux / (2 * start.density_kg_m3) : 0;
}

/// The least distance of the run in all states of the bay.
std::optional<bay::Gap> closest(const build::Build& build, const Evaluation& evaluation,
                                const build::RunId& run) {
  const auto found = std::ranges::find(evaluation.runs, run, &RunResult::id);
  assert(found != evaluation.runs.end());
  const auto index = static_cast<std::size_t>(found - evaluation.runs.begin());
  std::optional<bay::Gap> result;
  const auto look = [&](const std::optional<build::StateId>& state) {
    const auto clearances = clearances_in(build, evaluation, state);
    const bay::Gap* const gap = clearances[index].closest();
    if (gap != nullptr && (!result || gap->distance_m < result->distance_m))
      result = *gap;
  };
  look(std::nullopt);
  for (const build::BayState& state : build.states)
    look(state.id);
  return result;
}

} // namespace

Proposal proposal(const build::Build& build, const Question& question, const way::Answer& answer) {
  const auto set = setting(build, question.ask);
  assert(set);
  auto run = run_of(build, *set, question.ask, answer.way);
  assert(run);
  Proposal result;
  result.answer = answer;
  result.run = *std::move(run);

  build::Build changed = build;
  for (build::Option& option : changed.options)
    if (option.id == question.ask.option)
      option = with_run(option, result.run);
  result.price = price_of(changed, *changed.find(question.ask.option), result.run, question.ask.use_owned);
  const Evaluation evaluation = evaluate(changed, question.ask.option);
  const auto found = std::ranges::find(evaluation.runs, question.ask.run, &RunResult::id);
  assert(found != evaluation.runs.end() && found->meeting);
  result.drop_Pa = found->flow.drop_Pa;
  const double pressure_Pa = dynamic_pressure_Pa(found->flow, question.ask.tube);
  result.loss = pressure_Pa > 0 ? result.drop_Pa / pressure_Pa : answer.figures.loss;
  result.volume_m3 = found->flow.volume_m3;
  result.joints = found->joints;
  result.length_m = found->length_m;
  result.end = *found->meeting;
  result.closest = closest(changed, evaluation, question.ask.run);
  for (const check::Finding& finding : evaluation.findings)
    if (!is_known(finding, set->evaluation.findings, question.ask.run))
      result.findings.push_back(finding);
  return result;
}

double cost(const Question& question, const Proposal& proposal) {
  const way::Weights& weights = question.problem.weights;
  return weights.price * major(proposal.price) + weights.loss * proposal.loss +
         weights.joint * proposal.joints + weights.per_m * proposal.length_m;
}

void put_in_order(const Question& question, std::vector<Proposal>& proposals) {
  std::ranges::stable_sort(proposals, {}, [&](const Proposal& proposal) { return cost(question, proposal); });
}

build::Build with_proposal(const build::Build& build, const Question& question, const Proposal& proposal,
                           const build::OptionId& name) {
  assert(build.find(name) == nullptr);
  build::Build result = build::with_option_copied(build, question.ask.option, name);
  for (build::Option& option : result.options)
    if (option.id == name)
      option = with_run(option, proposal.run);
  return result;
}

} // namespace bellmouth::find
