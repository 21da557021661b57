// SPDX-License-Identifier: GPL-3.0-or-later
// From a way to the rows of a run.
#pragma once

#include "setting.hpp"

#include <optional>
#include <vector>

namespace bellmouth::find {

/// The rows between the two ends of a way: couplers, bends with their legs cut to length, tube. nullopt: a
/// straight is too long for a hose elbow to go onto what is before it, and too short for a tube between.
[[nodiscard]] std::optional<std::vector<build::Piece>> pieces_of(const Setting& setting, const Ask& ask,
                                                                 const way::Way& way);

/// The whole run: rows that stay, the way's rows, with the fittings of the rows that they replace. Fittings
/// go where there is room on a straight, as near as can be to where they were by their share of the way;
/// those for which there is none are left out.
[[nodiscard]] std::optional<build::Run> run_of(const build::Build& build, const Setting& setting,
                                               const Ask& ask, const way::Way& way);

/// Puts fittings onto the rigid rows of a run from `first` to before `last`; `shares` say how far along
/// these rows each was.
void put_on(const build::Build& build, build::Run& run, std::size_t first, std::size_t last,
            const std::vector<build::Piece>& fittings, const std::vector<double>& shares);

} // namespace bellmouth::find
