// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "chain.hpp"

#include <array>
#include <cstddef>

namespace bellmouth::way {

/// The sizes of a chain that may move, in one order: straights, clockings, angles that are not fixed.
class Sizes {
public:
  explicit Sizes(const Pattern& pattern);
  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] double get(const Chain& chain, std::size_t size) const;
  void set(Chain& chain, std::size_t size, double value) const;
  [[nodiscard]] double low(std::size_t size) const { return low_[size]; }
  [[nodiscard]] double high(std::size_t size) const { return high_[size]; }
  [[nodiscard]] std::size_t straight(std::size_t i) const { return i; }
  [[nodiscard]] std::size_t clocking(std::size_t i) const { return turns_ + 1 + i; }
  /// Of the angle of a turn; count() when it is fixed.
  [[nodiscard]] std::size_t angle(std::size_t i) const { return angle_[i]; }

private:
  std::size_t turns_, count_;
  std::array<std::size_t, most_turns> angle_{}, turn_of_{};
  std::array<double, most_sizes> low_{}, high_{};
};

} // namespace bellmouth::way
