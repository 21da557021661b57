// SPDX-License-Identifier: GPL-3.0-or-later
#include "machine_fields.hpp"

#include <QCoreApplication>

#include <array>
#include <cmath>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("PortFields", text);
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
