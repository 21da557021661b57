// SPDX-License-Identifier: GPL-3.0-or-later
// Bracketed search for the place where a falling function passes zero.
#pragma once

#include <cmath>

namespace bellmouth::flow {

/// The place between `low` and `high` (> low) where `value` falls through zero, to `tolerance`; `low` or
/// `high` itself where it does not. The function may jump and may say no more than its sign: a false position
/// by Illinois (Dowell & Jarratt, BIT 11, 1971) is tried where it is smooth, and halving is always near.
template <class F>
[[nodiscard]] double falling_root(double low, double high, double tolerance, const F& value) {
  double at_low = value(low);
  if (!(at_low > 0))
    return low;
  double at_high = value(high);
  if (!(at_high < 0))
    return high;
  int side = 0;
  for (int round = 0; round < 200 && high - low > tolerance; ++round) {
    double at = low + (high - low) * at_low / (at_low - at_high);
    if (round % 3 == 2 || !(at > low && at < high))
      at = 0.5 * (low + high);
    const double found = value(at);
    if (found == 0)
      return at;
    if (found > 0) {
      low = at;
      at_low = found;
      if (side > 0)
        at_high *= 0.5;
      side = 1;
    } else {
      high = at;
      at_high = found;
      if (side < 0)
        at_low *= 0.5;
      side = -1;
    }
  }
  return 0.5 * (low + high);
}

} // namespace bellmouth::flow
