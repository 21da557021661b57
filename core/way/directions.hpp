// SPDX-License-Identifier: GPL-3.0-or-later
// Chains of fixed angles to begin with: first the directions of the straights, each at its turn's angle to
// the next, then the lengths that bring the end to the port. After Stanczak, Pralet, Vidal, Baudoui, "Optimal
// pipe routing techniques in an obstacle-free 3D space" (ICORES 2020), who solve the lengths by linear
// programming.
#pragma once

#include "chain.hpp"
#include "random.hpp"

#include <optional>

namespace bellmouth::way {

/// A chain whose turns have the pattern's angles, which are fixed, and whose end points the right way; it
/// lies near the port where lengths allow. All clockings are drawn but two, which the directions on either
/// side of them settle. Unset where those angles cannot meet, or where the lengths would leave more than
/// `most_miss_m`. With two turns or more.
[[nodiscard]] std::optional<Chain> along_directions(const Problem& problem, const Pattern& pattern,
                                                    double most_miss_m, Random& random);

} // namespace bellmouth::way
