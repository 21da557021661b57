// SPDX-License-Identifier: GPL-3.0-or-later
#include "piece_art.hpp"

#include "art_tools.hpp"

#include <QLinearGradient>
#include <QPainter>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <ranges>
#include <vector>

namespace bellmouth::ui {

namespace {

/// Sizes of details; drawn to scale, but never too small to be seen.
constexpr double bead_length_m = 4e-3, bead_height_m = 1.6e-3, bead_from_end_m = 6e-3;
constexpr double clamp_width_m = 12e-3;

struct WallPoint {
  double x_m, radius_m;
};

/// The wall above the centreline from inlet to outlet.
std::vector<WallPoint> wall(const build::Shape& shape) {
  const double length_m = build::full_length_m(shape);
  const double in_m = build::outer_diameter_in_m(shape) / 2, out_m = build::outer_diameter_out_m(shape) / 2;
  if (const auto* hump = std::get_if<build::HumpHose>(&shape)) {
    const double from_m = (hump->length_m - hump->hump_length_m) / 2,
                 top_m = hump->hump_bore_m / 2 + hump->wall_m;
    std::vector<WallPoint> points{{0, in_m}};
    constexpr int steps = 16;
    for (int i = 0; i <= steps; ++i) {
      const double share = static_cast<double>(i) / steps;
      points.push_back({from_m + share * hump->hump_length_m,
                        in_m + (top_m - in_m) * 0.5 * (1 - std::cos(2 * std::numbers::pi * share))});
    }
    points.push_back({length_m, out_m});
    return points;
  }
  if (const auto* reducer = std::get_if<build::HoseReducer>(&shape)) {
    const double land_in_m = std::clamp(reducer->engagement.in_m, 0.15 * length_m, 0.4 * length_m);
    const double land_out_m = std::clamp(reducer->engagement.out_m, 0.15 * length_m, 0.4 * length_m);
    return {{0, in_m}, {land_in_m, in_m}, {length_m - land_out_m, out_m}, {length_m, out_m}};
  }
  if (const auto* adapter = std::get_if<build::Adapter>(&shape)) {
    const double middle_m = adapter->length_m / 2, shoulder_m = std::max(in_m, out_m) + 2e-3;
    const double half_m = std::min(3e-3, adapter->length_m / 8);
    return {{0, in_m},
            {middle_m - half_m, in_m},
            {middle_m - half_m, shoulder_m},
            {middle_m + half_m, shoulder_m},
            {middle_m + half_m, out_m},
            {length_m, out_m}};
  }
  if (const auto* elbow = std::get_if<build::HoseElbow>(&shape)) {
    return {{0, in_m}, {elbow->leg_in_m, in_m}, {length_m - elbow->leg_out_m, out_m}, {length_m, out_m}};
  }
  return {{0, in_m}, {length_m, out_m}};
}

QColor fill_of(build::Material material, bool flexible, const Theme& colours) {
  const QColor base = flexible ? colours.hose : colours.rigid;
  switch (material) {
  case build::Material::mild_steel:
    return mixed(base, QColor(0x6e6a66), colours.look == Look::light ? 0.35 : 0.25);
  case build::Material::stainless_steel:
    return mixed(base, QColor(0xc8b89a), 0.25);
  case build::Material::rubber:
    return mixed(base, QColor(0x70757c), 0.6);
  case build::Material::plastic:
    return mixed(base, QColor(0x59616b), 0.45);
  case build::Material::aluminium:
  case build::Material::silicone:
    break;
  }
  return base;
}

/// Fill of something round: lighter a little above the centreline, darker towards the edges.
QBrush round_fill(const QColor& colour, double top_y, double bottom_y, const Theme& colours) {
  QLinearGradient gradient(0, top_y, 0, bottom_y);
  const bool light = colours.look == Look::light;
  gradient.setColorAt(0, mixed(colour, Qt::black, light ? 0.16 : 0.30));
  gradient.setColorAt(0.32, mixed(colour, Qt::white, light ? 0.45 : 0.16));
  gradient.setColorAt(0.6, colour);
  gradient.setColorAt(1, mixed(colour, Qt::black, light ? 0.22 : 0.38));
  return gradient;
}

void draw_bead(QPainter& painter, double x, double axis_y, double radius_px, double px_m) {
  const double length = std::max(bead_length_m * px_m, 2.5), height = std::max(bead_height_m * px_m, 1.6);
  const QRectF bead(x - length / 2, axis_y - radius_px - height, length, 2 * (radius_px + height));
  painter.drawRoundedRect(bead, length / 2, length / 2);
}

void draw_beads(QPainter& painter, const build::Shape& shape, const ArtPlace& place) {
  const auto beads = std::visit(
      [](const auto& s) {
        if constexpr (requires { s.beads; })
          return s.beads;
        else
          return build::Beads{};
      },
      shape);
  const double length_px = build::full_length_m(shape) * place.px_m;
  const double inset = std::min(bead_from_end_m * place.px_m, length_px / 4);
  if (beads.in)
    draw_bead(painter, place.inlet.x() + inset, place.inlet.y(),
              build::outer_diameter_in_m(shape) / 2 * place.px_m, place.px_m);
  if (beads.out)
    draw_bead(painter, place.inlet.x() + length_px - inset, place.inlet.y(),
              build::outer_diameter_out_m(shape) / 2 * place.px_m, place.px_m);
}

/// The bent part of a bend: lines that run together on the inside.
void draw_fan(QPainter& painter, double left, double right, double axis_y, double radius_px, int lines) {
  const double middle = (left + right) / 2;
  for (int i = 0; i < lines; ++i) {
    const double x = left + (right - left) * i / (lines - 1);
    painter.drawLine(QPointF(x, axis_y - radius_px),
                     QPointF(middle + (x - middle) * 0.3, axis_y + radius_px));
  }
}

void draw_marks(QPainter& painter, const build::TubeBend& bend, const ArtPlace& place) {
  const double left = place.inlet.x() + bend.leg_in_m * place.px_m;
  draw_fan(painter, left, left + bend.angle_rad * bend.radius_m * place.px_m, place.inlet.y(),
           bend.outer_diameter_m / 2 * place.px_m, 5);
}

void draw_marks(QPainter& painter, const build::MitredBend& bend, const ArtPlace& place) {
  const double cut_rad = bend.angle_rad / (2.0 * bend.joints);
  const double half_px = bend.radius_m * std::tan(cut_rad) * place.px_m;
  const double radius_px = bend.outer_diameter_m / 2 * place.px_m;
  const double slant = std::min(radius_px * std::tan(cut_rad), half_px);
  const double first = place.inlet.x() + bend.leg_in_m * place.px_m + half_px;
  for (int i = 0; i < bend.joints; ++i) {
    const double x = first + 2 * half_px * i, lean = i % 2 == 0 ? slant : -slant;
    painter.drawLine(QPointF(x - lean, place.inlet.y() - radius_px),
                     QPointF(x + lean, place.inlet.y() + radius_px));
  }
}

void draw_marks(QPainter& painter, const build::HoseElbow& elbow, const ArtPlace& place) {
  const double left = place.inlet.x() + elbow.leg_in_m * place.px_m;
  const double right = left + elbow.angle_rad * elbow.radius_m * place.px_m;
  const double radius_px = (std::min(elbow.bore_in_m, elbow.bore_out_m) / 2 + elbow.wall_m) * place.px_m;
  draw_fan(painter, left, right, place.inlet.y(), radius_px,
           elbow.pleated ? std::clamp(static_cast<int>((right - left) / 5), 5, 15) : 5);
}

void draw_marks(QPainter& painter, const build::HumpHose& hose, const ArtPlace& place) {
  const double middle = place.inlet.x() + hose.length_m / 2 * place.px_m;
  const double radius_px = (hose.hump_bore_m / 2 + hose.wall_m) * place.px_m;
  painter.drawLine(QPointF(middle, place.inlet.y() - radius_px),
                   QPointF(middle, place.inlet.y() + radius_px));
}

void draw_marks(QPainter& painter, const build::Adapter& adapter, const ArtPlace& place) {
  const double middle = place.inlet.x() + adapter.length_m / 2 * place.px_m;
  const double half = std::min(3e-3, adapter.length_m / 8) * place.px_m;
  const double radius_px =
      (std::max(adapter.outer_diameter_in_m, adapter.outer_diameter_out_m) / 2 + 2e-3) * place.px_m;
  for (const double x : {middle - half, middle + half})
    painter.drawLine(QPointF(x, place.inlet.y() - radius_px), QPointF(x, place.inlet.y() + radius_px));
}

template <class S> void draw_marks(QPainter&, const S&, const ArtPlace&) {}

/// Dashed lines of the bore where the wall is thick enough to tell them from the outline.
void draw_bore(QPainter& painter, const build::Shape& shape, const ArtPlace& place, const QColor& edge) {
  const double wall_px = build::wall_m(shape) * place.px_m;
  if (wall_px < 1.6)
    return;
  QColor faint = edge;
  faint.setAlphaF(0.45F);
  painter.setPen(QPen(faint, 0.8, Qt::DashLine));
  const auto points = wall(shape);
  for (const double side : {-1.0, 1.0}) {
    QPolygonF line;
    for (const auto& point : points)
      line << place.inlet + QPointF(point.x_m * place.px_m, side * (point.radius_m * place.px_m - wall_px));
    if (!std::holds_alternative<build::Adapter>(shape))
      painter.drawPolyline(line);
  }
}

/// Fittings sit on the side their clocking says: -1 on top, 1 below, between them on the face towards us.
double side_of(const build::Shape& fitting) {
  const double clocking_rad = std::visit(
      [](const auto& s) {
        if constexpr (requires { s.position_m; })
          return s.clocking_rad;
        else
          return 0.0;
      },
      fitting);
  return -std::cos(clocking_rad);
}

constexpr double boss_width_m = 20e-3, boss_height_m = 12e-3, flange_width_m = 46e-3, flange_height_m = 9e-3;

} // namespace

QPainterPath silhouette(const build::Shape& shape, const ArtPlace& place) {
  const auto points = wall(shape);
  QPolygonF outline;
  for (const auto& point : points)
    outline << place.inlet + QPointF(point.x_m, -point.radius_m) * place.px_m;
  for (const auto& point : points | std::views::reverse)
    outline << place.inlet + QPointF(point.x_m, point.radius_m) * place.px_m;
  QPainterPath path;
  path.addPolygon(outline);
  path.closeSubpath();
  return path;
}

void draw_piece(QPainter& painter, const build::Shape& shape, build::Material material, const ArtPlace& place,
                const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  const bool flexible = build::is_flexible(shape);
  const QColor edge = flexible ? colours.hose_edge : colours.rigid_edge;
  const QPainterPath outline = silhouette(shape, place);
  const QRectF box = outline.boundingRect();
  painter.setBrush(round_fill(fill_of(material, flexible, colours), box.top(), box.bottom(), colours));
  painter.setPen(edge_pen(edge));
  draw_beads(painter, shape, place);
  painter.drawPath(outline);
  draw_bore(painter, shape, place, edge);
  QColor mark = edge;
  mark.setAlphaF(0.75F);
  painter.setPen(edge_pen(mark, 1));
  painter.setClipPath(outline, Qt::IntersectClip);
  std::visit([&](const auto& s) { draw_marks(painter, s, place); }, shape);
  painter.restore();
}

QRectF fitting_box(const build::Shape& fitting, QPointF at, double host_diameter_m, double px_m) {
  const bool flange = std::holds_alternative<build::ValveFlange>(fitting);
  const double width = std::max((flange ? flange_width_m : boss_width_m) * px_m, flange ? 14.0 : 9.0);
  const double height = std::max((flange ? flange_height_m : boss_height_m) * px_m, 7.0);
  const double side = side_of(fitting), radius = host_diameter_m / 2 * px_m;
  if (std::abs(side) < 0.4) {
    const double across = std::min(width, 1.6 * radius);
    return QRectF(at.x() - across / 2, at.y() + side * radius - across / 2, across, across);
  }
  return side < 0 ? QRectF(at.x() - width / 2, at.y() - radius - height, width, height)
                  : QRectF(at.x() - width / 2, at.y() + radius, width, height);
}

void draw_fitting(QPainter& painter, const build::Shape& fitting, QPointF at, double host_diameter_m,
                  double px_m, const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(edge_pen(colours.fitting_edge));
  painter.setBrush(colours.fitting);
  const QRectF box = fitting_box(fitting, at, host_diameter_m, px_m);
  const double side = side_of(fitting);
  const bool flange = std::holds_alternative<build::ValveFlange>(fitting);
  if (std::abs(side) < 0.4) {
    painter.drawEllipse(box);
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(
        box.adjusted(box.width() * 0.27, box.height() * 0.27, -box.width() * 0.27, -box.height() * 0.27));
  } else if (flange) {
    const double plate = box.height() * 0.45;
    const QRectF top = side < 0 ? QRectF(box.left(), box.top(), box.width(), plate)
                                : QRectF(box.left(), box.bottom() - plate, box.width(), plate);
    painter.drawRect(box.adjusted(box.width() * 0.22, 0, -box.width() * 0.22, 0));
    painter.drawRoundedRect(top, 1.5, 1.5);
  } else {
    painter.drawRoundedRect(box, 1.5, 1.5);
    QColor thread = colours.fitting_edge;
    thread.setAlphaF(0.6F);
    painter.setPen(edge_pen(thread, 0.8));
    for (const double share : {0.3, 0.7})
      painter.drawLine(QPointF(box.left() + share * box.width(), box.top()),
                       QPointF(box.left() + share * box.width(), box.bottom()));
  }
  painter.restore();
}

void draw_clamp(QPainter& painter, QPointF centre, double diameter_px, double px_m, const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  const double width = std::max(clamp_width_m * px_m, 3.0), over = 1.5;
  const QRectF band(centre.x() - width / 2, centre.y() - diameter_px / 2 - over, width,
                    diameter_px + 2 * over);
  painter.setPen(edge_pen(colours.rigid_edge, 0.9));
  painter.setBrush(round_fill(mixed(colours.rigid, colours.panel, 0.35), band.top(), band.bottom(), colours));
  painter.drawRoundedRect(band, 1, 1);
  const double screw = std::max(width * 0.7, 3.0);
  painter.drawRoundedRect(QRectF(centre.x() - screw / 2, band.top() - screw * 0.7, screw, screw * 0.7), 1, 1);
  painter.restore();
}

void draw_hidden_spigot(QPainter& painter, const QRectF& spigot, const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setBrush(Qt::NoBrush);
  QColor dash = colours.on_piece;
  dash.setAlphaF(0.55F);
  painter.setPen(QPen(dash, 0.9, Qt::CustomDashLine, Qt::FlatCap));
  QPen pen = painter.pen();
  pen.setDashPattern({3, 2});
  painter.setPen(pen);
  painter.drawRect(spigot);
  painter.restore();
}

void draw_angle_mark(QPainter& painter, QPointF centre, double size_px, double angle_rad,
                     const QColor& colour) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(edge_pen(colour, 1.5));
  painter.setBrush(Qt::NoBrush);
  // A leg, an arc of the true angle turning down, a leg; then centred.
  const double leg = 0.28 * size_px, radius = 0.42 * size_px;
  QPainterPath path(QPointF(0, 0));
  path.lineTo(leg, 0);
  const double degrees = angle_rad * 180 / std::numbers::pi;
  path.arcTo(QRectF(leg - radius, 0, 2 * radius, 2 * radius), 90, -degrees);
  path.lineTo(path.currentPosition() + QPointF(std::cos(angle_rad), std::sin(angle_rad)) * leg);
  painter.translate(centre - path.boundingRect().center());
  painter.drawPath(path);
  painter.restore();
}

void draw_spigot(QPainter& painter, const QRectF& spigot, bool beaded, bool faces_right,
                 const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(edge_pen(colours.machine_edge));
  painter.setBrush(round_fill(colours.machine, spigot.top(), spigot.bottom(), colours));
  if (beaded) {
    const double inset = std::min(4.0, spigot.width() / 3);
    draw_bead(painter, faces_right ? spigot.right() - inset : spigot.left() + inset, spigot.center().y(),
              spigot.height() / 2, 0);
  }
  painter.drawRect(spigot);
  painter.restore();
}

} // namespace bellmouth::ui
