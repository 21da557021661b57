// SPDX-License-Identifier: GPL-3.0-or-later
// How far the figures can be trusted: laws outside their range, and what was left out of the sum.
#include "context.hpp"
#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::check {

namespace {

using enum Severity;

/// Pieces that left the same range.
struct Outside {
  std::string_view range;
  const RunView* run; ///< of the first
  std::size_t row;
  std::size_t count = 0;
  double drop_Pa = 0, low_Pa = 0, high_Pa = 0;
};

std::vector<Outside> outside_by_range(const Context& c) {
  std::vector<Outside> all;
  for (const auto& run : c.runs)
    for (std::size_t row = 0; row < run.rows(); ++row) {
      const auto& piece = run.flow->rows[row];
      if (!piece.outside_range)
        continue;
      auto kind = std::ranges::find(all, piece.range, &Outside::range);
      if (kind == all.end()) {
        all.push_back({piece.range, &run, row});
        kind = std::prev(all.end());
      }
      ++kind->count;
      kind->drop_Pa += piece.drop_Pa;
      kind->low_Pa += piece.drop_low_Pa;
      kind->high_Pa += piece.drop_high_Pa;
    }
  return all;
}

void check_correlations(Context& c) {
  const auto pressure = [](double value_Pa) {
    return quantity::write(quantity::Dimension::pressure, value_Pa, "kPa", 2);
  };
  for (const auto& kind : outside_by_range(c))
    c.add_at_row(
        Id::outside_correlation, note, *kind.run, kind.row,
        fmt::format("{} worked out beyond the range of the correlation ({}).",
                    kind.count == 1
                        ? std::string("The loss of this piece was")
                        : fmt::format("The losses of {} pieces, this the first, were", kind.count),
                    kind.range),
        fmt::format("The figure, {}, is an extrapolation; its band is wider for it and goes from {} to {}.",
                    pressure(kind.drop_Pa), pressure(kind.low_Pa), pressure(kind.high_Pa)));
}

/// What a list of points spans in one of its fields, "0.05 to 0.12".
template <class Point>
std::string span(const std::vector<Point>& points, double Point::*field, const auto& write) {
  const auto [least, most] = std::ranges::minmax(points, {}, field);
  return fmt::format("{} to {}", write(least.*field), write(most.*field));
}

void check_tables(Context& c) {
  const auto ratio = [](double value) { return fmt::format("{:.2f}", value); };
  const auto mass_flow = [](double value_kg_s) {
    return quantity::write(quantity::Dimension::mass_flow, value_kg_s, "kg/s", 3);
  };
  for (const auto& view : c.machines) {
    if (!view.flow->outside_map)
      continue;
    const char* const held = "The figure at its edge is held there, with a wider band. Add points that "
                             "reach further.";
    if (const auto* blower = std::get_if<machine::DisplacementBlower>(&view.machine->kind))
      c.add_at_machine(Id::outside_table, note, view,
                       fmt::format("{} and a ratio of {} lie outside the blower's map of {} and {}.",
                                   per_minute(view.flow->speed_rev_s), ratio(view.flow->pressure_ratio),
                                   span(blower->map, &machine::BlowerMapPoint::speed_rev_s, per_minute),
                                   span(blower->map, &machine::BlowerMapPoint::pressure_ratio, ratio)),
                       held);
    else if (const auto* cooler = std::get_if<machine::ChargeCooler>(&view.machine->kind))
      c.add_at_machine(Id::outside_table, note, view,
                       fmt::format("{} lie outside the cooler's table of {}.",
                                   mass_flow(view.flow->inlet.mass_flow_kg_s),
                                   span(cooler->effectiveness_table,
                                        &machine::EffectivenessPoint::charge_flow_kg_s, mass_flow)),
                       held);
  }
}

void check_leakage(Context& c) {
  for (const auto& view : c.machines) {
    const auto* blower = std::get_if<machine::DisplacementBlower>(&view.machine->kind);
    if (blower == nullptr || blower->leak || !blower->map.empty() ||
        view.flow->speed_rev_s >= c.limits.tight_speed_share * blower->max_speed_rev_s ||
        !above(view.flow->pressure_ratio, c.limits.tight_ratio))
      continue;
    c.add_at_machine(
        Id::tight_blower, note, view,
        fmt::format("It counts as tight: at {} it would hold less than the ratio of {:.2f} shown.",
                    per_minute(view.flow->speed_rev_s), view.flow->pressure_ratio),
        "What leaks back is the same at any speed and takes a larger share of the air the slower "
        "a blower turns. State what it delivers at a rated speed and ratio, or give it a map.");
  }
}

void check_engine(Context& c, const machine::Engine& engine) {
  if (engine.strokes == 2 && engine.lost_in_scavenging <= 0)
    c.add_at_whole(Id::scavenging_left_out, note, "engine", "This two-stroke loses no air to its exhaust.",
                   "Some always goes straight through while both ports are open; power and fuel shown count "
                   "it as burnt. State the share that is lost.");
  const auto* filter = c.first<machine::Filter>();
  if (filter == nullptr || c.blower() != nullptr || engine.pulsation_factor > 1)
    return;
  const double factor = machine::pulsation_factor_undamped(engine.cylinders, engine.strokes);
  if (!above(factor, c.limits.pulsation_factor))
    return;
  const auto& law = std::get<machine::Filter>(filter->machine->kind);
  const auto& inlet = filter->flow->inlet;
  const auto drop_Pa = [&](double pulsation) {
    return law.drop(pulsation).drop_Pa(inlet.mass_flow_kg_s / inlet.density_kg_m3, inlet.density_kg_m3,
                                       c.ambient.air.viscosity_Pa_s(inlet.static_temperature_K));
  };
  c.add_at_machine(Id::pulsation_left_out, note, *filter,
                   fmt::format("A steady flow is counted, with {} on the filter; in the pulses of {} it "
                               "would drop up to {}.",
                               kilopascals(drop_Pa(1)),
                               engine.cylinders == 1 ? std::string("one cylinder")
                                                     : fmt::format("{} cylinders", engine.cylinders),
                               kilopascals(drop_Pa(factor))),
                   fmt::format("That bound holds with nothing between filter and cylinders that evens the "
                               "flow out; a box of air between them lowers it. State a pulsation factor "
                               "between 1 and {:.2f}.",
                               factor));
}

void check_branches(Context& c) {
  const auto& path = c.facts.build.path;
  std::string names;
  int count = 0;
  for (const auto& branch : c.facts.build.branches) {
    if (branch.split_loss > 0 || branch.join_loss > 0)
      continue;
    names += (names.empty() ? "" : ", ") + words(branch.id.text);
    ++count;
  }
  // Branches all the way from the open to the manifold neither part nor join in a duct.
  const bool all_apart =
      std::ranges::none_of(path, [](const build::PathStep& step) { return step.branch.text.empty(); });
  if (count == 0 || all_apart)
    return;
  c.add_at_whole(
      Id::branch_without_loss, note, count == 1 ? "branch " + names : "branches " + names,
      "Nothing is stated for what the air loses where it parts and joins.",
      "A tee or wye costs a good share of the dynamic pressure, so the pressure and flow shown are too "
      "favourable. The sums for tees give the coefficients.");
}

std::string_view name_of(build::Coefficient coefficient) {
  static constexpr std::array<std::string_view, 7> names{"the engine's volumetric efficiency",
                                                         "the blower's volumetric efficiency",
                                                         "the blower's adiabatic efficiency",
                                                         "the filter's drop",
                                                         "the cooler's drop",
                                                         "the cooler's effectiveness",
                                                         "the losses of the ducting"};
  return names.at(static_cast<std::size_t>(coefficient));
}

void check_measured(Context& c) {
  for (const auto& measured : c.facts.build.measured) {
    if (!above(std::abs(measured.factor - 1), c.limits.measured_note_share))
      continue;
    const bool far =
        below(measured.factor, c.limits.measured_low) || above(measured.factor, c.limits.measured_high);
    c.add_at_whole(
        Id::measured_far_off, far ? caution : note, "measurement",
        fmt::format("By measurement, {} {} {:.2f} times what the build states.",
                    name_of(measured.coefficient),
                    measured.coefficient == build::Coefficient::duct_losses ? "are" : "is", measured.factor),
        far ? "Data sheets are seldom so far off. Look first for a leak, a slipping belt, a sensor that "
              "reads wrong or a size typed wrong: the factor hides it, and will not hold elsewhere."
            : "All figures shown are corrected by it. It holds where it was measured; further off it is a "
              "guess.");
  }
}

} // namespace

void check_trust(Context& c) {
  if (!c.facts.flow.point.usable())
    return;
  check_correlations(c);
  check_tables(c);
  check_leakage(c);
  if (const auto* engine = c.engine())
    check_engine(c, *engine);
  check_branches(c);
  check_measured(c);
}

} // namespace bellmouth::check
