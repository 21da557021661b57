// SPDX-License-Identifier: GPL-3.0-or-later
// The axes of charts that are laid out by Qt.
#pragma once

#include <QtCharts/QValueAxis>

namespace bellmouth::ui {

/// Gives an axis ends that hold low to high and about `count` grid lines at round numbers.
void fit_axis(QValueAxis& axis, double low, double high, int count);

} // namespace bellmouth::ui
