// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_edits.hpp"

#include <QCoreApplication>

#include <algorithm>
#include <utility>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("BayEdits", text);
}

QString free_name(const build::Build& build, const QString& kind) {
  for (std::size_t number = build.keep_outs.size() + 1;; ++number) {
    QString name = QString("%1 %2").arg(kind).arg(number);
    if (std::ranges::none_of(build.keep_outs,
                             [&](const build::KeepOut& other) { return other.name == name.toStdString(); }))
      return name;
  }
}

} // namespace

build::KeepOut new_keep_out(const build::Build& build, NewShape shape) {
  constexpr double half_m = 0.1, below_m = 0.3;
  build::Vector centre{};
  int placed = 0;
  double lowest = 0;
  for (const build::Port& port : build.ports)
    if (port.pose) {
      const build::Vector& at = port.pose->position_m;
      centre[0] += at[0];
      centre[1] += at[1];
      lowest = placed == 0 ? at[2] : std::min(lowest, at[2]);
      ++placed;
    }
  if (placed > 0)
    centre = {centre[0] / placed, centre[1] / placed, lowest};
  centre[2] -= below_m;
  build::KeepOut made;
  switch (shape) {
  case NewShape::box:
    made.shape = build::Box{.centre_m = centre, .half_size_m = {half_m, half_m, half_m}};
    made.name = free_name(build, tr("box")).toStdString();
    break;
  case NewShape::cylinder:
    made.shape = build::Cylinder{
        {centre[0] - half_m, centre[1], centre[2]}, {centre[0] + half_m, centre[1], centre[2]}, half_m / 2};
    made.name = free_name(build, tr("cylinder")).toStdString();
    break;
  case NewShape::sphere:
    made.shape = build::Sphere{centre, half_m / 2};
    made.name = free_name(build, tr("sphere")).toStdString();
    break;
  case NewShape::half_space:
    made.shape = build::HalfSpace{centre, {0, 0, -1}};
    made.name = free_name(build, tr("half-space")).toStdString();
    break;
  }
  return made;
}

build::KeepOut mirror_copy(const build::KeepOut& keep_out, double plane_y_m) {
  build::KeepOut copy = build::mirrored(keep_out, plane_y_m);
  QString name = QString::fromStdString(keep_out.name);
  const auto swapped = [&](const QString& from, const QString& to) {
    if (!name.contains(from))
      return false;
    name.replace(from, to);
    return true;
  };
  if (!name.isEmpty() && !swapped(tr("left"), tr("right")) && !swapped(tr("right"), tr("left")))
    name = tr("%1, mirrored").arg(name);
  copy.name = name.toStdString();
  return copy;
}

} // namespace bellmouth::ui
