// SPDX-License-Identifier: GPL-3.0-or-later
// Temperatures, and the limits of machines and materials.
#include "context.hpp"
#include "words.hpp"

#include <bellmouth/joint/hoses.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <optional>
#include <string>

namespace bellmouth::check {

namespace {

using enum Severity;

/// Plastic that bears no pressure: printed ducts before the blower.
void check_softening(Context& c, const RunView& run, std::size_t row, const joint::Rating& limit) {
  const double air_K = run.flow->rows[row].inlet.station.total_temperature_K;
  const auto& bay = c.facts.build.bay;
  const double warmest_K = bay ? std::max(air_K, bay->temperature_K) : air_K;
  if (above(warmest_K, limit.value - c.limits.plastic_margin_K))
    c.add_at_row(Id::plastic_softens, caution, run, row,
                 fmt::format("Plastic {} {} in {} of {}: {:.0f} K of margin are wanted.",
                             limit.stated ? "rated to" : "of a kind that softens at", celsius(limit.value),
                             warmest_K > air_K ? "a bay" : "air", celsius(warmest_K),
                             c.limits.plastic_margin_K),
                 "Printed parts sag and creep well before they soften. Take a plastic that stands more, and "
                 "enter its rating in the stock, or metal.");
}

void check_plastic(Context& c, const RunView& run, std::size_t row) {
  const auto& piece = run.run->pieces[row];
  const auto& at = run.flow->rows[row].inlet.station;
  const joint::Rating limit = joint::greatest_temperature_K(piece, c.item(piece), c.limits);
  const double gauge_Pa = at.static_pressure_Pa - c.ambient_Pa;
  if (!above(gauge_Pa, c.limits.plastic_from_gauge_Pa)) {
    if (build::is_rigid(piece.shape))
      check_softening(c, run, row, limit);
    return;
  }
  if (limit.stated && !above(at.total_temperature_K, limit.value - c.limits.hose_margin_K))
    return;
  const bool hot = above(at.total_temperature_K, limit.value);
  c.add_at_row(Id::plastic_under_pressure, hot || !limit.stated ? stop : caution, run, row,
               fmt::format("Plastic under {} gauge at {}{}.", kilopascals(gauge_Pa),
                           celsius(at.total_temperature_K),
                           limit.stated ? fmt::format(", rated to {}", celsius(limit.value))
                                        : std::string(", with no rating stated")),
               "Drain and water pipe shatters under compressed air and throws splinters. Use metal, or a "
               "moulded duct that is made "
               "and rated for charge air and chosen from the stock.");
}

/// What a blower's data sheet allows, and how the engine drives it.
struct Plate {
  double max_outlet_temperature_K;
  struct Drive {
    double ratio, max_speed_rev_s;
  };
  std::optional<Drive> drive; ///< unset: not tied to the engine's speed
};

std::optional<Plate> plate(const build::MachineKind& kind) {
  const auto driven = [](const auto& blower) {
    return Plate{blower.max_outlet_temperature_K, Plate::Drive{blower.drive_ratio, blower.max_speed_rev_s}};
  };
  if (const auto* displacement = std::get_if<machine::DisplacementBlower>(&kind))
    return driven(*displacement);
  if (const auto* geared = std::get_if<machine::GearedCompressor>(&kind))
    return driven(*geared);
  if (const auto* compressor = std::get_if<machine::TargetCompressor>(&kind))
    return Plate{compressor->max_outlet_temperature_K, std::nullopt};
  return std::nullopt;
}

void check_overspeed(Context& c, const MachineView& view, const Plate::Drive& drive) {
  const auto* engine = c.engine();
  if (engine == nullptr)
    return;
  // The speed that was asked for may lie beyond the engine's own limit.
  const double engine_rev_s =
      std::max(engine->max_speed_rev_s * c.limits.overspeed_share, c.facts.flow.point.engine_speed_rev_s);
  const double speed_rev_s = engine_rev_s * drive.ratio;
  if (above(speed_rev_s, drive.max_speed_rev_s))
    c.add_at_machine(
        Id::blower_overspeed, stop, view,
        fmt::format("{} at the engine's limit of {} with {:.0f} % overshoot; the blower may turn {}.",
                    per_minute(speed_rev_s), per_minute(engine->max_speed_rev_s),
                    100 * (c.limits.overspeed_share - 1), per_minute(drive.max_speed_rev_s)),
        fmt::format("Rotors touch and bearings fail beyond the plate's limit. A drive ratio of {:.2f} "
                    "would keep it.",
                    drive.max_speed_rev_s / (engine->max_speed_rev_s * c.limits.overspeed_share)));
}

void check_blowers(Context& c) {
  for (const auto& view : c.machines) {
    const auto limits = plate(view.machine->kind);
    if (!limits)
      continue;
    if (limits->drive)
      check_overspeed(c, view, *limits->drive);
    if (view.flow == nullptr)
      continue;
    if (limits->drive && view.flow->pressure_ratio < 1)
      c.add_at_machine(
          Id::blower_driven, caution, view,
          fmt::format("A pressure ratio of {:.2f}: the engine would take more than the blower gives.",
                      view.flow->pressure_ratio),
          "It holds the engine back instead of filling it. A larger blower or drive ratio is needed.");
    const double limit_K = limits->max_outlet_temperature_K;
    const double outlet_K = view.flow->outlet.total_temperature_K;
    if (above(outlet_K, limit_K - c.limits.outlet_margin_K))
      c.add_at_machine(Id::blower_outlet_hot, above(outlet_K, limit_K) ? stop : caution, view,
                       fmt::format("{} at its outlet; {} are the most.", celsius(outlet_K), celsius(limit_K)),
                       "Coatings and seals suffer, and rotors grow into the case. Less pressure ratio helps: "
                       "a slower blower, less "
                       "restriction before it, less loss behind it.");
  }
}

/// Water that falls out when the air is cooled so far [kg/s].
double condensate_kg_s(const Context& c, const air::Station& air, double temperature_K) {
  const double dry_kg_s = air.mass_flow_kg_s / (1 + c.ambient.air.humidity_ratio());
  return dry_kg_s * air::condensate_kg_kg(c.ambient.air, temperature_K, air.total_pressure_Pa);
}

std::string grams_per_hour(double flow_kg_s) {
  return quantity::write(quantity::Dimension::mass, flow_kg_s * 3600, "g", 2) + " an hour";
}

/// What the coldest wall of a cooler can come to: its coolant at the inlet.
double coolant_in_K(const flow::MachineFlow& flow) {
  if (flow.water_in_K > 0)
    return flow.water_in_K;
  const double in_K = flow.inlet.total_temperature_K;
  return flow.effectiveness > 0 ? in_K - (in_K - flow.outlet.total_temperature_K) / flow.effectiveness
                                : flow.outlet.total_temperature_K;
}

/// A temperature to a tenth of a degree, where it is held against one nearby.
std::string tenths(double value_K) {
  return quantity::write_fixed(quantity::Dimension::temperature, value_K, "°C", 1);
}

void check_condensate(Context& c) {
  for (const auto& view : c.machines) {
    if (!std::holds_alternative<machine::ChargeCooler>(view.machine->kind))
      continue;
    const auto& out = view.flow->outlet;
    const auto dew_K = air::dew_point_K(c.ambient.air, out.total_pressure_Pa);
    const double air_K = out.total_temperature_K;
    const double wall_K = std::max(std::min(coolant_in_K(*view.flow), air_K), air::lowest_saturation_K);
    if (!dew_K || !below(wall_K, *dew_K))
      continue;
    const char* const help = "It gathers in the lowest tank and goes to the engine in one gulp when the "
                             "throttle opens. Lay the outlet so that the core drains, or put a drain at its "
                             "lowest point.";
    if (below(air_K, *dew_K)) {
      const double water_kg_s = condensate_kg_s(c, out, air_K);
      c.add_at_machine(
          Id::condensate, above(water_kg_s, c.limits.condensate_caution_kg_s) ? caution : note, view,
          fmt::format("{} of water fall out: the air leaves at {}, its dew point in there is {}.",
                      grams_per_hour(water_kg_s), tenths(air_K), tenths(*dew_K)),
          help);
    } else {
      c.add_at_machine(
          Id::condensate, note, view,
          fmt::format(
              "The coldest walls can be at {}, below the dew point of {} in there: up to {} of water.",
              tenths(wall_K), tenths(*dew_K), grams_per_hour(condensate_kg_s(c, out, wall_K))),
          help);
    }
  }
}

void check_pick_up(Context& c) {
  const auto& bay = c.facts.build.bay;
  if (!bay)
    return;
  for (const auto& run : c.runs) {
    if (run.rows() == 0)
      continue;
    const auto& rows = run.flow->rows;
    const double rise_K =
        rows.back().outlet.station.total_temperature_K - rows.front().inlet.station.total_temperature_K;
    if (above(rise_K, c.limits.picked_up_K))
      c.add_at_run(Id::duct_picks_up_heat, note, run,
                   fmt::format("The air warms by {:.1f} K on its way; the bay is at {}.", rise_K,
                               celsius(bay->temperature_K)),
                   "Each 3 K cost about 1 % of the air. Lag the duct, or lead it where the bay is cold.");
  }
}

void check_charge(Context& c) {
  if (c.engine() == nullptr)
    return;
  const auto& point = c.facts.flow.point;
  const bool cooled = c.first<machine::ChargeCooler>() != nullptr;
  const double gauge_Pa = point.manifold_pressure_Pa - c.ambient_Pa;
  const auto* blower = c.blower();
  if (above(point.manifold_temperature_K, c.limits.charge_caution_K))
    c.add_at_whole(Id::charge_hot, caution, "manifold",
                   fmt::format("{} in the manifold; {} are the most to be at ease with.",
                               celsius(point.manifold_temperature_K), celsius(c.limits.charge_caution_K)),
                   cooled ? "The engine knocks sooner and gets less air. A better fed or larger cooler "
                            "helps, and so does a colder inlet."
                          : "The engine knocks sooner and gets less air. A charge cooler would help.");
  if (blower != nullptr && !cooled && above(gauge_Pa, c.limits.cooler_from_gauge_Pa))
    c.add_at_machine(Id::no_cooler, note, *blower,
                     fmt::format("{} of boost go to the engine uncooled, at {}.", kilopascals(gauge_Pa),
                                 celsius(point.manifold_temperature_K)),
                     "From about half a bar a charge cooler pays in air and in safety from knock; with a "
                     "lobe blower sooner.");
}

void check_filters(Context& c) {
  const auto* meter = c.first<machine::MeterBody>();
  for (const auto& view : c.machines) {
    const auto* filter = std::get_if<machine::Filter>(&view.machine->kind);
    if (filter == nullptr)
      continue;
    if (!filter->cold_feed)
      c.add_at_machine(Id::hot_feed, note, view, "The filter draws its air from the bay.",
                       "Each 3 K cost about 1 % of the air, and a bay is 40 K and more above the day when "
                       "standing. Feed it from outside.");
    if (filter->oiled && meter != nullptr && meter->step > view.step)
      c.add_at_machine(Id::oiled_filter_before_meter, note, view, "An oiled filter feeds a flow meter.",
                       "Surplus oil creeps onto the meter's wire and makes it read low. Oil it sparingly, or "
                       "use dry media.");
  }
}

} // namespace

void check_heat(Context& c) {
  check_filters(c);
  check_blowers(c);
  if (!c.facts.flow.point.usable())
    return;
  for (const auto& run : c.runs)
    for (std::size_t row = 0; row < run.rows(); ++row)
      if (run.run->pieces[row].material == build::Material::plastic && !build::is_fitting(run.shape(row)))
        check_plastic(c, run, row);
  check_charge(c);
  check_condensate(c);
  check_pick_up(c);
}

} // namespace bellmouth::check
