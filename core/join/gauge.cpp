// SPDX-License-Identifier: GPL-3.0-or-later
#include "gauge.hpp"

#include <algorithm>
#include <cassert>

namespace bellmouth::join {

std::vector<IdFlow> flows_of(const build::Build& build, const build::OptionId& option_id,
                             std::optional<double> engine_speed_rev_s) {
  const build::Option& option = *build.find(option_id);
  const auto* engine = std::get_if<machine::Engine>(&build.demand);
  flow::PathFlow path =
      flow::Path(build, option, joint::fits(build, option))
          .solve(engine_speed_rev_s.value_or(engine != nullptr ? engine->working_speed_rev_s : 0.0));
  const bool usable = path.point.usable();
  std::vector<IdFlow> flows;
  for (const build::PathStep& step : build.path)
    if (const auto* id = std::get_if<build::RunId>(&step))
      flows.emplace_back(*id, usable ? std::move(path.runs[flows.size()]) : flow::RunFlow());
  return flows;
}

const flow::RunFlow& of_run(const std::vector<IdFlow>& flows, const build::RunId& run) {
  const auto found = std::ranges::find(flows, run, &IdFlow::first);
  assert(found != flows.end());
  return found->second;
}

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

} // namespace bellmouth::join
