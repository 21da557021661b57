// SPDX-License-Identifier: GPL-3.0-or-later
// Handbook tables.
#pragma once

#include <algorithm>
#include <iterator>
#include <span>

namespace bellmouth::loss {

struct TablePoint {
  double x, y;
};

/// Straight-line interpolation in a table sorted by x; beyond its ends the end value.
[[nodiscard]] inline double interpolate(std::span<const TablePoint> table, double x) {
  const auto above = std::ranges::upper_bound(table, x, {}, &TablePoint::x);
  if (above == table.begin())
    return table.front().y;
  if (above == table.end())
    return table.back().y;
  const auto below = std::prev(above);
  return below->y + (above->y - below->y) * (x - below->x) / (above->x - below->x);
}

} // namespace bellmouth::loss
