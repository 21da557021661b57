// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_picture.hpp"

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/vectors.hpp>

#include <QCoreApplication>
#include <QPainter>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <type_traits>

namespace bellmouth::ui {

namespace {

constexpr double arc_step_rad = 5 * std::numbers::pi / 180;
constexpr int circle_sides = 32;
/// As many points of a surface are drawn.
constexpr std::size_t surface_dots = 1500;

build::Vector line_of_sight(PictureSide side) {
  switch (side) {
  case PictureSide::above:
    return {0, 0, 1};
  case PictureSide::right:
    return {0, 1, 0};
  case PictureSide::front:
    return {1, 0, 0};
  }
  return {};
}

double turn(const QPointF& a, const QPointF& b, const QPointF& c) {
  return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

/// The convex outline of points (A. M. Andrew, "Another efficient algorithm for convex hulls in two
/// dimensions", Information Processing Letters 9(5), 1979).
QPolygonF hull(std::vector<QPointF> points) {
  std::ranges::sort(points, [](const QPointF& a, const QPointF& b) {
    return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y();
  });
  QPolygonF around;
  const auto go = [&](auto begin, auto end) {
    const qsizetype first = around.size();
    for (auto at = begin; at != end; ++at) {
      while (around.size() >= first + 2 && turn(around[around.size() - 2], around.back(), *at) <= 0)
        around.removeLast();
      around << *at;
    }
    around.removeLast(); // the next half begins there
  };
  if (points.size() < 3)
    return QPolygonF(QList<QPointF>(points.begin(), points.end()));
  go(points.begin(), points.end());
  go(points.rbegin(), points.rend());
  return around;
}

void add_disc(std::vector<QPointF>& points, PictureSide side, const build::Vector& centre,
              const build::Vector& axis, double radius) {
  const build::Vector a = bay::square_to(axis), b = build::cross(axis, a);
  for (int i = 0; i < circle_sides; ++i) {
    const double angle = 2 * std::numbers::pi * i / circle_sides;
    points.push_back(seen_from(
        side, build::plus(build::plus(centre, radius * std::cos(angle), a), radius * std::sin(angle), b)));
  }
}
void add_ball(std::vector<QPointF>& points, PictureSide side, const build::Vector& centre, double radius) {
  add_disc(points, side, centre, line_of_sight(side), radius);
}

/// Where evenly spaced shares of a polygon lie.
std::vector<QPointF> spaced(const QPolygonF& line, int count) {
  std::vector<double> along{0};
  for (qsizetype i = 1; i < line.size(); ++i)
    along.push_back(along.back() + std::hypot(line[i].x() - line[i - 1].x(), line[i].y() - line[i - 1].y()));
  std::vector<QPointF> points;
  std::size_t at = 1;
  for (int i = 0; i < count; ++i) {
    const double wanted = along.back() * i / (count - 1);
    while (at + 1 < along.size() && along[at] < wanted)
      ++at;
    const double step = along[at] - along[at - 1];
    const double share = step > 0 ? (wanted - along[at - 1]) / step : 0;
    const auto index = static_cast<qsizetype>(at);
    points.push_back(line[index - 1] + share * (line[index] - line[index - 1]));
  }
  return points;
}

QPolygonF line_of(const way::Problem& problem, const way::Way& way, PictureSide side) {
  QPolygonF line;
  for (const build::Vector& point : centreline_of(problem, way))
    line << seen_from(side, point);
  return line;
}

/// The mean distance between any two of the ways at the same shares, plus a little for how far they spread.
double telling(const way::Problem& problem, const std::vector<way::Way>& ways, PictureSide side) {
  constexpr int count = 24;
  constexpr double for_spread = 0.1;
  std::vector<std::vector<QPointF>> all;
  QRectF box;
  for (const way::Way& way : ways) {
    const QPolygonF line = line_of(problem, way, side);
    box = box.united(line.boundingRect());
    all.push_back(spaced(line, count));
  }
  double apart = 0;
  int pairs = 0;
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t j = i + 1; j < all.size(); ++j, ++pairs)
      for (std::size_t k = 0; k < count; ++k)
        apart += std::hypot(all[i][k].x() - all[j][k].x(), all[i][k].y() - all[j][k].y()) / count;
  return (pairs > 0 ? apart / pairs : 0) + for_spread * std::min(box.width(), box.height());
}

} // namespace

QString picture_side_word(PictureSide side) {
  const auto tr = [](const char* text) { return QCoreApplication::translate("Routes", text); };
  switch (side) {
  case PictureSide::above:
    return tr("above");
  case PictureSide::right:
    return tr("right");
  case PictureSide::front:
    return tr("front");
  }
  return {};
}

QPointF seen_from(PictureSide side, const build::Vector& point_m) {
  switch (side) {
  case PictureSide::above:
    return {point_m[0], point_m[1]};
  case PictureSide::right:
    return {point_m[0], point_m[2]};
  case PictureSide::front:
    return {point_m[1], point_m[2]};
  }
  return {};
}

std::vector<build::Vector> centreline_of(const way::Problem& problem, const way::Way& way) {
  bay::Frame frame{problem.start.position_m, problem.start.direction, problem.reference};
  std::vector<build::Vector> points{frame.position_m};
  for (std::size_t i = 0; i < way.straights_m.size(); ++i) {
    frame = bay::advanced(frame, way.straights_m[i]);
    points.push_back(frame.position_m);
    if (i == way.turns.size())
      break;
    const way::Turn& turn = way.turns[i];
    const double radius_m = problem.bends.at(turn.bend).radius_m;
    const int steps = std::max(1, static_cast<int>(std::ceil(turn.angle_rad / arc_step_rad)));
    for (int step = 1; step < steps; ++step)
      points.push_back(
          bay::turned(frame, turn.angle_rad * step / steps, radius_m, turn.clocking_rad).position_m);
    frame = bay::turned(frame, turn.angle_rad, radius_m, turn.clocking_rad);
    points.push_back(frame.position_m);
  }
  return points;
}

QPolygonF outline_of(const way::KeepOut& keep_out, PictureSide side) {
  std::vector<QPointF> points;
  std::visit(
      [&](const auto& shape) {
        using Shape = std::decay_t<decltype(shape)>;
        if constexpr (std::is_same_v<Shape, build::Box>) {
          for (unsigned which = 0; which < 8; ++which) {
            build::Vector at = shape.centre_m;
            for (std::size_t axis = 0; axis < 3; ++axis)
              at = build::plus(at, (which >> axis & 1U ? 1 : -1) * shape.half_size_m[axis], shape.axes[axis]);
            points.push_back(seen_from(side, at));
          }
        } else if constexpr (std::is_same_v<Shape, build::Cylinder>) {
          const build::Vector axis = build::unit(build::minus(shape.to_m, shape.from_m));
          add_disc(points, side, shape.from_m, axis, shape.radius_m);
          add_disc(points, side, shape.to_m, axis, shape.radius_m);
        } else if constexpr (std::is_same_v<Shape, build::Sphere>) {
          add_ball(points, side, shape.centre_m, shape.radius_m);
        } else if constexpr (std::is_same_v<Shape, way::Pipe>) {
          add_ball(points, side, shape.from_m, shape.radius_from_m);
          add_ball(points, side, shape.to_m, shape.radius_to_m);
        } else if constexpr (std::is_same_v<Shape, build::HalfSpace>) {
          // Seen on edge it is a field; seen slantwise it would cover everything.
          constexpr double far_m = 20, on_edge = 0.2;
          const build::Vector normal = build::unit(shape.normal);
          if (std::abs(build::dot(normal, line_of_sight(side))) > on_edge)
            return;
          const QPointF n = seen_from(side, normal), at = seen_from(side, shape.point_m),
                        along = far_m * QPointF(-n.y(), n.x()), beyond = far_m * n;
          points = {at - along, at + along, at + along + beyond, at - along + beyond};
        }
      },
      keep_out.shape);
  return points.empty() ? QPolygonF() : hull(std::move(points));
}

PictureSide telling_side(const way::Problem& problem, const std::vector<way::Way>& ways,
                         std::optional<PictureSide> before) {
  constexpr double clearly = 1.3;
  PictureSide best = PictureSide::above;
  double most = -1;
  for (const PictureSide side : all_picture_sides)
    if (const double value = telling(problem, ways, side) * (side == before ? clearly : 1); value > most) {
      most = value;
      best = side;
    }
  return best;
}

RoutePictures::RoutePictures(const way::Problem& problem, const std::vector<way::Way>& ways, PictureSide side)
    : problem_(problem), side_(side) {
  for (const way::Way& way : ways) {
    lines_.push_back(line_of(problem, way, side));
    frame_ = frame_.united(lines_.back().boundingRect());
  }
  // Room for the tube, and for a little of what lies round.
  constexpr double share = 0.12;
  const double room = std::max(problem.start.outer_diameter_m, problem.end.outer_diameter_m) +
                      share * std::max(frame_.width(), frame_.height());
  frame_.adjust(-room, -room, room, room);
}

QImage RoutePictures::picture(std::size_t way, QSize size, double device_pixel_ratio,
                              const Theme& colours) const {
  QImage image((QSizeF(size) * device_pixel_ratio).toSize(), QImage::Format_RGB32);
  image.setDevicePixelRatio(device_pixel_ratio);
  image.fill(colours.background);
  QPainter painter(&image);
  painter.setRenderHint(QPainter::Antialiasing);
  const double scale = std::min(size.width() / frame_.width(), size.height() / frame_.height());
  const QPointF middle(size.width() / 2.0, size.height() / 2.0), centre = frame_.center();
  const auto to_picture = [&](const QPointF& seen) {
    return middle + QPointF(scale * (seen.x() - centre.x()), -scale * (seen.y() - centre.y()));
  };
  const auto all_to_picture = [&](const QPolygonF& seen) {
    QPolygonF line;
    for (const QPointF& point : seen)
      line << to_picture(point);
    return line;
  };

  QColor fill = colours.muted_text;
  constexpr float faint = 0.16F, dotted = 0.45F;
  for (const way::KeepOut& keep_out : problem_.keep_outs) {
    if (const auto* surface = std::get_if<way::Surface>(&keep_out.shape); surface && surface->scan) {
      fill.setAlphaF(dotted);
      painter.setPen(fill);
      const auto& points = surface->scan->for_display.points;
      const std::size_t step = points.size() / surface_dots + 1;
      for (std::size_t i = 0; i < points.size(); i += step)
        painter.drawPoint(to_picture(seen_from(side_, surface->placement.to_bay(points[i]))));
      continue;
    }
    fill.setAlphaF(faint);
    painter.setBrush(fill);
    painter.setPen(QPen(colours.line, 1));
    painter.drawPolygon(all_to_picture(outline_of(keep_out, side_)));
  }

  constexpr double least_px = 3;
  const double wide = std::max(least_px, scale * problem_.start.outer_diameter_m);
  const QPolygonF line = all_to_picture(lines_.at(way));
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(colours.panel, wide + 3, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin));
  painter.drawPolyline(line);
  painter.setPen(QPen(colours.accent, wide, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin));
  painter.drawPolyline(line);
  // Where it begins: a full disc; where it ends: a ring.
  const double end_px = std::max(least_px, wide / 2);
  painter.setPen(QPen(colours.text, 1.5));
  painter.setBrush(colours.text);
  painter.drawEllipse(line.first(), end_px * 0.6, end_px * 0.6);
  painter.setBrush(colours.panel);
  painter.drawEllipse(line.last(), end_px * 0.6, end_px * 0.6);

  painter.setFont(small_font());
  painter.setPen(colours.muted_text);
  painter.drawText(QRect(QPoint(0, 0), size).adjusted(4, 1, -4, -1), Qt::AlignLeft | Qt::AlignBottom,
                   picture_side_word(side_));
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(colours.line, 1));
  painter.drawRect(QRectF(0.5, 0.5, size.width() - 1, size.height() - 1));
  return image;
}

} // namespace bellmouth::ui
