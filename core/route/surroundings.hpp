// SPDX-License-Identifier: GPL-3.0-or-later
// What a run comes near, in every state of the bay, and which way leads away from it.
#pragma once

#include "attempt.hpp"

#include <bellmouth/bay/clearance.hpp>

namespace bellmouth::route {

/// A row and a neighbour in one state of the bay.
struct Near {
  std::size_t state = 0; ///< 0: at rest, else the number of the build's state
  bay::Gap gap;
  Vector away{}; ///< unit vector: where the piece gets further from the neighbour

  [[nodiscard]] bool same_pair(const Near& other) const {
    return state == other.state && gap.row == other.gap.row && gap.neighbour == other.gap.neighbour;
  }
};

class Surroundings {
public:
  /// The other runs lie as the option has them.
  explicit Surroundings(const Task& task);

  /// The nearest neighbour of each row, and all that are too near.
  [[nodiscard]] std::vector<Near> near(const build::Run& run);

private:
  const Task& task_;
  std::vector<bay::RunRoom> rooms_;
  std::size_t at_ = 0; ///< of the run among the rooms
};

} // namespace bellmouth::route
