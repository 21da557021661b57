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

namespace bellmouth::join {

namespace {

void append(std::vector<std::string>& lines, std::vector<std::string> more) {
  lines.insert(lines.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
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

std::vector<double> gauges_Pa(const build::Build& build, const RunResult& run) {
  std::vector<double> gauges(run.fit.joints.size(), 0.0);
  if (run.flow.rows.empty())
    return gauges;
  const double ambient_Pa = build::ambient_air(build.ambient).pressure_Pa;
  for (std::size_t index = 0; index < gauges.size(); ++index) {
    const joint::Joint& joint = run.fit.joints[index];
    if (joint.kind != joint::Kind::hose)
      continue;
    const flow::PieceFlow& hose = run.flow.rows[*joint.hose().row];
    gauges[index] =
        (joint.upstream.flexible ? hose.outlet : hose.inlet).station.static_pressure_Pa - ambient_Pa;
  }
  return gauges;
}

Proposal join(const build::Build& build, const build::OptionId& option_id,
              const std::optional<build::RunId>& only) {
  const build::Option* option = build.find(option_id);
  assert(option != nullptr);
  const trade::Limits limits = build::limits_of(build);
  const Evaluation before = evaluate(build, option_id);
  Shop shop(build, *option, limits);

  Proposal proposal{only ? "Join " + words(only->text) : "Join all runs", {}, {}, build};
  std::vector<RunWork> works;
  for (const RunResult& result : before.runs) {
    if (only && result.id != *only)
      continue;
    RunWork& work = works.emplace_back(shop, *option->find(result.id), duty_of(build, result));
    work.put_in_what_is_missing();
    work.replace_misfits();
    work.set_engagements();
    work.take_beads_off_welds();
    proposal.build = with_run(proposal.build, option_id, work.run());
  }
  assert(!only || !works.empty());
  // Pressures are those with the new pieces in.
  const Evaluation joined = proposal.build == build ? before : evaluate(proposal.build, option_id);
  for (RunWork& work : works) {
    const auto result = std::ranges::find(joined.runs, work.run().id, &RunResult::id);
    const std::vector<double> gauge_Pa = gauges_Pa(build, *result);
    work.roll_beads(gauge_Pa);
    proposal.build = with_run(proposal.build, option_id, work.run());
    append(proposal.steps, work.steps());
    append(proposal.open, work.open(gauge_Pa));
  }
  return proposal;
}

} // namespace bellmouth::join
