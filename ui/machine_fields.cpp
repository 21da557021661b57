// SPDX-License-Identifier: GPL-3.0-or-later
#include "machine_fields.hpp"

#include <QCoreApplication>
#include <QRegularExpression>

#include <array>
#include <cmath>

namespace bellmouth::ui {

namespace {

using build::Machine;
using quantity::Dimension;
using Row = FormRow<Machine>;
using Rows = std::vector<Row>;

QString tr(const char* text) {
  return QCoreApplication::translate("MachineFields", text);
}

/// A number of the machine kind K, in SI.
template <class K>
Row number(const char* key, const char* label, const char* tip, double K::*member, QuantityKind kind) {
  return quantity_row<Machine>(
      key, tr(label), tr(tip), std::move(kind),
      [member](const Machine& machine) { return std::optional(std::get<K>(machine.kind).*member); },
      [member](Machine& machine, std::optional<double> value) {
        std::get<K>(machine.kind).*member = *value;
      });
}
template <class K>
Row number(const char* key, const char* label, const char* tip, double K::*member, Dimension dimension) {
  return number<K>(key, label, tip, member, QuantityKind{.dimension = dimension});
}
template <class K> Row check(const char* key, const char* label, const char* tip, bool K::*member) {
  return check_row<Machine>(
      key, tr(label), tr(tip), [member](const Machine& machine) { return std::get<K>(machine.kind).*member; },
      [member](Machine& machine, bool on) { std::get<K>(machine.kind).*member = on; });
}

/// The measured points of a restriction curve.
template <class K> Row rated_row() {
  return points_row<Machine>(
      "rated", tr("Measured drop"),
      tr("Air flow and drop as the data sheet gives them, for air at 20 °C and 101.325 kPa. One point or "
         "more"),
      {tr("Air flow"), {.dimension = Dimension::volume_flow}},
      {tr("Drop"), {.dimension = Dimension::pressure}},
      [](const Machine& machine) {
        std::vector<PointTable::Point> points;
        for (const auto& point : std::get<K>(machine.kind).rated)
          points.emplace_back(point.volume_flow_m3_s, point.drop_Pa);
        return points;
      },
      [](Machine& machine, const std::vector<PointTable::Point>& points) {
        auto& rated = std::get<K>(machine.kind).rated;
        rated.clear();
        for (const auto& [flow_m3_s, drop_Pa] : points)
          rated.push_back({flow_m3_s, drop_Pa});
      });
}

template <class K> Row outlet_limit() {
  return number<K>("max_outlet_temperature", "Greatest outlet temperature", "What the machine stands",
                   &K::max_outlet_temperature_K, Dimension::temperature);
}
template <class K> Row mechanical_efficiency() {
  return number<K>("mechanical_efficiency", "Mechanical efficiency", "Shaft, gears and belt",
                   &K::mechanical_efficiency, Dimension::ratio);
}

Rows rows_of(const machine::Filter&, double) {
  using K = machine::Filter;
  return {rated_row<K>(),
          number<K>("dirty_factor", "Dirty factor", "Drop now over drop when clean, 1 or more",
                    &K::dirty_factor, Dimension::ratio),
          check<K>("cold_feed", "Cold feed", "Draws its air from outside the bay", &K::cold_feed),
          check<K>("oiled", "Oiled", "The media is oiled", &K::oiled)};
}
Rows rows_of(const machine::MeterBody&, double) {
  using K = machine::MeterBody;
  return {number<K>("bore", "Bore", "Inside diameter", &K::bore_m, Dimension::length),
          number<K>("length", "Length", "End to end", &K::length_m, Dimension::length),
          number<K>("loss_coefficient", "Loss coefficient", "On its own bore", &K::loss_coefficient,
                    Dimension::ratio)};
}
Rows rows_of(const machine::DisplacementBlower&, double) {
  using K = machine::DisplacementBlower;
  return {number<K>("swept_volume", "Swept volume a turn", "Trapped and delivered in one turn",
                    &K::swept_volume_m3_rev, Dimension::volume),
          number<K>("drive_ratio", "Drive ratio", "Blower turns for one engine turn", &K::drive_ratio,
                    Dimension::ratio),
          number<K>("volumetric_efficiency", "Volumetric efficiency",
                    "Delivered over swept, on the inlet density", &K::volumetric_efficiency,
                    Dimension::ratio),
          quantity_row<Machine>(
              "adiabatic_efficiency", tr("Adiabatic efficiency"),
              tr("Empty: no internal compression, all work is done against the discharge pressure"),
              QuantityKind{.dimension = Dimension::ratio, .optional = true},
              [](const Machine& machine) { return std::get<K>(machine.kind).adiabatic_efficiency; },
              [](Machine& machine, std::optional<double> value) {
                std::get<K>(machine.kind).adiabatic_efficiency = value;
              }),
          mechanical_efficiency<K>(),
          number<K>("max_speed", "Greatest speed", "Of the blower's own shaft", &K::max_speed_rev_s,
                    Dimension::rotational_speed),
          outlet_limit<K>()};
}
Rows rows_of(const machine::TargetCompressor&, double ambient_Pa) {
  using K = machine::TargetCompressor;
  return {number<K>("target_pressure", "Target pressure", "What its control holds; may be typed as gauge",
                    &K::target_pressure_Pa,
                    QuantityKind{.dimension = Dimension::pressure,
                                 .reference = quantity::Reference::absolute,
                                 .ambient_Pa = ambient_Pa}),
          choice_row<Machine>(
              "target_at", tr("Target held at"), tr("Where the control reads the pressure"),
              {tr("blower outlet"), tr("manifold")},
              [](const Machine& machine) { return static_cast<int>(std::get<K>(machine.kind).target_at); },
              [](Machine& machine, int index) {
                std::get<K>(machine.kind).target_at = static_cast<machine::TargetAt>(index);
              }),
          number<K>("adiabatic_efficiency", "Adiabatic efficiency", "Total to total",
                    &K::adiabatic_efficiency, Dimension::ratio),
          mechanical_efficiency<K>(),
          check<K>("driven_by_exhaust", "Driven by exhaust", "Takes no crank power", &K::driven_by_exhaust),
          number<K>("max_pressure_ratio", "Greatest pressure ratio", "What it can do at all",
                    &K::max_pressure_ratio, Dimension::ratio),
          outlet_limit<K>()};
}
Rows rows_of(const machine::GearedCompressor&, double) {
  using K = machine::GearedCompressor;
  return {number<K>("drive_ratio", "Drive ratio", "Impeller turns for one engine turn, step-up gear included",
                    &K::drive_ratio, Dimension::ratio),
          mechanical_efficiency<K>(),
          number<K>("max_speed", "Greatest speed", "Of the impeller", &K::max_speed_rev_s,
                    Dimension::rotational_speed),
          outlet_limit<K>()};
}
Rows rows_of(const machine::ChargeCooler&, double) {
  using K = machine::ChargeCooler;
  return {rated_row<K>(),
          number<K>("effectiveness", "Effectiveness", "Share of the possible cooling that it does, 0 to 1",
                    &K::effectiveness, Dimension::ratio),
          number<K>("coolant_rise", "Coolant above ambient",
                    "How much warmer the air or water arrives that cools it", &K::coolant_rise_K,
                    Dimension::temperature_difference),
          check<K>("air_to_water", "Cooled by water", "Else by the air of the drive", &K::air_to_water)};
}
Rows rows_of(const machine::Throttle&, double) {
  using K = machine::Throttle;
  return {number<K>("bore", "Bore", "Inside diameter", &K::bore_m, Dimension::length),
          number<K>("loss_coefficient", "Loss coefficient", "Wide open, on its own bore",
                    &K::loss_coefficient, Dimension::ratio)};
}

using PortRow = FormRow<build::Port>;

PortRow port_length(const char* key, const char* label, const char* tip, double build::Port::*member) {
  return quantity_row<build::Port>(
      key, tr(label), tr(tip), QuantityKind{},
      [member](const build::Port& port) { return std::optional(port.*member); },
      [member](build::Port& port, std::optional<double> value) { port.*member = *value; });
}
PortRow coordinate(const char* key, const char* label, const char* tip, std::size_t axis) {
  return quantity_row<build::Port>(
      key, tr(label), tr(tip), QuantityKind{},
      [axis](const build::Port& port) {
        return port.pose ? std::optional(port.pose->position_m[axis]) : std::nullopt;
      },
      [axis](build::Port& port, std::optional<double> value) { port.pose->position_m[axis] = *value; });
}

/// "0.5 0 -1" as a unit vector.
std::optional<build::Vector> direction_of(const QString& text) {
  const QStringList parts = QString(text).replace(';', ' ').simplified().split(' ');
  if (parts.size() != 3)
    return std::nullopt;
  build::Vector direction{};
  double square = 0;
  for (int i = 0; i < 3; ++i) {
    bool number = false;
    const double part = QString(parts[i]).replace(',', '.').toDouble(&number);
    if (!number || !std::isfinite(part))
      return std::nullopt;
    direction[static_cast<std::size_t>(i)] = part;
    square += part * part;
  }
  if (square < 1e-12 || !std::isfinite(square))
    return std::nullopt;
  for (double& part : direction)
    part /= std::sqrt(square);
  return direction;
}

PortRow direction_row() {
  return text_row<build::Port>(
      "direction", tr("Points to"),
      tr("Out of the machine: forward, left and up as three numbers, such as 1 0 0 for forward"),
      [](const build::Port& port) {
        QStringList parts;
        for (const double part : port.pose->direction)
          parts << QString::number(part, 'g', 7);
        return parts.join("  ");
      },
      [](build::Port& port, const QString& text) -> std::optional<QString> {
        const auto direction = direction_of(text);
        if (!direction)
          return tr("found %1; accepted: three numbers, not all zero, such as 1 0 0").arg(text);
        port.pose->direction = *direction;
        return std::nullopt;
      });
}

} // namespace

std::vector<FormRow<build::Machine>> machine_fields(const build::Machine& machine, double ambient_Pa) {
  Rows rows{text_row<Machine>(
                "name", tr("Name"), tr("What you call it"),
                [](const Machine& shown) { return QString::fromStdString(shown.name); },
                [](Machine& changed, const QString& text) -> std::optional<QString> {
                  changed.name = text.trimmed().toStdString();
                  return std::nullopt;
                }),
            choice_row<Machine>(
                "mounting", tr("Mounted on"), tr("What is mounted on the engine moves with it"),
                {tr("engine"), tr("body")},
                [](const Machine& shown) { return static_cast<int>(shown.mounting); },
                [](Machine& changed, int index) { changed.mounting = static_cast<build::Mounting>(index); })};
  for (Row& row : std::visit([&](const auto& kind) { return rows_of(kind, ambient_Pa); }, machine.kind))
    rows.push_back(std::move(row));
  return rows;
}

std::vector<FormRow<build::Port>> port_fields(const build::Port& port) {
  using build::Port;
  std::vector<PortRow> rows{
      port_length("bore", "Bore", "Inside diameter", &Port::bore_m),
      port_length("outer_diameter", "Outside diameter", "Over the spigot", &Port::outer_diameter_m),
      port_length("land", "Land", "Straight length of the spigot that a hose can use", &Port::land_m),
      check_row<Port>(
          "beaded", tr("Bead"), tr("A raised ring that keeps a hose from sliding off"),
          [](const Port& shown) { return shown.beaded; },
          [](Port& changed, bool on) { changed.beaded = on; }),
      check_row<Port>(
          "measured", tr("Position measured"), tr("Whether its place in the bay is known"),
          [](const Port& shown) { return shown.pose.has_value(); },
          [](Port& changed, bool on) { changed.pose = on ? std::optional(build::Pose{}) : std::nullopt; })};
  if (port.pose) {
    rows.push_back(coordinate("x", "Forward", "Distance from the origin of the bay, forward", 0));
    rows.push_back(coordinate("y", "Left", "Distance from the origin of the bay, to the left", 1));
    rows.push_back(coordinate("z", "Up", "Distance from the origin of the bay, upward", 2));
    rows.push_back(direction_row());
  }
  return rows;
}

} // namespace bellmouth::ui
