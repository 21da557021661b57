// SPDX-License-Identifier: GPL-3.0-or-later
#include "new_build.hpp"

#include "build_fields.hpp"
#include "new_piece.hpp"
#include "part_edits.hpp"

#include <bellmouth/stock.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>

namespace bellmouth::ui {

namespace {

using namespace build;

// A size that suits two litres with a little boost; the user gives each run its own.
constexpr double spigot_m = 63.5e-3;
constexpr double wall_m = 1.6e-3;
constexpr double bore_m = spigot_m - 2 * wall_m;
constexpr double land_m = 45e-3;
constexpr double engagement_m = 40e-3;
constexpr double gap_in_hose_m = 8e-3;
constexpr double tube_length_m = 0.400;

/// An invented map of a compressor geared to two litres: lines whose flow goes with the speed and whose head
/// with its square, falling from surge to choke, with the efficiency highest between.
machine::CompressorMap invented_map() {
  constexpr double fastest_rpm = 100e3, fastest_surge_kg_s = 0.080, fastest_choke_kg_s = 0.200,
                   highest_ratio = 1.75;
  struct OnLine {
    double place, head, efficiency; ///< from surge 0 to choke 1; over that at surge
  };
  constexpr std::array<OnLine, 6> line{{{0.0, 1.00, 0.66},
                                        {0.2, 0.99, 0.71},
                                        {0.4, 0.96, 0.74},
                                        {0.6, 0.90, 0.73},
                                        {0.8, 0.79, 0.68},
                                        {1.0, 0.60, 0.58}}};
  machine::CompressorMap map{machine::rating_temperature_K, machine::rating_pressure_Pa, {}};
  for (const double rpm : {30e3, 50e3, 70e3, 85e3, 100e3}) {
    const double share = rpm / fastest_rpm;
    for (const OnLine& at : line) {
      const double flow_kg_s =
          share * (fastest_surge_kg_s + at.place * (fastest_choke_kg_s - fastest_surge_kg_s));
      const double head = at.head * share * share * (std::pow(highest_ratio, 2.0 / 7) - 1);
      // As a data sheet would print it.
      map.points.push_back({rpm / 60, std::round(flow_kg_s * 1e4) / 1e4,
                            std::round(std::pow(1 + head, 3.5) * 1e3) / 1e3, at.efficiency});
    }
  }
  return map;
}

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
                                                 .drive_ratio = 1.3,
                                                 .volumetric_efficiency = 0.85,
                                                 .adiabatic_efficiency = 0.60,
                                                 .mechanical_efficiency = 0.93,
                                                 .max_speed_rev_s = 14000 * rpm,
                                                 .max_outlet_temperature_K = zero_celsius_K + 150}});
  if (recipe.blower == Recipe::Blower::compressor)
    parts.push_back({"blower", "Blower", Mounting::engine,
                     machine::TargetCompressor{.target_pressure_Pa = 140e3,
                                               .target_at = machine::TargetAt::manifold,
                                               .adiabatic_efficiency = 0.70,
                                               .mechanical_efficiency = 0.95,
                                               .driven_by_exhaust = true,
                                               .max_pressure_ratio = 2.5,
                                               .max_outlet_temperature_K = zero_celsius_K + 180}});
  if (recipe.blower == Recipe::Blower::geared)
    parts.push_back({"blower", "Blower", Mounting::engine,
                     machine::GearedCompressor{.drive_ratio = 14.0,
                                               .mechanical_efficiency = 0.94,
                                               .max_speed_rev_s = 105e3 * rpm,
                                               .max_outlet_temperature_K = zero_celsius_K + 160,
                                               .map = invented_map()}});
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

/// Which fittings the tube of a run carries.
struct Fittings {
  bool relief_valve = false, sensor = false;
};

/// A short straight hose that covers 40 mm of each end and leaves 8 mm between them (common practice, no
/// source found), cut from the cheapest piece of hose in stock that is long enough.
Piece cut_to_join(const Build& build, const Piece& as_bought) {
  Piece piece = as_bought;
  std::get<Hose>(piece.shape).engagement = {engagement_m, engagement_m};
  std::get<Hose>(piece.shape).length_m = 2 * engagement_m + gap_in_hose_m;
  const auto choices = stock::choices(build, piece);
  // Hose by the metre is for long pieces.
  const auto found = std::ranges::find(choices, Per::each, &StockItem::per);
  return found == choices.end() ? piece : bought_as(piece, **found);
}

/// Makes one of the fittings of a tube sit at a share of its length.
Piece seated(Piece fitting, const Piece& tube, double share) {
  std::visit(
      [&]<class S>(S& shape) {
        if constexpr (requires { shape.position_m; })
          shape.position_m = share * full_length_m(tube.shape);
      },
      fitting.shape);
  return fitting;
}

/// Fills an empty run with a hose, a tube and a hose; one of the hoses has a hump where the run leads from
/// the body to the engine or back.
Build with_plain_run(const Build& build, const RunId& id, const Fittings& fittings) {
  const OptionId option = build.options.front().id;
  const Run& run = *build.options.front().find(id);
  const Mounting from = build.find(run.from)->mounting, to = build.find(run.to)->mounting;
  Build next = build;
  const auto piece_at = [&](const Shape& kind, std::size_t row) {
    return new_piece(kind.index(), next, {option, id, row});
  };
  const auto add = [&](Piece piece, std::size_t row) {
    next = with_piece_inserted(next, {option, id, row}, std::move(piece));
  };
  const auto add_hose = [&](bool hump, std::size_t row) {
    add(hump ? piece_at(HumpHose{}, row) : cut_to_join(next, piece_at(Hose{}, row)), row);
  };
  // The hump goes next to what moves.
  add_hose(from != to && from == Mounting::engine, 0);
  Piece tube = piece_at(Tube{}, 1);
  std::get<Tube>(tube.shape).length_m = tube_length_m;
  add(tube, 1);
  add_hose(from != to && to == Mounting::engine, 2);
  if (fittings.sensor)
    add(seated(piece_at(SensorBoss{}, 2), tube, 2.0 / 3.0), 2);
  if (fittings.relief_valve)
    add(seated(piece_at(ValveFlange{}, 2), tube, 1.0 / 3.0), 2);
  return next;
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
      std::string words = from;
      words += " to ";
      words += to;
      const RunId id{std::move(words)};
      build.path.emplace_back(id);
      option.runs.emplace_back(Run{id, {from + "_out"}, {to + "_in"}, {}});
    }
    if (i + 1 < parts.size())
      build.ports.push_back(port(std::string(part.id) + "_out", part));
    build.path.emplace_back(MachineId{part.id});
  }
  build.options.push_back(std::move(option));
  bool behind_blower = false;
  for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
    const bool from_blower = parts[i].id == std::string_view("blower");
    behind_blower = behind_blower || from_blower;
    const bool last = i + 2 == parts.size();
    build = with_plain_run(build, std::get<RunId>(build.path[2 * i + 1]),
                           {.relief_valve = from_blower, .sensor = behind_blower && last});
  }
  // As its file holds it: lengths are whole there to the last digit.
  auto as_saved = read_build(write_build(build));
  return as_saved ? *std::move(as_saved) : build;
}

} // namespace bellmouth::ui
