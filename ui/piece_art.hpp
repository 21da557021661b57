// SPDX-License-Identifier: GPL-3.0-or-later
// Little technical drawings of pieces and machines, side on, the flow from left to right. Lengths along the
// flow and diameters are to one scale; a bend is drawn at its developed length with its bent part marked.
#pragma once

#include "theme.hpp"

#include <bellmouth/build.hpp>

#include <QPainterPath>
#include <QPointF>
#include <QRectF>

#include <cstddef>

class QPainter;

namespace bellmouth::ui {

/// Where and how large: the centre of the inlet end of the whole piece (what lies over a spigot included),
/// and the scale.
struct ArtPlace {
  QPointF inlet;
  double px_m = 0;
};

/// The silhouette of a piece that is not a fitting.
[[nodiscard]] QPainterPath silhouette(const build::Shape& shape, const ArtPlace& place);
/// Draws a piece that is not a fitting, without clamps.
void draw_piece(QPainter& painter, const build::Shape& shape, build::Material material, const ArtPlace& place,
                const Theme& colours);

/// The box that a fitting takes up on its host. `at` is on the host's centreline.
[[nodiscard]] QRectF fitting_box(const build::Shape& fitting, QPointF at, double host_diameter_m,
                                 double px_m);
void draw_fitting(QPainter& painter, const build::Shape& fitting, QPointF at, double host_diameter_m,
                  double px_m, const Theme& colours);

/// A clamp seen from the side: band and housing, about `centre`, round a diameter in px.
void draw_clamp(QPainter& painter, QPointF centre, double diameter_px, double px_m, const Theme& colours);
/// The end of a spigot under a hose, in the dashes of hidden edges.
void draw_hidden_spigot(QPainter& painter, const QRectF& spigot, const Theme& colours);
/// A line that turns by the angle as it really is.
void draw_angle_mark(QPainter& painter, QPointF centre, double size_px, double angle_rad,
                     const QColor& colour);
/// A straight spigot of a machine.
void draw_spigot(QPainter& painter, const QRectF& spigot, bool beaded, bool faces_right,
                 const Theme& colours);

void draw_machine(QPainter& painter, const build::MachineKind& kind, const QRectF& block,
                  const Theme& colours);
/// What draws the air: the engine, or a flow bench.
void draw_demand(QPainter& painter, const build::Demand& demand, const QRectF& block, const Theme& colours);
/// The open end of a path that begins with a run.
void draw_open_inlet(QPainter& painter, const build::OpenInlet& inlet, const QRectF& box,
                     const Theme& colours);

/// A fair instance of an alternative of build::Shape, for icons.
[[nodiscard]] build::Shape sample_shape(std::size_t index);
/// An alternative of build::Shape drawn into a box, clamps and host included.
void draw_sample(QPainter& painter, std::size_t index, const QRectF& box, const Theme& colours);

} // namespace bellmouth::ui
