// SPDX-License-Identifier: GPL-3.0-or-later
// What has to be where along the path: flexible joints, sensors, valves, straight lengths.
#include "context.hpp"
#include "words.hpp"

#include <bellmouth/joint/threads.hpp>

#include <spdlog/fmt/fmt.h>

#include <cmath>
#include <limits>
#include <string>

namespace bellmouth::check {

namespace {

using enum Severity;

void check_flexible(Context& c, const RunView& run) {
  int flexible = 0;
  std::size_t last = 0;
  for (std::size_t row = 0; row < run.rows(); ++row)
    if (build::is_flexible(run.shape(row))) {
      ++flexible;
      last = row;
    }
  if (run.from->mounting != run.to->mounting) {
    if (flexible == 0)
      c.add_at_run(Id::no_flexible_joint, stop, run,
                   "One end is on the engine, the other on the body, and nothing between them gives.",
                   "The engine rolls on its mounts; a rigid duct cracks, or breaks a bracket. Put in at "
                   "least one hose, better one "
                   "near each end or a hump hose.");
    else if (flexible == 1 && std::holds_alternative<build::Hose>(run.shape(last)) &&
             !movement_is_known(c, run)) // then figures tell
      c.add_at_row(Id::plain_hose_for_movement, caution, run, last,
                   "This plain hose alone has to take all movement between engine and body.",
                   "A plain hose works in line and with little movement. Take a hump hose, or put a second "
                   "hose at the other end.");
  }
  if (run.step == 0)
    return;
  const auto* blower = c.blower();
  if (blower == nullptr || blower->step + 1 != run.step ||
      !std::holds_alternative<machine::DisplacementBlower>(blower->machine->kind))
    return;
  double rigid_m = 0;
  for (std::size_t row = 0; row < run.rows() && !build::is_flexible(run.shape(row)); ++row)
    rigid_m += run.fit->rows[row].centreline_length_m;
  if (flexible == 0 || above(rigid_m, c.limits.flexible_from_blower_m))
    c.add_at_run(Id::no_flexible_near_blower, note, run,
                 flexible == 0
                     ? std::string("No hose behind a blower that discharges in pulses.")
                     : fmt::format("The first hose comes {} behind a blower that discharges in pulses.",
                                   millimetres(rigid_m)),
                 fmt::format("Thin rigid duct rings and cracks. Put a hose within {} of the outlet.",
                             millimetres(c.limits.flexible_from_blower_m)));
}

/// Taps of an eighth of an inch are for gauges and lines; any other boss may hold a temperature sensor.
bool may_measure_temperature(const build::SensorBoss& boss) {
  const auto* thread = joint::find_thread(boss.thread);
  return thread == nullptr || thread->form == joint::ThreadForm::metric || thread->major_diameter_m > 10.5e-3;
}

/// Distance of a fitting from the run's start along the centreline.
double distance_m(const RunView& run, std::size_t row, double position_m) {
  double length_m = position_m;
  for (std::size_t before = 0; before < run.fit->rows[row].host.value_or(0); ++before)
    length_m += run.fit->rows[before].centreline_length_m;
  return length_m;
}

void check_sensors(Context& c) {
  const auto* blower = c.blower();
  if (blower == nullptr || c.engine() == nullptr)
    return;
  const auto* cooler = c.first<machine::ChargeCooler>();
  const std::size_t from_step =
      cooler != nullptr && cooler->step > blower->step ? cooler->step : blower->step;
  const RunView* ahead = nullptr;
  std::size_t ahead_row = 0;
  bool behind_blower = false, behind_all = false;
  for (const auto& run : c.runs)
    for (std::size_t row = 0; row < run.rows(); ++row) {
      const auto* boss = std::get_if<build::SensorBoss>(&run.shape(row));
      if (boss == nullptr || !may_measure_temperature(*boss))
        continue;
      if (!run.behind_blower && ahead == nullptr) {
        ahead = &run;
        ahead_row = row;
      }
      behind_blower |= run.behind_blower;
      if (run.step <= from_step)
        continue;
      behind_all = true;
      if (cooler == nullptr || run.step != cooler->step + 1)
        continue;
      const double away_m = distance_m(run, row, boss->position_m);
      if (below(away_m, c.limits.sensor_from_cooler_bores * run.from->bore_m))
        c.add_at_row(
            Id::sensor_near_cooler, note, run, row,
            fmt::format("{} behind the cooler's outlet, {:.1f} bores.", millimetres(away_m),
                        away_m / run.from->bore_m),
            "The air from a tank is not mixed yet. Three bores on, or just ahead of the throttle, it is.");
    }
  if (ahead != nullptr && !behind_blower)
    c.add_at_row(Id::sensor_before_blower, stop, *ahead, ahead_row,
                 "No boss that could hold a temperature sensor lies behind the blower.",
                 "The blower heats the air by tens of kelvin that this sensor never sees: fuel and spark "
                 "come out wrong. Put the boss "
                 "behind the cooler, some 100 to 200 mm ahead of the throttle.");
  else if (!behind_all)
    c.add_at_machine(Id::no_charge_sensor, caution, cooler != nullptr ? *cooler : *blower,
                     fmt::format("No boss that could hold a temperature sensor lies behind the {}.",
                                 cooler != nullptr ? "cooler" : "blower"),
                     "Fuel and spark need the temperature of what the engine gets. Put a boss some 100 to "
                     "200 mm ahead of the "
                     "throttle; an engine that measures in its manifold does without.");
}

bool flange_between(const Context& c, std::size_t from_step, std::size_t to_step) {
  for (const auto& run : c.runs)
    if (run.step > from_step && run.step < to_step)
      for (std::size_t row = 0; row < run.rows(); ++row)
        if (std::holds_alternative<build::ValveFlange>(run.shape(row)))
          return true;
  return false;
}

void check_valves(Context& c) {
  const auto* blower = c.blower();
  const auto* throttle = c.first<machine::Throttle>();
  if (blower == nullptr || throttle == nullptr || c.engine() == nullptr)
    return;
  const bool displacement = std::holds_alternative<machine::DisplacementBlower>(blower->machine->kind);
  if (throttle->step > blower->step) {
    if (flange_between(c, blower->step, throttle->step))
      return;
    if (displacement)
      c.add_at_machine(Id::no_relief_valve, stop, *blower,
                       "No valve flange lies between the blower and the throttle behind it.",
                       "When the throttle shuts, the blower goes on pumping and the pressure bursts a joint "
                       "or stalls the belt. Put "
                       "a flange for a bypass or relief valve between them, its line to the manifold.");
    else
      c.add_at_machine(Id::no_relief_valve, caution, *blower,
                       "No valve flange lies between the compressor and the throttle behind it.",
                       "When the throttle shuts, the compressor surges. Put a flange for a blow-off valve "
                       "close to the throttle.");
  } else if (displacement && !flange_between(c, blower->step, std::numeric_limits<std::size_t>::max())) {
    c.add_at_machine(Id::no_bypass_valve, caution, *blower, "No valve flange lies behind the blower.",
                     "At part load the blower churns against a vacuum and heats itself. A bypass from its "
                     "outlet side to the space "
                     "between throttle and blower saves fuel and heat.");
  }
}

/// Straight, constant bore from one end of a run to the first bend or change of bore; endless when there is
/// none.
double straight_m(const RunView& run, bool from_end) {
  double length_m = 0;
  for (std::size_t count = 0; count < run.rows(); ++count) {
    const std::size_t row = from_end ? run.rows() - 1 - count : count;
    const auto& shape = run.shape(row);
    if (build::is_fitting(shape))
      continue;
    const auto& fit = run.fit->rows[row];
    if (build::angle_rad(shape) > 0) {
      const auto track = bay::track(shape, fit.cover_in_m, fit.cover_out_m);
      return length_m + (from_end ? track.straight_out_m : track.straight_in_m);
    }
    if (std::abs(build::bore_in_m(shape) - build::bore_out_m(shape)) > 1e-3)
      return length_m;
    length_m += fit.centreline_length_m;
  }
  return std::numeric_limits<double>::infinity();
}

void check_straights(Context& c) {
  for (const auto& view : c.machines) {
    const RunView* before = view.step > 0 ? c.run_at(view.step - 1) : nullptr;
    const RunView* behind = c.run_at(view.step + 1);
    if (const auto* meter = std::get_if<machine::MeterBody>(&view.machine->kind)) {
      const auto complain = [&](const RunView* run, bool upstream, double bores) {
        if (run == nullptr)
          return;
        const double length_m = straight_m(*run, upstream);
        if (below(length_m, bores * meter->bore_m))
          c.add_at_machine(
              Id::meter_not_straight, caution, view,
              fmt::format("{} of straight tube {} the meter, {:.1f} bores; {} are wanted.",
                          millimetres(length_m), upstream ? "before" : "behind", length_m / meter->bore_m,
                          bores),
              "A meter reads one point of the stream and takes it for all of it. Move it, or move the bend.");
      };
      complain(before, true, c.limits.meter_upstream_bores);
      complain(behind, false, c.limits.meter_downstream_bores);
    }
    if (std::holds_alternative<machine::TargetCompressor>(view.machine->kind) && before != nullptr) {
      const double length_m = straight_m(*before, true);
      if (below(length_m, c.limits.impeller_bores * before->to->bore_m))
        c.add_at_machine(Id::bend_before_impeller, caution, view,
                         fmt::format("{} of straight tube before the impeller, {:.1f} bores.",
                                     millimetres(length_m), length_m / before->to->bore_m),
                         "Uneven air at the impeller brings surge nearer and costs efficiency. One bore of "
                         "straight is the least, two to "
                         "three are better.");
    }
  }
}

} // namespace

void check_layout(Context& c) {
  for (const auto& run : c.runs)
    check_flexible(c, run);
  check_sensors(c);
  check_valves(c);
  check_straights(c);
}

} // namespace bellmouth::check
