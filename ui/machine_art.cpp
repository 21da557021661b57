// SPDX-License-Identifier: GPL-3.0-or-later
// The symbols of machines: a block with the sign that drawings of such plant use for its working part.
#include "piece_art.hpp"

#include <QPainter>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::ui {

namespace {

constexpr double pi = std::numbers::pi;

/// Symbols are drawn into a square from (-1, -1) to (1, 1), y down.
void draw_symbol(QPainter& painter, const machine::Filter&) {
  QPolygonF pleats;
  constexpr int folds = 6;
  for (int i = 0; i <= folds * 2; ++i)
    pleats << QPointF(i % 2 == 0 ? -0.45 : 0.45, -0.9 + 1.8 * i / (folds * 2));
  painter.drawPolyline(pleats);
  painter.drawLine(QPointF(-0.62, -0.95), QPointF(-0.62, 0.95));
  painter.drawLine(QPointF(0.62, -0.95), QPointF(0.62, 0.95));
}

void draw_symbol(QPainter& painter, const machine::MeterBody&) {
  painter.drawEllipse(QPointF(0, 0), 0.85, 0.85);
  painter.drawLine(QPointF(0, 0.3), QPointF(0.45, -0.45));
  painter.drawEllipse(QPointF(0, 0.3), 0.08, 0.08);
  for (const double angle : {-0.75, -0.5, -0.25})
    painter.drawLine(QPointF(std::cos(angle * pi), std::sin(angle * pi)) * 0.62,
                     QPointF(std::cos(angle * pi), std::sin(angle * pi)) * 0.85);
}

/// A rotor of two lobes: a waisted oval.
QPainterPath lobe_rotor(QPointF centre, double half_length, bool upright) {
  QPainterPath path;
  constexpr int steps = 48;
  for (int i = 0; i <= steps; ++i) {
    const double angle = 2 * pi * i / steps;
    const double radius = half_length * (0.68 + 0.32 * std::cos(2 * angle));
    const QPointF along(radius * std::cos(angle), radius * std::sin(angle));
    const QPointF point = centre + (upright ? QPointF(along.y(), along.x()) : along);
    i == 0 ? path.moveTo(point) : path.lineTo(point);
  }
  return path;
}

void draw_symbol(QPainter& painter, const machine::DisplacementBlower&) {
  QPainterPath casing;
  casing.addRoundedRect(QRectF(-0.62, -1.0, 1.24, 2.0), 0.62, 0.62);
  painter.drawPath(casing);
  painter.drawPath(lobe_rotor({0, -0.41}, 0.55, false));
  painter.drawPath(lobe_rotor({0, 0.41}, 0.55, true));
}

void draw_wheel(QPainter& painter) {
  painter.drawEllipse(QPointF(0, 0), 0.9, 0.9);
  painter.drawEllipse(QPointF(0, 0), 0.2, 0.2);
  constexpr int blades = 8;
  for (int i = 0; i < blades; ++i) {
    const double from = 2 * pi * i / blades, to = from + 0.9;
    QPainterPath blade(QPointF(std::cos(from), std::sin(from)) * 0.2);
    blade.quadTo(QPointF(std::cos(from), std::sin(from)) * 0.6, QPointF(std::cos(to), std::sin(to)) * 0.9);
    painter.drawPath(blade);
  }
}

void draw_symbol(QPainter& painter, const machine::TargetCompressor&) {
  draw_wheel(painter);
}
void draw_symbol(QPainter& painter, const machine::GearedCompressor&) {
  draw_wheel(painter);
}

void draw_symbol(QPainter& painter, const machine::ChargeCooler&) {
  painter.drawRect(QRectF(-0.9, -0.9, 1.8, 1.8));
  for (const double y : {-0.45, 0.0, 0.45})
    painter.drawLine(QPointF(-0.9, y), QPointF(0.9, y));
  constexpr int fins = 6;
  for (int row = 0; row < 4; ++row) {
    QPolygonF fin;
    const double top = -0.9 + 0.45 * row;
    for (int i = 0; i <= fins * 2; ++i)
      fin << QPointF(-0.9 + 1.8 * i / (fins * 2), top + (i % 2 == 0 ? 0.04 : 0.41));
    painter.drawPolyline(fin);
  }
}

void draw_symbol(QPainter& painter, const machine::Throttle&) {
  painter.drawLine(QPointF(-1, -0.72), QPointF(1, -0.72));
  painter.drawLine(QPointF(-1, 0.72), QPointF(1, 0.72));
  painter.drawLine(QPointF(-0.42, 0.58), QPointF(0.42, -0.58));
  painter.setBrush(painter.pen().color());
  painter.drawEllipse(QPointF(0, 0), 0.13, 0.13);
}

void draw_symbol(QPainter& painter, const machine::Engine&) {
  painter.drawPolyline(QPolygonF{{-0.5, 0.1}, {-0.5, -0.95}, {0.5, -0.95}, {0.5, 0.1}});
  painter.drawRect(QRectF(-0.42, -0.6, 0.84, 0.42));
  painter.drawEllipse(QPointF(0, 0.55), 0.4, 0.4);
  painter.drawLine(QPointF(0, -0.4), QPointF(0.26, 0.3));
  painter.setBrush(painter.pen().color());
  painter.drawEllipse(QPointF(0.26, 0.3), 0.09, 0.09);
  painter.drawEllipse(QPointF(0, 0.55), 0.06, 0.06);
}

void draw_symbol(QPainter& painter, const build::FixedFlow&) {
  painter.drawEllipse(QPointF(0, 0), 0.9, 0.9);
  painter.drawLine(QPointF(-0.5, 0), QPointF(0.5, 0));
  painter.drawPolyline(QPolygonF{{0.15, -0.3}, {0.5, 0}, {0.15, 0.3}});
}

template <class Kind>
void draw_block(QPainter& painter, const Kind& kind, const QRectF& block, const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(colours.machine_edge, 1.3));
  painter.setBrush(colours.machine);
  painter.drawRoundedRect(block, 5, 5);
  const double half = 0.36 * std::min(block.width(), block.height());
  painter.translate(block.center());
  painter.scale(half, half);
  painter.setPen(QPen(colours.on_piece, 1.5 / half, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.setBrush(Qt::NoBrush);
  draw_symbol(painter, kind);
  painter.restore();
}

} // namespace

void draw_machine(QPainter& painter, const build::MachineKind& kind, const QRectF& block,
                  const Theme& colours) {
  std::visit([&](const auto& machine) { draw_block(painter, machine, block, colours); }, kind);
}

void draw_demand(QPainter& painter, const build::Demand& demand, const QRectF& block, const Theme& colours) {
  std::visit([&](const auto& what) { draw_block(painter, what, block, colours); }, demand);
}

void draw_open_inlet(QPainter& painter, const build::OpenInlet& inlet, const QRectF& box,
                     const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(colours.machine_edge, 1.6, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.setBrush(Qt::NoBrush);
  const double flare = std::min(box.width(), box.height() * 0.2);
  for (const double side : {-1.0, 1.0}) {
    const double wall_y = box.center().y() + side * (box.height() / 2 - flare),
                 far_y = box.center().y() + side * box.height() / 2;
    QPainterPath lip(QPointF(box.right(), wall_y));
    switch (inlet.kind) {
    case build::OpenInlet::Kind::bellmouth:
      lip.lineTo(box.right() - box.width() * 0.3, wall_y);
      lip.quadTo(QPointF(box.left(), wall_y), QPointF(box.left(), far_y));
      break;
    case build::OpenInlet::Kind::flush:
      lip.lineTo(box.left() + box.width() * 0.3, wall_y);
      lip.lineTo(box.left() + box.width() * 0.3, far_y);
      break;
    case build::OpenInlet::Kind::projecting:
      lip.lineTo(box.left(), wall_y);
      break;
    }
    painter.drawPath(lip);
  }
  painter.restore();
}

} // namespace bellmouth::ui
