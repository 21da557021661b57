// SPDX-License-Identifier: GPL-3.0-or-later
// The rows of a stock list before anything of it is taken: what would come of each.
#pragma once

#include <bellmouth/stock/import.hpp>

#include <QAbstractTableModel>
#include <QStringList>

#include <optional>
#include <vector>

namespace bellmouth::ui {

/// One row of the list after the other, good and bad, with its own cells behind what came of it.
class StockPreviewModel : public QAbstractTableModel {
  Q_OBJECT

public:
  enum Column { number, result, cells };

  using QAbstractTableModel::QAbstractTableModel;
  /// Of a table: its cells stand beside what came of them.
  void show_table(const stock::RawTable& table, stock::Preview preview);
  /// Of a list in our own format.
  void show_items(stock::Preview preview);
  void clear();
  [[nodiscard]] const stock::Preview& preview() const { return preview_; }
  /// Shows the rows alone that cannot be taken.
  void set_only_bad(bool only_bad);
  /// Why a row cannot be taken; empty: it can.
  [[nodiscard]] QString reason(int row) const;

  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
  /// Where a row is among the good or the bad ones, and its cells.
  struct Row {
    bool good = true;
    std::size_t at = 0;
    std::size_t cells = 0; ///< index into the table's rows
  };
  void put(stock::Preview preview);
  [[nodiscard]] QString result_of(const Row& row) const;
  /// The column of the list that a bad row's complaint names; -1: none.
  [[nodiscard]] int faulty_cell(const Row& row) const;

  stock::RawTable table_;
  stock::Preview preview_;
  std::vector<Row> all_, rows_; ///< rows_: those shown
  bool only_bad_ = false;
};

} // namespace bellmouth::ui
