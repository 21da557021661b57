// SPDX-License-Identifier: GPL-3.0-or-later
#include "badge.hpp"

#include <QPainter>
#include <QPolygonF>

#include <cmath>
#include <numbers>

namespace bellmouth::ui {

QColor severity_colour(check::Severity severity, const Theme& colours) {
  switch (severity) {
  case check::Severity::stop:
    return colours.stop;
  case check::Severity::caution:
    return colours.caution;
  case check::Severity::note:
    break;
  }
  return colours.accent;
}

void draw_badge(QPainter& painter, const QRectF& box, check::Severity severity, const Theme& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  const QPointF centre = box.center();
  const double radius = std::min(box.width(), box.height()) / 2;
  // A rim in the ground's colour keeps the sign apart from what it lies on.
  painter.setPen(QPen(colours.panel, 1.5));
  painter.setBrush(severity_colour(severity, colours));
  QPointF sign = centre;
  switch (severity) {
  case check::Severity::stop: {
    QPolygonF octagon;
    for (int i = 0; i < 8; ++i) {
      const double angle = std::numbers::pi * (2 * i + 1) / 8;
      octagon << centre + QPointF(std::cos(angle), std::sin(angle)) * radius;
    }
    painter.drawPolygon(octagon);
    break;
  }
  case check::Severity::caution:
    painter.drawPolygon(QPolygonF{centre + QPointF(0, -radius), centre + QPointF(radius, radius * 0.85),
                                  centre + QPointF(-radius, radius * 0.85)});
    sign.ry() += radius * 0.22;
    break;
  case check::Severity::note:
    painter.drawEllipse(centre, radius * 0.92, radius * 0.92);
    break;
  }
  const double half = radius * (severity == check::Severity::caution ? 0.42 : 0.5);
  painter.setPen(QPen(colours.panel, std::max(1.4, radius * 0.24), Qt::SolidLine, Qt::RoundCap));
  if (severity == check::Severity::note) {
    painter.drawLine(sign + QPointF(0, -half * 0.2), sign + QPointF(0, half));
    painter.drawPoint(sign + QPointF(0, -half));
  } else {
    painter.drawLine(sign + QPointF(0, -half), sign + QPointF(0, half * 0.3));
    painter.drawPoint(sign + QPointF(0, half));
  }
  painter.restore();
}

} // namespace bellmouth::ui
