// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_rows.hpp"
#include "machine_fields.hpp"

#include <QCoreApplication>

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

} // namespace

std::vector<FormRow<build::Port>> port_fields(const build::Port& port,
                                              const std::function<const build::Build&()>& build) {
  using build::Port;
  std::vector<PortRow> rows{
      port_length("bore", "Bore", "Inside diameter", &Port::bore_m),
      port_length("outer_diameter", "Outside diameter", "Over the spigot", &Port::outer_diameter_m),
      port_length("land", "Land", "Straight length of the spigot that a hose can use", &Port::land_m),
      check_row<Port>(
          "beaded", tr("Bead"), tr("A raised ring that keeps a hose from sliding off"),
          [](const Port& shown) { return shown.beaded; },
          [](Port& changed, bool on) { changed.beaded = on; }),
      port_length("free_straight", "Straight needed",
                  "Straight length in front of it that must stay without a bend; 0: none",
                  &Port::free_straight_m),
      choice_row<Port>(
          "mounting", tr("Mounted on"), tr("What it moves with: the engine on its mounts, or the body"),
          mounting_words(), [](const Port& shown) { return static_cast<int>(shown.mounting); },
          [](Port& changed, int index) { changed.mounting = static_cast<build::Mounting>(index); }),
      check_row<Port>(
          "measured", tr("Position measured"), tr("Whether its place in the bay is known"),
          [](const Port& shown) { return shown.pose.has_value(); },
          [](Port& changed, bool on) { changed.pose = on ? std::optional(build::Pose{}) : std::nullopt; })};
  if (port.pose) {
    rows.push_back(place_row<Port>(
        "place", tr("Place"),
        tr("Forward, left and up, or in words: 120 mm below and 40 mm left of blower out"),
        [](const Port& shown) { return shown.pose->position_m; },
        [](Port& changed, const build::Vector& place_m) { changed.pose->position_m = place_m; }, build));
    rows.push_back(coordinate("x", "Forward", "Distance from the origin of the bay, forward", 0));
    rows.push_back(coordinate("y", "Left", "Distance from the origin of the bay, to the left", 1));
    rows.push_back(coordinate("z", "Up", "Distance from the origin of the bay, upward", 2));
    rows.push_back(direction_row<Port>(
        "direction", tr("Points to"),
        tr("Out of the machine: forward, up and back, 30 deg up from forward, against another port, or three "
           "numbers such as 1 0 0"),
        [](const Port& shown) { return shown.pose->direction; },
        [](Port& changed, const build::Vector& direction) { changed.pose->direction = direction; }, build));
    append(rows, survey_rows<Port>());
  }
  return rows;
}

} // namespace bellmouth::ui
