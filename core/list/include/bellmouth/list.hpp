// SPDX-License-Identifier: GPL-3.0-or-later
// The lists a person takes away: shopping, cutting, clamps, reducer steps, bosses; with money. Every line
// leads back to the pieces it serves.
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

/// A line of the shopping list: one stock item, or things of one description that nothing chosen from stock
/// serves: no item is chosen, or the chosen one does not serve the piece, and the description says which.
/// Nothing is chosen on the user's behalf.
struct ShoppingLine {
  std::string group; ///< kind, for headings
  std::string description;
  std::optional<build::StockId> stock; ///< unset: nothing in stock serves it
  double needed = 0; ///< pieces, or metres; of tube with the kerf of each cut, mitres included
  double owned = 0;  ///< of what is needed
  double to_buy = 0; ///< needed - owned; whole pieces, or metres
  build::Per per = build::Per::each;
  std::optional<quantity::Money> unit_price; ///< unset: not priced
  std::optional<quantity::Money> price;      ///< of what is to be bought
  std::vector<build::PieceRef> pieces;       ///< of a clamp: the hose it closes
};
/// One cut of a rigid piece or a hose.
struct CutLine {
  build::PieceRef piece;
  std::string title, size;
  double cut_length_m = 0;                          ///< along the centreline, engagement included
  double centreline_length_m = 0;                   ///< what it adds to the run
  double engagement_in_m = 0, engagement_out_m = 0; ///< hoses: over the spigots. Tubes: inside the hoses
  std::string
      ends; ///< end treatment in and out: "bead", "plain", "weld", "bead, weld" or "hose": "bead / plain"
  std::string note; ///< bends: angle, radius, clocking; mitred bends: cut angle and sides
};
struct ClampLine {
  double installed_diameter_m = 0;
  std::optional<build::StockId> stock;
  std::string description;
  int count = 0;
  std::vector<build::PieceRef> pieces; ///< the hose of each
};
/// A change of bore along a run: a taper (cone, adapter, hose reducer, elbow of two bores), or a step of more
/// than 0.5 mm where two tubes of different bore are welded or meet inside a hose of one bore. The room
/// between two tube ends in a hose is no line.
struct ReducerLine {
  build::PieceRef piece;
  std::string title;
  double bore_in_m = 0, bore_out_m = 0;
  double length_m = 0; ///< of the taper: of hoses what lies between the spigots; 0 for a sudden step
  double included_angle_rad = 0; ///< full angle of a straight taper over that length; a step is 180 degrees
};
struct FittingLine {
  build::PieceRef piece, host;
  std::string title, size; ///< size: thread with its tap drill, or the bore of the flange
  double position_m = 0;   ///< from the inlet end of the host along its centreline, covered length included
  double clocking_rad = 0;
};

struct Totals {
  quantity::Money total;               ///< of all priced lines, owned things not counted
  quantity::Money owned_value;         ///< what the owned things would have cost
  std::optional<quantity::Money> left; ///< of the budget, negative when over
  int unpriced = 0;                    ///< lines without a price
};

struct Lists {
  std::vector<ShoppingLine> shopping;
  std::vector<CutLine> cuts;
  std::vector<ClampLine> clamps;
  std::vector<ReducerLine> reducers;
  std::vector<FittingLine> fittings;
  Totals totals;
};

/// Kerf of one saw cut [m]: 2 to 3 mm for an abrasive saw, 1 to 2 mm for a band or cold saw (common practice,
/// no source found).
inline constexpr double kerf_m = 2.5e-3;

[[nodiscard]] Lists make(const Work& work);

/// A table for CSV, screen or paper.
struct Table {
  std::string name; ///< "shopping", "cut", "clamps", "reducers", "fittings", "totals"
  std::vector<std::string> header;
  std::vector<std::vector<std::string>> rows;
};
/// The lists as tables in the order of Lists, one row for each line, the totals last; lengths in mm with a
/// decimal point, money with its currency, pieces by run and row, rows counted from 1.
[[nodiscard]] std::vector<Table> tables(const Lists& lists);
/// RFC 4180: CRLF line ends, cells quoted where needed.
[[nodiscard]] std::string csv(const Table& table);

} // namespace bellmouth::list
