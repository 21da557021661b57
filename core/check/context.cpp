// SPDX-License-Identifier: GPL-3.0-or-later
#include "context.hpp"

#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <limits>
#include <tuple>
#include <utility>

namespace bellmouth::check {

namespace {

constexpr std::size_t last = std::numeric_limits<std::size_t>::max();

} // namespace

Context::Context(const Facts& all, const Limits& set)
    : facts(all), limits(set), ambient(build::ambient_air(all.build.ambient)),
      ambient_Pa(ambient.pressure_Pa) {
  assert(facts.fits.size() == facts.runs.size() && facts.meetings.size() == facts.runs.size());
  assert(facts.rooms.size() == facts.runs.size() && facts.clearances.size() == facts.build.states.size() + 1);
  const bool flows = facts.flow.point.usable();
  assert(!flows || facts.flow.runs.size() == facts.runs.size());
  runs.reserve(facts.runs.size());
  machines.reserve(facts.build.path.size() - std::min(facts.runs.size(), facts.build.path.size()));
  for (std::size_t step = 0; step < facts.build.path.size(); ++step) {
    if (const auto* id = std::get_if<build::MachineId>(&facts.build.path[step])) {
      const auto* machine = facts.build.find(*id);
      assert(machine != nullptr);
      if (!blower_ && build::is_blower(machine->kind))
        blower_ = machines.size();
      machines.push_back({step, machine, flows ? &facts.flow.machines.at(machines.size()) : nullptr});
      continue;
    }
    const std::size_t index = runs.size();
    const auto* run = facts.runs.at(index);
    const auto* from = facts.build.find(run->from);
    const auto* to = facts.build.find(run->to);
    assert(from != nullptr && to != nullptr);
    runs.push_back({step, run, &facts.fits[index], flows ? &facts.flow.runs[index] : nullptr,
                    &facts.meetings[index], from, to, behind_blower(step)});
  }
}

const RunView* Context::run_at(std::size_t step) const {
  const auto found = std::ranges::find(runs, step, &RunView::step);
  return found == runs.end() ? nullptr : &*found;
}

bool Context::behind_blower(std::size_t step) const {
  const auto& path = facts.build.path;
  // Where branches run side by side, their steps stand one behind the other in the path.
  bool same_group = !path[step].branch.text.empty();
  for (std::size_t before = step; before-- > 0;) {
    same_group = same_group && !path[before].branch.text.empty();
    const auto view = std::ranges::find(machines, before, &MachineView::step);
    if (view != machines.end() && build::is_blower(view->machine->kind) &&
        (!same_group || path[before].branch == path[step].branch))
      return true;
  }
  return false;
}

double Context::lost_before_blower_Pa() const {
  const auto* first_blower = blower();
  return ambient_Pa - (first_blower != nullptr ? first_blower->flow->inlet.total_pressure_Pa
                                               : facts.flow.point.manifold_pressure_Pa);
}

double Context::gauge_Pa(const RunView& run, const joint::Joint& joint) const {
  if (run.flow == nullptr)
    return 0;
  const auto& hose = run.flow->rows[*joint.hose().row];
  return (joint.upstream.flexible ? hose.outlet : hose.inlet).station.static_pressure_Pa - ambient_Pa;
}

build::PieceRef Context::piece(const RunView& run, std::size_t row) const {
  return {facts.option.id, run.run->id, row};
}

void Context::add(Id id, Severity severity, Where where, std::size_t step, std::size_t row,
                  std::string message, std::string reason) {
  assert(severity <= rule(id).severity);
  found_.push_back(
      {{rule(id).key, severity, std::move(where), std::move(message), std::move(reason), std::nullopt},
       step,
       row});
}

void Context::add_at_row(Id id, Severity severity, const RunView& run, std::size_t row, std::string message,
                         std::string reason) {
  std::string text =
      fmt::format("{}, row {} ({})", words(run.run->id.text), row + 1, build::title(run.run->pieces[row]));
  add(id, severity, {std::move(text), piece(run, row), std::nullopt}, run.step, row, std::move(message),
      std::move(reason));
}

void Context::add_at_joint(Id id, Severity severity, const RunView& run, const joint::Joint& joint,
                           std::string message, std::string reason) {
  const auto side = [&](const joint::End& end, const build::Port& port) {
    return end.row ? fmt::format("row {} ({})", *end.row + 1, build::title(run.run->pieces[*end.row]))
                   : "port " + words(port.id.text);
  };
  Where where{fmt::format("{}, {} to {}", words(run.run->id.text), side(joint.upstream, *run.from),
                          side(joint.downstream, *run.to)),
              std::nullopt, std::nullopt};
  const auto row = joint.kind == joint::Kind::hose ? joint.hose().row
                   : joint.downstream.row          ? joint.downstream.row
                                                   : joint.upstream.row;
  if (row)
    where.piece = piece(run, *row);
  if (!joint.upstream.row)
    where.machine = run.from->machine;
  else if (!joint.downstream.row)
    where.machine = run.to->machine;
  add(id, severity, std::move(where), run.step, row.value_or(0), std::move(message), std::move(reason));
}

void Context::add_at_run(Id id, Severity severity, const RunView& run, std::string message,
                         std::string reason) {
  Where where{words(run.run->id.text), std::nullopt, std::nullopt};
  if (run.rows() > 0)
    where.piece = piece(run, 0);
  add(id, severity, std::move(where), run.step, 0, std::move(message), std::move(reason));
}

void Context::add_at_machine(Id id, Severity severity, const MachineView& machine, std::string message,
                             std::string reason) {
  add(id, severity, {build::title(*machine.machine), std::nullopt, machine.machine->id}, machine.step, 0,
      std::move(message), std::move(reason));
}

void Context::add_at_whole(Id id, Severity severity, std::string place, std::string message,
                           std::string reason) {
  add(id, severity, {std::move(place), std::nullopt, std::nullopt}, last, last, std::move(message),
      std::move(reason));
}

std::vector<Finding> Context::take() {
  std::ranges::stable_sort(found_, [](const Placed& a, const Placed& b) {
    const auto behind = [](const Finding& finding) {
      return finding.severity == Severity::stop && finding.waived.has_value();
    };
    return std::tuple(b.finding.severity, behind(a.finding), a.step, a.row) <
           std::tuple(a.finding.severity, behind(b.finding), b.step, b.row);
  });
  std::vector<Finding> out;
  out.reserve(found_.size());
  for (auto& placed : found_)
    out.push_back(std::move(placed.finding));
  return out;
}

} // namespace bellmouth::check
