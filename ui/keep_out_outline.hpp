// SPDX-License-Identifier: GPL-3.0-or-later
// Keep-outs as outlines, by class.
#pragma once

#include "bay_drawing.hpp"

namespace bellmouth::ui {

/// Points whose hull is the keep-out's outline from any side; none for a half-space.
[[nodiscard]] std::vector<build::Vector> outline_points(const build::KeepOut& keep_out);
/// A half-space is drawn as the line of its plane where that is seen edge on.
void draw_keep_out(QPainter& painter, const build::KeepOut& keep_out, const BayPane& pane,
                   const Theme& colours);
/// Its name, and where in the pane that may stand, best first; nowhere for a half-space that is not seen edge
/// on.
[[nodiscard]] BayLabel keep_out_label(const build::KeepOut& keep_out, const BayPane& pane,
                                      const QFontMetricsF& metrics);

/// The name of the keep-out under a point of the pane; empty where there is none.
[[nodiscard]] QString keep_out_at(const build::Build& build, const BayPane& pane, QPointF point);

} // namespace bellmouth::ui
