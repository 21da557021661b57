// SPDX-License-Identifier: GPL-3.0-or-later
// The lists of an option as tables for screen and paper.
#pragma once

#include <bellmouth/buy.hpp>
#include <bellmouth/evaluate.hpp>

#include <QString>
#include <QStringList>

#include <optional>
#include <vector>

namespace bellmouth::ui {

struct ListRow {
  QStringList cells; ///< one for each column; of a heading the first alone is filled
  std::vector<build::PieceRef> pieces;
  bool heading = false; ///< over the rows that follow
  std::optional<build::StockId> stock;
  friend bool operator==(const ListRow&, const ListRow&) = default;
};
struct ListTable {
  QString key;   ///< stable: "shopping", "cut"
  QString title; ///< "Shopping"
  QString about; ///< what it is for, and how to read it
  QString empty; ///< in place of a table without rows
  QStringList header;
  std::vector<ListRow> rows;
  int owned_column = -1, paid_column = -1; ///< that are typed in; -1: none
  friend bool operator==(const ListTable&, const ListTable&) = default;

  /// Rows that are no headings.
  [[nodiscard]] int lines() const;
  /// Which columns hold numbers.
  [[nodiscard]] std::vector<bool> number_columns() const;
};

/// All lists, in the order in which they are shown. Without a purchase those about buying have no rows.
[[nodiscard]] std::vector<ListTable> list_tables(const build::Build& build, const Evaluation& evaluation,
                                                 const buy::Purchase* purchase);

/// The same as the core has them, for files: the sums too.
[[nodiscard]] std::vector<list::Table> file_tables(const build::Build& build, const Evaluation& evaluation,
                                                   const buy::Purchase& purchase);

/// What a plan aims at: "Least money".
[[nodiscard]] QString aim_words(buy::Aim aim);
/// "412.50 EUR, 3 suppliers, 7 offcuts".
[[nodiscard]] QString plan_words(const buy::Purchase& purchase);
/// Lines about money: what is still to buy and of what it is made up, what is spent, how it stands against
/// the budget, and how good the plan is. The first is the sum.
[[nodiscard]] QStringList money_words(const build::Build& build, const buy::Purchase& purchase);

} // namespace bellmouth::ui
