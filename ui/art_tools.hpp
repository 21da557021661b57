// SPDX-License-Identifier: GPL-3.0-or-later
// What the drawings of pieces share.
#pragma once

#include <QColor>
#include <QPen>

namespace bellmouth::ui {

/// A colour between two.
[[nodiscard]] inline QColor mixed(const QColor& a, const QColor& b, double share_b) {
  const auto mix = [share_b](double from, double to) {
    return static_cast<float>(from + (to - from) * share_b);
  };
  return QColor::fromRgbF(mix(a.redF(), b.redF()), mix(a.greenF(), b.greenF()), mix(a.blueF(), b.blueF()));
}

[[nodiscard]] inline QPen edge_pen(const QColor& colour, double width_px = 1.2) {
  return {colour, width_px, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin};
}

} // namespace bellmouth::ui
