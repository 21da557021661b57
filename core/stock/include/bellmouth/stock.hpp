// SPDX-License-Identifier: GPL-3.0-or-later
// What can be bought: finding stock for a piece, choosing clamps, prices, the bores a run could have.
//
// Which sizes a stock item states, by kind; a size left unset is not compared:
//   tube                  outer_diameter, wall; length where it is sold by the piece
//   tube_bend, mitred_bend  outer_diameter, wall, angle, radius, leg_in, leg_out
//   cone, adapter         bore, bore_out, wall, outer_diameter (of the larger end), length
//   hose, hump_hose       bore, wall; length where it is sold by the piece
//   hose_elbow            bore, bore_out (unset: one bore), wall, angle, radius, leg_in, leg_out
//   hose_reducer          bore, bore_out, wall, length
//   sensor_boss           thread
//   valve_flange          bore
//   clamp                 clamp_min, clamp_max, band_width
#pragma once

#include <bellmouth/build.hpp>

#include <optional>
#include <string_view>
#include <vector>

namespace bellmouth::stock {

/// The stock kind a piece is bought as.
[[nodiscard]] build::StockKind kind_of(const build::Shape& shape);
/// The word for a stock kind, as people read it.
[[nodiscard]] std::string_view kind_name(build::StockKind kind);

/// Whether a piece can be made from an item: kind, material, and every size that the item states within
/// `tolerance_m`.
/// - Angles: a tube bend's is at most the item's, since bends are cut down, but then only one end keeps its
/// straight
///   (common practice, no source found); all others' are equal within half a degree.
/// - Legs, and lengths of tube and hose, are at most the item's where the item is sold by the piece; of what
/// is sold by the
///   metre there is enough. Cones and adapters keep their length.
/// - Pieces with two different ends may be turned round.
/// - A mitred bend is also served by straight tube of its size, from which it is cut.
[[nodiscard]] bool serves(const build::StockItem& item, const build::Piece& piece,
                          double tolerance_m = 0.25e-3);
/// Whether a piece could be sawn from an item if that were long enough: kind, material, and every size that
/// the item states but lengths, legs and the angle of tube bends.
[[nodiscard]] bool has_section_of(const build::StockItem& item, const build::Piece& piece,
                                  double tolerance_m = 0.25e-3);
/// Whether an item can take the place of another: of its material, and in nothing that the other states about
/// plies, ratings, lining and wire behind it.
[[nodiscard]] bool no_worse(const build::StockItem& item, const build::StockItem& than);
/// All items of the build's stock that serve a piece, cheapest for it first, among equals in the order of the
/// stock.
[[nodiscard]] std::vector<const build::StockItem*> choices(const build::Build& build,
                                                           const build::Piece& piece);
/// A piece that is a fair instance of an item, as bought (no beads): full angle, full legs, 300 mm of what is
/// sold by the metre, engagement of 40 mm (derived from bead, band and edge distance) or what a short hose
/// leaves, fittings at their host's inlet end. Sizes that the item does not state are zero, to be filled in:
/// build::validate() names them. The item must not be a clamp (an assertion).
[[nodiscard]] build::Piece piece_of(const build::StockItem& item);

/// The piece as it can be bought: the sizes that a shop decides (a hose's bore and wall, a bend's radius, a
/// cone's length) taken from the nearest item that then serves it, which is named in `stock`; among equally
/// near ones the cheapest. nullopt: none is near.
[[nodiscard]] std::optional<build::Piece> nearest_in_stock(const build::Build& build,
                                                           const build::Piece& piece);

/// How much of an item a piece uses: 1, or metres where the price is per metre. Saw kerf is not in it.
[[nodiscard]] double amount_for(const build::StockItem& item, const build::Piece& piece);
/// The price of an amount: metres as they are, pieces rounded up to whole ones.
[[nodiscard]] quantity::Money price_of(const build::StockItem& item, double amount);

/// The clamp for an installed outside diameter [m]: the item whose middle half holds it (a clamp should work
/// between 25 and 75 % of its range: guides of clamp makers), else one whose range does, else nullptr. Among
/// equals the cheapest, then the first.
[[nodiscard]] const build::StockItem* clamp_for(const build::Build& build, double installed_diameter_m);

/// A tube size in stock.
struct TubeSize {
  double outer_diameter_m, wall_m;
  build::Material material;
  friend bool operator==(const TubeSize&, const TubeSize&) = default;
};
/// The distinct tube sizes in stock, smallest outside diameter first, then thinnest wall.
[[nodiscard]] std::vector<TubeSize> tube_sizes(const build::Build& build);

} // namespace bellmouth::stock
