// SPDX-License-Identifier: GPL-3.0-or-later
#include "value_axis.hpp"

#include "nice_step.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

void fit_axis(QValueAxis& axis, double low, double high, int count) {
  const double room = std::max(high - low, std::max(std::abs(high), 1e-9) * 0.01);
  const double step = nice_step(room, count);
  axis.setTickType(QValueAxis::TicksDynamic);
  axis.setTickAnchor(0);
  axis.setTickInterval(step);
  axis.setLabelFormat(QString("%.%1f").arg(decimals_of_step(step)));
  axis.setRange(std::floor((low - 0.02 * room) / step) * step, std::ceil((high + 0.02 * room) / step) * step);
}

} // namespace bellmouth::ui
