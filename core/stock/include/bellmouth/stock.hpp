// SPDX-License-Identifier: GPL-3.0-or-later
// What can be bought: finding stock for a piece, choosing clamps, prices, the bores a run could have.
#pragma once

#include <bellmouth/build.hpp>

#include <optional>
#include <vector>

namespace bellmouth::stock {

/// The stock kind a piece is bought as.
[[nodiscard]] build::StockKind kind_of(const build::Shape& shape);
/// The word for a stock kind, as people read it.
[[nodiscard]] std::string_view kind_name(build::StockKind kind);

/// Whether a piece can be made from an item: kind, material, and every size that the item states within `tolerance_m`
/// (angles: the piece's angle is at most the item's for bends that may be cut, equal for hose elbows; a piece's legs and
/// length are at most the item's where the item is sold by the piece).
[[nodiscard]] bool serves(const build::StockItem& item, const build::Piece& piece, double tolerance_m = 0.25e-3);
/// All items of the build's stock that serve a piece, cheapest for it first.
[[nodiscard]] std::vector<const build::StockItem*> choices(const build::Build& build, const build::Piece& piece);
/// A piece that is a fair instance of an item: full angle, full legs, 300 mm of tube, default engagement.
[[nodiscard]] build::Piece piece_of(const build::StockItem& item);

/// How much of an item a piece uses: 1, or metres where the price is per metre.
[[nodiscard]] double amount_for(const build::StockItem& item, const build::Piece& piece);
[[nodiscard]] quantity::Money price_of(const build::StockItem& item, double amount);

/// The clamp for an installed outside diameter: the item whose middle half holds it (M3), else one whose range does,
/// else nullptr. Among equals the cheapest, then the first.
[[nodiscard]] const build::StockItem* clamp_for(const build::Build& build, double installed_diameter_m);

/// A tube size in stock.
struct TubeSize {
  double outer_diameter_m, wall_m;
  build::Material material;
  friend bool operator==(const TubeSize&, const TubeSize&) = default;
};
/// The distinct tube sizes in stock, smallest first.
[[nodiscard]] std::vector<TubeSize> tube_sizes(const build::Build& build);

} // namespace bellmouth::stock
