// SPDX-License-Identifier: GPL-3.0-or-later
#include "ranked_table.hpp"

#include "theme.hpp"

#include <QEvent>
#include <QHeaderView>

#include <algorithm>

namespace bellmouth::ui {

namespace {

constexpr int row_room_px = 8, widest_column_px = 420;

bool same_shape(const Ranking& one, const Ranking& other) {
  return one.columns.size() == other.columns.size() && one.rows.size() == other.rows.size();
}

} // namespace

void RankedModel::set_ranking(Ranking ranking) {
  if (!same_shape(ranking, ranking_)) {
    beginResetModel();
    ranking_ = std::move(ranking);
    endResetModel();
    return;
  }
  const bool other_columns = ranking.columns != ranking_.columns;
  std::swap(ranking, ranking_);
  if (other_columns)
    emit headerDataChanged(Qt::Horizontal, 0, columnCount() - 1);
  for (int row = 0; row < rowCount(); ++row)
    if (const auto at = static_cast<std::size_t>(row); ranking_.rows[at] != ranking.rows[at])
      emit dataChanged(index(row, 0), index(row, columnCount() - 1));
}

const RankedRow& RankedModel::row(int row) const {
  return ranking_.rows.at(static_cast<std::size_t>(row));
}

int RankedModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(ranking_.rows.size());
}
int RankedModel::columnCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(ranking_.columns.size());
}

QVariant RankedModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const RankedRow& shown = row(index.row());
  const RankedCell& cell = shown.cells.at(static_cast<std::size_t>(index.column()));
  const bool number = ranking_.columns[static_cast<std::size_t>(index.column())].number;
  switch (role) {
  case Qt::DisplayRole:
    return cell.text;
  case Qt::ToolTipRole:
    return shown.tip.isEmpty() ? cell.text : shown.tip;
  case rank_role:
    return cell.rank ? QVariant(*cell.rank) : QVariant(cell.text);
  case last_role:
    return shown.last;
  case Qt::FontRole: {
    QFont font;
    font.setBold(shown.strong);
    return shown.strong ? QVariant(font) : QVariant();
  }
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(
        Qt::Alignment(number ? Qt::AlignRight | Qt::AlignVCenter : Qt::AlignLeft | Qt::AlignVCenter));
  default:
    return {};
  }
}

QVariant RankedModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (orientation != Qt::Horizontal || section < 0 || section >= columnCount())
    return QAbstractTableModel::headerData(section, orientation, role);
  const RankedColumn& column = ranking_.columns[static_cast<std::size_t>(section)];
  switch (role) {
  case Qt::DisplayRole:
    return column.title;
  case Qt::ToolTipRole:
    return column.tip;
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(
        Qt::Alignment(column.number ? Qt::AlignRight | Qt::AlignVCenter : Qt::AlignLeft | Qt::AlignVCenter));
  default:
    return {};
  }
}

RankedOrder::RankedOrder(QObject* parent) : QSortFilterProxyModel(parent) {
  setSortRole(RankedModel::rank_role);
  setSortCaseSensitivity(Qt::CaseInsensitive);
}

bool RankedOrder::lessThan(const QModelIndex& left, const QModelIndex& right) const {
  const bool left_last = left.data(RankedModel::last_role).toBool(),
             right_last = right.data(RankedModel::last_role).toBool();
  if (left_last != right_last)
    return sortOrder() == Qt::AscendingOrder ? right_last : left_last;
  return QSortFilterProxyModel::lessThan(left, right);
}

RankedTable::RankedTable(const QString& object_name, const QString& accessible_name, QWidget* parent)
    : QTableView(parent), model_(new RankedModel(this)), order_(new RankedOrder(this)) {
  setObjectName(object_name);
  setAccessibleName(accessible_name);
  order_->setSourceModel(model_);
  setModel(order_);
  setSelectionBehavior(QAbstractItemView::SelectRows);
  setSelectionMode(QAbstractItemView::SingleSelection);
  setEditTriggers(QAbstractItemView::NoEditTriggers);
  setTabKeyNavigation(false);
  setAlternatingRowColors(true);
  setShowGrid(false);
  setWordWrap(false);
  setFrameShape(QFrame::NoFrame);
  setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  setSortingEnabled(true);
  verticalHeader()->hide();
  verticalHeader()->setDefaultSectionSize(QFontMetrics(font()).height() + row_room_px);
  horizontalHeader()->setHighlightSections(false);
  const auto pick = [this](const QModelIndex& index) {
    if (index.isValid())
      emit picked(row(index));
  };
  connect(selectionModel(), &QItemSelectionModel::currentRowChanged, this, pick);
  connect(this, &QTableView::clicked, this, pick);
}

void RankedTable::show_ranking(Ranking ranking) {
  const bool other_shape = model_->rowCount() != static_cast<int>(ranking.rows.size()) ||
                           model_->columnCount() != static_cast<int>(ranking.columns.size());
  model_->set_ranking(std::move(ranking));
  if (other_shape)
    fit_columns();
}

void RankedTable::set_wide_column(int column) {
  wide_column_ = column;
}

void RankedTable::sort_by(int column, Qt::SortOrder order) {
  sortByColumn(column, order);
}

const RankedRow& RankedTable::row(const QModelIndex& index) const {
  return model_->row(order_->mapToSource(index).row());
}

void RankedTable::fit_columns() {
  const int columns = model_->columnCount();
  if (columns == 0)
    return;
  QHeaderView& header = *horizontalHeader();
  header.setSectionResizeMode(QHeaderView::Interactive);
  resizeColumnsToContents();
  for (int column = 0; column < columns; ++column)
    setColumnWidth(column, std::min(columnWidth(column) + wide_gap, widest_column_px));
  const int wide = wide_column_ < 0 ? columns - 1 : wide_column_;
  header.setMinimumSectionSize(columns > 1 ? 40 : 0);
  header.setSectionResizeMode(wide, QHeaderView::Stretch);
}

void RankedTable::changeEvent(QEvent* event) {
  QTableView::changeEvent(event);
  if (event->type() == QEvent::FontChange || event->type() == QEvent::ApplicationFontChange) {
    verticalHeader()->setDefaultSectionSize(QFontMetrics(font()).height() + row_room_px);
    fit_columns();
  }
}

} // namespace bellmouth::ui
