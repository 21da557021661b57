// SPDX-License-Identifier: GPL-3.0-or-later
// Cells of the tables, and tables that grow row by row.
#pragma once

#include <bellmouth/list.hpp>
#include <bellmouth/list/text.hpp>

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace bellmouth::list {

/// A length in mm to a tenth, as one cuts.
[[nodiscard]] std::string mm(double length_m);
[[nodiscard]] std::string deg(double angle_rad);
/// A plain number with so many decimals.
[[nodiscard]] std::string number(double value, int decimals);
/// An empty cell for what is not known; else by `write`, a function of a double.
template <class Write>
[[nodiscard]] std::string if_known(const std::optional<double>& value, const Write& write) {
  return value ? write(*value) : std::string();
}
[[nodiscard]] std::string stock_cell(const std::optional<build::StockId>& stock);

inline void add_row(Table& table, std::vector<build::PieceRef> pieces, std::vector<std::string> cells) {
  table.rows.push_back(std::move(cells));
  table.pieces.push_back(std::move(pieces));
}

/// \name The tables of what is made at the bench
///@{
[[nodiscard]] Table bend_table(const Lists& lists);
[[nodiscard]] Table wedge_table(const Lists& lists);
[[nodiscard]] Table mark_table(const Lists& lists);
[[nodiscard]] Table bead_table(const Lists& lists);
[[nodiscard]] Table weld_table(const Lists& lists);
[[nodiscard]] Table joint_table(const Lists& lists);
[[nodiscard]] Table mass_table(const Lists& lists);
///@}

} // namespace bellmouth::list
