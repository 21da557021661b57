// SPDX-License-Identifier: GPL-3.0-or-later
// Where the grid lines of a chart lie.
#pragma once

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

/// 1, 2 or 5 times a power of ten, so that about `count` of it make up `range`.
[[nodiscard]] inline double nice_step(double range, int count) {
  const double rough = std::max(range, 1e-12) / count, power = std::pow(10, std::floor(std::log10(rough)));
  const double share = rough / power;
  return (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10) * power;
}

/// Decimals that tell grid lines that far apart from each other.
[[nodiscard]] inline int decimals_of_step(double step) {
  return std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9)));
}

} // namespace bellmouth::ui
