// SPDX-License-Identifier: GPL-3.0-or-later
// What the stream does: whether it flows at all, velocity, pressure lost.
#include "context.hpp"
#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>

namespace bellmouth::check {

namespace {

using enum Severity;

void check_point(Context& c) {
  const auto& point = c.facts.flow.point;
  if (point.usable())
    return;
  if (point.stop != flow::Stop::chokes) {
    const char* const help = "Nothing that depends on the flow can be shown. Check the blower's size, ratio "
                             "and target against the engine's.";
    const std::string message = fmt::format("No operating point: {}.", flow::text(point.stop));
    if (const auto* blower = c.blower())
      c.add_at_machine(Id::no_operating_point, stop, *blower, message, help);
    else
      c.add_at_whole(Id::no_operating_point, stop, "air path", message, help);
    return;
  }
  const std::string message =
      fmt::format("The flow chokes in {}; {} is the most that gets through.", point.choke_where,
                  quantity::write(quantity::Dimension::mass_flow, point.max_mass_flow_kg_s, "kg/s", 3));
  const char* const help = "The air reaches the speed of sound there. Take a larger bore.";
  const RunView* run = point.choke_step ? c.run_at(*point.choke_step) : nullptr;
  if (run != nullptr && point.choke_row) {
    c.add_at_row(Id::no_operating_point, stop, *run, *point.choke_row, message, help);
    return;
  }
  const auto machine = std::ranges::find_if(c.machines, [&](const MachineView& view) {
    return point.choke_step && view.step == *point.choke_step;
  });
  if (machine != c.machines.end())
    c.add_at_machine(Id::no_operating_point, stop, *machine, message, help);
  else
    c.add_at_whole(Id::no_operating_point, stop, point.choke_where, message, help);
}

double fastest(const flow::PieceFlow& piece) {
  return std::max(piece.inlet.station.velocity_m_s, piece.outlet.station.velocity_m_s);
}

/// The fastest row of a run, if it is above the limit.
void check_velocity(Context& c, const RunView& run) {
  const auto& flow = *run.flow;
  const double limit_m_s =
      run.behind_blower ? c.limits.velocity_behind_blower_m_s : c.limits.velocity_before_blower_m_s;
  const bool fast = above(flow.peak_velocity_m_s, limit_m_s);
  const bool high_mach = above(flow.peak_mach, c.limits.mach);
  if (!fast && !high_mach)
    return;
  std::size_t worst = 0;
  for (std::size_t row = 1; row < flow.rows.size(); ++row)
    if (fastest(flow.rows[row]) > fastest(flow.rows[worst]))
      worst = row;
  const auto& piece = flow.rows[worst];
  const double bore_m = piece.outlet.station.velocity_m_s > piece.inlet.station.velocity_m_s
                            ? piece.outlet.bore_m
                            : piece.inlet.bore_m;
  if (fast)
    c.add_at_row(run.behind_blower ? Id::fast_behind_blower : Id::fast_before_blower, caution, run, worst,
                 fmt::format("{} in a bore of {}; {} are the most {}.",
                             metres_per_second(flow.peak_velocity_m_s), millimetres(bore_m),
                             metres_per_second(limit_m_s),
                             run.behind_blower       ? "behind the blower"
                             : c.blower() != nullptr ? "before the blower"
                                                     : "ahead of the engine"),
                 run.behind_blower
                     ? "Losses go with the square of the velocity. One tube size more costs little volume."
                     : "Pressure lost here thins the air that the machine gets. Take the next larger tube.");
  if (high_mach)
    c.add_at_row(
        Id::mach_high, caution, run, worst,
        fmt::format("Mach {:.2f} in a bore of {}.", flow.peak_mach, millimetres(bore_m)),
        "The stream's own density change now costs pressure, and what fittings cost there is uncertain.");
}

/// What filter and inlet ducting take before the air reaches the blower, or the engine.
void check_restriction(Context& c) {
  if (c.engine() == nullptr)
    return;
  const auto* blower = c.blower();
  const double lost_Pa = c.lost_before_blower_Pa();
  if (!above(lost_Pa, c.limits.restriction_note_Pa))
    return;
  const auto* filter = c.first<machine::Filter>();
  std::string message = fmt::format("{} are lost before the {}", kilopascals(lost_Pa),
                                    blower != nullptr ? "blower" : "manifold");
  if (filter != nullptr)
    message += fmt::format(", {} of it in the filter", kilopascals(filter->flow->drop_Pa));
  const auto severity = above(lost_Pa, c.limits.restriction_caution_Pa) ? caution : note;
  const std::string_view reason = "A blower at fixed speed loses about 1 % of its air for each kPa, and has "
                                  "to make it up by a higher pressure ratio. "
                                  "A larger filter or bore on the suction side helps most.";
  message += '.';
  if (filter != nullptr)
    c.add_at_machine(Id::restriction, severity, *filter, std::move(message), std::string(reason));
  else if (!c.runs.empty())
    c.add_at_run(Id::restriction, severity, c.runs.front(), std::move(message), std::string(reason));
}

void check_charge_side(Context& c) {
  for (const auto& view : c.machines)
    if (std::holds_alternative<machine::ChargeCooler>(view.machine->kind) &&
        above(view.flow->drop_Pa, c.limits.cooler_drop_note_Pa))
      c.add_at_machine(Id::cooler_drop,
                       above(view.flow->drop_Pa, c.limits.cooler_drop_caution_Pa) ? caution : note, view,
                       fmt::format("{} are lost in the cooler.", kilopascals(view.flow->drop_Pa)),
                       "The blower has to make it up and heats the air for it. A core with more or shorter "
                       "passages drops less.");
  const auto* blower = c.blower();
  if (blower == nullptr || c.engine() == nullptr)
    return;
  const double lost_Pa = blower->flow->outlet.total_pressure_Pa - c.facts.flow.point.manifold_pressure_Pa;
  if (above(lost_Pa, c.limits.charge_drop_Pa))
    c.add_at_machine(
        Id::charge_drop, caution, *blower,
        fmt::format("{} are lost between blower and manifold; {} are the most.", kilopascals(lost_Pa),
                    kilopascals(c.limits.charge_drop_Pa)),
        "The list of pieces shows which of them takes most; wider bores and easier bends win it back.");
}

} // namespace

void check_stream(Context& c) {
  check_point(c);
  if (!c.facts.flow.point.usable())
    return;
  for (const auto& run : c.runs)
    check_velocity(c, run);
  check_restriction(c);
  check_charge_side(c);
}

} // namespace bellmouth::check
