// SPDX-License-Identifier: GPL-3.0-or-later
// The best choice for needs that hang together.
#pragma once

#include "kinds.hpp"
#include "programme.hpp"

#include <optional>

namespace bellmouth::buy {

struct Solved {
  std::optional<Choice> choice; ///< the best found
  Worth worth;                  ///< of it
  Worth least;                  ///< no choice is better as far as Worth::main_less() goes
  bool proven = false;          ///< that nothing is better than the choice, or that none is wanted
};

/// Solves a job: what cannot be served is left out, then the goals of the question in turn. Only inside
/// with_solver(). Only choices better than `below`, as far as Worth::main_less() goes, are looked for where
/// it is given; without it and without AtLeast there is always a choice.
[[nodiscard]] Solved solve(const Job& job, std::optional<Worth> below, Clock::time_point until);

} // namespace bellmouth::buy
