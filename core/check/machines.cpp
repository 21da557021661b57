// SPDX-License-Identifier: GPL-3.0-or-later
// How blowers, valves, throttle and filter are worked: the place on the map, air that goes round, states in
// which figures are better or worse than they will be.
#include "context.hpp"
#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <cmath>
#include <numbers>

namespace bellmouth::check {

namespace {

using enum Severity;

const machine::CompressorMap* map_of(const build::MachineKind& kind) {
  if (const auto* geared = std::get_if<machine::GearedCompressor>(&kind))
    return &geared->map;
  const auto* target = std::get_if<machine::TargetCompressor>(&kind);
  return target != nullptr && target->map ? &*target->map : nullptr;
}

const machine::BypassValve* bypass_of(const build::MachineKind& kind) {
  const auto valve = [](const auto& blower) { return blower.bypass ? &*blower.bypass : nullptr; };
  if (const auto* displacement = std::get_if<machine::DisplacementBlower>(&kind))
    return valve(*displacement);
  if (const auto* target = std::get_if<machine::TargetCompressor>(&kind))
    return valve(*target);
  const auto* geared = std::get_if<machine::GearedCompressor>(&kind);
  return geared != nullptr ? valve(*geared) : nullptr;
}

void check_flow_on_map(Context& c, const MachineView& view) {
  const auto& place = *view.flow->on_map;
  if (place.below_surge)
    c.add_at_machine(Id::compressor_surges, stop, view,
                     fmt::format("The flow is {:.0f} % below the surge line.", -100 * place.margin_to_surge),
                     "The air breaks back through the impeller in blows that wear out bearings and hoses. A "
                     "smaller compressor, less "
                     "pressure at this speed or a valve that lets air off keeps clear of it.");
  else if (!place.beyond_choke && below(place.margin_to_surge, c.limits.surge_margin))
    c.add_at_machine(
        Id::compressor_surges, caution, view,
        fmt::format("The flow is only {:.1f} % above the surge line; {:.0f} % are wanted.",
                    100 * place.margin_to_surge, 100 * c.limits.surge_margin),
        "Pulses, a bend ahead of it or a clogged filter carry it over the line. Less pressure at this speed "
        "or a smaller compressor keeps away from it.");
  if (place.beyond_choke)
    c.add_at_machine(Id::compressor_chokes, caution, view,
                     "The flow is beyond the last point of the compressor's map.",
                     "There the efficiency falls steeply and the rotor may run away; pressure, power and "
                     "temperature shown are guesses. Take a larger compressor.");
}

void check_speed_on_map(Context& c, const MachineView& view, const machine::CompressorMap& map) {
  if (!view.flow->on_map->outside_speeds)
    return;
  const double corrected_rev_s =
      view.flow->speed_rev_s * std::sqrt(map.reference_temperature_K / view.flow->inlet.total_temperature_K);
  const double lowest_rev_s = map.points.front().corrected_speed_rev_s;
  const double highest_rev_s = map.points.back().corrected_speed_rev_s;
  const bool fast = corrected_rev_s > 0.5 * (lowest_rev_s + highest_rev_s);
  c.add_at_machine(Id::off_map_speeds, fast ? caution : note, view,
                   fmt::format("{} in the map's terms, {} its {} line of {}.", per_minute(corrected_rev_s),
                               fast ? "above" : "below", fast ? "highest" : "lowest",
                               per_minute(fast ? highest_rev_s : lowest_rev_s)),
                   fast
                       ? "Beyond the highest line a rotor is as a rule beyond its limit, and the figures are "
                         "carried on by affinity. A larger compressor or less pressure brings it back."
                       : "The figures are carried on by affinity and have a wider band.");
}

void check_bypass(Context& c, const MachineView& view) {
  const auto* valve = bypass_of(view.machine->kind);
  const auto& flow = *view.flow;
  if (valve == nullptr || flow.bypass_kg_s <= 0)
    return;
  const bool back = valve->to == machine::BypassTo::inlet;
  // What comes back passes the blower once more; what is let off is part of what it drew.
  const double blown_kg_s = flow.inlet.mass_flow_kg_s + (back ? flow.bypass_kg_s : 0);
  const double share = flow.bypass_kg_s / blown_kg_s;
  if (!above(share, c.limits.bypass_note_share))
    return;
  const double warmer_K = share * (flow.outlet.total_temperature_K - flow.inlet.total_temperature_K);
  const std::string message =
      back ? fmt::format("{:.1f} % of the blower's air goes back through the bypass and warms its inlet by "
                         "{:.1f} K.",
                         100 * share, warmer_K)
           : fmt::format("{:.1f} % of the blower's air is lost through the valve.", 100 * share);
  const std::string work =
      fmt::format("Some {} of shaft power are spent on it. ",
                  quantity::write(quantity::Dimension::power, share * flow.shaft_power_W, "kW", 2));
  c.add_at_machine(Id::bypass_open, above(share, c.limits.bypass_caution_share) ? caution : note, view,
                   message,
                   work + (valve->opening > 0
                               ? fmt::format("The valve stands {:.0f} % open; at full load it is shut.",
                                             100 * valve->opening)
                               : std::string("It leaks while shut: a new seat or a stiffer spring helps.")));
}

void check_throttle(Context& c, const MachineView& view, const machine::Throttle& throttle) {
  if (!throttle.opening_rad || !below(*throttle.opening_rad, c.limits.throttle_open_rad))
    return;
  c.add_at_machine(Id::throttle_part_open, note, view,
                   fmt::format("The plate stands at {}, and {} are lost on it.",
                               degrees(*throttle.opening_rad), kilopascals(view.flow->drop_Pa)),
                   "All figures are those of part load. To judge full load, open it.");
}

void check_filter(Context& c, const MachineView& view, const machine::Filter& filter) {
  using enum machine::FilterState;
  if (filter.state == wet && filter.wet_factor <= 1)
    c.add_at_machine(Id::filter_taken_clean, note, view,
                     "It is said to be wet, but to drop no more than when dry.",
                     "A soaked element drops much more. State by how much, or take the dry state.");
  if (filter.state != dirty || filter.dirty_factor > 1 || c.engine() == nullptr)
    return;
  const double now_Pa = c.lost_before_blower_Pa();
  const double loaded_Pa = now_Pa + (c.limits.loaded_filter_factor - 1) * view.flow->drop_Pa;
  if (above(loaded_Pa, c.limits.restriction_caution_Pa) && !above(now_Pa, c.limits.restriction_caution_Pa))
    c.add_at_machine(Id::filter_taken_clean, note, view,
                     fmt::format("The filter counts as clean: with {:.2g} times its drop, {} would be lost.",
                                 c.limits.loaded_filter_factor, kilopascals(loaded_Pa)),
                     "State a factor for the dirty filter to see the engine as it is before a service, or "
                     "take a larger one.");
}

} // namespace

void check_machines(Context& c) {
  if (!c.facts.flow.point.usable())
    return;
  for (const auto& view : c.machines) {
    const auto& kind = view.machine->kind;
    if (const auto* map = map_of(kind); map != nullptr && view.flow->on_map) {
      check_flow_on_map(c, view);
      check_speed_on_map(c, view, *map);
    }
    check_bypass(c, view);
    if (const auto* throttle = std::get_if<machine::Throttle>(&kind))
      check_throttle(c, view, *throttle);
    if (const auto* filter = std::get_if<machine::Filter>(&kind))
      check_filter(c, view, *filter);
  }
}

} // namespace bellmouth::check
