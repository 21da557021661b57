// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_passing.hpp"

#include "bay_text.hpp"
#include "units.hpp"

#include <bellmouth/build/vectors.hpp>

#include <QCoreApplication>

#include <algorithm>
#include <cmath>
#include <limits>
#include <type_traits>
#include <utility>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("Routes", text);
}

/// What lies so far off a thing passes it: as long as tube is taken to be where nothing says how long it is.
constexpr double passing_room_m = 2;

build::Vector direction_of(Passing passing) {
  switch (passing) {
  case Passing::over:
    return {0, 0, 1};
  case Passing::under:
    return {0, 0, -1};
  case Passing::left:
    return {0, 1, 0};
  case Passing::right:
    return {0, -1, 0};
  case Passing::ahead:
    return {1, 0, 0};
  case Passing::behind:
    return {-1, 0, 0};
  }
  return {};
}

} // namespace

QString passing_word(Passing passing) {
  switch (passing) {
  case Passing::over:
    return tr("over");
  case Passing::under:
    return tr("under");
  case Passing::left:
    return tr("left of");
  case Passing::right:
    return tr("right of");
  case Passing::ahead:
    return tr("ahead of");
  case Passing::behind:
    return tr("behind");
  }
  return {};
}

std::optional<double> reach_m(const build::KeepOut& keep_out, const build::Vector& direction) {
  using build::dot;
  return std::visit(
      [&](const auto& shape) -> std::optional<double> {
        using Shape = std::decay_t<decltype(shape)>;
        if constexpr (std::is_same_v<Shape, build::Box>) {
          double reach = dot(shape.centre_m, direction);
          for (std::size_t axis = 0; axis < 3; ++axis)
            reach += std::abs(shape.half_size_m[axis] * dot(shape.axes[axis], direction));
          return reach;
        } else if constexpr (std::is_same_v<Shape, build::Cylinder>) {
          const double along = dot(build::unit(build::minus(shape.to_m, shape.from_m)), direction);
          return std::max(dot(shape.from_m, direction), dot(shape.to_m, direction)) +
                 shape.radius_m * std::sqrt(std::max(0.0, 1 - along * along));
        } else if constexpr (std::is_same_v<Shape, build::Sphere>) {
          return dot(shape.centre_m, direction) + shape.radius_m;
        } else if constexpr (std::is_same_v<Shape, build::Scan>) {
          if (!shape.loaded || shape.loaded->surface.points.empty())
            return std::nullopt;
          double reach = -std::numeric_limits<double>::infinity();
          for (const mesh::Point& point : shape.loaded->surface.points)
            reach = std::max(reach, dot(shape.placement().to_bay(point), direction));
          return reach;
        } else {
          return std::nullopt;
        }
      },
      keep_out.shape);
}

std::optional<way::Waypoint> waypoint_past(const build::Build& build, std::size_t keep_out, Passing passing) {
  const build::Vector direction = direction_of(passing);
  build::Box beside;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    build::Vector onward{};
    onward[axis] = 1;
    const auto most = reach_m(build.keep_outs.at(keep_out), onward),
               least = reach_m(build.keep_outs.at(keep_out), build::times(-1, onward));
    if (!most || !least)
      return std::nullopt;
    double from_m = -*least, to_m = *most;
    if (direction[axis] > 0)
      from_m = std::exchange(to_m, to_m + passing_room_m);
    else if (direction[axis] < 0)
      to_m = std::exchange(from_m, from_m - passing_room_m);
    beside.centre_m[axis] = (from_m + to_m) / 2;
    beside.half_size_m[axis] = (to_m - from_m) / 2;
  }
  return way::Waypoint{
      QString("%1 %2").arg(passing_word(passing), keep_out_title(build, keep_out)).toStdString(), beside};
}

way::Waypoint waypoint_at(const build::Vector& point_m, double radius_m) {
  return {tr("within %1 of %2").arg(show_length(radius_m), place_text(point_m)).toStdString(),
          build::Sphere{point_m, radius_m}};
}

} // namespace bellmouth::ui
