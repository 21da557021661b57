// SPDX-License-Identifier: GPL-3.0-or-later
#include "validate.hpp"

#include "overloaded.hpp"
#include "writer.hpp"

#include <bellmouth/build/edits.hpp>
#include <bellmouth/build/thresholds.hpp>
#include <bellmouth/quantity/utf8.hpp>
#include <bellmouth/trade/order.hpp>

#include <numbers>

namespace bellmouth::build {

namespace {

using Verdict = std::optional<Complaint>;

/// The first complaint of several questions, each asked only if those before it had none.
template <class... Questions> Verdict first_of(const Questions&... questions) {
  Verdict verdict;
  (void)((verdict = questions(), verdict.has_value()) || ...);
  return verdict;
}

std::string quoted_id(std::string_view id) {
  return fmt::format("\"{}\"", quantity::printable(id, 60));
}

Verdict check_ids(const Build& build) {
  return first_of([&] { return doubled_id(build.machines, "$.machines"); },
                  [&] { return doubled_id(build.ports, "$.ports"); },
                  [&] { return doubled_id(build.states, "$.states"); },
                  [&] { return doubled_id(build.options, "$.options"); },
                  [&] { return doubled_id(*build.stock, "$.stock"); });
}

Verdict check_ports(const Build& build) {
  for (std::size_t i = 0; i < build.ports.size(); ++i)
    if (build.ports[i].machine && !build.find(*build.ports[i].machine))
      return Complaint{fmt::format("$.ports[{}].machine", i), "the id of a machine of this build"};
  return std::nullopt;
}

/// Keep-outs name machines and states that there are.
Verdict check_keep_outs(const Build& build) {
  for (std::size_t i = 0; i < build.keep_outs.size(); ++i) {
    const KeepOut& keep_out = build.keep_outs[i];
    if (keep_out.machine && !build.find(*keep_out.machine))
      return Complaint{fmt::format("$.keep_outs[{}].machine", i), "the id of a machine of this build"};
    for (const StateId& state : keep_out.states)
      if (!build.find(state))
        return Complaint{fmt::format("$.keep_outs[{}].states", i), "ids of states of this build"};
  }
  return std::nullopt;
}

/// Whether the open inlet counts: see OpenInlet. Where the path begins with branches, each of them begins.
bool begins_openly(const Build& build) {
  if (!std::holds_alternative<machine::Engine>(build.demand))
    return false;
  const auto& path = build.path;
  const auto openly = [&](const PathStep& step) {
    const auto* first = std::get_if<MachineId>(&step);
    if (first == nullptr)
      return true;
    const MachineKind& kind = build.find(*first)->kind;
    return std::holds_alternative<machine::MeterBody>(kind) ||
           std::holds_alternative<machine::Throttle>(kind);
  };
  const bool divided = !path.front().branch.text.empty();
  for (std::size_t i = 0; i < path.size() && (i == 0 || (divided && !path[i].branch.text.empty())); ++i)
    if ((i == 0 || path[i].branch != path[i - 1].branch) && openly(path[i]))
      return true;
  return false;
}

/// Branches are declared, stand together and side by side.
Verdict check_branches(const Build& build) {
  if (auto twice = doubled_id(build.branches, "$.branches"))
    return twice;
  std::set<BranchId> left;
  for (std::size_t i = 0; i < build.path.size(); ++i) {
    const BranchId& branch = build.path[i].branch;
    if (branch.text.empty() || (i > 0 && build.path[i - 1].branch == branch))
      continue;
    const std::string path = fmt::format("$.path[{}].branch", i);
    if (!build.find(branch))
      return Complaint{path, "the id of a branch of this build"};
    if (!left.insert(branch).second)
      return Complaint{path, "steps of a branch one behind the other"};
    const bool beside_before = i > 0 && !build.path[i - 1].branch.text.empty();
    std::size_t end = i;
    while (end < build.path.size() && build.path[end].branch == branch)
      ++end;
    const bool beside_behind = end < build.path.size() && !build.path[end].branch.text.empty();
    if (!beside_before && !beside_behind)
      return Complaint{path, "two branches or more, side by side"};
  }
  for (std::size_t i = 0; i < build.branches.size(); ++i)
    if (!left.contains(build.branches[i].id))
      return Complaint{fmt::format("$.branches[{}].id", i), "a branch that the path names"};
  return std::nullopt;
}

/// What is said where blowers do not stand on the path as they can be calculated.
constexpr std::string_view blower_places = "one blower or none: two blowers one behind the other are not "
                                           "calculated yet; where branches stand side by "
                                           "side, one of the same kind in each of them";

/// One blower for all the air at most, or one in each branch of one group, all of one kind.
Verdict check_blowers(const Build& build) {
  struct Place {
    const Machine* machine;
    std::size_t step, group; ///< group: where the branches divide
  };
  std::vector<Place> places;
  std::size_t group = 0;
  std::size_t branches = 0; ///< of the group that holds the blowers
  for (std::size_t i = 0; i < build.path.size(); ++i) {
    const BranchId& branch = build.path[i].branch;
    if (branch.text.empty() || i == 0 || build.path[i - 1].branch.text.empty())
      group = i;
    const auto* id = std::get_if<MachineId>(&build.path[i]);
    const Machine* machine = id ? build.find(*id) : nullptr;
    if (machine && is_blower(machine->kind))
      places.push_back({machine, i, group});
  }
  if (places.empty())
    return std::nullopt;
  const auto refuse = [](const Place& place) {
    return Complaint{fmt::format("$.path[{}].machine", place.step), std::string(blower_places)};
  };
  const Place& first = places.front();
  std::set<BranchId> blown;
  for (const Place& place : places) {
    if (place.group != first.group || place.machine->kind.index() != first.machine->kind.index() ||
        !blown.insert(build.path[place.step].branch).second)
      return refuse(place);
  }
  if (build.path[first.step].branch.text.empty())
    return std::nullopt;
  for (std::size_t i = first.group; i < build.path.size() && !build.path[i].branch.text.empty(); ++i)
    branches += i == first.group || build.path[i].branch != build.path[i - 1].branch;
  if (blown.size() != branches)
    return refuse(places.back());
  const auto* target = std::get_if<machine::TargetCompressor>(&first.machine->kind);
  if (target && std::ranges::any_of(places, [](const Place& place) {
        return std::get<machine::TargetCompressor>(place.machine->kind).target_at ==
               machine::TargetAt::manifold;
      }))
    return Complaint{fmt::format("$.path[{}].machine", first.step),
                     "compressors side by side that hold their target at their outlets",
                     "a target in the manifold"};
  return std::nullopt;
}

/// Machines exist and stand on the path once, runs stand between machines.
Verdict check_path(const Build& build) {
  std::set<std::variant<MachineId, RunId>> seen;
  for (std::size_t i = 0; i < build.path.size(); ++i) {
    const PathStep& step = build.path[i];
    const auto* machine_id = std::get_if<MachineId>(&step);
    const std::string path = fmt::format("$.path[{}].{}", i, machine_id ? "machine" : "run");
    if (!seen.insert(step.what()).second)
      return Complaint{path, "each machine and each run once"};
    if (!machine_id) {
      if (i > 0 && std::holds_alternative<RunId>(build.path[i - 1]) &&
          build.path[i - 1].branch == step.branch)
        return Complaint{path, "a machine between two runs"};
      continue;
    }
    const Machine* machine = build.find(*machine_id);
    if (!machine)
      return Complaint{path, "the id of a machine of this build"};
    if (std::holds_alternative<FixedFlow>(build.demand) &&
        (std::holds_alternative<machine::DisplacementBlower>(machine->kind) ||
         std::holds_alternative<machine::GearedCompressor>(machine->kind)))
      return Complaint{path,
                       fmt::format("no {} on a path of fixed flow: it needs an engine to turn it",
                                   kind_name(machine->kind)),
                       fmt::format("a {}", kind_name(machine->kind))};
  }
  for (std::size_t i = 0; i < build.machines.size(); ++i)
    if (!seen.contains(build.machines[i].id))
      return Complaint{fmt::format("$.machines[{}].id", i), "a machine that stands on the path"};
  if (begins_openly(build) && build.inlet.kind == OpenInlet::Kind::bellmouth && build.inlet.lip_radius_m <= 0)
    return Complaint{"$.inlet.lip_radius_mm", "a radius above 0 mm, since the path begins at the bellmouth"};
  return first_of([&] { return check_branches(build); }, [&] { return check_blowers(build); });
}

/// Each coefficient is measured once.
Verdict check_measured(const Build& build) {
  std::set<Coefficient> seen;
  for (std::size_t i = 0; i < build.measured.size(); ++i)
    if (!seen.insert(build.measured[i].coefficient).second)
      return Complaint{fmt::format("$.measured[{}].coefficient", i), "each coefficient once"};
  return std::nullopt;
}

/// A tip stands within the bore and leaves room for the air.
Verdict check_tip(const Tip& tip, const Shape& host, const std::string& path) {
  const double bore = std::min(bore_in_m(host), bore_out_m(host));
  if (!fits(tip.depth_m, bore))
    return Complaint{path + ".depth_mm", fmt::format("a depth not above the bore of {} mm of the {}",
                                                     number_text(bore * 1000), kind_name(host))};
  if (tip.diameter_m * tip.depth_m > std::numbers::pi / 8 * bore * bore)
    return Complaint{path + ".diameter_mm",
                     fmt::format("a tip that covers at most half of the bore of the {}", kind_name(host))};
  return std::nullopt;
}

/// Fittings sit on a rigid piece and within its length.
Verdict check_fittings(const Run& run, const std::string& run_path) {
  const Shape* host = nullptr;
  for (std::size_t row = 0; row < run.pieces.size(); ++row) {
    const Shape& shape = run.pieces[row].shape;
    if (!is_fitting(shape)) {
      host = &shape;
      continue;
    }
    const std::string path = fmt::format("{}.pieces[{}]", run_path, row);
    const std::string fitting = fmt::format("a {}", kind_name(shape));
    if (!host)
      return Complaint{path, "a rigid piece before every fitting that sits on it",
                       fitting + " first in its run"};
    if (is_flexible(*host))
      return Complaint{path, "fittings on rigid pieces only",
                       fmt::format("{} on a {}", fitting, kind_name(*host))};
    const double room_m = full_length_m(*host);
    const double position_m = std::visit(
        Overloaded{[](const auto&) { return 0.0; }, [](const SensorBoss& boss) { return boss.position_m; },
                   [](const ValveFlange& flange) { return flange.position_m; }},
        shape);
    if (!fits(position_m, room_m))
      return Complaint{path + ".position_mm",
                       fmt::format("a position within the {} mm of the {} that it sits on",
                                   number_text(room_m * 1000), kind_name(*host))};
    const auto* flange = std::get_if<ValveFlange>(&shape);
    if (flange && flange->bore_m > std::max(bore_in_m(*host), bore_out_m(*host)))
      return Complaint{path + ".bore_mm",
                       fmt::format("a hole not above the bore of the {} that it sits on", kind_name(*host))};
    const auto* boss = std::get_if<SensorBoss>(&shape);
    if (auto complaint = boss && boss->tip ? check_tip(*boss->tip, *host, path + ".tip") : std::nullopt)
      return complaint;
  }
  return std::nullopt;
}

/// The port at an end of a run, upstream or downstream, is one of the machine that stands there on the path,
/// or belongs to none where none does.
Verdict check_end(const Build& build, const PortId& port_id, std::size_t step, bool upstream,
                  const std::string& path) {
  const Port* port = build.find(port_id);
  if (!port)
    return Complaint{path, "the id of a port of this build"};
  const auto next = upstream ? step_before(build.path, step) : step_behind(build.path, step);
  const auto* machine = next ? std::get_if<MachineId>(&build.path[*next]) : nullptr;
  if (machine ? port->machine == *machine : !port->machine)
    return std::nullopt;
  if (machine)
    return Complaint{path, fmt::format("a port of the machine {}, which stands there on the path",
                                       quoted_id(machine->text))};
  const bool at_the_end = upstream ? step == 0 : step + 1 == build.path.size();
  const bool divided = next || (build.path[step].branch.text.empty() && !at_the_end);
  return Complaint{path,
                   divided ? "a port without a machine, since runs meet there where the path divides or joins"
                           : "a port without a machine, since the path begins or ends there"};
}

Verdict check_run(const Build& build, const Run& run, const std::string& path) {
  const auto step = std::ranges::find(build.path, PathStep{run.id}.what(), &PathStep::what);
  if (step == build.path.end())
    return Complaint{path + ".id", "the id of a run on the path"};
  const auto at = static_cast<std::size_t>(step - build.path.begin());
  return first_of([&] { return check_end(build, run.from, at, true, path + ".from"); },
                  [&] { return check_end(build, run.to, at, false, path + ".to"); },
                  [&]() -> Verdict {
                    if (run.from == run.to)
                      return Complaint{path + ".to", "another port than the run comes from"};
                    return std::nullopt;
                  },
                  [&]() -> Verdict {
                    for (std::size_t row = 0; row < run.pieces.size(); ++row)
                      if (const StockId& stock = run.pieces[row].stock;
                          !stock.text.empty() && !build.find(stock))
                        return Complaint{fmt::format("{}.pieces[{}].stock", path, row),
                                         "the id of an item of this build's stock"};
                    return std::nullopt;
                  },
                  [&] { return check_fittings(run, path); });
}

/// Every option has every run of the path, once.
Verdict check_option(const Build& build, const Option& option, const std::string& path) {
  if (auto twice = doubled_id(option.runs, path + ".runs"))
    return twice;
  for (std::size_t i = 0; i < option.runs.size(); ++i)
    if (auto complaint = check_run(build, *option.runs[i], fmt::format("{}.runs[{}]", path, i)))
      return complaint;
  for (const PathStep& step : build.path)
    if (const auto* run = std::get_if<RunId>(&step); run && !option.find(*run))
      return Complaint{path + ".runs", "every run that the path names, in every option",
                       fmt::format("no run {}", quoted_id(run->text))};
  return std::nullopt;
}

Verdict check_options(const Build& build) {
  for (std::size_t i = 0; i < build.options.size(); ++i)
    if (auto complaint = check_option(build, build.options[i], fmt::format("$.options[{}]", i)))
      return complaint;
  return std::nullopt;
}

Verdict check_owned(const Build& build) {
  std::set<StockId> seen;
  for (std::size_t i = 0; i < build.owned.size(); ++i) {
    const std::string path = fmt::format("$.owned[{}].stock", i);
    if (!build.find(build.owned[i].stock))
      return Complaint{path, "the id of an item of this build's stock"};
    if (!seen.insert(build.owned[i].stock).second)
      return Complaint{path, "each stock item once"};
  }
  return std::nullopt;
}

Verdict check_offcuts(const Build& build) {
  for (std::size_t i = 0; i < build.offcuts.size(); ++i) {
    const StockItem* item = build.find(build.offcuts[i].stock);
    if (!item)
      return Complaint{fmt::format("$.offcuts[{}].stock", i), "the id of an item of this build's stock"};
    const bool bent = item->kind == StockKind::tube_bend || item->kind == StockKind::hose_elbow;
    const bool straight = item->kind == StockKind::tube || item->kind == StockKind::hose;
    if (!bent && !straight)
      return Complaint{fmt::format("$.offcuts[{}].stock", i),
                       "the id of a tube, a bend, a hose or a hose elbow"};
    if (straight && build.offcuts[i].angle_rad > 0)
      return Complaint{fmt::format("$.offcuts[{}].angle_deg", i), "0 of what is sold straight"};
  }
  return std::nullopt;
}

/// The first entry that says the same as one before it.
template <class Entries, class Key>
Verdict check_once(const Entries& entries, const Key& key, std::string_view list, std::string_view field,
                   std::string accepted) {
  for (std::size_t i = 0; i < entries.size(); ++i)
    for (std::size_t before = 0; before < i; ++before)
      if (key(entries[before]) == key(entries[i]))
        return Complaint{fmt::format("{}[{}].{}", list, i, field), std::move(accepted)};
  return std::nullopt;
}

Verdict check_budget(const Build& build) {
  return first_of(
      [&] {
        return check_once(
            build.budget.postage, [](const Postage& each) { return each.supplier; }, "$.budget.postage",
            "supplier", "each supplier once");
      },
      [&] {
        return check_once(
            build.budget.spares, [](const Spare& each) { return each.kind; }, "$.budget.spares", "kind",
            "each kind once");
      });
}

Verdict check_waivers(const Build& build) {
  const auto rule = [](const Waiver& each) { return each.rule; };
  for (std::size_t option = 0; option < build.options.size(); ++option)
    for (std::size_t run = 0; run < build.options[option].runs.size(); ++run) {
      const auto& pieces = build.options[option].runs[run]->pieces;
      for (std::size_t row = 0; row < pieces.size(); ++row)
        if (pieces[row].waivers.size() > 1)
          if (auto twice =
                  check_once(pieces[row].waivers, rule,
                             fmt::format("$.options[{}].runs[{}].pieces[{}].waivers", option, run, row),
                             "rule", "each rule once"))
            return twice;
    }
  for (std::size_t i = 0; i < build.waivers.size(); ++i)
    if (const auto& machine = build.waivers[i].machine; machine && !build.find(*machine))
      return Complaint{fmt::format("$.waivers[{}].machine", i), "the id of a machine of this build"};
  return check_once(
      build.waivers, [](const BuildWaiver& each) { return std::pair(each.what.rule, each.machine); },
      "$.waivers", "rule", "each rule once for each machine, and once without");
}

/// No threshold was moved past the one that goes with it.
Verdict check_order(const Build& build) {
  const trade::Limits limits = limits_of(build);
  const auto wrong = trade::out_of_order(limits);
  if (!wrong)
    return std::nullopt;
  const auto changed = [&](std::string_view key) {
    return std::ranges::find(build.thresholds, key, &ChangedThreshold::key);
  };
  const bool low = changed(wrong->low) != build.thresholds.end();
  const std::string_view other = low ? wrong->high : wrong->low;
  const auto at = changed(low ? wrong->low : wrong->high) - build.thresholds.begin();
  return Complaint{fmt::format("$.thresholds[{}].value", at),
                   fmt::format("a number not {} {}, which \"{}\" is", low ? "above" : "below",
                               number_text(trade::value(*trade::find(other), limits)), other)};
}

Verdict check_thresholds(const Build& build) {
  for (std::size_t i = 0; i < build.thresholds.size(); ++i) {
    const ChangedThreshold& changed = build.thresholds[i];
    const trade::Threshold* threshold = trade::find(changed.key);
    if (!threshold)
      return Complaint{fmt::format("$.thresholds[{}].key", i), "the key of a threshold"};
    if (!(changed.value >= threshold->least && changed.value <= threshold->most))
      return Complaint{fmt::format("$.thresholds[{}].value", i), trade::accepted(*threshold)};
  }
  if (auto twice = check_once(
          build.thresholds, [](const ChangedThreshold& each) { return each.key; }, "$.thresholds", "key",
          "each key once"))
    return twice;
  return check_order(build);
}

} // namespace

std::string missing_words(std::string_view path) {
  return fmt::format("no {} here", quoted_id(path.substr(path.rfind('.') + 1)));
}

Error located(const Source& source, const Json& root, const Complaint& complaint) {
  const Found at = follow(root, complaint.path);
  std::string found = complaint.found;
  if (found.empty())
    found = at.exact ? source.excerpt(*at.value) : missing_words(complaint.path);
  return source.error(at.value->begin, complaint.path, std::move(found), complaint.accepted);
}

std::optional<Complaint> first_complaint(const Build& build) {
  return first_of([&] { return Checker::check(build); }, [&] { return check_ids(build); },
                  [&] { return check_ports(build); }, [&] { return check_keep_outs(build); },
                  [&] { return check_path(build); }, [&] { return check_options(build); },
                  [&] { return check_owned(build); }, [&] { return check_offcuts(build); },
                  [&] { return check_budget(build); }, [&] { return check_waivers(build); },
                  [&] { return check_thresholds(build); }, [&] { return check_measured(build); });
}

std::optional<Error> validate(const Build& build) {
  const auto complaint = first_complaint(build);
  return complaint ? std::optional(as_error(*complaint, build, "$")) : std::nullopt;
}

std::optional<Error> validate(const Piece& piece, const std::string& path) {
  const auto complaint = Checker::check(piece);
  return complaint ? std::optional(as_error(*complaint, piece, path)) : std::nullopt;
}

} // namespace bellmouth::build
