// SPDX-License-Identifier: GPL-3.0-or-later
#include "keep_out_outline.hpp"

#include <QPainter>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::ui {

namespace {

using build::Vector;

Vector plus(const Vector& a, const Vector& b, double times = 1) {
  return {a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]};
}
Vector cross(const Vector& a, const Vector& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
Vector unit(const Vector& a) {
  const double length = std::hypot(a[0], a[1], a[2]);
  return {a[0] / length, a[1] / length, a[2] / length};
}

constexpr int round_steps = 36;

std::vector<Vector> points_of(const build::Box& box) {
  std::vector<Vector> points;
  for (const double x : {-1.0, 1.0})
    for (const double y : {-1.0, 1.0})
      for (const double z : {-1.0, 1.0})
        points.push_back(plus(plus(plus(box.centre_m, box.axes[0], x * box.half_size_m[0]), box.axes[1],
                                   y * box.half_size_m[1]),
                              box.axes[2], z * box.half_size_m[2]));
  return points;
}

std::vector<Vector> points_of(const build::Cylinder& cylinder) {
  const Vector along = unit(plus(cylinder.to_m, cylinder.from_m, -1));
  const Vector side = unit(cross(along, std::abs(along[2]) < 0.9 ? Vector{0, 0, 1} : Vector{1, 0, 0}));
  const Vector other = cross(along, side);
  std::vector<Vector> points;
  for (int i = 0; i < round_steps; ++i) {
    const double angle = 2 * std::numbers::pi * i / round_steps;
    for (const Vector& end : {cylinder.from_m, cylinder.to_m})
      points.push_back(plus(plus(end, side, cylinder.radius_m * std::cos(angle)), other,
                            cylinder.radius_m * std::sin(angle)));
  }
  return points;
}

std::vector<Vector> points_of(const build::Sphere& sphere) {
  std::vector<Vector> points;
  for (int i = 0; i < round_steps; ++i) {
    const double angle = 2 * std::numbers::pi * i / round_steps;
    const double c = sphere.radius_m * std::cos(angle), s = sphere.radius_m * std::sin(angle);
    points.push_back(plus(sphere.centre_m, {c, s, 0}));
    points.push_back(plus(sphere.centre_m, {c, 0, s}));
  }
  return points;
}

std::vector<Vector> points_of(const build::HalfSpace&) {
  return {};
}

std::vector<Vector> points_of(const build::Scan& scan) {
  if (!scan.loaded)
    return {};
  const auto placement = scan.placement();
  std::vector<Vector> points;
  points.reserve(scan.loaded->for_display.points.size());
  for (const Vector& point : scan.loaded->for_display.points)
    points.push_back(placement.to_bay(point));
  return points;
}

/// Convex hull (monotone chain).
QPolygonF hull(std::vector<QPointF> points) {
  std::ranges::sort(points, [](const QPointF& a, const QPointF& b) {
    return a.x() < b.x() || (a.x() == b.x() && a.y() < b.y());
  });
  const auto turn = [](const QPointF& a, const QPointF& b, const QPointF& c) {
    return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
  };
  const auto half = [&](auto begin, auto end) {
    QPolygonF chain;
    for (auto point = begin; point != end; ++point) {
      while (chain.size() >= 2 && turn(chain[chain.size() - 2], chain.back(), *point) <= 0)
        chain.removeLast();
      chain << *point;
    }
    chain.removeLast();
    return chain;
  };
  if (points.size() < 3)
    return {};
  return half(points.begin(), points.end()) + half(points.rbegin(), points.rend());
}

QPen pen_of(build::KeepOutClass keep_out_class, const Theme& colours) {
  switch (keep_out_class) {
  case build::KeepOutClass::hot:
    return {colours.stop, 1.4, Qt::DashDotLine};
  case build::KeepOutClass::moving:
    return {colours.caution, 1.4, Qt::DashLine};
  case build::KeepOutClass::fixed:
    break;
  }
  return {colours.muted_text, 1.2, Qt::SolidLine};
}

QString words(const build::KeepOut& keep_out) {
  QString name = QString::fromStdString(keep_out.name);
  switch (keep_out.keep_out_class) {
  case build::KeepOutClass::hot:
    return name + " (hot)";
  case build::KeepOutClass::moving:
    return name + " (moving)";
  case build::KeepOutClass::fixed:
    break;
  }
  return name;
}

/// The plane of a half-space where it is seen nearly edge on.
std::optional<QLineF> edge_line(const build::HalfSpace& half, const BayPane& pane) {
  const std::size_t depth = pane.side == BaySide::above ? 2 : 1;
  if (std::abs(half.normal[depth]) > 0.3)
    return std::nullopt;
  const QPointF at = pane.project(half.point_m), normal = pane.project_direction(half.normal);
  const QPointF along = QPointF(-normal.y(), normal.x()) *
                        (pane.box.width() + pane.box.height() + std::abs(at.x()) + std::abs(at.y()));
  return QLineF(at - along, at + along);
}

void draw_half_space(QPainter& painter, const build::HalfSpace& half, const BayPane& pane) {
  const auto line = edge_line(half, pane);
  if (!line)
    return;
  painter.drawLine(*line);
  const QPointF out = pane.project_direction(half.normal);
  const QColor colour = painter.pen().color();
  painter.setPen(QPen(colour, 0.8));
  // Hatching on the side to stay out of.
  const QPointF along = (line->p2() - line->p1()) / line->length();
  constexpr double apart_px = 9;
  const int strokes = static_cast<int>(std::ceil(line->length() / apart_px));
  for (int stroke = 0; stroke < strokes; ++stroke) {
    const QPointF foot = line->p1() + along * (stroke * apart_px);
    if (pane.box.adjusted(-12, -12, 12, 12).contains(foot))
      painter.drawLine(foot, foot + (out + along) * 6);
  }
}

QPolygonF outline_of(const build::KeepOut& keep_out, const BayPane& pane) {
  std::vector<QPointF> points;
  for (const Vector& point : outline_points(keep_out))
    points.push_back(pane.project(point));
  return hull(std::move(points));
}

} // namespace

