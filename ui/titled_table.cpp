// SPDX-License-Identifier: GPL-3.0-or-later
#include "titled_table.hpp"

#include "theme.hpp"

#include <QEvent>
#include <QHeaderView>
#include <QLabel>
#include <QScrollBar>
#include <QStackedWidget>
#include <QTableView>
#include <QVBoxLayout>

namespace bellmouth::ui {

TitledTable::TitledTable(const QString& name, const QString& title, const QString& empty, QWidget* parent)
    : QWidget(parent), model_(new TextTableModel(this)), title_(new QLabel(title, this)),
      view_(new QTableView(this)), empty_(new QLabel(empty, this)), stack_(new QStackedWidget(this)) {
  setObjectName(name);
  title_->setFont(heading_font());
  view_->setObjectName(name + "_table");
  view_->setAccessibleName(title);
  view_->setModel(model_);
  view_->setSelectionBehavior(QAbstractItemView::SelectRows);
  view_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  view_->setAlternatingRowColors(true);
  view_->setShowGrid(false);
  view_->setWordWrap(false);
  view_->setFrameShape(QFrame::NoFrame);
  view_->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  view_->verticalHeader()->hide();
  view_->verticalHeader()->setDefaultSectionSize(QFontMetrics(font()).height() + 8);
  view_->horizontalHeader()->setHighlightSections(false);
  empty_->setAlignment(Qt::AlignCenter);
  empty_->setWordWrap(true);
  stack_->addWidget(view_);
  stack_->addWidget(empty_);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(title_);
  column->addWidget(stack_, 1);
}

QSize TitledTable::sizeHint() const {
  return {400, natural_height()};
}
QSize TitledTable::minimumSizeHint() const {
  return {260, natural_height()};
}

/// Heading and all rows: whoever has less room scrolls the page, not each table.
int TitledTable::natural_height() const {
  const int rows = std::max(model_->rowCount(), 2);
  return title_->sizeHint().height() + gap + view_->horizontalHeader()->sizeHint().height() +
         rows * view_->verticalHeader()->defaultSectionSize() +
         view_->horizontalScrollBar()->sizeHint().height() + 2;
}

void TitledTable::set_words_last() {
  words_last_ = true;
}

void TitledTable::show_table(TextTable table) {
  const int rows = model_->rowCount(), columns = model_->columnCount();
  model_->set_table(std::move(table.header), std::move(table.rows));
  stack_->setCurrentWidget(model_->rowCount() == 0 ? static_cast<QWidget*>(empty_) : view_);
  if (model_->rowCount() != rows)
    updateGeometry();
  if ((model_->rowCount() == rows && model_->columnCount() == columns) || model_->columnCount() == 0)
    return;
  view_->resizeColumnsToContents();
  for (int column = 0; column < model_->columnCount(); ++column)
    view_->setColumnWidth(column, view_->columnWidth(column) + wide_gap);
  view_->horizontalHeader()->setStretchLastSection(words_last_);
}

void TitledTable::changeEvent(QEvent* event) {
  QWidget::changeEvent(event);
  if (event->type() == QEvent::ApplicationFontChange)
    title_->setFont(heading_font());
}

} // namespace bellmouth::ui
