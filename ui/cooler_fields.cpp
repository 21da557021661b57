// SPDX-License-Identifier: GPL-3.0-or-later
#include "machine_rows.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bellmouth::ui {

namespace {

using build::Machine;
using quantity::Dimension;
using K = machine::ChargeCooler;

QString tr(const char* text) {
  return machine_text(text);
}

/// How its effectiveness is known; in the order of the choice.
enum class KnownBy { statement, table, core };

KnownBy known_by(const K& cooler) {
  return cooler.core ? KnownBy::core
                     : (cooler.effectiveness_table.empty() ? KnownBy::statement : KnownBy::table);
}

/// What to start a table or a core from, in whole grams: the charge flow of now, or that of an ordinary
/// engine.
double usual_flow_kg_s(const MachineContext& context) {
  constexpr double ordinary_kg_s = 0.1, gram_kg = 1e-3;
  const flow::MachineFlow* now = context.flow ? context.flow() : nullptr;
  return now == nullptr ? ordinary_kg_s
                        : std::max(1.0, std::round(now->inlet.mass_flow_kg_s / gram_kg)) * gram_kg;
}

/// A core in cross flow with plenty of coolant that does about what was stated: 1 - e^-NTU.
machine::CoolerCore first_core(const K& cooler, double charge_flow_kg_s) {
  constexpr double charge_cp_J_kgK = 1005, most = 0.95, plenty_of_air_kg_s = 0.5, plenty_of_water_kg_s = 0.3;
  const double ntu = -std::log(1 - std::clamp(cooler.effectiveness, 0.1, most));
  return {.arrangement = machine::Arrangement::cross_flow_unmixed,
          .conductance_W_K = std::round(ntu * charge_flow_kg_s * charge_cp_J_kgK),
          .rated_charge_flow_kg_s = charge_flow_kg_s,
          .charge_side_share = 0.5,
          .coolant_flow_kg_s = cooler.air_to_water ? plenty_of_water_kg_s : plenty_of_air_kg_s};
}

/// What the choices have put aside.
struct Aside {
  std::vector<machine::EffectivenessPoint> table;
  std::optional<machine::CoolerCore> core;
  std::optional<machine::CoolantLoop> loop;
  bool loop_went_along = false; ///< with the core or the water; else the user took it away

  void put_loop_aside(K& cooler) {
    if (!cooler.loop)
      return;
    loop = std::exchange(cooler.loop, std::nullopt);
    loop_went_along = true;
  }
  void bring_loop_back(K& cooler) {
    if (!loop_went_along || !cooler.core || !cooler.air_to_water)
      return;
    cooler.loop = loop;
    loop_went_along = false;
  }

