// SPDX-License-Identifier: GPL-3.0-or-later
#include "keep_out_fields.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

using build::Box;
using build::Cylinder;
using build::HalfSpace;
using build::KeepOut;
using build::Scan;
using build::Sphere;
using build::Vector;
using Row = FormRow<KeepOut>;
using Rows = std::vector<Row>;
using quantity::Dimension;

QString tr(const char* text) {
  return QCoreApplication::translate("KeepOutFields", text);
}

/// A point of the shape S.
template <class S>
Row point(const char* key, const char* label, const char* tip, Vector S::*member, const BuildNow& now) {
  return place_row<KeepOut>(
      key, tr(label), tr(tip), [member](const KeepOut& shown) { return std::get<S>(shown.shape).*member; },
      [member](KeepOut& changed, const Vector& place_m) { std::get<S>(changed.shape).*member = place_m; },
      now);
}
/// A diameter, kept as a radius.
template <class S> Row diameter(double S::*radius) {
  return quantity_row<KeepOut>(
      "diameter", tr("Diameter"), tr("Over its outside"), QuantityKind{.above = 0.0},
      [radius](const KeepOut& shown) { return std::optional(2 * (std::get<S>(shown.shape).*radius)); },
      [radius](KeepOut& changed, std::optional<double> value) {
        std::get<S>(changed.shape).*radius = *value / 2;
      });
}

/// The right-handed axes of a body, where they are its own or those of its mirror image.
template <class S> bay::Axes right_handed(const S& shape) {
  bay::Axes axes = shape.axes;
  if (bay::left_handed(axes))
    std::ranges::for_each(axes[1], [](double& part) { part = -part; });
  return axes;
}
template <class S> void set_axes(S& shape, bay::Axes axes, bool mirrored) {
  if (mirrored)
    std::ranges::for_each(axes[1], [](double& part) { part = -part; });
  shape.axes = axes;
}

/// How the box or the scan is turned.
template <class S> Rows attitude_rows() {
  const auto row = [](const char* key, const char* label, const char* tip, double bay::Attitude::*member) {
    return quantity_row<KeepOut>(
        key, tr(label), tr(tip), quantity_of(Dimension::angle),
        [member](const KeepOut& shown) {
          return std::optional(bay::attitude_of(right_handed(std::get<S>(shown.shape))).*member);
        },
        [member](KeepOut& changed, std::optional<double> value) {
          S& shape = std::get<S>(changed.shape);
          bay::Attitude attitude = bay::attitude_of(right_handed(shape));
          attitude.*member = *value;
          // A box is its own mirror image; a scan is not.
          set_axes(shape, bay::axes_of(attitude), std::is_same_v<S, Scan> && bay::left_handed(shape.axes));
        });
  };
  return {row("turned_left", "Turned left", "About the upright, seen from above; the first of three turns",
              &bay::Attitude::left_rad),
          row("nose_up", "Nose up", "Its front end raised; the second turn", &bay::Attitude::nose_up_rad),
          row("over_right", "Over to the right", "About its own length; the third turn",
              &bay::Attitude::over_right_rad)};
}

Row corner(const char* key, const char* label, double side, const BuildNow& now) {
  const auto place = [side](const Box& box) {
    Vector at{};
    for (std::size_t i = 0; i < 3; ++i)
      at[i] = box.centre_m[i] + side * box.half_size_m[i];
    return at;
  };
  Row row = place_row<KeepOut>(
      key, tr(label), tr("The opposite corner stays where it is"),
      [place](const KeepOut& shown) { return place(std::get<Box>(shown.shape)); },
      [side](KeepOut& changed, const Vector& at) {
        Box& box = std::get<Box>(changed.shape);
        for (std::size_t i = 0; i < 3; ++i) {
          const double opposite = box.centre_m[i] - side * box.half_size_m[i];
          box.centre_m[i] = (at[i] + opposite) / 2;
          box.half_size_m[i] = std::abs(at[i] - opposite) / 2;
        }
      },
      now);
  return shown_if<KeepOut>([](const KeepOut& shown) { return std::get<Box>(shown.shape).axes == Box().axes; },
                           std::move(row));
}

