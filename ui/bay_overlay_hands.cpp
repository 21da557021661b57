// SPDX-License-Identifier: GPL-3.0-or-later
// What is drawn for the hand: grips, the measured line, where a dropped piece goes.
#include "bay_overlay.hpp"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

constexpr double grip_px = 6;

QPolygonF seen_line(const std::vector<build::Vector>& points_m, const BayLookout& lookout) {
  QPolygonF line;
  for (const build::Vector& point : points_m) {
    const scene::Projected at = lookout.camera.project(point, lookout.viewport);
    if (!lookout.camera.perspective || at.depth_m > 0)
      line << at.pixel;
  }
  return line;
}

/// A line that stays readable on whatever is behind it.
void draw_haloed(QPainter& painter, const QPolygonF& line, const QColor& ink, double width,
                 const Theme& colours) {
  QColor halo = colours.panel;
  halo.setAlphaF(0.7F);
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(halo, width + 2.4, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawPolyline(line);
  painter.setPen(QPen(ink, width, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawPolyline(line);
}

/// A double arrow along the way a grip slides; a ball where that points into the picture.
void draw_grip(QPainter& painter, const BayGrip& grip, const BayLookout& lookout, bool active,
               const Theme& colours) {
  const scene::Projected at = lookout.camera.project(grip.place_m, lookout.viewport);
  if (lookout.camera.perspective && at.depth_m <= 0)
    return;
  const double bit = is_angle(grip.which) ? 0.02 : 0.005;
  const QPointF ahead = lookout.camera.project(grip.at(grip.value + bit), lookout.viewport).pixel;
  const QPointF way = ahead - at.pixel;
  const double length = std::hypot(way.x(), way.y());
  const double size = active ? grip_px + 2 : grip_px;
  painter.setPen(QPen(colours.panel, 1.5));
  painter.setBrush(active ? colours.accent.lighter(115) : colours.accent);
  if (length < 0.3 || is_angle(grip.which)) {
    painter.drawEllipse(at.pixel, size, size);
  } else {
    const QPointF u = way / length, v(-u.y(), u.x());
    const double l = size * 1.9, w = size;
    painter.drawPolygon(QPolygonF{
        at.pixel + u * l, at.pixel + u * (l * 0.3) + v * w, at.pixel + u * (l * 0.3) + v * (w * 0.4),
        at.pixel - u * (l * 0.3) + v * (w * 0.4), at.pixel - u * (l * 0.3) + v * w, at.pixel - u * l,
        at.pixel - u * (l * 0.3) - v * w, at.pixel - u * (l * 0.3) - v * (w * 0.4),
        at.pixel + u * (l * 0.3) - v * (w * 0.4), at.pixel + u * (l * 0.3) - v * w});
  }
}

} // namespace

QRectF paint_plate(QPainter& painter, const QString& text, QPointF middle, const QRectF& pane,
                   const QColor& ink, const Theme& colours) {
  const QFontMetricsF metrics(painter.font());
  const QSizeF size(metrics.horizontalAdvance(text) + 10, metrics.height() + 4);
  QRectF box(QPointF(0, 0), size);
  box.moveCenter(middle);
  box.moveLeft(
      std::clamp(box.left(), pane.left() + 2, std::max(pane.left() + 2, pane.right() - size.width() - 2)));
  box.moveTop(
      std::clamp(box.top(), pane.top() + 2, std::max(pane.top() + 2, pane.bottom() - size.height() - 2)));
  painter.setBrush(colours.panel);
  painter.setPen(QPen(ink, 1));
  painter.drawRoundedRect(box, 3, 3);
  painter.drawText(box, Qt::AlignCenter, text);
  return box;
}

void paint_grips(QPainter& painter, const std::vector<BayGrip>& grips, std::optional<std::size_t> active,
                 const QString& words, bool refused, const BayLookout& lookout, const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setFont(small_font());
  for (std::size_t i = 0; i < grips.size(); ++i) {
    QColor ink = colours.accent;
    ink.setAlphaF(active == i ? 1.0F : 0.65F);
    draw_haloed(painter, seen_line(grips[i].guide, lookout), ink, active == i ? 2.0 : 1.3, colours);
  }
  for (std::size_t i = 0; i < grips.size(); ++i)
    draw_grip(painter, grips[i], lookout, active == i, colours);
  if (active && !words.isEmpty()) {
    const QPointF at = lookout.camera.project(grips[*active].place_m, lookout.viewport).pixel;
    paint_plate(painter, words, at + QPointF(0, -26), QRectF(QPointF(0, 0), lookout.viewport),
                refused ? colours.stop : colours.text, colours);
  }
  painter.restore();
}

void paint_measure(QPainter& painter, const std::vector<build::Vector>& points_m, const BayLookout& lookout,
                   const Theme& colours) {
  if (points_m.empty())
    return;
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setFont(small_font());
  const QPolygonF line = seen_line(points_m, lookout);
  draw_haloed(painter, line, colours.text, 1.6, colours);
  painter.setBrush(colours.text);
  painter.setPen(QPen(colours.panel, 1));
  for (const QPointF& end : line)
    painter.drawEllipse(end, 3.5, 3.5);
  if (points_m.size() == 2 && line.size() == 2)
    paint_plate(painter, distance_words(points_m[0], points_m[1]), (line[0] + line[1]) / 2 + QPointF(0, -18),
                QRectF(QPointF(0, 0), lookout.viewport), colours.text, colours);
  painter.restore();
}

void paint_drop(QPainter& painter, QPointF at, const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  QColor ground = colours.accent;
  ground.setAlphaF(0.25F);
  painter.setBrush(ground);
  painter.setPen(QPen(colours.accent, 2));
  painter.drawEllipse(at, 13, 13);
  painter.drawLine(at - QPointF(6, 0), at + QPointF(6, 0));
  painter.drawLine(at - QPointF(0, 6), at + QPointF(0, 6));
  painter.restore();
}

} // namespace bellmouth::ui
