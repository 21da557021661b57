// SPDX-License-Identifier: GPL-3.0-or-later
// A read-only table that its user sorts by any column, numbers by their size.
#pragma once

#include "session.hpp"

#include <QAbstractTableModel>
#include <QSortFilterProxyModel>
#include <QStringList>
#include <QTableView>

#include <optional>
#include <vector>

namespace bellmouth::ui {

struct RankedCell {
  QString text;
  std::optional<double> rank; ///< what it is sorted by; unset: its text
  friend bool operator==(const RankedCell&, const RankedCell&) = default;
};
struct RankedRow {
  std::vector<RankedCell> cells; ///< one for each column
  QString tip;
  Selection leads_to; ///< what a click picks
  bool strong = false;
  bool last = false; ///< stands below the others, however they are sorted
  friend bool operator==(const RankedRow&, const RankedRow&) = default;
};
struct RankedColumn {
  QString title;
  bool number = false;
  QString tip;
  friend bool operator==(const RankedColumn&, const RankedColumn&) = default;
};
struct Ranking {
  std::vector<RankedColumn> columns;
  std::vector<RankedRow> rows;
};

class RankedModel : public QAbstractTableModel {
  Q_OBJECT

public:
  enum Role { rank_role = Qt::UserRole + 1, last_role };

  using QAbstractTableModel::QAbstractTableModel;
  /// Shows other rows; where there are as many, they change in place.
  void set_ranking(Ranking ranking);
  [[nodiscard]] const RankedRow& row(int row) const;

  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
  Ranking ranking_;
};

/// Sorts by RankedModel::rank_role and leaves the last rows where they belong.
class RankedOrder : public QSortFilterProxyModel {
  Q_OBJECT

public:
  explicit RankedOrder(QObject* parent = nullptr);

protected:
  [[nodiscard]] bool lessThan(const QModelIndex& left, const QModelIndex& right) const override;
};

class RankedTable : public QTableView {
  Q_OBJECT

public:
  RankedTable(const QString& object_name, const QString& accessible_name, QWidget* parent = nullptr);
  void show_ranking(Ranking ranking);
  /// The column that takes the room that is left; the last unless said.
  void set_wide_column(int column);
  void sort_by(int column, Qt::SortOrder order);
  [[nodiscard]] const RankedRow& row(const QModelIndex& index) const;

signals:
  void picked(const bellmouth::ui::RankedRow& row); ///< by mouse or keys

protected:
  void changeEvent(QEvent* event) override;

private:
  void fit_columns();

  RankedModel* model_;
  RankedOrder* order_;
  int wide_column_ = -1;
};

} // namespace bellmouth::ui
