// SPDX-License-Identifier: GPL-3.0-or-later
// What the columns of a stock list hold: the headings, and below each which field it is and in which unit.
#pragma once

#include <bellmouth/stock/table.hpp>

#include <QTableView>

class QComboBox;
class QStandardItemModel;

namespace bellmouth::ui {

/// Stands above the rows, whose columns it leads: the first `columns_before` are not of the list.
class StockMapping : public QTableView {
  Q_OBJECT

public:
  StockMapping(int columns_before, QWidget* parent = nullptr);
  /// Shows the headings of a table, and a mapping for them.
  void show_mapping(const stock::RawTable& table, stock::Mapping mapping);
  /// Shows headings alone.
  void show_headings(const QStringList& before);
  [[nodiscard]] const stock::Mapping& mapping() const { return mapping_; }
  /// Puts another mapping for the same headings.
  void set_mapping(stock::Mapping mapping);

signals:
  void edited(); ///< the user has changed the mapping

private:
  enum Row { field_row, unit_row };
  void make_boxes();
  void show_units(int column);
  [[nodiscard]] QComboBox* box(int row, int column) const;

  int before_;
  QStandardItemModel* model_;
  stock::Mapping mapping_;
  QStringList headings_;
};

} // namespace bellmouth::ui
