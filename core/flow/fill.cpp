// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/flow.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::flow {

std::optional<double> fill_time_s(double volume_m3, double from_kg_m3, double to_kg_m3, double supply_kg_s,
                                  double swallow_m3_s) {
  assert(volume_m3 > 0 && from_kg_m3 > 0 && to_kg_m3 > 0 && supply_kg_s > 0 && swallow_m3_s >= 0);
  const double at_from = supply_kg_s - swallow_m3_s * from_kg_m3;
  const double at_to = supply_kg_s - swallow_m3_s * to_kg_m3;
  if (to_kg_m3 == from_kg_m3)
    return 0.0;
  // The density moves towards supply / swallow and gets there never.
  if (at_from == 0 || (to_kg_m3 > from_kg_m3) != (at_from > 0) || at_to / at_from <= 0)
    return std::nullopt;
  const double change = swallow_m3_s * (to_kg_m3 - from_kg_m3) / at_from; // 1 - at_to / at_from
  if (std::abs(change) < 1e-12)
    return volume_m3 * (to_kg_m3 - from_kg_m3) / at_from;
  return -volume_m3 / swallow_m3_s * std::log1p(-change);
}

} // namespace bellmouth::flow
