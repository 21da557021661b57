// SPDX-License-Identifier: GPL-3.0-or-later
// The sign of a severity: told apart by shape, not only by colour.
#pragma once

#include "theme.hpp"

#include <bellmouth/check.hpp>

#include <QRectF>

class QPainter;

namespace bellmouth::ui {

/// An octagon (stop), a triangle (caution) or a disc (note), with its sign.
void draw_badge(QPainter& painter, const QRectF& box, check::Severity severity, const Theme& colours);
[[nodiscard]] QColor severity_colour(check::Severity severity, const Theme& colours);

} // namespace bellmouth::ui
