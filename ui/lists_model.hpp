// SPDX-License-Identifier: GPL-3.0-or-later
// One of the lists as a table model.
#pragma once

#include "list_tables.hpp"
#include "sheet.hpp"

#include <QAbstractTableModel>

namespace bellmouth::ui {

/// Shows a list; what is owned and paid can be typed into the shopping list.
class ListModel : public QAbstractTableModel {
  Q_OBJECT

public:
  using QAbstractTableModel::QAbstractTableModel;
  /// Shows a table; where only cells differ they change in place.
  void set_table(ListTable table);
  [[nodiscard]] const ListTable& table() const { return table_; }
  [[nodiscard]] const ListRow& row(int row) const;

  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
  bool setData(const QModelIndex& index, const QVariant& value, int role = Qt::EditRole) override;

signals:
  void owned_typed(const bellmouth::build::StockId& stock, const QString& text);
  void paid_typed(const bellmouth::build::StockId& stock, const QString& text);

private:
  [[nodiscard]] bool can_edit(const QModelIndex& index) const;

  ListTable table_;
  std::vector<bool> numbers_; ///< which columns hold numbers
};

} // namespace bellmouth::ui
