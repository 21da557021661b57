// SPDX-License-Identifier: GPL-3.0-or-later
// Edits that the forms make of one part of a build as a whole; pure, like those of build/edits.hpp.
#pragma once

#include <bellmouth/build.hpp>

namespace bellmouth::ui {

/// Puts another machine in the place of the one with its id. Its ports are mounted on what it is mounted on.
[[nodiscard]] build::Build with_machine_replaced(const build::Build& build, build::Machine machine);
/// Puts a copy of a piece, with copies of its fittings, behind it. Where the two meet metal to metal they are
/// welded: neither has a bead there.
[[nodiscard]] build::Build with_piece_doubled(const build::Build& build, const build::PieceRef& ref);
/// The piece bought as a stock item of its kind: it takes the sizes and the material that the item states,
/// and keeps its own lengths, angle, clocking, beads and engagement as far as the item is long and round
/// enough, and what stock does not state: lining, tip and lagging.
[[nodiscard]] build::Piece bought_as(const build::Piece& piece, const build::StockItem& item);

} // namespace bellmouth::ui
