// SPDX-License-Identifier: GPL-3.0-or-later
// Each kind of piece as an icon.
#include "art_tools.hpp"
#include "piece_art.hpp"

#include <QPainter>
#include <QTransform>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace bellmouth::ui {

build::Shape sample_shape(std::size_t index) {
  using namespace build;
  constexpr double right_angle = std::numbers::pi / 2;
  const std::array<Shape, std::variant_size_v<Shape>> samples{
      Tube{.060, .002, .13, {true, true}},
      TubeBend{.060, .002, right_angle, .070, .025, .025, 0, {true, true}},
      MitredBend{.060, .002, right_angle, .075, 3, .025, .025, 0, {true, true}},
      Cone{.045, .070, .002, .12, {true, true}},
      Adapter{.050, .066, .046, .062, .10, {true, true}},
      Hose{.060, .005, .11, {.035, .035}},
      HumpHose{.056, .005, .12, .040, .078, {.035, .035}},
      HoseElbow{.056, .056, .005, right_angle, .060, .040, .040, 0, false, {.035, .035}},
      HoseReducer{.044, .066, .005, .12, {.035, .035}},
      SensorBoss{.050, 0, "M10x1"},
      ValveFlange{.050, 0, .030}};
  return samples.at(index);
}

namespace {

void draw_straight_sample(QPainter& painter, const build::Shape& shape, const QRectF& box,
                          const Theme& colours) {
  const bool fitting = build::is_fitting(shape);
  const build::Shape body = fitting ? build::Shape(build::Tube{.050, .002, .11, {}}) : shape;
  const double length_m = build::full_length_m(body);
  const double px_m = std::min(box.width() / (length_m + 0.004), box.height() / 0.096);
  const ArtPlace place{
      {box.center().x() - length_m / 2 * px_m, box.center().y() + (fitting ? 0.004 * px_m : 0)}, px_m};
  draw_piece(painter, body, build::is_flexible(body) ? build::Material::silicone : build::Material::aluminium,
             place, colours);
  if (fitting) {
    draw_fitting(painter, shape, place.inlet + QPointF(length_m / 2 * px_m, 0),
                 build::outer_diameter_in_m(body), px_m, colours);
  } else if (build::is_flexible(shape)) {
    const double inset = 0.018 * px_m;
    draw_clamp(painter, place.inlet + QPointF(inset, 0), build::outer_diameter_in_m(shape) * px_m, px_m * 0.6,
               colours);
    draw_clamp(painter, place.inlet + QPointF(length_m * px_m - inset, 0),
               build::outer_diameter_out_m(shape) * px_m, px_m * 0.6, colours);
  }
}

/// The centreline of a bend as it really is: leg, arc (or its chords) turning down, leg.
QPainterPath bent_line(double leg_in, double radius, double angle_rad, double leg_out, int mitres) {
  QPainterPath path(QPointF(0, 0));
  path.lineTo(leg_in, 0);
  if (mitres > 0) {
    // The corners of a mitred bend lie outside its arc.
    const double cut = angle_rad / (2 * mitres), half = radius * std::tan(cut);
    double heading = 0;
    QPointF at(leg_in, 0);
    for (int i = 0; i < mitres; ++i) {
      at += QPointF(std::cos(heading), std::sin(heading)) * half;
      path.lineTo(at);
      heading += 2 * cut;
      at += QPointF(std::cos(heading), std::sin(heading)) * half;
    }
    path.lineTo(at + QPointF(std::cos(heading), std::sin(heading)) * leg_out);
    return path;
  }
  path.arcTo(QRectF(leg_in - radius, 0, 2 * radius, 2 * radius), 90, -angle_rad * 180 / std::numbers::pi);
  path.lineTo(path.currentPosition() + QPointF(std::cos(angle_rad), std::sin(angle_rad)) * leg_out);
  return path;
}

QPainterPath thickened(const QPainterPath& line, double width, Qt::PenJoinStyle join) {
  QPainterPathStroker stroker;
  stroker.setWidth(width);
  stroker.setCapStyle(Qt::FlatCap);
  stroker.setJoinStyle(join);
  stroker.setCurveThreshold(0.01);
  return stroker.createStroke(line).simplified();
}

/// Bends are drawn bent: that is how they are told apart in a list.
void draw_bent_sample(QPainter& painter, const QPainterPath& line_m, double diameter_m, bool flexible,
                      bool mitred, const QRectF& box, const Theme& colours) {
  const QRectF size_m = thickened(line_m, diameter_m, Qt::MiterJoin).boundingRect();
  const double px_m = std::min(box.width() / size_m.width(), box.height() / size_m.height()) * 0.96;
  QTransform to_px;
  to_px.translate(box.center().x(), box.center().y());
  to_px.scale(px_m, px_m);
  to_px.translate(-size_m.center().x(), -size_m.center().y());
  const QPainterPath line = to_px.map(line_m);
  const double diameter = diameter_m * px_m;
  const QColor edge = flexible ? colours.hose_edge : colours.rigid_edge;
  const QColor fill = flexible ? colours.hose : colours.rigid;
  const QPainterPath body = thickened(line, diameter, mitred ? Qt::MiterJoin : Qt::RoundJoin);
  painter.setPen(edge_pen(edge));
  painter.setBrush(fill);
  painter.drawPath(body);
  painter.setPen(Qt::NoPen);
  painter.setBrush(mixed(fill, Qt::white, colours.look == Look::light ? 0.45 : 0.16));
  painter.drawPath(thickened(line, diameter * 0.3, mitred ? Qt::MiterJoin : Qt::RoundJoin));
  painter.setPen(edge_pen(edge, 1));
  if (mitred) {
    for (int i = 2; i < line.elementCount() - 1; ++i) {
      const QPointF at = line.elementAt(i), before = line.elementAt(i - 1), after = line.elementAt(i + 1);
      const QPointF in = (at - before) / std::hypot(at.x() - before.x(), at.y() - before.y());
      const QPointF out = (after - at) / std::hypot(after.x() - at.x(), after.y() - at.y());
      const QPointF along = in + out,
                    across = QPointF(-along.y(), along.x()) / std::hypot(along.x(), along.y());
      painter.drawLine(at - across * diameter * 0.5, at + across * diameter * 0.5);
    }
  }
  if (flexible) {
    for (const double share : {0.14, 0.86}) {
      const double angle = line.angleAtPercent(share);
      painter.save();
      painter.translate(line.pointAtPercent(share));
      painter.rotate(-angle);
      draw_clamp(painter, {0, 0}, diameter, px_m * 0.6, colours);
      painter.restore();
    }
  }
}

bool draw_if_bent(QPainter& painter, const build::Shape& shape, const QRectF& box, const Theme& colours) {
  if (const auto* bend = std::get_if<build::TubeBend>(&shape))
    draw_bent_sample(painter, bent_line(bend->leg_in_m, bend->radius_m, bend->angle_rad, bend->leg_out_m, 0),
                     bend->outer_diameter_m, false, false, box, colours);
  else if (const auto* mitred = std::get_if<build::MitredBend>(&shape))
    draw_bent_sample(
        painter,
        bent_line(mitred->leg_in_m, mitred->radius_m, mitred->angle_rad, mitred->leg_out_m, mitred->joints),
        mitred->outer_diameter_m, false, true, box, colours);
  else if (const auto* elbow = std::get_if<build::HoseElbow>(&shape))
    draw_bent_sample(painter,
                     bent_line(elbow->leg_in_m, elbow->radius_m, elbow->angle_rad, elbow->leg_out_m, 0),
                     elbow->bore_in_m + 2 * elbow->wall_m, true, false, box, colours);
  else
    return false;
  return true;
}

} // namespace

void draw_sample(QPainter& painter, std::size_t index, const QRectF& box, const Theme& colours) {
  const build::Shape shape = sample_shape(index);
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  if (!draw_if_bent(painter, shape, box, colours))
    draw_straight_sample(painter, shape, box, colours);
  painter.restore();
}

} // namespace bellmouth::ui
