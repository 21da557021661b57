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
/// The name on its ground; drawn after what may lie over the outline.
void name_keep_out(QPainter& painter, const build::KeepOut& keep_out, const BayPane& pane,
                   const Theme& colours);

} // namespace bellmouth::ui
