// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_mapping.hpp"

#include "form.hpp"

#include <QHeaderView>
#include <QScrollBar>
#include <QStandardItemModel>

#include <algorithm>

namespace bellmouth::ui {

namespace {

QString words(std::string_view text) {
  return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}

/// The units in which a column of a field can count; none for what has no dimension.
QStringList units_of(const std::optional<stock::Field>& field) {
  QStringList symbols;
  if (!field || !stock::info(*field).dimension)
    return symbols;
  for (const quantity::Unit& unit : quantity::units(*stock::info(*field).dimension))
    symbols << words(unit.symbol);
  return symbols;
}

} // namespace

StockMapping::StockMapping(int columns_before, QWidget* parent)
    : QTableView(parent), before_(columns_before), model_(new QStandardItemModel(this)) {
  setObjectName("import_mapping");
  setAccessibleName(tr("What the columns hold"));
  setModel(model_);
  setSelectionMode(QAbstractItemView::NoSelection);
  setEditTriggers(QAbstractItemView::NoEditTriggers);
  setFocusPolicy(Qt::NoFocus); // its boxes take it
  setFrameShape(QFrame::NoFrame);
  setShowGrid(false);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  verticalHeader()->hide();
  horizontalHeader()->setHighlightSections(false);
  horizontalHeader()->setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
}

void StockMapping::show_headings(const QStringList& before) {
  headings_ = before;
  mapping_ = {};
  model_->clear();
  model_->setHorizontalHeaderLabels(headings_);
  setFixedHeight(horizontalHeader()->sizeHint().height());
}

void StockMapping::show_mapping(const stock::RawTable& table, stock::Mapping mapping) {
  QStringList headings = headings_.mid(0, before_);
  for (const std::string& heading : table.headings)
    headings << QString::fromStdString(heading);
  headings_ = headings;
  mapping_ = std::move(mapping);
  make_boxes();
}

void StockMapping::make_boxes() {
  model_->clear();
  model_->setColumnCount(static_cast<int>(headings_.size()));
  model_->setRowCount(2);
  model_->setHorizontalHeaderLabels(headings_);
  QStringList fields{tr("not used")};
  for (const stock::FieldInfo& field : stock::fields())
    fields << words(field.name);
  int height = 0;
  for (int i = 0; i < static_cast<int>(mapping_.columns.size()); ++i) {
    auto* field = new ComboBox(this);
    field->setObjectName(QString("import_field_%1").arg(i));
    field->setAccessibleName(tr("What column %1 holds").arg(headings_[before_ + i]));
    field->setToolTip(tr("What this column holds"));
    field->addItems(fields);
    field->setMaxVisibleItems(static_cast<int>(fields.size()));
    setIndexWidget(model_->index(field_row, before_ + i), field);
    height = field->sizeHint().height();
    connect(field, &QComboBox::activated, this, [this, i](int chosen) {
      stock::ColumnMapping& column = mapping_.columns[static_cast<std::size_t>(i)];
      column.field = chosen == 0 ? std::nullopt
                                 : std::optional(stock::fields()[static_cast<std::size_t>(chosen) - 1].field);
      // A unit of another dimension means nothing here.
      if (!units_of(column.field).contains(QString::fromStdString(column.unit)))
        column.unit.clear();
      show_units(i);
      emit edited();
    });
  }
  verticalHeader()->setDefaultSectionSize(height);
  for (const auto& [row, text] : {std::pair{field_row, tr("holds")}, std::pair{unit_row, tr("in")}}) {
    auto* item = new QStandardItem(text);
    item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
    model_->setItem(row, before_ - 1, item);
  }
  setFixedHeight(horizontalHeader()->sizeHint().height() + 2 * height);
  set_mapping(std::move(mapping_));
}

void StockMapping::set_mapping(stock::Mapping mapping) {
  mapping_ = std::move(mapping);
  for (int i = 0; i < static_cast<int>(mapping_.columns.size()); ++i) {
    const auto& field = mapping_.columns[static_cast<std::size_t>(i)].field;
    const auto all = stock::fields();
    const auto found = std::ranges::find_if(all, [&](const auto& info) { return info.field == field; });
    box(field_row, i)->setCurrentIndex(found == all.end() ? 0 : static_cast<int>(found - all.begin()) + 1);
    show_units(i);
  }
}

/// The box of units stands only below what is measured.
void StockMapping::show_units(int column) {
  const stock::ColumnMapping& mapped = mapping_.columns[static_cast<std::size_t>(column)];
  const QStringList units = units_of(mapped.field);
  const QModelIndex place = model_->index(unit_row, before_ + column);
  if (units.isEmpty()) {
    setIndexWidget(place, nullptr);
    return;
  }
  QComboBox* unit = box(unit_row, column);
  if (unit == nullptr) {
    unit = new ComboBox(this);
    unit->setObjectName(QString("import_unit_%1").arg(column));
    unit->setAccessibleName(tr("Unit of column %1").arg(headings_[before_ + column]));
    unit->setToolTip(tr("The unit of numbers that stand alone"));
    setIndexWidget(place, unit);
    connect(unit, &QComboBox::activated, this, [this, column, unit](int chosen) {
      mapping_.columns[static_cast<std::size_t>(column)].unit =
          chosen == 0 ? std::string() : unit->itemText(chosen).toStdString();
      emit edited();
    });
  }
  unit->clear();
  unit->addItem(tr("not said"));
  unit->addItems(units);
  unit->setCurrentIndex(
      mapped.unit.empty() ? 0 : static_cast<int>(units.indexOf(QString::fromStdString(mapped.unit))) + 1);
}

QComboBox* StockMapping::box(int row, int column) const {
  return static_cast<QComboBox*>(indexWidget(model_->index(row, before_ + column)));
}

} // namespace bellmouth::ui
