// SPDX-License-Identifier: GPL-3.0-or-later
#include "machine_rows.hpp"
#include "map_panel.hpp"

#include <utility>

namespace bellmouth::ui {

namespace {

using build::Machine;
using quantity::Dimension;

QString tr(const char* text) {
  return machine_text(text);
}

/// How a panel gets at the map of a machine.
struct MapAccess {
  std::function<std::optional<Error>(Machine&, const std::string& text, const std::string& file)> read;
  std::function<std::string(const Machine&)> write;
  /// Nothing while there is no map.
  std::function<std::optional<MapPicture>(const Machine&, const flow::MachineFlow*)> picture;
};

/// `without`: what is said while there is no map.
MachineRow map_row(const MachineContext& context, const char* without, MapAccess access) {
  MachineRow row{
      "map", tr("Map"), tr("What was measured of the machine, out of a CSV file"),
      [context, words = tr(without), access = std::move(access)](const QString& name, const QString& label,
                                                                 const MachineRow::Give& give) {
        auto shown = std::make_shared<std::optional<Machine>>();
        auto* panel = new MapPanel(
            context.files, words,
            [give, access](const std::string& text, const std::string& file) {
              std::optional<Error> error;
              give([&](Machine& machine) { error = access.read(machine, text, file); });
              return error;
            },
            [shown, access] { return *shown ? access.write(**shown) : std::string(); });
        panel->set_names(name, label);
        return MachineRow::Control{panel,
                                   [panel, shown, access, flow = context.flow](const Machine& machine) {
                                     *shown = machine;
                                     panel->show_picture(access.picture(machine, flow ? flow() : nullptr));
                                   },
                                   [panel](const QString& why) { panel->complain(why); }};
      }};
  row.wide = true;
  row.own_step = true;
  return row;
}

template <class K> MachineRow outlet_limit() {
  return number<K>("max_outlet_temperature", "Greatest outlet temperature", "What the machine stands",
                   &K::max_outlet_temperature_K, Dimension::temperature);
}
template <class K> MachineRow mechanical_efficiency() {
  return number<K>("mechanical_efficiency", "Mechanical efficiency", "Shaft, gears and belt",
                   &K::mechanical_efficiency, Dimension::ratio);
}

template <class K> MachineRows bypass_rows() {
  using P = machine::BypassValve;
  const auto there = [](const Machine& machine) { return kind_of<K>(machine).bypass.has_value(); };
  // Shut and tight: nothing changes until something is typed.
  return {
      part_check<K, P>("bypass", "Bypass valve",
                       "Lets air past the blower, from its outlet back to its inlet or into the open",
                       &K::bypass,
                       [](const K&) {
                         return P{25e-3, 0.0, 0.7, 0.0, machine::BypassTo::inlet};
                       }),
      part_number("bypass_bore", "Valve bore", "Inside diameter of the valve", &K::bypass, &P::bore_m,
                  quantity_of(Dimension::length)),
      part_number("bypass_opening", "Valve opening", "Share of its area that stands open, 0 % shut to 100 %",
                  &K::bypass, &P::opening, percentage()),
      part_number("bypass_discharge", "Discharge coefficient",
                  "Flow through the open area over that of an ideal nozzle; 0.6 to 0.9 is usual", &K::bypass,
                  &P::discharge_coefficient, quantity_of(Dimension::ratio)),
      part_number("bypass_leak", "Valve leak area",
                  "Area of an ideal nozzle that leaks as much as the valve does when shut", &K::bypass,
                  &P::leak_area_m2, QuantityKind{.dimension = Dimension::area, .unit = "mm2"}),
      only_if<Machine>(
          there, choice_row<Machine>(
                     "bypass_to", tr("Valve outlet"), tr("Where the valve lets the air"),
                     {tr("back to the inlet"), tr("open air")},
                     [](const Machine& machine) { return static_cast<int>(kind_of<K>(machine).bypass->to); },
                     [](Machine& machine, int index) {
                       kind_of<K>(machine).bypass->to = static_cast<machine::BypassTo>(index);
                     }))};
}

/// \name Displacement blower
///@{
/// How its efficiency is known; in the order of the choice.
enum class KnownBy { internal_compression, statement, map };

/// What the choice between them has put aside, and whether a map is wanted where none was read yet.
struct EfficiencyChoice {
  double efficiency = 0.6; ///< ordinary for a blower without internal compression, to start from
  std::vector<machine::BlowerMapPoint> map;
  bool map_wanted = false;

