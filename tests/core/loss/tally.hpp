// SPDX-License-Identifier: GPL-3.0-or-later
// Counts how much of what others publish lies inside the bands that the laws state.
#pragma once

#include <bellmouth/loss.hpp>

#include <gtest/gtest.h>

#include <iostream>
#include <ostream>
#include <string>

namespace bellmouth::loss {

struct Tally {
  int inside = 0;
  int total = 0;

  void add(const Law& law, double friction, double published) {
    ++total;
    // Half a unit of the seventh figure, so that a value on the very edge does not depend on rounding.
    inside += law.low(friction) <= published * (1 + 5e-7) && published * (1 - 5e-7) <= law.high(friction);
  }
  [[nodiscard]] double share() const { return total == 0 ? 0.0 : static_cast<double>(inside) / total; }
  friend bool operator==(const Tally&, const Tally&) = default;
  friend std::ostream& operator<<(std::ostream& stream, const Tally& tally) {
    return stream << tally.inside << " of " << tally.total;
  }
};

/// Shows on the console and keeps in the test's report how many published values a band holds.
inline void print_share(const std::string& what, const Tally& tally) {
  std::cout << "inside the band: " << what << ": " << tally << " (" << 100 * tally.share() << " %)\n";
  ::testing::Test::RecordProperty(what, std::to_string(tally.share()));
}

} // namespace bellmouth::loss
