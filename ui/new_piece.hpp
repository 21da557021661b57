// SPDX-License-Identifier: GPL-3.0-or-later
// The piece that a user gets who asks for "a hose, here".
#pragma once

#include <bellmouth/build.hpp>

#include <cstddef>

namespace bellmouth::ui {

/// A piece of a kind (index of build::Shape) that suits the place before row `before.row` of its run: bought
/// from stock where an item meets the neighbouring ends, else with ordinary sizes of the trade. Its inlet
/// takes the size of what is upstream, its outlet that of what is downstream where the kind can have two
/// sizes. `before` names a run of the build; a row past the end means the run's end.
[[nodiscard]] build::Piece new_piece(std::size_t shape_index, const build::Build& build,
                                     const build::PieceRef& before);

/// How many kinds of piece there are, and the word for each.
inline constexpr std::size_t shape_count = std::variant_size_v<build::Shape>;
[[nodiscard]] std::string_view kind_name(std::size_t shape_index);

} // namespace bellmouth::ui
