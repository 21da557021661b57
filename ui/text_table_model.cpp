// SPDX-License-Identifier: GPL-3.0-or-later
#include "text_table_model.hpp"

#include "theme.hpp"

namespace bellmouth::ui {

void TextTableModel::set_table(QStringList header, std::vector<std::vector<TextCell>> rows) {
  if (header.size() == header_.size() && rows.size() == rows_.size()) {
    if (header != header_) {
      header_ = std::move(header);
      emit headerDataChanged(Qt::Horizontal, 0, columnCount() - 1);
    }
    for (std::size_t row = 0; row < rows.size(); ++row) {
      if (rows[row] == rows_[row])
        continue;
      rows_[row] = std::move(rows[row]);
      emit dataChanged(index(static_cast<int>(row), 0), index(static_cast<int>(row), columnCount() - 1));
    }
    return;
  }
  beginResetModel();
  header_ = std::move(header);
  rows_ = std::move(rows);
  endResetModel();
}

int TextTableModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}
int TextTableModel::columnCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(header_.size());
}

QVariant TextTableModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const TextCell& cell =
      rows_[static_cast<std::size_t>(index.row())][static_cast<std::size_t>(index.column())];
  switch (role) {
  case Qt::DisplayRole:
  case Qt::ToolTipRole:
    return cell.text;
  case Qt::ForegroundRole:
    return cell.merit > 0 ? QVariant(theme().good) : cell.merit < 0 ? QVariant(theme().stop) : QVariant();
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(
        Qt::Alignment(cell.number ? Qt::AlignRight | Qt::AlignVCenter : Qt::AlignLeft | Qt::AlignVCenter));
  default:
    return {};
  }
}

QVariant TextTableModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (orientation != Qt::Horizontal || section < 0 || section >= columnCount())
    return QAbstractTableModel::headerData(section, orientation, role);
  if (role == Qt::DisplayRole)
    return header_[section];
  if (role == Qt::TextAlignmentRole && !rows_.empty())
    return index(0, section).data(Qt::TextAlignmentRole);
  return {};
}

} // namespace bellmouth::ui
