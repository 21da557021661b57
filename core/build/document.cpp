// SPDX-License-Identifier: GPL-3.0-or-later
#include "kinds.hpp"
#include "overloaded.hpp"

#include <bellmouth/build/document.hpp>

#include <algorithm>
#include <cassert>

namespace bellmouth::build {

namespace {

template <class T> const T* find_by_id(const std::vector<T>& list, const decltype(T::id)& id) {
  const auto found = std::ranges::find(list, id, &T::id);
  return found == list.end() ? nullptr : &*found;
}

} // namespace

std::string_view kind_key(const MachineKind& kind) {
  return machine_kinds[kind.index()].key;
}
std::string title(const Machine& machine) {
  return machine.name.empty() ? std::string(kind_name(machine.kind)) : machine.name;
}

bool is_blower(const MachineKind& kind) {
  return std::holds_alternative<machine::DisplacementBlower>(kind) ||
         std::holds_alternative<machine::TargetCompressor>(kind) ||
         std::holds_alternative<machine::GearedCompressor>(kind);
}

std::string_view kind_name(const MachineKind& kind) {
  return machine_kinds[kind.index()].name;
}

const Run* Option::find(const RunId& run_id) const {
  const auto found = std::ranges::find_if(runs, [&](const Shared<Run>& run) { return run->id == run_id; });
  return found == runs.end() ? nullptr : &**found;
}

const Machine* Build::find(const MachineId& id) const {
  return find_by_id(machines, id);
}
const Port* Build::find(const PortId& id) const {
  return find_by_id(ports, id);
}
const Option* Build::find(const OptionId& id) const {
  return find_by_id(options, id);
}
const StockItem* Build::find(const StockId& id) const {
  return find_by_id(*stock, id);
}

const Branch* Build::find(const BranchId& id) const {
  return find_by_id(branches, id);
}
const BayState* Build::find(const StateId& id) const {
  return find_by_id(states, id);
}
double ClearanceLimits::of(KeepOutClass keep_out_class) const {
  switch (keep_out_class) {
  case KeepOutClass::fixed:
    return fixed_m;
  case KeepOutClass::moving:
    return moving_m;
  case KeepOutClass::hot:
    return hot_m;
  }
  assert(false);
  return fixed_m;
}
double Build::clearance_m(const KeepOut& keep_out) const {
  return keep_out.clearance_m.value_or(clearances.value_or(ClearanceLimits{}).of(keep_out.keep_out_class));
}
const Measured* Build::find(Coefficient coefficient) const {
  const auto found = std::ranges::find(measured, coefficient, &Measured::coefficient);
  return found == measured.end() ? nullptr : &*found;
}

namespace {

/// The step next to `step` in the direction of -1 or 1; see step_before() and step_behind().
std::optional<std::size_t> step_next_to(const std::vector<PathStep>& path, std::size_t step, int direction) {
  const auto next = [direction](std::size_t i) { return direction < 0 ? i - 1 : i + 1; };
  // One past either end is an index beyond the path's size; unsigned arithmetic makes it so below zero too.
  std::size_t at = next(step);
  const BranchId& branch = path[step].branch;
  if (at >= path.size())
    return std::nullopt;
  if (path[at].branch == branch)
    return at;
  if (branch.text.empty())
    return std::nullopt;
  while (at < path.size() && !path[at].branch.text.empty())
    at = next(at);
  return at < path.size() ? std::optional(at) : std::nullopt;
}

} // namespace

std::optional<std::size_t> step_before(const std::vector<PathStep>& path, std::size_t step) {
  return step_next_to(path, step, -1);
}
std::optional<std::size_t> step_behind(const std::vector<PathStep>& path, std::size_t step) {
  return step_next_to(path, step, +1);
}

AmbientAir ambient_air(const Ambient& ambient) {
  const auto moist = [](double pressure_Pa, double temperature_K, double relative_humidity) {
    return AmbientAir{pressure_Pa, temperature_K,
                      air::Mixture(air::humidity_ratio(temperature_K, pressure_Pa, relative_humidity))};
  };
  return std::visit(
      Overloaded{[&](const Weather& weather) {
                   return moist(weather.pressure_Pa, weather.temperature_K, weather.relative_humidity);
                 },
                 [&](const Altitude& altitude) {
                   const auto state = air::standard_atmosphere(altitude.altitude_m);
                   return moist(state.pressure_Pa, state.temperature_K, altitude.relative_humidity);
                 }},
      ambient);
}

} // namespace bellmouth::build
