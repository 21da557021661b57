// SPDX-License-Identifier: GPL-3.0-or-later
#include "gauge.hpp"
#include "run_work.hpp"
#include "words.hpp"

#include <bellmouth/build/thresholds.hpp>
#include <bellmouth/join.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <iterator>
#include <utility>

namespace bellmouth::join {

namespace {

void append(std::vector<std::string>& lines, std::vector<std::string> more) {
  lines.insert(lines.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

using IdFlow = std::pair<build::RunId, flow::RunFlow>;

/// The stream in each run at the working speed; without rows where there is no operating point.
std::vector<IdFlow> flows_of(const build::Build& build, const build::OptionId& option_id) {
  const build::Option& option = *build.find(option_id);
  const auto* engine = std::get_if<machine::Engine>(&build.demand);
  flow::PathFlow path = flow::Path(build, option, joint::fits(build, option))
                            .solve(engine != nullptr ? engine->working_speed_rev_s : 0.0);
  const bool usable = path.point.usable();
  std::vector<IdFlow> flows;
  for (const build::PathStep& step : build.path)
    if (const auto* id = std::get_if<build::RunId>(&step))
      flows.emplace_back(*id, usable ? std::move(path.runs[flows.size()]) : flow::RunFlow());
  return flows;
}

} // namespace

build::Build with_run(const build::Build& build, const build::OptionId& option, const build::Run& run) {
  build::Build result = build;
  const auto found = std::ranges::find(result.options, option, &build::Option::id);
  assert(found != result.options.end());
  for (auto& each : found->runs)
    if (each->id == run.id && *each != run)
      each = run;
  return result;
}

std::vector<double> gauges_Pa(const build::Build& build, const joint::RunFit& fit,
                              const flow::RunFlow& flow) {
  std::vector<double> gauges(fit.joints.size(), 0.0);
  if (flow.rows.empty())
    return gauges;
  const double ambient_Pa = build::ambient_air(build.ambient).pressure_Pa;
  for (std::size_t index = 0; index < gauges.size(); ++index) {
    const joint::Joint& joint = fit.joints[index];
    if (joint.kind != joint::Kind::hose)
      continue;
    const flow::PieceFlow& hose = flow.rows[*joint.hose().row];
    gauges[index] =
        (joint.upstream.flexible ? hose.outlet : hose.inlet).station.static_pressure_Pa - ambient_Pa;
  }
  return gauges;
}

Proposal join(const build::Build& build, const build::OptionId& option_id,
              const std::optional<build::RunId>& only) {
  const build::Option* option = build.find(option_id);
  assert(option != nullptr && (!only || option->find(*only) != nullptr));
  const trade::Limits limits = build::limits_of(build);
  Shop shop(build, *option, limits);

  Proposal proposal{only ? "Join " + words(only->text) : "Join all runs", {}, {}, build};
  std::vector<RunWork> works;
  const auto flows = flows_of(build, option_id);
  for (const auto& [id, flow] : flows) {
    if (only && id != *only)
      continue;
    RunWork& work = works.emplace_back(shop, *option->find(id), duty_of(build, flow));
    work.do_all();
    proposal.build = with_run(proposal.build, option_id, work.run());
  }
  // Pressures are those with the new pieces in.
  const auto joined = proposal.build == build ? flows : flows_of(proposal.build, option_id);
  for (RunWork& work : works) {
    const auto flow = std::ranges::find(joined, work.run().id, &IdFlow::first);
    const std::vector<double> gauge_Pa = gauges_Pa(build, work.fit(), flow->second);
    work.roll_beads(gauge_Pa);
    proposal.build = with_run(proposal.build, option_id, work.run());
    append(proposal.steps, work.steps());
    append(proposal.open, work.open(gauge_Pa));
  }
  return proposal;
}

} // namespace bellmouth::join
