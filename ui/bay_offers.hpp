// SPDX-License-Identifier: GPL-3.0-or-later
// What can be put where in the bay: places for new pieces, kinds that fit an open end, what a piece can be
// swapped for.
#pragma once

#include "bay_handles.hpp"
#include "session.hpp"

#include <QString>

#include <optional>
#include <vector>

namespace bellmouth::ui {

/// Where a new piece would go.
struct BayPlace {
  build::PieceRef before;
  build::Vector at_m{};
  std::optional<double> position_m; ///< fittings: along their host
};
/// The place nearest to a point of the view for a kind (index of build::Shape): a joint or the end of a
/// placed run; for a fitting, a rigid piece. Nothing further off than `reach_px`.
[[nodiscard]] std::optional<BayPlace> place_near(const Session& session, const BayLookout& lookout,
                                                 QPointF point, std::size_t shape_index,
                                                 double reach_px = 140);
/// The piece that goes there, as new_piece() makes it, put into the build.
[[nodiscard]] build::Build with_kind_placed(const build::Build& build, std::size_t shape_index,
                                            const BayPlace& place);

/// One thing to choose.
struct BayOffer {
  QString text;        ///< in the menu
  build::Build next;   ///< what it makes of the build
  QString what;        ///< undo text
  std::size_t row = 0; ///< the row to pick then
  bool fits = true;    ///< its joints hold with what is beside it
};
/// Every kind of piece put before a row; those that fit come first.
[[nodiscard]] std::vector<BayOffer> offers_to_continue(const build::Build& build,
                                                       const build::PieceRef& before);
/// Stock items of the piece's kind that its neighbours take, then other kinds in its place; what fits first.
[[nodiscard]] std::vector<BayOffer> offers_to_swap(const build::Build& build, const build::PieceRef& ref);
/// Where a run would go on behind a piece and the fittings on it.
[[nodiscard]] build::PieceRef behind(const build::Build& build, const build::PieceRef& ref);
/// How far along a tube a point of the bay lies, to the next whole step and short of the ends; nothing where
/// the piece is no tube or too short to cut.
[[nodiscard]] std::optional<double> cut_place(const Session& session, const build::PieceRef& ref,
                                              const build::Vector& point_m);

} // namespace bellmouth::ui
