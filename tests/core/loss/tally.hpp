// SPDX-License-Identifier: GPL-3.0-or-later
// Counts how much of what others publish lies inside the bands that the laws state.
#pragma once

#include <bellmouth/loss.hpp>

#include <gtest/gtest.h>

#include <ostream>

namespace bellmouth::loss {

struct Tally {
  int inside = 0;
  int total = 0;

  void add(const Law& law, double friction, double published) {
    ++total;
    // Half a unit of the seventh figure, so that a value on the very edge does not depend on rounding.
    inside += law.low(friction) <= published * (1 + 5e-7) && published * (1 - 5e-7) <= law.high(friction);
  }
  friend bool operator==(const Tally&, const Tally&) = default;
  friend std::ostream& operator<<(std::ostream& stream, const Tally& tally) {
    return stream << tally.inside << " of " << tally.total;
  }
};

} // namespace bellmouth::loss
