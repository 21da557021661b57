// SPDX-License-Identifier: GPL-3.0-or-later
// What a cell says of an item.
#pragma once

#include <bellmouth/stock/table.hpp>

namespace bellmouth::stock {

/// What a row says beside the item itself, or what only the whole row can decide.
struct Extras {
  std::optional<double> owned;
  std::string price, paid;                    ///< as they stand: the currency may be said elsewhere
  std::optional<quantity::Currency> currency; ///< of the row
  bool kind = false, material = false, per = false, pack = false; ///< whether they were said
  /// What is an elbow or a reducer of metal, and of hose; the kind is then open until the material is known.
  std::optional<std::pair<build::StockKind, build::StockKind>> metal_or_hose;
};
/// How numbers that stand alone are to be read.
struct CellReading {
  std::string_view unit;
  char decimal;
  std::optional<quantity::Currency> currency; ///< of prices
};
/// What was wrong with a cell.
struct CellFault {
  std::string found, accepted;
};

/// Reads a cell, which holds something, into the item or beside it. Prices are kept as they stand.
[[nodiscard]] tl::expected<void, CellFault> read_cell(Field field, const std::string& text,
                                                      const CellReading& reading, build::StockItem& item,
                                                      Extras& extras);

/// A price as it stands in a cell. `stated`: currencies that column and row have for it; all that are said,
/// in the cell too, must agree with each other and be `wanted`.
[[nodiscard]] tl::expected<quantity::Money, CellFault>
read_price(const std::string& text, char decimal, const std::vector<quantity::Currency>& stated,
           const quantity::Currency& wanted);

} // namespace bellmouth::stock