  [[nodiscard]] KnownBy shown(const machine::DisplacementBlower& blower) const {
    return map_wanted || !blower.map.empty() ? KnownBy::map
           : blower.adiabatic_efficiency     ? KnownBy::statement
                                             : KnownBy::internal_compression;
  }
  void choose(machine::DisplacementBlower& blower, KnownBy by) {
    map_wanted = by == KnownBy::map && blower.map.empty() && map.empty();
    if (by == KnownBy::map) {
      if (blower.map.empty())
        blower.map = map;
      return;
    }
    if (!blower.map.empty())
      map = std::exchange(blower.map, {});
    if (by == KnownBy::internal_compression && blower.adiabatic_efficiency)
      efficiency = *std::exchange(blower.adiabatic_efficiency, std::nullopt);
    if (by == KnownBy::statement && !blower.adiabatic_efficiency)
      blower.adiabatic_efficiency = efficiency;
  }
};

MachineRows efficiency_rows(const MachineContext& context) {
  using K = machine::DisplacementBlower;
  const auto choice = std::make_shared<EfficiencyChoice>();
  const auto known = [choice](KnownBy by) {
    return [choice, by](const Machine& machine) { return choice->shown(kind_of<K>(machine)) == by; };
  };
  return {
      choice_row<Machine>(
          "known_by", tr("Efficiency"),
          tr("How it is known: by the law of its internal compression, as one figure, or by a map over speed "
             "and pressure ratio"),
          {tr("by internal compression"), tr("as stated"), tr("by a map")},
          [choice](const Machine& machine) { return static_cast<int>(choice->shown(kind_of<K>(machine))); },
          [choice](Machine& machine, int index) {
            choice->choose(kind_of<K>(machine), static_cast<KnownBy>(index));
          }),
      only_if<Machine>(
          known(KnownBy::internal_compression),
          number<K>("internal_volume_ratio", "Internal volume ratio",
                    "Trapped volume over the volume at which the outlet opens. 1: no internal compression, "
                    "all work is done against the full discharge pressure",
                    &K::internal_volume_ratio, Dimension::ratio)),
      only_if<Machine>(known(KnownBy::statement),
                       quantity_row<Machine>(
                           "adiabatic_efficiency", tr("Adiabatic efficiency"),
                           tr("Total to total; empty: by the law of its internal compression"),
                           QuantityKind{.dimension = Dimension::ratio, .optional = true},
                           [](const Machine& machine) { return kind_of<K>(machine).adiabatic_efficiency; },
                           [](Machine& machine, std::optional<double> value) {
                             kind_of<K>(machine).adiabatic_efficiency = value;
                           })),
      only_if<Machine>(
          known(KnownBy::map),
          map_row(context,
                  "No map yet: the figures stay as they were. It is read from a CSV file with the columns "
                  "speed_rpm (of "
                  "the blower), pressure_ratio, volumetric_efficiency and adiabatic_efficiency.",
                  {[](Machine& machine, const std::string& text,
                      const std::string& file) -> std::optional<Error> {
                     auto points = machine::read_blower_map_csv(text, file);
                     if (!points)
                       return points.error();
                     kind_of<K>(machine).map = *std::move(points);
                     return std::nullopt;
                   },
                   [](const Machine& machine) { return machine::write_csv(kind_of<K>(machine).map); },
                   [](const Machine& machine, const flow::MachineFlow* flow) -> std::optional<MapPicture> {
                     const auto& map = kind_of<K>(machine).map;
                     return map.empty() ? std::nullopt : std::optional(picture_of(map, flow));
                   }}))};
}

MachineRows leak_rows() {
  using K = machine::DisplacementBlower;
  using P = machine::RatedLeak;
  return {part_check<K, P>(
              "leak", "Known leakage",
              "From what the blower was found to deliver at one speed and pressure ratio follows how much "
              "leaks at others; else the volumetric efficiency holds everywhere",
              &K::leak,
              // Next to tight: little changes until something is typed.
              [](const K& blower) {
                constexpr double little = 0.001;
                return P{blower.max_speed_rev_s / 2, 1.5, blower.volumetric_efficiency - little};
              }),
          part_number("leak_speed", "Measured speed",
                      "Of the blower's own shaft, at which it was found what is delivered", &K::leak,
                      &P::speed_rev_s, quantity_of(Dimension::rotational_speed)),
          part_number("leak_ratio", "Measured ratio",
                      "Pressure ratio then, total, outlet over inlet; above 1", &K::leak, &P::pressure_ratio,
                      quantity_of(Dimension::ratio)),
          part_number("leak_efficiency", "Measured efficiency",
                      "Volumetric efficiency then, below that without a pressure rise", &K::leak,
                      &P::volumetric_efficiency, quantity_of(Dimension::ratio))};
}
///@}

/// \name Maps of dynamic compressors
///@{
constexpr const char* no_compressor_map = "No map yet. It is read from a CSV file with the columns "
                                          "corrected_speed_rpm, corrected_flow_kg_s, pressure_ratio "
                                          "and adiabatic_efficiency. Its reference air starts as 20 °C and "
                                          "101.325 kPa; set it to what the data sheet says.";

/// A map out of a file with the reference air of the one before, or rating air.
std::optional<Error> read_map(std::optional<machine::CompressorMap>& map, const std::string& text,
                              const std::string& file) {
  auto points = machine::read_compressor_map_csv(text, file);
  if (!points)
    return points.error();
  if (!map)
    map = machine::CompressorMap{machine::rating_temperature_K, machine::rating_pressure_Pa, {}};
  map->points = *std::move(points);
  return std::nullopt;
}

/// The reference air of a map; `map_of` gives it, const or not, where `there` is one.
template <class MapOf> MachineRows reference_rows(MachineRow::Applies there, MapOf map_of) {
  const auto row = [&](const char* key, const char* label, const char* tip,
                       double machine::CompressorMap::*member, QuantityKind what) {
    return only_if<Machine>(there, quantity_row<Machine>(
                                       key, tr(label), tr(tip), std::move(what),
                                       [map_of, member](const Machine& machine) {
                                         return std::optional(map_of(machine).*member);
                                       },
                                       [map_of, member](Machine& machine, std::optional<double> value) {
                                         map_of(machine).*member = *value;
                                       }));
  };
  return {row("map_temperature", "Reference temperature",
              "Inlet temperature to which the map's speeds and flows are corrected, as its data sheet says",
              &machine::CompressorMap::reference_temperature_K, quantity_of(Dimension::temperature)),
          row("map_pressure", "Reference pressure",
              "Inlet pressure to which the map's flows are corrected, as its data sheet says",
              &machine::CompressorMap::reference_pressure_Pa, absolute_pressure())};
}

MachineRows target_map_rows(const MachineContext& context) {
  using K = machine::TargetCompressor;
  struct Switch {
    std::optional<machine::CompressorMap> aside;
    bool wanted = false; ///< where none was read yet
  };
  const auto state = std::make_shared<Switch>();
  const auto there = [](const Machine& machine) { return kind_of<K>(machine).map.has_value(); };
  const auto shown = [state, there](const Machine& machine) { return state->wanted || there(machine); };
  MachineRows rows{
      check_row<Machine>(
          "with_map", tr("Map"),
          tr("Efficiency over flow and speed, with surge and choke, in place of one efficiency"), shown,
          [state](Machine& machine, bool on) {
            auto& map = kind_of<K>(machine).map;
            if (!on && map)
              state->aside = std::exchange(map, std::nullopt);
            else if (on && !map)
              map = state->aside;
            state->wanted = on && !map;
          }),
      only_if<Machine>(
          shown, map_row(context, no_compressor_map,
                         {[](Machine& machine, const std::string& text, const std::string& file) {
                            return read_map(kind_of<K>(machine).map, text, file);
                          },
                          [](const Machine& machine) {
                            const auto& map = kind_of<K>(machine).map;
                            return map ? machine::write_csv(map->points) : std::string();
                          },
                          [](const Machine& machine, const flow::MachineFlow* flow) {
                            const K& compressor = kind_of<K>(machine);
                            return compressor.map
                                       ? std::optional(picture_of(*compressor.map, compressor.bypass, flow))
                                       : std::nullopt;
                          }}))};
  append(rows, reference_rows(
                   there, [](auto& machine) -> auto& { return *kind_of<K>(machine).map; }));
  return rows;
}
///@}

} // namespace

MachineRows rows_of(const machine::DisplacementBlower&, const MachineContext& context) {
  using K = machine::DisplacementBlower;
  const auto unmapped = [](const Machine& machine) { return kind_of<K>(machine).map.empty(); };
  MachineRows rows{number<K>("swept_volume", "Swept volume a turn", "Trapped and delivered in one turn",
                             &K::swept_volume_m3_rev, Dimension::volume),
                   number<K>("drive_ratio", "Drive ratio", "Blower turns for one engine turn",
                             &K::drive_ratio, Dimension::ratio)};
  append(rows, efficiency_rows(context));
  rows.push_back(shown_if<Machine>(
      unmapped, number<K>("volumetric_efficiency", "Volumetric efficiency",
                          "Delivered over swept, on the inlet density; where the leakage is known, "
                          "without a pressure rise",
                          &K::volumetric_efficiency, Dimension::ratio)));
  for (MachineRow& row : leak_rows())
    rows.push_back(shown_if<Machine>(unmapped, std::move(row)));
  append(rows, {mechanical_efficiency<K>(),
                number<K>("max_speed", "Greatest speed", "Of the blower's own shaft", &K::max_speed_rev_s,
                          Dimension::rotational_speed),
                outlet_limit<K>()});
  append(rows, bypass_rows<K>());
  return rows;
}

MachineRows rows_of(const machine::TargetCompressor&, const MachineContext& context) {
  using K = machine::TargetCompressor;
  MachineRows rows{
      number<K>("target_pressure", "Target pressure", "What its control holds; may be typed as gauge",
                &K::target_pressure_Pa,
                QuantityKind{.dimension = Dimension::pressure,
                             .reference = quantity::Reference::absolute,
                             .ambient_Pa = context.ambient_Pa}),
      choice_row<Machine>(
          "target_at", tr("Target held at"), tr("Where the control reads the pressure"),
          {tr("blower outlet"), tr("manifold")},
          [](const Machine& machine) { return static_cast<int>(kind_of<K>(machine).target_at); },
          [](Machine& machine, int index) {
            kind_of<K>(machine).target_at = static_cast<machine::TargetAt>(index);
          }),
      shown_if<Machine>([](const Machine& machine) { return !kind_of<K>(machine).map; },
                        number<K>("adiabatic_efficiency", "Adiabatic efficiency", "Total to total",
                                  &K::adiabatic_efficiency, Dimension::ratio)),
      mechanical_efficiency<K>(),
      check<K>("driven_by_exhaust", "Driven by exhaust", "Takes no crank power", &K::driven_by_exhaust),
      number<K>("max_pressure_ratio", "Greatest pressure ratio", "What it can do at all",
                &K::max_pressure_ratio, Dimension::ratio),
      outlet_limit<K>()};
  append(rows, target_map_rows(context));
  append(rows, bypass_rows<K>());
  return rows;
}

MachineRows rows_of(const machine::GearedCompressor&, const MachineContext& context) {
  using K = machine::GearedCompressor;
  MachineRows rows{
      number<K>("drive_ratio", "Drive ratio", "Impeller turns for one engine turn, step-up gear included",
                &K::drive_ratio, Dimension::ratio),
      mechanical_efficiency<K>(),
      number<K>("max_speed", "Greatest speed", "Of the impeller", &K::max_speed_rev_s,
                Dimension::rotational_speed),
      outlet_limit<K>(),
      map_row(context, no_compressor_map,
              {[](Machine& machine, const std::string& text, const std::string& file) {
                 std::optional<machine::CompressorMap> map = kind_of<K>(machine).map;
                 auto error = read_map(map, text, file);
                 kind_of<K>(machine).map = *std::move(map);
                 return error;
               },
               [](const Machine& machine) { return machine::write_csv(kind_of<K>(machine).map.points); },
               [](const Machine& machine, const flow::MachineFlow* flow) {
                 const K& compressor = kind_of<K>(machine);
                 return std::optional(picture_of(compressor.map, compressor.bypass, flow));
               }})};
  append(rows, reference_rows([](const Machine&) { return true; },
                              [](auto& machine) -> auto& { return kind_of<K>(machine).map; }));
  append(rows, bypass_rows<K>());
  return rows;
}

} // namespace bellmouth::ui
