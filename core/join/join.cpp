// SPDX-License-Identifier: GPL-3.0-or-later
#include "gauge.hpp"
#include "run_work.hpp"
#include "words.hpp"

#include <bellmouth/build/thresholds.hpp>
#include <bellmouth/join.hpp>

#include <algorithm>
#include <cassert>
#include <iterator>

namespace bellmouth::join {

namespace {

void append(std::vector<std::string>& lines, std::vector<std::string> more) {
  lines.insert(lines.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

} // namespace

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
  if (std::ranges::any_of(works, [&](const RunWork& work) {
        return !work.run().pieces.empty() && of_run(joined, work.run().id).rows.empty();
      }))
    proposal.open.emplace_back(
        "beads: there is no operating point, so that it is not known which joints are under pressure");
  for (RunWork& work : works) {
    const std::vector<double> gauge_Pa = gauges_Pa(build, work.fit(), of_run(joined, work.run().id));
    work.roll_beads(gauge_Pa);
    proposal.build = with_run(proposal.build, option_id, work.run());
    append(proposal.steps, work.steps());
    append(proposal.open, work.open(gauge_Pa));
  }
  return proposal;
}

} // namespace bellmouth::join
