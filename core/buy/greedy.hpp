// SPDX-License-Identifier: GPL-3.0-or-later
// A first plan without search.
#pragma once

#include "kinds.hpp"

#include <vector>

namespace bellmouth::buy {

/// Serves the needs of a job one by one, the largest first, each for the least further money or, where that
/// is better, for the least money for its share of a body. Minds no AtLeast.
[[nodiscard]] Choice greedy_choice(const Job& job, const std::vector<Kind>& kinds);

} // namespace bellmouth::buy
