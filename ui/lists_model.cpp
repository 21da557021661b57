// SPDX-License-Identifier: GPL-3.0-or-later
#include "lists_model.hpp"

#include "theme.hpp"

#include <algorithm>
#include <cstdlib>
#include <utility>

namespace bellmouth::ui {

void ListModel::set_table(ListTable table) {
  const auto same_kind = [](const ListRow& a, const ListRow& b) { return a.heading == b.heading; };
  const bool same_shape = table.key == table_.key && table.header == table_.header &&
                          std::ranges::equal(table.rows, table_.rows, same_kind);
  if (!same_shape)
    beginResetModel();
  numbers_ = table.number_columns();
  const ListTable before = std::exchange(table_, std::move(table));
  if (!same_shape) {
    endResetModel();
    return;
  }
  for (int at = 0; at < rowCount(); ++at)
    if (row(at) != before.rows[static_cast<std::size_t>(at)])
      emit dataChanged(index(at, 0), index(at, columnCount() - 1));
}

const ListRow& ListModel::row(int row) const {
  return table_.rows.at(static_cast<std::size_t>(row));
}

bool ListModel::can_edit(const QModelIndex& index) const {
  return index.isValid() && row(index.row()).stock &&
         (index.column() == table_.owned_column || index.column() == table_.paid_column);
}

int ListModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(table_.rows.size());
}
int ListModel::columnCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(table_.header.size());
}

QVariant ListModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const ListRow& of = row(index.row());
  const QString& cell = of.cells[index.column()];
  switch (role) {
  case Qt::DisplayRole:
  case Qt::EditRole:
    return cell;
  case Qt::ToolTipRole:
    if (!can_edit(index))
      return cell;
    return index.column() == table_.owned_column
               ? tr("Type what you have: pieces, or metres in one length of what is sold by the metre")
               : tr("Type what you paid for all of what you own of it; empty: not counted as spent");
  case Qt::AccessibleTextRole:
    return tr("%1: %2").arg(table_.header[index.column()], cell);
  case Qt::BackgroundRole: {
    if (of.heading)
      return theme().raised;
    QColor tint = theme().accent;
    tint.setAlphaF(0.12F);
    return can_edit(index) ? QVariant(tint) : QVariant();
  }
  case Qt::FontRole: {
    if (!of.heading)
      return {};
    QFont font;
    font.setBold(true);
    return font;
  }
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(Qt::Alignment(numbers_[static_cast<std::size_t>(index.column())]
                                                 ? Qt::AlignRight | Qt::AlignVCenter
                                                 : Qt::AlignLeft | Qt::AlignVCenter));
  default:
    return {};
  }
}

/// A long head in two lines, broken where they come out most alike.
static QString folded(QString head) {
  constexpr qsizetype in_one_line = 13;
  if (head.size() <= in_one_line)
    return head;
  qsizetype best = -1;
  for (qsizetype at = head.indexOf(' '); at >= 0; at = head.indexOf(' ', at + 1))
    if (best < 0 || std::abs(2 * at - head.size()) < std::abs(2 * best - head.size()))
      best = at;
  if (best >= 0)
    head[best] = '\n';
  return head;
}

QVariant ListModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (orientation != Qt::Horizontal || section < 0 || section >= columnCount())
    return QAbstractTableModel::headerData(section, orientation, role);
  if (role == Qt::DisplayRole)
    return folded(table_.header[section]) +
           (numbers_[static_cast<std::size_t>(section)] ? QString(behind_number) : QString());
  if (role == Qt::ToolTipRole)
    return table_.header[section];
  if (role == Qt::TextAlignmentRole)
    return QVariant::fromValue(Qt::Alignment(
        (numbers_[static_cast<std::size_t>(section)] ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter));
  return {};
}

Qt::ItemFlags ListModel::flags(const QModelIndex& index) const {
  if (index.isValid() && row(index.row()).heading)
    return Qt::ItemIsEnabled;
  Qt::ItemFlags flags = QAbstractTableModel::flags(index);
  if (can_edit(index))
    flags |= Qt::ItemIsEditable;
  return flags;
}

bool ListModel::setData(const QModelIndex& index, const QVariant& value, int role) {
  if (role != Qt::EditRole || !can_edit(index) || value.toString() == data(index).toString())
    return false;
  const build::StockId stock = *row(index.row()).stock; // the change makes the rows anew
  if (index.column() == table_.owned_column)
    emit owned_typed(stock, value.toString());
  else
    emit paid_typed(stock, value.toString());
  return true;
}

} // namespace bellmouth::ui
