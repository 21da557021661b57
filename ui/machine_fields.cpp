// SPDX-License-Identifier: GPL-3.0-or-later
#include "machine_fields.hpp"

#include "machine_rows.hpp"

#include <numbers>

namespace bellmouth::ui {

namespace {

using build::Machine;
using quantity::Dimension;

QString tr(const char* text) {
  return machine_text(text);
}

MachineRows rows_of(const machine::Filter&, const MachineContext& context) {
  using K = machine::Filter;
  return {rated_row<K>(context),
          choice_row<Machine>(
              "state", tr("State"),
              tr("What the figures are for: the drop is taken times the dirty factor when dirty, times both "
                 "factors when wet"),
              {tr("clean"), tr("dirty"), tr("wet and dirty")},
              [](const Machine& machine) { return static_cast<int>(kind_of<K>(machine).state); },
              [](Machine& machine, int index) {
                kind_of<K>(machine).state = static_cast<machine::FilterState>(index);
              }),
          number<K>("dirty_factor", "Dirty factor",
                    "Drop when it is due for cleaning over drop when clean, 1 or more", &K::dirty_factor,
                    Dimension::ratio),
          number<K>("wet_factor", "Wet factor",
                    "Drop when soaked by rain or spray over drop when dry, 1 or more", &K::wet_factor,
                    Dimension::ratio),
          check<K>("cold_feed", "Cold feed", "Draws its air from outside the bay", &K::cold_feed),
          check<K>("oiled", "Oiled", "The media is oiled", &K::oiled)};
}

MachineRows rows_of(const machine::MeterBody&, const MachineContext&) {
  using K = machine::MeterBody;
  using P = machine::Screen;
  return {number<K>("bore", "Bore", "Inside diameter", &K::bore_m, Dimension::length),
          number<K>("length", "Length", "End to end", &K::length_m, Dimension::length),
          number<K>("loss_coefficient", "Loss coefficient", "On its own bore, its screen left out",
                    &K::loss_coefficient, Dimension::ratio),
          part_check<K, P>("screen", "Screen", "A woven wire screen across the bore", &K::screen,
                           [](const K&) {
                             return P{0.3e-3, 3e-3};
                           }),
          part_number("wire", "Wire", "Diameter of the screen's wire", &K::screen, &P::wire_diameter_m,
                      quantity_of(Dimension::length)),
          part_number("pitch", "Pitch", "From one wire to the next, middle to middle", &K::screen,
                      &P::pitch_m, quantity_of(Dimension::length))};
}

MachineRows rows_of(const machine::Throttle&, const MachineContext&) {
  using K = machine::Throttle;
  // Along the bore: nothing changes until an angle is typed.
  constexpr double along_rad = std::numbers::pi / 2;
  auto angle = std::make_shared<double>(along_rad);
  return {number<K>("bore", "Bore", "Inside diameter", &K::bore_m, Dimension::length),
          number<K>("loss_coefficient", "Loss coefficient", "Wide open, on its own bore",
                    &K::loss_coefficient, Dimension::ratio),
          choice_row<Machine>(
              "plate", tr("Plate"), tr("Wide open, or held at an angle"),
              {tr("wide open"), tr("at an angle")},
              [](const Machine& machine) { return kind_of<K>(machine).opening_rad ? 1 : 0; },
              [angle](Machine& machine, int index) {
                auto& opening = kind_of<K>(machine).opening_rad;
                if (index == 1 && !opening)
                  opening = *angle;
                if (index == 0 && opening)
                  *angle = *std::exchange(opening, std::nullopt);
              }),
          only_if<Machine>([](const Machine& machine) { return kind_of<K>(machine).opening_rad.has_value(); },
                           quantity_row<Machine>(
                               "opening", tr("Opening angle"),
                               tr("Of the plate: 90° along the bore; 0° would be square across it, shut"),
                               quantity_of(Dimension::angle),
                               [](const Machine& machine) { return kind_of<K>(machine).opening_rad; },
                               [](Machine& machine, std::optional<double> value) {
                                 kind_of<K>(machine).opening_rad = value;
                               }))};
}

} // namespace

std::vector<FormRow<build::Machine>> machine_fields(const build::Machine& machine,
                                                    const MachineContext& context) {
  MachineRows rows{
      text_row<Machine>(
          "name", tr("Name"), tr("What you call it"),
          [](const Machine& shown) { return QString::fromStdString(shown.name); },
          [](Machine& changed, const QString& text) -> std::optional<QString> {
            changed.name = text.trimmed().toStdString();
            return std::nullopt;
          }),
      choice_row<Machine>(
          "mounting", tr("Mounted on"), tr("What is mounted on the engine moves with it"),
          {tr("engine"), tr("body")}, [](const Machine& shown) { return static_cast<int>(shown.mounting); },
          [](Machine& changed, int index) { changed.mounting = static_cast<build::Mounting>(index); })};
  append(rows, std::visit([&](const auto& shown) { return rows_of(shown, context); }, machine.kind));
  return rows;
}

} // namespace bellmouth::ui