  void choose(K& cooler, KnownBy by, double flow_kg_s) {
    if (by == known_by(cooler))
      return;
    if (!cooler.effectiveness_table.empty())
      table = std::exchange(cooler.effectiveness_table, {});
    if (cooler.core) {
      put_loop_aside(cooler);
      core = std::exchange(cooler.core, std::nullopt);
    }
    if (by == KnownBy::table)
      cooler.effectiveness_table =
          table.empty() ? std::vector{machine::EffectivenessPoint{flow_kg_s, cooler.effectiveness}} : table;
    if (by == KnownBy::core) {
      cooler.core = core ? *core : first_core(cooler, flow_kg_s);
      bring_loop_back(cooler);
    }
  }
};

MachineRow table_row(const MachineContext& context) {
  const auto points_of = [](const std::vector<machine::EffectivenessPoint>& table) {
    std::vector<PointTable::Point> points;
    points.reserve(table.size());
    for (const auto& point : table)
      points.emplace_back(point.charge_flow_kg_s, point.effectiveness);
    return points;
  };
  const auto table_of = [](const std::vector<PointTable::Point>& points) {
    std::vector<machine::EffectivenessPoint> table;
    table.reserve(points.size());
    for (const auto& [flow_kg_s, effectiveness] : points)
      table.push_back({flow_kg_s, effectiveness});
    return table;
  };
  return only_if<Machine>(
      [](const Machine& machine) { return known_by(kind_of<K>(machine)) == KnownBy::table; },
      points_row<Machine>(
          "effectiveness_table", tr("Effectiveness over flow"),
          tr("Over the charge flow, by rising flow; straight lines between the points, held outside"),
          {tr("Charge flow"), quantity_of(Dimension::mass_flow)},
          {tr("Effectiveness"), quantity_of(Dimension::ratio)},
          [points_of](const Machine& machine) { return points_of(kind_of<K>(machine).effectiveness_table); },
          [table_of](Machine& machine, const std::vector<PointTable::Point>& points) {
            kind_of<K>(machine).effectiveness_table = table_of(points);
          },
          PointTable::Csv{context.files, tr("effectiveness.csv"),
                          [points_of](const std::string& text, const std::string& file) {
                            return machine::read_effectiveness_csv(text, file).map(points_of);
                          },
                          [table_of](const std::vector<PointTable::Point>& points) {
                            return machine::write_csv(table_of(points));
                          }}));
}

MachineRows core_rows() {
  using P = machine::CoolerCore;
  const auto by_core = [](const Machine& machine) { return kind_of<K>(machine).core.has_value(); };
  const auto no_loop = [](const Machine& machine) { return !kind_of<K>(machine).loop; };
  return {only_if<Machine>(
              by_core, choice_row<Machine>(
                           "arrangement", tr("Arrangement"),
                           tr("How charge and coolant pass each other. Of cross flow: whether a stream can "
                              "mix within the core; "
                              "the smaller one is that with less heat capacity"),
                           {tr("counterflow"), tr("parallel flow"), tr("cross flow, both unmixed"),
                            tr("cross flow, smaller mixed"), tr("cross flow, larger mixed")},
                           [](const Machine& machine) {
                             return static_cast<int>(kind_of<K>(machine).core->arrangement);
                           },
                           [](Machine& machine, int index) {
                             kind_of<K>(machine).core->arrangement = static_cast<machine::Arrangement>(index);
                           })),
          part_number("conductance", "Conductance",
                      "Heat flow for each degree between the streams (U A), at the rated flow", &K::core,
                      &P::conductance_W_K, in_own_unit({.symbol = "W/K", .step = 5})),
          part_number("rated_flow", "Rated charge flow", "At which the conductance holds", &K::core,
                      &P::rated_charge_flow_kg_s, quantity_of(Dimension::mass_flow)),
          part_number("charge_side", "Charge side share",
                      "Of the resistance to the heat, at the rated flow; the rest is coolant side and wall. "
                      "It is the part "
                      "that changes with the charge flow",
                      &K::core, &P::charge_side_share, percentage()),
          shown_if<Machine>(no_loop, part_number("coolant_flow", "Coolant flow",
                                                 "Air through the fins, or water through the core", &K::core,
                                                 &P::coolant_flow_kg_s, quantity_of(Dimension::mass_flow)))};
}

MachineRows loop_rows(const std::shared_ptr<Aside>& aside) {
  using P = machine::CoolantLoop;
  const auto possible = [](const Machine& machine) {
    return kind_of<K>(machine).core.has_value() && kind_of<K>(machine).air_to_water;
  };
  return {
      shown_if<Machine>(
          possible, check_row<Machine>(
                        "loop", tr("Water circuit"),
                        tr("Water goes round between the core and a heat exchanger in the open air; else the "
                           "water arrives as "
                           "warm as stated"),
                        [](const Machine& machine) { return kind_of<K>(machine).loop.has_value(); },
                        [aside](Machine& machine, bool on) {
                          K& cooler = kind_of<K>(machine);
                          if (on == cooler.loop.has_value())
                            return;
                          aside->loop_went_along = false;
                          if (on)
                            cooler.loop = aside->loop.value_or(P{cooler.core->coolant_flow_kg_s, 0.5, 0.5});
                          else
                            aside->loop = std::exchange(cooler.loop, std::nullopt);
                        })),
      part_number("water_flow", "Water flow", "Round the circuit, through the core as well", &K::loop,
                  &P::water_flow_kg_s, quantity_of(Dimension::mass_flow)),
      part_number("front_effectiveness", "Outer effectiveness",
                  "Of the heat exchanger in the open air, on the smaller of its two heat capacity rates",
                  &K::loop, &P::front_effectiveness, quantity_of(Dimension::ratio)),
      part_number("front_air", "Outer air flow", "Through the heat exchanger in the open air", &K::loop,
                  &P::front_air_flow_kg_s, quantity_of(Dimension::mass_flow))};
}

} // namespace

MachineRows rows_of(const machine::ChargeCooler&, const MachineContext& context) {
  const auto aside = std::make_shared<Aside>();
  MachineRows rows{
      rated_row<K>(context),
      check_row<Machine>(
          "air_to_water", tr("Cooled by water"), tr("Else by the air of the drive"),
          [](const Machine& machine) { return kind_of<K>(machine).air_to_water; },
          [aside](Machine& machine, bool on) {
            K& cooler = kind_of<K>(machine);
            cooler.air_to_water = on;
            if (on)
              aside->bring_loop_back(cooler);
            else
              aside->put_loop_aside(cooler);
          }),
      number<K>("coolant_rise", "Coolant above ambient",
                "How much warmer the air or water arrives that cools it; with a water circuit, the air at "
                "the outer heat "
                "exchanger",
                &K::coolant_rise_K, Dimension::temperature_difference),
      choice_row<Machine>(
          "known_by", tr("Cooling"),
          tr("How it is known: effectiveness as one figure, by a table over the charge flow, or worked out "
             "from the size of the core"),
          {tr("effectiveness as stated"), tr("effectiveness by a table"), tr("by the size of the core")},
          [](const Machine& machine) { return static_cast<int>(known_by(kind_of<K>(machine))); },
          [aside, context](Machine& machine, int index) {
            aside->choose(kind_of<K>(machine), static_cast<KnownBy>(index), usual_flow_kg_s(context));
          }),
      only_if<Machine>(
          [](const Machine& machine) { return known_by(kind_of<K>(machine)) == KnownBy::statement; },
          number<K>("effectiveness", "Effectiveness", "Share of the possible cooling that it does, 0 to 1",
                    &K::effectiveness, Dimension::ratio)),
      table_row(context)};
  append(rows, core_rows());
  append(rows, loop_rows(aside));
  return rows;
}

} // namespace bellmouth::ui
