// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_preview_model.hpp"

#include "stock_text.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <algorithm>

namespace bellmouth::ui {

namespace {

QString from(const std::string& text) {
  return QString::fromStdString(text);
}

/// What is wrong with which column, without the row, which stands beside it.
QString reason_of(const Error& error) {
  QString text = StockPreviewModel::tr("found %1").arg(from(error.found));
  if (!error.accepted.empty())
    text += StockPreviewModel::tr("; accepted: %1").arg(from(error.accepted));
  const QString column = from(error.place.path).section(", ", 1);
  return column.isEmpty() ? text : QString("%1: %2").arg(column, text);
}

/// An item as it was understood: "tube, ⌀60 × 2, 12.50 EUR a metre".
QString taken_as(const stock::GoodRow& good) {
  const build::StockItem& item = good.item;
  QStringList parts{stock_kind_word(item.kind), stock_sizes(item),
                    show_money(item.price) +
                        (item.per == build::Per::metre ? StockPreviewModel::tr(" a metre")
                         : item.pack > 1               ? StockPreviewModel::tr(" for %1").arg(item.pack)
                                                       : QString())};
  if (good.owned)
    parts << StockPreviewModel::tr("owned %1")
                 .arg(*good.owned == 0 ? StockPreviewModel::tr("none") : owned_text(item.per, *good.owned));
  parts.removeAll(QString());
  return parts.join(", ");
}

} // namespace

void StockPreviewModel::show_table(const stock::RawTable& table, stock::Preview preview) {
  beginResetModel();
  table_ = table;
  put(std::move(preview));
  endResetModel();
}

void StockPreviewModel::show_items(stock::Preview preview) {
  show_table({}, std::move(preview));
}

void StockPreviewModel::clear() {
  show_table({}, {});
}

/// Good and bad rows in the order of the list.
void StockPreviewModel::put(stock::Preview preview) {
  preview_ = std::move(preview);
  all_.clear();
  const std::vector<stock::GoodRow>& good = preview_.good;
  const std::vector<stock::BadRow>& bad = preview_.bad;
  std::size_t next_good = 0, next_bad = 0, next_cells = 0;
  while (next_good < good.size() || next_bad < bad.size()) {
    const bool is_good =
        next_bad == bad.size() || (next_good < good.size() && good[next_good].number < bad[next_bad].number);
    const std::size_t of_list = is_good ? good[next_good].number : bad[next_bad].number;
    while (next_cells < table_.rows.size() && table_.rows[next_cells].number < of_list)
      ++next_cells;
    all_.push_back({is_good, is_good ? next_good++ : next_bad++, next_cells});
  }
  rows_ = all_;
  if (only_bad_)
    std::erase_if(rows_, [](const Row& row) { return row.good; });
}

void StockPreviewModel::set_only_bad(bool only_bad) {
  if (only_bad == only_bad_)
    return;
  beginResetModel();
  only_bad_ = only_bad;
  rows_ = all_;
  if (only_bad_)
    std::erase_if(rows_, [](const Row& row) { return row.good; });
  endResetModel();
}

QString StockPreviewModel::result_of(const Row& row) const {
  if (!row.good)
    return reason_of(preview_.bad[row.at].error);
  const stock::GoodRow& good = preview_.good[row.at];
  const std::string_view word = stock::word(good.against);
  QString text = QString::fromUtf8(word.data(), static_cast<qsizetype>(word.size())) + ": " + taken_as(good);
  if (good.id_made)
    text += tr(", id made: %1").arg(from(good.item.id.text));
  return text;
}

QString StockPreviewModel::reason(int row) const {
  const Row& of = rows_.at(static_cast<std::size_t>(row));
  return of.good ? QString() : from(preview_.bad[of.at].error.text());
}

int StockPreviewModel::faulty_cell(const Row& row) const {
  if (row.good)
    return -1;
  const QString where = from(preview_.bad[row.at].error.place.path);
  for (std::size_t i = 0; i < table_.headings.size(); ++i) {
    const QString heading = from(table_.headings[i]);
    if (!heading.isEmpty() && (where.endsWith(", " + heading) || where.contains("(" + heading + ")")))
      return static_cast<int>(i);
  }
  return -1;
}

int StockPreviewModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}
int StockPreviewModel::columnCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : cells + static_cast<int>(table_.headings.size());
}

QVariant StockPreviewModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const Row& row = rows_[static_cast<std::size_t>(index.row())];
  const int cell = index.column() - cells;
  switch (role) {
  case Qt::DisplayRole:
    switch (index.column()) {
    case number:
      return QString::number(row.good ? preview_.good[row.at].number : preview_.bad[row.at].number);
    case result:
      return result_of(row);
    default: {
      const auto& of_row = table_.rows.at(row.cells).cells;
      return static_cast<std::size_t>(cell) < of_row.size() ? from(of_row[static_cast<std::size_t>(cell)])
                                                            : QString();
    }
    }
  case Qt::ToolTipRole:
    return row.good ? index.data(Qt::DisplayRole) : from(preview_.bad[row.at].error.text());
  case Qt::ForegroundRole:
    if (!row.good && (index.column() == result || cell == faulty_cell(row)))
      return theme().stop;
    return row.good && index.column() < cells && preview_.good[row.at].against == stock::Against::same
               ? QVariant(theme().muted_text)
               : QVariant();
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(
        Qt::Alignment((index.column() == number ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter));
  default:
    return {};
  }
}

QVariant StockPreviewModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (orientation != Qt::Horizontal || section < 0 || section >= columnCount())
    return QAbstractTableModel::headerData(section, orientation, role);
  if (role == Qt::TextAlignmentRole)
    return QVariant::fromValue(
        Qt::Alignment((section == number ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter));
  if (role != Qt::DisplayRole)
    return {};
  switch (section) {
  case number:
    return tr("Row");
  case result:
    return tr("What comes of it");
  default:
    return from(table_.headings.at(static_cast<std::size_t>(section - cells)));
  }
}

} // namespace bellmouth::ui