std::vector<Vector> outline_points(const build::KeepOut& keep_out) {
  return std::visit([](const auto& shape) { return points_of(shape); }, keep_out.shape);
}

void draw_keep_out(QPainter& painter, const build::KeepOut& keep_out, const BayPane& pane,
                   const Theme& colours) {
  painter.setPen(pen_of(keep_out.keep_out_class, colours));
  if (const auto* half = std::get_if<build::HalfSpace>(&keep_out.shape)) {
    draw_half_space(painter, *half, pane);
    return;
  }
  QColor wash = painter.pen().color();
  wash.setAlphaF(0.08F);
  painter.setBrush(wash);
  painter.drawPolygon(outline_of(keep_out, pane));
}

BayLabel keep_out_label(const build::KeepOut& keep_out, const BayPane& pane, const QFontMetricsF& metrics) {
  BayLabel label{words(keep_out), {}};
  QRectF box(0, 0, metrics.horizontalAdvance(label.text) + 6, metrics.height());
  const auto at = [&](QPointF centre) {
    box.moveCenter(centre);
    label.places.push_back(box);
  };
  if (const auto* half = std::get_if<build::HalfSpace>(&keep_out.shape)) {
    const auto line = edge_line(*half, pane);
    if (!line)
      return label;
    const QPointF off = pane.project_direction(half->normal) * 16;
    const QRectF within = pane.box.adjusted(8, 30, -8, -60);
    for (const double along_px : {0.0, -120.0, 120.0, -240.0, 240.0}) {
      box.moveCenter(pane.project(half->point_m) + off +
                     (line->p2() - line->p1()) / line->length() * along_px);
      box.moveLeft(
          std::clamp(box.left(), within.left(), std::max(within.left(), within.right() - box.width())));
      box.moveTop(
          std::clamp(box.top(), within.top(), std::max(within.top(), within.bottom() - box.height())));
      label.places.push_back(box);
    }
    return label;
  }
  const QRectF outline = outline_of(keep_out, pane).boundingRect();
  const double line = metrics.height(), beside = outline.width() / 2 + box.width() / 2 + 4;
  at({outline.center().x(), outline.bottom() - line});
  at(outline.center());
  at({outline.center().x(), outline.top() + line});
  at({outline.center().x(), outline.bottom() + line / 2 + 2});
  at({outline.center().x(), outline.top() - line / 2 - 2});
  at(outline.center() + QPointF(beside, 0));
  at(outline.center() - QPointF(beside, 0));
  return label;
}

QString keep_out_at(const build::Build& build, const BayPane& pane, QPointF point) {
  const auto found = std::ranges::find_if(build.keep_outs, [&](const build::KeepOut& keep_out) {
    return outline_of(keep_out, pane).containsPoint(point, Qt::OddEvenFill);
  });
  return found == build.keep_outs.end() ? QString() : words(*found);
}

} // namespace bellmouth::ui
