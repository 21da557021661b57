// SPDX-License-Identifier: GPL-3.0-or-later
#include "new_build.hpp"

#include "build_fields.hpp"
#include "new_piece.hpp"

#include <string>
#include <utility>

namespace bellmouth::ui {

namespace {

using namespace build;

// A size that suits two litres with a little boost; the user gives each run its own.
constexpr double spigot_m = 63.5e-3;
constexpr double wall_m = 1.6e-3;
constexpr double bore_m = spigot_m - 2 * wall_m;
constexpr double land_m = 45e-3;

/// A machine with the words for its id.
struct Part {
  const char* id;
  const char* name;
  Mounting mounting;
  MachineKind kind;
};

std::vector<Part> parts_of(const Recipe& recipe) {
  constexpr double rpm = 1.0 / 60.0;
  constexpr double zero_celsius_K = 273.15;
  std::vector<Part> parts{
      {"filter", "Filter", Mounting::body,
       machine::Filter{.rated = {{0.10, 500.0}}, .dirty_factor = 1.5, .cold_feed = true, .oiled = false}}};
  if (recipe.meter_body)
    parts.push_back({"meter", "Meter body", Mounting::body, machine::MeterBody{bore_m, 0.100, 0.3}});
  if (recipe.blower == Recipe::Blower::displacement)
    parts.push_back({"blower", "Blower", Mounting::engine,
                     machine::DisplacementBlower{.swept_volume_m3_rev = 1.0e-3,
                                                 .drive_ratio = 2.0,
                                                 .volumetric_efficiency = 0.85,
                                                 .adiabatic_efficiency = 0.60,
                                                 .mechanical_efficiency = 0.93,
                                                 .max_speed_rev_s = 14000 * rpm,
                                                 .max_outlet_temperature_K = zero_celsius_K + 150}});
  if (recipe.blower == Recipe::Blower::compressor)
    parts.push_back({"blower", "Blower", Mounting::engine,
                     machine::TargetCompressor{.target_pressure_Pa = 150e3,
                                               .target_at = machine::TargetAt::manifold,
                                               .adiabatic_efficiency = 0.70,
                                               .mechanical_efficiency = 0.95,
                                               .driven_by_exhaust = true,
                                               .max_pressure_ratio = 2.5,
                                               .max_outlet_temperature_K = zero_celsius_K + 180}});
  if (recipe.charge_cooler)
    parts.push_back(
        {"cooler", "Charge cooler", Mounting::body,
         machine::ChargeCooler{
             .rated = {{0.10, 2000.0}}, .effectiveness = 0.70, .coolant_rise_K = 10, .air_to_water = false}});
  parts.push_back({"throttle", "Throttle", Mounting::engine, machine::Throttle{bore_m, 0.2}});
  return parts;
}

Port port(const std::string& id, const Part& part) {
  return {.id = {id},
          .machine = MachineId{part.id},
          .mounting = part.mounting,
          .bore_m = bore_m,
          .outer_diameter_m = spigot_m,
          .land_m = land_m,
          .beaded = true,
          .pose = std::nullopt};
}

/// Fills an empty run with a hose, a tube and a hose.
Build with_plain_run(const Build& build, const RunId& id) {
  Build next = build;
  const auto add = [&](const Shape& kind, std::size_t row) {
    const PieceRef before{next.options.front().id, id, row};
    next = with_piece_inserted(next, before, new_piece(kind.index(), next, before));
  };
  add(Hose{}, 0);
  add(Tube{}, 1);
  add(Hose{}, 2);
  const PieceRef at{next.options.front().id, id, 1};
  Piece tube = *find(next, at);
  std::get<Tube>(tube.shape).length_m = 0.400;
  return with_piece_replaced(next, at, tube);
}

} // namespace

build::Build new_build(const Recipe& recipe, std::vector<build::StockItem> stock) {
  const std::vector<Part> parts = parts_of(recipe);
  Build build;
  build.title = "New build";
  build.demand = ordinary_engine();
  build.budget.currency = stock.empty() ? quantity::Currency{{'E', 'U', 'R'}} : stock.front().price.currency;
  build.stock = std::move(stock);
  Option option{{"first"}, {}, {}};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Part& part = parts[i];
    build.machines.push_back({{part.id}, part.name, part.mounting, part.kind});
    if (i > 0) {
      build.ports.push_back(port(std::string(part.id) + "_in", part));
      const std::string from = parts[i - 1].id, to = part.id;
      const RunId id{from + "_to_" + to};
      build.path.emplace_back(id);
      option.runs.emplace_back(Run{id, {from + "_out"}, {to + "_in"}, {}});
    }
    if (i + 1 < parts.size())
      build.ports.push_back(port(std::string(part.id) + "_out", part));
    build.path.emplace_back(MachineId{part.id});
  }
  build.options.push_back(std::move(option));
  for (const PathStep& step : std::vector(build.path))
    if (const auto* run = std::get_if<RunId>(&step))
      build = with_plain_run(build, *run);
  return build;
}

} // namespace bellmouth::ui
