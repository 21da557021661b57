// SPDX-License-Identifier: GPL-3.0-or-later
// A table of words, some of them good or bad news.
#pragma once

#include <QAbstractTableModel>
#include <QString>
#include <QStringList>

#include <vector>

namespace bellmouth::ui {

struct TextCell {
  QString text;
  int merit = 0; ///< 1 better, -1 worse
  bool number = false;
  friend bool operator==(const TextCell&, const TextCell&) = default;
};

/// Read-only; cells are coloured by merit, and say it by a tick or a cross of their own.
class TextTableModel : public QAbstractTableModel {
  Q_OBJECT

public:
  using QAbstractTableModel::QAbstractTableModel;
  /// Shows other rows; where only cells differ they change in place.
  void set_table(QStringList header, std::vector<std::vector<TextCell>> rows);

  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
  QStringList header_;
  std::vector<std::vector<TextCell>> rows_; ///< each as long as the header
};

} // namespace bellmouth::ui
