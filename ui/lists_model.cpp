// SPDX-License-Identifier: GPL-3.0-or-later
#include "lists_model.hpp"

#include "theme.hpp"

#include <QLocale>

#include <algorithm>

namespace bellmouth::ui {

namespace {

/// The places of the tables that list::tables() gives.
enum TableIndex { shopping, cuts, clamps, reducers, fittings };

template <class Lines> std::optional<build::PieceRef> first_piece(const Lines& lines, int row) {
  const auto& line = lines.at(static_cast<std::size_t>(row));
  if constexpr (requires { line.pieces; })
    return line.pieces.empty() ? std::nullopt : std::optional(line.pieces.front());
  else
    return line.piece;
}

/// "12.5", or an amount of money.
bool is_number(const std::string& cell) {
  const QString text = QString::fromStdString(cell);
  bool number = false;
  text.left(text.indexOf(' ')).toDouble(&number);
  return number && text.count(' ') <= 1;
}

/// A column is one of numbers when all its filled cells are.
std::vector<bool> number_columns(const list::Table& table) {
  std::vector<bool> numbers(table.header.size(), false);
  for (std::size_t column = 0; column < numbers.size(); ++column) {
    const auto blank = [&](const auto& row) { return row[column].empty(); };
    numbers[column] =
        !std::ranges::all_of(table.rows, blank) && std::ranges::all_of(table.rows, [&](const auto& row) {
          return blank(row) || is_number(row[column]);
        });
  }
  return numbers;
}

} // namespace

void ListModel::set_lists(const list::Lists& lists, const std::vector<build::Owned>& owned, int table) {
  std::vector<list::Table> all = list::tables(lists);
  const bool same_owned = owned == owned_;
  list::Table& next = all.at(static_cast<std::size_t>(table));
  const bool same_shape =
      table == table_ && next.header == shown_.header && next.rows.size() == shown_.rows.size();
  if (!same_shape)
    beginResetModel();
  lists_ = lists;
  owned_ = owned;
  table_ = table;
  numbers_ = number_columns(next);
  const std::vector<std::vector<std::string>> before = std::exchange(shown_, std::move(next)).rows;
  if (!same_shape) {
    endResetModel();
    return;
  }
  for (int row = 0; row < rowCount(); ++row)
    if (const auto at = static_cast<std::size_t>(row); shown_.rows[at] != before[at] || !same_owned)
      emit dataChanged(index(row, 0), index(row, columnCount() - 1));
}

std::optional<build::PieceRef> ListModel::piece(int row) const {
  switch (table_) {
  case shopping:
    return first_piece(lists_.shopping, row);
  case cuts:
    return first_piece(lists_.cuts, row);
  case clamps:
    return first_piece(lists_.clamps, row);
  case reducers:
    return first_piece(lists_.reducers, row);
  case fittings:
    return first_piece(lists_.fittings, row);
  default:
    return std::nullopt;
  }
}

int ListModel::owned_column() const {
  if (table_ != shopping)
    return -1;
  const auto found = std::ranges::find_if(shown_.header, [](const std::string& head) {
    return QString::fromStdString(head).startsWith("owned", Qt::CaseInsensitive);
  });
  return found == shown_.header.end() ? -1 : static_cast<int>(found - shown_.header.begin());
}

bool ListModel::can_own(const QModelIndex& index) const {
  return index.isValid() && index.column() == owned_column() &&
         lists_.shopping[static_cast<std::size_t>(index.row())].stock;
}

double ListModel::owned(int row) const {
  const auto& stock = lists_.shopping[static_cast<std::size_t>(row)].stock;
  const auto found = stock ? std::ranges::find(owned_, *stock, &build::Owned::stock) : owned_.end();
  return found == owned_.end() ? 0 : found->quantity;
}

int ListModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(shown_.rows.size());
}
int ListModel::columnCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(shown_.header.size());
}

QVariant ListModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const std::string& cell =
      shown_.rows[static_cast<std::size_t>(index.row())][static_cast<std::size_t>(index.column())];
  switch (role) {
  case Qt::DisplayRole:
  case Qt::EditRole:
    return can_own(index) ? QLocale().toString(owned(index.row()), 'g', 6) : QString::fromStdString(cell);
  case Qt::ToolTipRole:
    return can_own(index) ? "Type what you have: pieces, or metres of what is sold by the metre"
                          : QString::fromStdString(cell);
  case Qt::BackgroundRole: {
    QColor tint = theme().accent;
    tint.setAlphaF(0.12F);
    return can_own(index) ? QVariant(tint) : QVariant();
  }
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(Qt::Alignment(numbers_[static_cast<std::size_t>(index.column())]
                                                 ? Qt::AlignRight | Qt::AlignVCenter
                                                 : Qt::AlignLeft | Qt::AlignVCenter));
  default:
    return {};
  }
}

QVariant ListModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (orientation != Qt::Horizontal || section < 0 || section >= columnCount())
    return QAbstractTableModel::headerData(section, orientation, role);
  const auto column = static_cast<std::size_t>(section);
  if (role == Qt::DisplayRole) {
    QString head = QString::fromStdString(shown_.header[column]);
    return head.isEmpty() ? head : head.at(0).toUpper() + head.mid(1);
  }
  if (role == Qt::TextAlignmentRole)
    return QVariant::fromValue(
        Qt::Alignment((numbers_[column] ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter));
  return {};
}

Qt::ItemFlags ListModel::flags(const QModelIndex& index) const {
  Qt::ItemFlags flags = QAbstractTableModel::flags(index);
  if (can_own(index))
    flags |= Qt::ItemIsEditable;
  return flags;
}

bool ListModel::setData(const QModelIndex& index, const QVariant& value, int role) {
  if (role != Qt::EditRole || !(flags(index) & Qt::ItemIsEditable))
    return false;
  bool is_a_number = false;
  const double quantity = QLocale().toDouble(value.toString().trimmed(), &is_a_number);
  if (!is_a_number || quantity < 0) {
    emit refused(QString("Owned: found \"%1\"; accepted is a number from 0 (pieces, or metres of what is "
                         "sold by the metre)")
                     .arg(value.toString()));
    return false;
  }
  emit owned_edited(index.row(), quantity);
  return true;
}

} // namespace bellmouth::ui
