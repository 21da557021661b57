// SPDX-License-Identifier: GPL-3.0-or-later
#include "columns.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <utility>

namespace bellmouth::fit {
namespace {

using quantity::Dimension;

constexpr std::string_view known_columns =
    "engine_speed_rpm; ambient_pressure_, ambient_temperature_, manifold_pressure_, manifold_temperature_, "
    "blower_inlet_pressure_, blower_outlet_temperature_, cooler_outlet_pressure_ and the like, or "
    "mass_flow_, with "
    "a unit (kPa, C, kg_s); pressure_kPa, temperature_C or mass_flow_kg_s with \"at\" and the label of a "
    "sensor "
    "boss, or \"before\" or \"behind\" and the name of a machine; ambient_relative_humidity; \"ignore\" "
    "before "
    "the name of a column that is not to be read";

struct Word {
  std::string_view text;
  Dimension dimension;
};
constexpr std::array<Word, 3> quantities{{{"pressure", Dimension::pressure},
                                          {"temperature", Dimension::temperature},
                                          {"mass_flow", Dimension::mass_flow}}};

tl::unexpected<Misread> misread(std::string found, std::string accepted) {
  return tl::unexpected(Misread{std::move(found), std::move(accepted)});
}

std::string listed(const std::vector<std::string>& names) {
  return names.empty() ? std::string("none is there") : fmt::format("{}", fmt::join(names, ", "));
}

/// What is measured and in which unit: "pressure_kPa_gauge".
struct Measure {
  Dimension dimension;
  std::string unit;
  bool gauge;
};

/// Nothing when it does not begin with a quantity and an underscore.
std::optional<tl::expected<Measure, Misread>> read_measure(std::string_view text, const std::string& column) {
  for (const auto& [word, dimension] : quantities) {
    if (!text.starts_with(word) || text.size() <= word.size() || text[word.size()] != '_')
      continue;
    text.remove_prefix(word.size() + 1);
    constexpr std::string_view gauge = "_gauge";
    const bool is_gauge = dimension == Dimension::pressure && text.ends_with(gauge);
    if (is_gauge)
      text.remove_suffix(gauge.size());
    std::string symbol(text);
    std::ranges::replace(symbol, '_', '/');
    if (const auto unit = quantity::find_unit(dimension, symbol))
      return Measure{dimension, std::string(unit->symbol), is_gauge};
    std::vector<std::string> units;
    for (const auto& unit : quantity::units(dimension)) {
      units.emplace_back(unit.symbol);
      std::ranges::replace(units.back(), '/', '_');
    }
    return misread(fmt::format("\"{}\" in column \"{}\"", text, column),
                   fmt::format("a unit of {}: {}", word == "mass_flow" ? "mass flow" : word, listed(units)));
  }
  return std::nullopt;
}

Channel channel_of(const std::string& column, const Measure& measure, const Place& place) {
  return {column, measure.dimension, measure.unit, measure.gauge, place, usual_sigma(measure.dimension)};
}

/// The one step of the path whose machine `fits`.
tl::expected<std::size_t, Misread> only_machine(const build::Build& build, const std::string& what,
                                                const auto& fits, std::string_view advice) {
  std::vector<std::size_t> steps;
  std::vector<std::string> titles;
  for (std::size_t step = 0; step < build.path.size(); ++step) {
    const auto* id = std::get_if<build::MachineId>(&build.path[step]);
    if (id == nullptr)
      continue;
    const build::Machine& machine = *build.find(*id);
    titles.push_back(build::title(machine));
    if (fits(machine))
      steps.push_back(step);
  }
  if (steps.size() == 1)
    return steps.front();
  return misread(fmt::format("{}, of which the path has {}", what, steps.empty() ? "none" : "several"),
                 fmt::format("{}: {}", advice, listed(titles)));
}

/// "blower_inlet_pressure_kPa": the places that need no name, and what stands behind them.
struct Shorthand {
  std::string_view prefix;
  Place::Kind kind;
  bool blower; ///< else a cooler
};
constexpr std::array<Shorthand, 4> shorthands{{{"blower_inlet_", Place::Kind::before_machine, true},
                                               {"blower_outlet_", Place::Kind::behind_machine, true},
                                               {"cooler_inlet_", Place::Kind::before_machine, false},
                                               {"cooler_outlet_", Place::Kind::behind_machine, false}}};

tl::expected<Column, Misread> unknown_column(const std::string& name) {
  return misread(fmt::format("column \"{}\"", name), std::string(known_columns));
}

tl::expected<Column, Misread> read_plain(const std::string& name, const build::Build& build) {
  const std::string_view text = name;
  constexpr std::string_view ambient = "ambient_", manifold = "manifold_";
  if (text.starts_with(ambient)) {
    const auto measure = read_measure(text.substr(ambient.size()), name);
    if (!measure)
      return unknown_column(name);
    if (!*measure)
      return tl::unexpected(measure->error());
    if ((*measure)->gauge || (*measure)->dimension == Dimension::mass_flow)
      return unknown_column(name);
    return AmbientColumn{(*measure)->dimension == Dimension::pressure ? AmbientColumn::What::pressure
                                                                      : AmbientColumn::What::temperature,
                         (*measure)->unit};
  }
  const bool in_manifold = text.starts_with(manifold);
  if (const auto measure = read_measure(in_manifold ? text.substr(manifold.size()) : text, name)) {
    if (!*measure)
      return tl::unexpected(measure->error());
    const bool is_flow = (*measure)->dimension == Dimension::mass_flow;
    if (in_manifold == is_flow) // a flow without a place is the engine's; the rest needs one
      return unknown_column(name);
    return channel_of(name, **measure, {Place::Kind::manifold, 0, 0});
  }
  for (const auto& [prefix, kind, blower] : shorthands) {
    if (!text.starts_with(prefix))
      continue;
    const auto measure = read_measure(text.substr(prefix.size()), name);
    if (!measure)
      break;
    if (!*measure)
      return tl::unexpected(measure->error());
    const auto step = only_machine(
        build, fmt::format("a {} in column \"{}\"", blower ? "blower" : "cooler", name),
        [is_blower = blower](const build::Machine& machine) {
          return is_blower ? build::is_blower(machine.kind)
                           : std::holds_alternative<machine::ChargeCooler>(machine.kind);
        },
        "\"before\" or \"behind\" and the name of a machine of the path");
    if (!step)
      return tl::unexpected(step.error());
    return channel_of(name, **measure, {kind, *step, 0});
  }
  return unknown_column(name);
}

tl::expected<Place, Misread> find_boss(std::string_view label, const std::string& column,
                                       const build::Build& build, const build::Option& option) {
  std::vector<Place> places;
  std::vector<std::string> labels;
  for (std::size_t step = 0; step < build.path.size(); ++step) {
    const auto* id = std::get_if<build::RunId>(&build.path[step]);
    if (id == nullptr)
      continue;
    const build::Run& run = *option.find(*id);
    for (std::size_t row = 0; row < run.pieces.size(); ++row) {
      if (!std::holds_alternative<build::SensorBoss>(run.pieces[row].shape) || run.pieces[row].label.empty())
        continue;
      labels.push_back(run.pieces[row].label);
      if (run.pieces[row].label == label)
        places.push_back({Place::Kind::boss, step, row});
    }
  }
  if (places.size() == 1)
    return places.front();
  return misread(
      fmt::format("\"{}\" in column \"{}\", a label of {}", label, column,
                  places.empty() ? "no boss" : "several"),
      fmt::format("the label of one sensor boss of option {}: {}", option.id.text, listed(labels)));
}

tl::expected<Place, Misread> find_machine(std::string_view name, Place::Kind kind, const std::string& column,
                                          const build::Build& build) {
  return only_machine(
             build, fmt::format("\"{}\" in column \"{}\"", name, column),
             [&](const build::Machine& machine) {
               return build::title(machine) == name || machine.id.text == name;
             },
             "the name of one machine of the path")
      .map([&](std::size_t step) {
        return Place{kind, step, 0};
      });
}

} // namespace

Sigma usual_sigma(Dimension dimension) {
  switch (dimension) {
  case Dimension::pressure:
    return {500, 0};
  case Dimension::temperature:
    return {2, 0};
  default:
    return {0, 0.02};
  }
}

tl::expected<Column, Misread> read_column(const std::string& name, const build::Build& build,
                                          const build::Option& option) {
  if (name == "engine_speed_rpm")
    return SpeedColumn{};
  if (name == "ambient_relative_humidity")
    return AmbientColumn{AmbientColumn::What::relative_humidity, {}};
  if (name.starts_with("ignore "))
    return IgnoredColumn{};
  struct Preposition {
    std::string_view text;
    Place::Kind kind;
  };
  constexpr std::array<Preposition, 3> prepositions{{{" at ", Place::Kind::boss},
                                                     {" before ", Place::Kind::before_machine},
                                                     {" behind ", Place::Kind::behind_machine}}};
  const std::string_view text = name;
  const std::size_t space = text.find(' ');
  if (space == std::string_view::npos)
    return read_plain(name, build);
  for (const auto& [preposition, kind] : prepositions) {
    if (!text.substr(space).starts_with(preposition))
      continue;
    const auto measure = read_measure(text.substr(0, space), name);
    if (!measure)
      break;
    if (!*measure)
      return tl::unexpected(measure->error());
    const auto where = text.substr(space + preposition.size());
    const auto place = kind == Place::Kind::boss ? find_boss(where, name, build, option)
                                                 : find_machine(where, kind, name, build);
    if (!place)
      return tl::unexpected(place.error());
    return channel_of(name, **measure, *place);
  }
  return unknown_column(name);
}

} // namespace bellmouth::fit
