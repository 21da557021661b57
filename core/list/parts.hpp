// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of make(): each writes its own lists.
#pragma once

#include <bellmouth/list.hpp>

namespace bellmouth::list {

[[nodiscard]] inline build::PieceRef reference(const Work& work, const build::Run& run, std::size_t row) {
  return {work.option.id, run.id, row};
}

/// Shopping list and totals.
void list_purchases(const Work& work, Lists& lists);
/// Clamp list.
void list_clamps(const Work& work, Lists& lists);
/// Cut list and fittings.
void list_cuts(const Work& work, Lists& lists);
/// Changes of bore.
void list_reducers(const Work& work, Lists& lists);

} // namespace bellmouth::list
