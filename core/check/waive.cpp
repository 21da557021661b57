// SPDX-License-Identifier: GPL-3.0-or-later
#include "waive.hpp"

#include "context.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>

namespace bellmouth::check {

namespace {

constexpr const char* stale = "Take the waiver back, so that it does not hide the next one of its kind.";

/// Rules that check_purchase() looks at.
bool of_purchase(Id id) {
  return id >= Id::over_budget && id <= Id::plan_not_proven;
}

const build::Waiver* among(const std::vector<build::Waiver>& waivers, std::string_view rule) {
  const auto found = std::ranges::find(waivers, rule, &build::Waiver::rule);
  return found == waivers.end() ? nullptr : &*found;
}

} // namespace

const build::Waiver* waiver_of(const build::Build& build, const Finding& finding) {
  if (const auto& at = finding.where.piece) {
    const build::Option* option = build.find(at->option);
    assert(option != nullptr);
    const build::Run* run = option->find(at->run);
    assert(run != nullptr && at->row < run->pieces.size());
    return among(run->pieces[at->row].waivers, finding.rule);
  }
  const auto found = std::ranges::find_if(build.waivers, [&](const build::BuildWaiver& waiver) {
    return waiver.what.rule == finding.rule && waiver.machine == finding.where.machine;
  });
  return found == build.waivers.end() ? nullptr : &found->what;
}

void waive(const build::Build& build, std::vector<Finding>& findings) {
  for (Finding& finding : findings)
    if (const build::Waiver* waiver = waiver_of(build, finding))
      finding.waived = waiver->reason;
}

std::size_t count(const std::vector<Finding>& findings, Severity severity) {
  return static_cast<std::size_t>(std::ranges::count_if(
      findings, [&](const Finding& finding) { return finding.severity == severity && !finding.waived; }));
}

std::size_t count_waived(const std::vector<Finding>& findings) {
  return static_cast<std::size_t>(
      std::ranges::count_if(findings, [](const Finding& finding) { return finding.waived.has_value(); }));
}

/// What is wrong with a waiver that waives nothing; empty where it cannot be known here.
std::string Context::waives_nothing(const build::Waiver& waiver, bool elsewhere) const {
  const auto known = std::ranges::find(rules(), waiver.rule, &Rule::key);
  if (known == rules().end())
    return fmt::format("It waives \"{}\", which is no rule.", waiver.rule);
  const auto id = static_cast<Id>(known - rules().begin());
  if (elsewhere || of_purchase(id) || !facts.flow.point.usable())
    return {};
  return fmt::format("It waives \"{}\" ({}), which is not found here.", waiver.rule, waiver.reason);
}

void Context::waive() {
  std::vector<const build::Waiver*> used;
  for (Placed& placed : found_)
    if (const build::Waiver* waiver = waiver_of(facts.build, placed.finding)) {
      placed.finding.waived = waiver->reason;
      used.push_back(waiver);
    }
  const auto idle = [&](const build::Waiver& waiver) {
    return std::ranges::find(used, &waiver) == used.end();
  };
  for (const RunView& run : runs)
    for (std::size_t row = 0; row < run.rows(); ++row)
      for (const build::Waiver& waiver : run.run->pieces[row].waivers)
        if (idle(waiver))
          if (auto message = waives_nothing(waiver, false); !message.empty())
            add_at_row(Id::waiver_without_finding, Severity::note, run, row, std::move(message), stale);
  // Another option may need what this one does not.
  const bool elsewhere = facts.build.options.size() > 1;
  for (const build::BuildWaiver& waiver : facts.build.waivers) {
    if (!idle(waiver.what))
      continue;
    auto message = waives_nothing(waiver.what, elsewhere);
    if (message.empty())
      continue;
    const auto machine = std::ranges::find_if(
        machines, [&](const MachineView& view) { return waiver.machine == view.machine->id; });
    if (machine != machines.end())
      add_at_machine(Id::waiver_without_finding, Severity::note, *machine, std::move(message), stale);
    else
      add_at_whole(Id::waiver_without_finding, Severity::note, "waivers", std::move(message), stale);
  }
}

} // namespace bellmouth::check
