// SPDX-License-Identifier: GPL-3.0-or-later
// One of the lists as a table model.
#pragma once

#include <bellmouth/list.hpp>

#include <QAbstractTableModel>

#include <optional>
#include <vector>

namespace bellmouth::ui {

/// Shows one of list::tables(); of the shopping list the owned column can be edited.
class ListModel : public QAbstractTableModel {
  Q_OBJECT

public:
  using QAbstractTableModel::QAbstractTableModel;
  /// Shows a table of the lists; where only cells differ they change in place. The owned column shows all
  /// that is owned, not only what of it is needed.
  void set_lists(const list::Lists& lists, const std::vector<build::Owned>& owned, int table);
  /// The first piece that a row serves.
  [[nodiscard]] std::optional<build::PieceRef> piece(int row) const;
  /// The column of the shopping list in which owned things are typed; -1 in other tables.
  [[nodiscard]] int owned_column() const;
  [[nodiscard]] const list::Lists& lists() const { return lists_; }

  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
  bool setData(const QModelIndex& index, const QVariant& value, int role = Qt::EditRole) override;

signals:
  void owned_edited(int line, double quantity);
  void refused(const QString& text);

private:
  [[nodiscard]] bool can_own(const QModelIndex& index) const;
  [[nodiscard]] double owned(int row) const;

  list::Lists lists_;
  std::vector<build::Owned> owned_;
  list::Table shown_;
  std::vector<bool> numbers_; ///< which columns hold numbers
  int table_ = -1;
};

} // namespace bellmouth::ui
