// SPDX-License-Identifier: GPL-3.0-or-later
#include "sizes.hpp"

#include <algorithm>
#include <limits>

namespace bellmouth::way {

Sizes::Sizes(const Pattern& pattern) : turns_(pattern.turns), count_(2 * pattern.turns + 1) {
  for (std::size_t i = 0; i <= turns_; ++i) {
    low_[i] = pattern.straight[i].low_m;
    high_[i] = pattern.straight[i].high_m;
  }
  for (std::size_t i = 0; i < turns_; ++i) {
    low_[clocking(i)] = -std::numeric_limits<double>::infinity();
    high_[clocking(i)] = std::numeric_limits<double>::infinity();
  }
  for (std::size_t i = 0; i < turns_; ++i) {
    angle_[i] = most_sizes;
    if (pattern.turn[i].is_fixed())
      continue;
    turn_of_[count_ - (2 * turns_ + 1)] = i;
    low_[count_] = pattern.turn[i].low_rad;
    high_[count_] = pattern.turn[i].high_rad;
    angle_[i] = count_++;
  }
  for (std::size_t i = 0; i < turns_; ++i)
    angle_[i] = std::min(angle_[i], count_);
}

double Sizes::get(const Chain& chain, std::size_t size) const {
  if (size <= turns_)
    return chain.straight_m[size];
  if (size <= 2 * turns_)
    return chain.clocking_rad[size - turns_ - 1];
  return chain.angle_rad[turn_of_[size - 2 * turns_ - 1]];
}
void Sizes::set(Chain& chain, std::size_t size, double value) const {
  if (size <= turns_)
    chain.straight_m[size] = value;
  else if (size <= 2 * turns_)
    chain.clocking_rad[size - turns_ - 1] = value;
  else
    chain.angle_rad[turn_of_[size - 2 * turns_ - 1]] = value;
}

} // namespace bellmouth::way
