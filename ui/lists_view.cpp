// SPDX-License-Identifier: GPL-3.0-or-later
#include "lists_view.hpp"

#include "theme.hpp"
#include "units.hpp"

#include <bellmouth/build.hpp>

#include <QClipboard>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QStackedWidget>
#include <QTabBar>
#include <QTableView>
#include <QVBoxLayout>

namespace bellmouth::ui {

namespace {

constexpr int widest_column_px = 460, narrowest_words_px = 180;

/// In the order of list::tables().
constexpr std::array tab_names{"Shopping", "Cuts", "Clamps", "Changes of bore", "Bosses and flanges"};

QString totals_text(const list::Totals& totals, const build::Budget& budget) {
  QString text = QString("<b>To buy: %1</b>").arg(show_money(totals.total));
  if (totals.owned_value.minor != 0)
    text += QString(" &nbsp; owned: worth %1").arg(show_money(totals.owned_value));
  if (totals.left && budget.limit) {
    const bool over = totals.left->minor < 0;
    text +=
        QString(" &nbsp; budget %1: %2 %3")
            .arg(show_money(*budget.limit), show_money({std::abs(totals.left->minor), totals.left->currency}),
                 over ? "over" : "left");
  }
  if (totals.unpriced > 0)
    text += QString(" &nbsp; %1 without a price").arg(totals.unpriced);
  if (units().length == UnitChoice::Length::inches)
    text += " &nbsp; lists and findings are metric";
  return text;
}

} // namespace

ListsView::ListsView(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), model_(new ListModel(this)), tabs_(new QTabBar(this)),
      table_(new QTableView(this)), empty_(new QLabel("Nothing on this list.", this)),
      stack_(new QStackedWidget(this)), totals_(new QLabel(this)) {
  setObjectName("lists_view");
  tabs_->setObjectName("lists_tabs");
  tabs_->setAccessibleName("Which list");
  tabs_->setDrawBase(false);
  tabs_->setExpanding(false);
  for (const char* name : tab_names)
    tabs_->addTab(name);

  table_->setObjectName("lists_table");
  table_->setAccessibleName("List");
  table_->setModel(model_);
  table_->setSelectionBehavior(QAbstractItemView::SelectRows);
  table_->setSelectionMode(QAbstractItemView::SingleSelection);
  table_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed |
                          QAbstractItemView::AnyKeyPressed);
  table_->setAlternatingRowColors(true);
  table_->setShowGrid(false);
  table_->setWordWrap(false);
  table_->setFrameShape(QFrame::NoFrame);
  table_->verticalHeader()->hide();
  table_->verticalHeader()->setDefaultSectionSize(QFontMetrics(font()).height() + 10);
  table_->horizontalHeader()->setHighlightSections(false);
  table_->horizontalHeader()->setStretchLastSection(true);

  empty_->setObjectName("lists_empty");
  empty_->setAlignment(Qt::AlignCenter);
  stack_->addWidget(table_);
  stack_->addWidget(empty_);
  totals_->setObjectName("lists_totals");

  auto* copy = new QPushButton("Copy", this);
  copy->setObjectName("lists_copy");
  copy->setToolTip("Copy this list, to be pasted into a table");
  auto* save = new QPushButton("Export all lists…", this);
  save->setObjectName("lists_export");
  save->setToolTip("Write all five lists as CSV files");

  auto* head = new QHBoxLayout;
  head->addWidget(tabs_, 1);
  head->addWidget(copy);
  head->addWidget(save);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(gap, gap, gap, gap);
  column->setSpacing(gap);
  column->addLayout(head);
  column->addWidget(stack_, 1);
  column->addWidget(totals_);

  connect(tabs_, &QTabBar::currentChanged, this, &ListsView::show_table);
  connect(copy, &QPushButton::clicked, this, [this] {
    QGuiApplication::clipboard()->setText(text());
    emit message(
        QString("%1: copied %2 rows").arg(tabs_->tabText(tabs_->currentIndex())).arg(model_->rowCount()));
  });
  connect(save, &QPushButton::clicked, this, &ListsView::export_requested);
  connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, &ListsView::pick);
  connect(table_, &QTableView::clicked, this, &ListsView::pick);
  connect(model_, &ListModel::owned_edited, this, &ListsView::own);
  connect(model_, &ListModel::refused, this, &ListsView::message);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Change::document | Change::evaluation))
      refresh();
  });
  refresh();
  show_table();
}

void ListsView::refresh() {
  const int rows = model_->rowCount();
  model_->set_lists(session_.evaluation().lists, session_.build().owned, tabs_->currentIndex());
  if (model_->rowCount() != rows)
    show_table();
  totals_->setText(totals_text(session_.evaluation().lists.totals, session_.build().budget));
}

void ListsView::show_table() {
  model_->set_lists(session_.evaluation().lists, session_.build().owned, tabs_->currentIndex());
  fit_columns();
  stack_->setCurrentWidget(model_->rowCount() == 0 ? static_cast<QWidget*>(empty_) : table_);
}

/// Columns as wide as what is in them; where that is too much, the widest gives way.
void ListsView::fit_columns() {
  const int columns = model_->columnCount();
  if (columns == 0)
    return;
  table_->resizeColumnsToContents();
  int sum = 0, widest = 0;
  for (int column = 0; column < columns; ++column) {
    table_->setColumnWidth(column, std::min(table_->columnWidth(column) + wide_gap, widest_column_px));
    sum += table_->columnWidth(column);
    if (table_->columnWidth(column) > table_->columnWidth(widest))
      widest = column;
  }
  if (const int over = sum - table_->viewport()->width(); over > 0)
    table_->setColumnWidth(widest, std::max(table_->columnWidth(widest) - over, narrowest_words_px));
}

void ListsView::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  fit_columns();
}

void ListsView::pick(const QModelIndex& index) {
  if (!index.isValid())
    return;
  if (const auto piece = model_->piece(index.row()))
    session_.select(PickedPiece{piece->run, piece->row});
}

void ListsView::own(int line, double quantity) {
  const list::ShoppingLine& what = model_->lists().shopping.at(static_cast<std::size_t>(line));
  if (!what.stock)
    return;
  const QString text =
      QString("Change how much is owned of %1").arg(QString::fromStdString(what.description));
  if (const auto error = session_.apply(build::with_owned(session_.build(), *what.stock, quantity), text))
    emit message(QString::fromStdString(error->text()));
  else
    emit message({}); // what was refused before has been put right
}

QString ListsView::text() const {
  QString text;
  const auto add_row = [&](auto cell) {
    QStringList cells;
    for (int column = 0; column < model_->columnCount(); ++column)
      cells << cell(column).toString();
    text += cells.join('\t') + '\n';
  };
  add_row([&](int column) { return model_->headerData(column, Qt::Horizontal, Qt::DisplayRole); });
  for (int row = 0; row < model_->rowCount(); ++row)
    add_row([&](int column) { return model_->index(row, column).data(); });
  return text;
}

} // namespace bellmouth::ui
