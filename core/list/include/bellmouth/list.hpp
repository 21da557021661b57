// SPDX-License-Identifier: GPL-3.0-or-later
// The lists a person takes away: shopping, cutting, clamps, reducer steps, bosses; with money. Every line leads back to
// the pieces it serves.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/joint.hpp>

#include <optional>
#include <string>
#include <vector>

namespace bellmouth::list {

/// One option's runs with their joints, in path order.
struct Work {
  const build::Build& build;
  const build::Option& option;
  const std::vector<const build::Run*>& runs;
  const std::vector<joint::RunFit>& fits; ///< one for each of `runs`
};

/// A line of the shopping list: one stock item, or things that no stock item serves.
struct ShoppingLine {
  std::string group;       ///< kind, for headings
  std::string description;
  std::optional<build::StockId> stock; ///< unset: nothing in stock serves it
  double needed = 0;       ///< pieces, or metres of tube with the kerf of each cut
  double owned = 0;        ///< of what is needed
  double to_buy = 0;       ///< needed - owned; whole pieces, or metres
  build::Per per = build::Per::each;
  std::optional<quantity::Money> unit_price; ///< unset: not priced
  std::optional<quantity::Money> price;      ///< of what is to be bought
  std::vector<build::PieceRef> pieces;
};
/// One cut of a rigid piece or a hose.
struct CutLine {
  build::PieceRef piece;
  std::string title, size;
  double cut_length_m = 0;        ///< along the centreline, engagement included
  double centreline_length_m = 0; ///< what it adds to the run
  double engagement_in_m = 0, engagement_out_m = 0; ///< hoses: over the spigots. Tubes: inside the hoses
  std::string ends;               ///< end treatment: "bead / plain"
  std::string note;               ///< bends: angle, radius, clocking; mitred bends: cut angle and sides
};
struct ClampLine {
  double installed_diameter_m = 0;
  std::optional<build::StockId> stock;
  std::string description;
  int count = 0;
  std::vector<build::PieceRef> pieces; ///< the hose of each
};
/// A change of bore along a run.
struct ReducerLine {
  build::PieceRef piece;
  std::string title;
  double bore_in_m = 0, bore_out_m = 0;
  double length_m = 0;         ///< 0 for a sudden step
  double included_angle_rad = 0; ///< full cone angle
};
struct FittingLine {
  build::PieceRef piece, host;
  std::string title, size;
  double position_m = 0, clocking_rad = 0;
};

struct Totals {
  quantity::Money total;        ///< of all priced lines, owned things not counted
  quantity::Money owned_value;  ///< what the owned things would have cost
  std::optional<quantity::Money> left; ///< of the budget, negative when over
  int unpriced = 0;             ///< lines without a price
};

struct Lists {
  std::vector<ShoppingLine> shopping;
  std::vector<CutLine> cuts;
  std::vector<ClampLine> clamps;
  std::vector<ReducerLine> reducers;
  std::vector<FittingLine> fittings;
  Totals totals;
};

/// Kerf of one saw cut [m]; trade practice for an abrasive or cold saw, 1 to 3 mm.
inline constexpr double kerf_m = 2.5e-3;

[[nodiscard]] Lists make(const Work& work);

/// A table for CSV, screen or paper.
struct Table {
  std::string name; ///< "shopping", "cut", "clamps", "reducers", "fittings"
  std::vector<std::string> header;
  std::vector<std::vector<std::string>> rows;
};
/// The lists as tables, lengths in mm, money with its currency.
[[nodiscard]] std::vector<Table> tables(const Lists& lists);
/// RFC 4180: CRLF line ends, cells quoted where needed.
[[nodiscard]] std::string csv(const Table& table);

} // namespace bellmouth::list
