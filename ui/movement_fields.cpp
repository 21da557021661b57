// SPDX-License-Identifier: GPL-3.0-or-later
#include "movement_fields.hpp"

#include "units.hpp"

namespace bellmouth::ui {

namespace {

using build::Build;
using build::ClearanceLimits;
using build::EngineMovement;
using Row = FormRow<Build>;

QString tr(const char* text) {
  return QCoreApplication::translate("MovementFields", text);
}

Row where_it_moves(Row row) {
  return only_if<Build>([](const Build& build) { return build.movement.has_value(); }, std::move(row));
}

Row roll_row() {
  const auto text = [](const Build& build) {
    return show(quantity::Dimension::angle, build.movement->roll_rad, 6);
  };
  return text_row<Build>(
      "roll", tr("Roll"),
      tr("To either side: an angle, or how far something goes at a distance from the axis: 15 mm at 400 mm"),
      text, [text](Build& build, const QString& typed) -> std::optional<QString> {
        if (typed == text(build))
          return std::nullopt;
        const auto turn = bay::turn_of(typed.toStdString(), wording());
        if (!turn)
          return complaint(turn.error());
        build.movement->roll_rad = *turn;
        return std::nullopt;
      });
}

} // namespace

EngineMovement soft_mounted_engine() {
  constexpr double way_m = 15e-3, arm_m = 400e-3;
  return {.axis_point_m = {}, .roll_rad = way_m / arm_m};
}

std::vector<Row> movement_fields(const BuildNow& now) {
  return {
      part_row<Build>(
          "movement", tr("The engine moves"),
          tr("It rocks and shakes on its mounts against the body; joints between the two must take that up"),
          [](auto& build) -> auto& { return build.movement; },
          [](const Build&) { return soft_mounted_engine(); }),
      where_it_moves(place_row<Build>(
          "axis_point", tr("Axis through"),
          tr("A point that stays where it is when the engine rolls; between its mounts as a rule"),
          [](const Build& build) { return build.movement->axis_point_m; },
          [](Build& build, const build::Vector& place_m) { build.movement->axis_point_m = place_m; }, now)),
      where_it_moves(direction_row<Build>(
          "axis_direction", tr("Axis along"), tr("Along the crankshaft as a rule: forward, or left"),
          [](const Build& build) { return build.movement->axis_direction; },
          [](Build& build, const build::Vector& direction) { build.movement->axis_direction = direction; },
          now)),
      where_it_moves(roll_row()),
      where_it_moves(quantity_row<Build>(
          "shake", tr("Shake"), tr("Any way, on top of the roll"), QuantityKind{},
          [](const Build& build) { return std::optional(build.movement->shake_m); },
          [](Build& build, std::optional<double> value) { build.movement->shake_m = *value; })),
      where_it_moves(note_row<Build>(
          "movement_note", tr("On soft mounts the top of an engine goes 10 to 25 mm to either side "
                              "(common practice, no source found). Measure yours: rock it by hand."))),
      shown_if<Build>(
          [](const Build& build) { return !build.movement; },
          note_row<Build>("no_movement_note",
                          tr("Without it engine and body count as one: no joint is asked to take up "
                             "a movement.")))};
}

std::vector<Row> clearance_fields() {
  const auto row = [](const char* key, const char* label, const char* tip, double ClearanceLimits::*member) {
    return quantity_row<Build>(
        key, tr(label), tr(tip), QuantityKind{},
        [member](const Build& build) {
          return std::optional(build.clearances.value_or(ClearanceLimits()).*member);
        },
        [member](Build& build, std::optional<double> value) {
          ClearanceLimits limits = build.clearances.value_or(ClearanceLimits());
          limits.*member = *value;
          build.clearances = limits;
        });
  };
  return {row("clearance_fixed", "Fixed things", "From an ordinary part; usual: 10 mm (a car service manual)",
              &ClearanceLimits::fixed_m),
          row("clearance_moving", "Moving things",
              "From belts, pulleys, steering; usual: 25 mm (common practice, no source found)",
              &ClearanceLimits::moving_m),
          row("clearance_hot", "Hot things",
              "From the exhaust, unshielded; usual: 76 mm (a truck body-builder manual)",
              &ClearanceLimits::hot_m),
          row("clearance_ducting", "Other ducting", "From other pieces and ports; usual: 10 mm",
              &ClearanceLimits::ducting_m)};
}

} // namespace bellmouth::ui