Rows rows_of(const Box&, const BuildNow& now) {
  const auto size = [](const char* key, const char* label, const char* tip, std::size_t axis) {
    return quantity_row<KeepOut>(
        key, tr(label), tr(tip), QuantityKind{.above = 0.0},
        [axis](const KeepOut& shown) {
          return std::optional(2 * std::get<Box>(shown.shape).half_size_m[axis]);
        },
        [axis](KeepOut& changed, std::optional<double> value) {
          std::get<Box>(changed.shape).half_size_m[axis] = *value / 2;
        });
  };
  Rows rows{point("centre", "Centre", "Forward, left and up, or in words from a port", &Box::centre_m, now),
            size("size_x", "Length", "Along its own forward", 0),
            size("size_y", "Width", "Along its own left", 1),
            size("size_z", "Height", "Along its own up", 2),
            corner("corner_low", "Corner", -1, now),
            corner("corner_high", "Opposite corner", 1, now)};
  append(rows, attitude_rows<Box>());
  return rows;
}
Rows rows_of(const Cylinder&, const BuildNow& now) {
  return {point("from", "From", "Middle of one end", &Cylinder::from_m, now),
          point("to", "To", "Middle of the other end", &Cylinder::to_m, now), diameter(&Cylinder::radius_m)};
}
Rows rows_of(const Sphere&, const BuildNow& now) {
  return {point("centre", "Centre", "Forward, left and up, or in words from a port", &Sphere::centre_m, now),
          diameter(&Sphere::radius_m)};
}
Rows rows_of(const HalfSpace&, const BuildNow& now) {
  return {
      point("point", "Through", "A point of its face", &HalfSpace::point_m, now),
      direction_row<KeepOut>(
          "normal", tr("Beyond, towards"),
          tr("The side that is kept free: up for a bonnet, down for the ground, or as 80 deg up from "
             "forward"),
          [](const KeepOut& shown) { return std::get<HalfSpace>(shown.shape).normal; },
          [](KeepOut& changed, const Vector& normal) { std::get<HalfSpace>(changed.shape).normal = normal; },
          now)};
}
Rows rows_of(const Scan& scan, const BuildNow& now) {
  Rows rows{note_row<KeepOut>("file", scan.problem.empty() ? QString::fromStdString(scan.file)
                                                           : tr("%1 could not be read: %2")
                                                                 .arg(QString::fromStdString(scan.file),
                                                                      QString::fromStdString(scan.problem))),
            choice_row<KeepOut>(
                "unit", tr("Unit"), tr("What the numbers of the file count"), unit_words(),
                [](const KeepOut& shown) { return static_cast<int>(std::get<Scan>(shown.shape).unit); },
                [](KeepOut& changed, int index) {
                  std::get<Scan>(changed.shape).unit = static_cast<mesh::Unit>(index);
                }),
            point("origin", "Origin", "Where the origin of the file lies in the bay", &Scan::origin_m, now)};
  append(rows, attitude_rows<Scan>());
  rows.push_back(check_row<KeepOut>(
      "mirrored", tr("Mirrored"), tr("Left and right of the file are changed over"),
      [](const KeepOut& shown) { return bay::left_handed(std::get<Scan>(shown.shape).axes); },
      [](KeepOut& changed, bool on) {
        Scan& shape = std::get<Scan>(changed.shape);
        set_axes(shape, right_handed(shape), on);
      }));
  return rows;
}

Rows state_rows(const build::Build& build) {
  Rows rows;
  int number = 0;
  for (const build::BayState& state : build.states) {
    const build::StateId id = state.id;
    const QString name = QString::fromStdString(id.text);
    constexpr int room = 16; // a longer label would take the room of all fields
    rows.push_back(check_row<KeepOut>(
        QString("state_%1").arg(number++),
        tr("In %1").arg(name.size() <= room ? name : name.left(room - 1) + QChar(0x2026)),
        tr("There in the states that are ticked, here %1; always where none is").arg(name),
        [id](const KeepOut& shown) { return std::ranges::find(shown.states, id) != shown.states.end(); },
        [id](KeepOut& changed, bool on) {
          std::erase(changed.states, id);
          if (on)
            changed.states.push_back(id);
        }));
  }
  return rows;
}

} // namespace

Rows keep_out_fields(const KeepOut& keep_out, const build::Build& build, const BuildNow& now) {
  QuantityKind clearance;
  clearance.optional = true;
  clearance.when_empty = tr("as its class").toStdString();
  Rows rows{text_row<KeepOut>(
                "name", tr("Name"), tr("What you call it"),
                [](const KeepOut& shown) { return QString::fromStdString(shown.name); },
                [](KeepOut& changed, const QString& text) -> std::optional<QString> {
                  changed.name = text.trimmed().toStdString();
                  return std::nullopt;
                }),
            choice_row<KeepOut>(
                "class", tr("Class"), tr("Sets the clearance"), class_words(),
                [](const KeepOut& shown) { return static_cast<int>(shown.keep_out_class); },
                [](KeepOut& changed, int index) {
                  changed.keep_out_class = static_cast<build::KeepOutClass>(index);
                }),
            quantity_row<KeepOut>(
                "clearance", tr("Clearance"),
                tr("How far ducting stays off it; empty: what its class asks for"), clearance,
                [](const KeepOut& shown) { return shown.clearance_m; },
                [](KeepOut& changed, std::optional<double> value) { changed.clearance_m = value; })};
  append(rows, std::visit([&](const auto& shape) { return rows_of(shape, now); }, keep_out.shape));
  rows.push_back(choice_row<KeepOut>(
      "mounting", tr("Mounted on"), tr("What it moves with: the engine on its mounts, or the body"),
      mounting_words(), [](const KeepOut& shown) { return static_cast<int>(shown.mounting); },
      [](KeepOut& changed, int index) { changed.mounting = static_cast<build::Mounting>(index); }));
  rows.push_back(choice_row<KeepOut>(
      "machine", tr("Body of"), tr("The machine whose body it is: ducting begins and ends at it"),
      owner_words(build), [now](const KeepOut& shown) { return owner_index(now(), shown.machine); },
      [now](KeepOut& changed, int index) { changed.machine = owner_at(now(), index); }));
  append(rows, state_rows(build));
  append(rows, survey_rows<KeepOut>());
  return rows;
}

} // namespace bellmouth::ui
