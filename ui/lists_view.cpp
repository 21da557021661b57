// SPDX-License-Identifier: GPL-3.0-or-later
#include "lists_view.hpp"

#include "budget_fields.hpp"
#include "form.hpp"
#include "piece_text.hpp"
#include "theme.hpp"
#include "units.hpp"
#include "wrapped_label.hpp"

#include <bellmouth/build.hpp>

#include <QClipboard>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QListWidget>
#include <QLocale>
#include <QPushButton>
#include <QScrollBar>
#include <QStackedWidget>
#include <QStyledItemDelegate>
#include <QTableView>
#include <QTimer>

#include <algorithm>

namespace bellmouth::ui {

namespace {

constexpr int widest_column_px = 300, narrowest_words_px = 170, names_px = 150, row_room_px = 10;
constexpr buy::Aim all_aims[] = {buy::Aim::money, buy::Aim::suppliers, buy::Aim::offcuts};

class NumbersApart : public QStyledItemDelegate {
public:
  using QStyledItemDelegate::QStyledItemDelegate;

protected:
  void initStyleOption(QStyleOptionViewItem* option, const QModelIndex& index) const override {
    QStyledItemDelegate::initStyleOption(option, index);
    if (option->displayAlignment & Qt::AlignRight)
      option->text += behind_number;
  }
};

} // namespace

ListsView::ListsView(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), model_(new ListModel(this)), names_(new QListWidget(this)),
      about_(new QLabel(this)), next_(new QPushButton(this)), table_(new QTableView(this)),
      empty_(new QLabel(this)), stack_(new QStackedWidget(this)), aim_(new ComboBox(this)),
      sums_(new WrappedLabel(this)) {
  setObjectName("lists_view");
  names_->setObjectName("lists_names");
  names_->setAccessibleName(tr("Which list"));
  names_->setFixedWidth(names_px);
  names_->setFrameShape(QFrame::NoFrame);
  names_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  prepare_table();
  empty_->setObjectName("lists_empty");
  empty_->setAlignment(Qt::AlignCenter);
  stack_->addWidget(table_);
  stack_->addWidget(empty_);

  auto* right = new QVBoxLayout;
  right->setSpacing(gap);
  right->addWidget(make_head());
  right->addWidget(stack_, 1);
  sums_->setObjectName("lists_totals");
  right->addWidget(sums_);
  auto* all = new QHBoxLayout(this);
  all->setContentsMargins(gap, gap, gap, gap);
  all->setSpacing(wide_gap);
  all->addWidget(names_);
  all->addLayout(right, 1);

  connect(names_, &QListWidget::currentRowChanged, this, [this](int row) {
    if (row >= 0)
      show_table();
  });
  connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
          [this](const QModelIndex& now) {
            just_picked_ = true;
            pick(now.isValid() ? now.row() : -1, false);
          });
  connect(table_, &QTableView::clicked, this, [this](const QModelIndex& index) {
    // The first click has been told as a change of the row.
    if (!std::exchange(just_picked_, false) && !(index.flags() & Qt::ItemIsEditable))
      pick(index.row(), true);
  });
  connect(next_, &QPushButton::clicked, this, [this] { pick(picked_row_, true); });
  connect(model_, &ListModel::owned_typed, this, &ListsView::own);
  connect(model_, &ListModel::paid_typed, this, &ListsView::pay);
  connect(model_, &ListModel::modelReset, this, [this] {
    picked_row_ = -1;
    show_next();
  });
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (!(changes & (Change::document | Change::evaluation | Change::purchase)))
      return;
    stale_ = true;
    if (isVisible())
      refresh();
  });
}

QWidget* ListsView::make_head() {
  auto* head = new QWidget(this);
  about_->setObjectName("lists_about");
  about_->setForegroundRole(QPalette::PlaceholderText);
  about_->setWordWrap(true);
  next_->setObjectName("lists_next");
  auto* row = new QHBoxLayout(head);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(gap);
  plan_ = make_plan();
  row->addWidget(about_, 1);
  row->addWidget(plan_, 1);
  row->addWidget(next_);
  const auto button = [&](const char* name, const QString& text, const QString& tip) {
    auto* made = new QPushButton(text, head);
    made->setObjectName(name);
    made->setToolTip(tip);
    row->addWidget(made);
    return made;
  };
  connect(button("lists_copy", tr("Copy"), tr("Copy this list, to be pasted into a table")),
          &QPushButton::clicked, this, [this] {
            QGuiApplication::clipboard()->setText(text());
            emit message(tr("%1: copied %2 rows").arg(model_->table().title).arg(model_->table().lines()));
          });
  connect(button("lists_export", tr("Export all…"), tr("Write all lists as CSV files")),
          &QPushButton::clicked, this, &ListsView::export_requested);
  connect(button("lists_print", tr("Print…"), tr("All lists and findings on paper, or as a PDF file")),
          &QPushButton::clicked, this, &ListsView::print_requested);
  return head;
}

QWidget* ListsView::make_plan() {
  auto* box = new QWidget(this);
  aim_->setObjectName("lists_aim");
  aim_->setAccessibleName(tr("What the plan is to be least in"));
  aim_->setToolTip(tr("What the plan is to be least in; beside it what each costs"));
  aim_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  for (const buy::Aim aim : all_aims)
    aim_->addItem(aim_words(aim), static_cast<int>(aim));
  aim_->setCurrentIndex(aim_->findData(static_cast<int>(session_.aim())));
  connect(aim_, &QComboBox::activated, this,
          [this] { session_.set_aim(static_cast<buy::Aim>(aim_->currentData().toInt())); });
  auto* budget = new QPushButton(tr("Budget…"), box);
  budget->setObjectName("lists_budget");
  budget->setToolTip(tr("Currency, limit, tax, postage of each supplier, and spares"));
  connect(budget, &QPushButton::clicked, this, &ListsView::budget_requested);
  auto* row = new QHBoxLayout(box);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(gap);
  row->addWidget(aim_, 1);
  row->addWidget(budget);
  return box;
}

void ListsView::prepare_table() {
  table_->setObjectName("lists_table");
  table_->setAccessibleName(tr("List"));
  table_->setModel(model_);
  table_->setItemDelegate(new NumbersApart(table_));
  table_->setSelectionBehavior(QAbstractItemView::SelectRows);
  table_->setSelectionMode(QAbstractItemView::SingleSelection);
  table_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed |
                          QAbstractItemView::AnyKeyPressed);
  table_->setAlternatingRowColors(true);
  table_->setShowGrid(false);
  table_->setWordWrap(true);
  table_->setFrameShape(QFrame::NoFrame);
  table_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  table_->verticalHeader()->hide();
  table_->verticalHeader()->setDefaultSectionSize(QFontMetrics(font()).height() + row_room_px);
  table_->verticalHeader()->setMinimumSectionSize(QFontMetrics(font()).height() + row_room_px);
  table_->horizontalHeader()->setHighlightSections(false);
  table_->horizontalHeader()->setStretchLastSection(true);
}

void ListsView::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (stale_)
    refresh();
}

void ListsView::refresh() {
  stale_ = false;
  // Until the purchase has been planned anew, what was planned before stands.
  const buy::Purchase* purchase =
      session_.purchase_is_due() ? session_.last_purchase() : &session_.purchase();
  tables_ = list_tables(session_.build(), session_.evaluation(), purchase);
  {
    const QSignalBlocker quiet(names_);
    const int row = std::max(names_->currentRow(), 0);
    while (names_->count() < static_cast<int>(tables_.size()))
      names_->addItem(QString());
    for (int i = 0; i < names_->count(); ++i) {
      const ListTable& table = tables_.at(static_cast<std::size_t>(i));
      const int lines = table.lines();
      names_->item(i)->setText(lines == 0 ? table.title : tr("%1 (%2)").arg(table.title).arg(lines));
      names_->item(i)->setForeground(lines == 0 ? theme().muted_text : theme().text);
    }
    names_->setCurrentRow(row);
  }
  show_table();
  refresh_money();
}

void ListsView::refresh_money() {
  const buy::Purchase* purchase = session_.last_purchase();
  if (purchase == nullptr) {
    sums_->set_text(tr("The purchase is being planned."));
    return;
  }
  QStringList words = money_words(session_.build(), *purchase);
  const QString sum = words.takeFirst();
  if (units().length == UnitChoice::Length::inches)
    words << tr("lists and findings are metric");
  const bool over = purchase->totals.left && purchase->totals.left->minor < 0;
  for (QString& each : words)
    each = each.toHtmlEscaped();
  if (over)
    for (QString& each : words)
      if (each.startsWith(tr("budget")))
        each = QString("<b><font color='%1'>%2</font></b>").arg(theme().stop.name(), each);
  sums_->setTextFormat(Qt::RichText);
  const QString made_up_of = words.takeFirst();
  sums_->set_text(QString("<b>%1</b> &nbsp;(%2) &nbsp;·&nbsp; %3")
                      .arg(sum.toHtmlEscaped(), made_up_of, words.join(" &nbsp;·&nbsp; ")));
  // When all else has been shown.
  if (!session_.purchase_is_due())
    QTimer::singleShot(0, this, &ListsView::refresh_aims);
}

void ListsView::refresh_aims() {
  const QSignalBlocker quiet(aim_);
  const bool known = isVisible() && plan_->isVisible() && !session_.purchase_is_due();
  for (int i = 0; i < aim_->count(); ++i) {
    const auto aim = static_cast<buy::Aim>(aim_->itemData(i).toInt());
    aim_->setItemText(i, known ? tr("%1: %2").arg(aim_words(aim), plan_words(session_.purchase_with(aim)))
                               : aim_words(aim));
  }
  aim_->setCurrentIndex(aim_->findData(static_cast<int>(session_.aim())));
}

void ListsView::show_list(const QString& key) {
  if (stale_)
    refresh();
  for (std::size_t i = 0; i < tables_.size(); ++i)
    if (tables_[i].key == key)
      names_->setCurrentRow(static_cast<int>(i));
}

void ListsView::show_table() {
  if (tables_.empty())
    return;
  const ListTable& table = tables_.at(static_cast<std::size_t>(std::max(names_->currentRow(), 0)));
  const bool other = table.key != model_->table().key || table.rows.size() != model_->table().rows.size();
  model_->set_table(table);
  about_->setText(table.about);
  empty_->setText(table.empty);
  stack_->setCurrentWidget(table.rows.empty() ? static_cast<QWidget*>(empty_) : table_);
  const bool buying = table.key == "shopping";
  about_->setVisible(!buying);
  plan_->setVisible(buying);
  sums_->setVisible(buying);
  if (other)
    fit_columns();
  show_next();
}

/// Columns as wide as what is in them; where that is a little too much, the widest gives way.
void ListsView::fit_columns() {
  const int columns = model_->columnCount();
  if (columns == 0)
    return;
  table_->resizeColumnsToContents();
  int sum = 0, widest = 0;
  for (int column = 0; column < columns; ++column) {
    table_->setColumnWidth(column, std::min(table_->columnWidth(column) + gap, widest_column_px));
    sum += table_->columnWidth(column);
    if (table_->columnWidth(column) > table_->columnWidth(widest))
      widest = column;
  }
  // The scroll bar is counted whether it is there or not: it comes only after the rows.
  const int room = table_->width() - table_->verticalScrollBar()->sizeHint().width();
  const int left = table_->columnWidth(widest) - (sum - room);
  const bool buying = model_->table().key == "shopping"; // money stays in sight
  if (sum > room && (buying || left >= narrowest_words_px))
    table_->setColumnWidth(widest, std::max(left, narrowest_words_px));
  table_->clearSpans();
  for (int row = 0; row < model_->rowCount(); ++row)
    if (model_->row(row).heading) {
      int across = 1;
      while (across < columns && model_->row(row).cells[across].isEmpty())
        ++across;
      table_->setSpan(row, 0, 1, across);
    }
  table_->resizeRowsToContents();
}

void ListsView::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  fit_columns();
}

void ListsView::pick(int row, bool next) {
  if (row < 0 || row >= model_->rowCount() || model_->row(row).pieces.empty()) {
    picked_row_ = row;
    show_next();
    return;
  }
  const auto& pieces = model_->row(row).pieces;
  picked_piece_ = next && row == picked_row_ ? (picked_piece_ + 1) % pieces.size() : 0;
  picked_row_ = row;
  const build::PieceRef piece = pieces[picked_piece_];
  show_next();
  session_.select(PickedPiece{piece.run, piece.row});
}

void ListsView::show_next() {
  const bool there = picked_row_ >= 0 && picked_row_ < model_->rowCount();
  const std::size_t count = there ? model_->row(picked_row_).pieces.size() : 0;
  next_->setVisible(count > 1);
  next_->setText(tr("Next piece (%1 of %2)").arg(std::min(picked_piece_ + 1, count)).arg(count));
  next_->setToolTip(tr("Shows the next piece of this row in the path and the bay; so does another click"));
}

QString ListsView::item_name(const build::StockId& stock) const {
  const build::StockItem* item = session_.build().find(stock);
  return QString::fromStdString(item == nullptr || item->name.empty() ? stock.text : item->name);
}

void ListsView::own(const build::StockId& stock, const QString& typed) {
  bool is_a_number = false;
  const QString text = typed.trimmed();
  const double quantity = text.isEmpty() ? 0 : QLocale().toDouble(text, &is_a_number);
  if (!text.isEmpty() && (!is_a_number || quantity < 0)) {
    emit message(tr("Owned: found \"%1\"; accepted is a number from 0 (pieces, or metres of what is sold by "
                    "the metre)")
                     .arg(typed));
    return;
  }
  apply(build::with_owned(session_.build(), stock, quantity),
        tr("Change how much is owned of %1").arg(item_name(stock)));
}

void ListsView::pay(const build::StockId& stock, const QString& typed) {
  const auto read = read_amount(typed, session_.build().budget.currency);
  if (const auto* why = std::get_if<QString>(&read)) {
    emit message(tr("Paid: %1").arg(*why));
    return;
  }
  const auto& owned = session_.build().owned;
  const auto found = std::ranges::find(owned, stock, &build::Owned::stock);
  if (found == owned.end()) {
    emit message(tr("Paid: say first how much of it you own"));
    return;
  }
  build::Owned next = *found;
  next.paid = std::get<std::optional<quantity::Money>>(read);
  apply(build::with_owned(session_.build(), std::move(next)),
        tr("Change what was paid for %1").arg(item_name(stock)));
}

void ListsView::apply(build::Build next, const QString& what) {
  if (const auto error = session_.apply(std::move(next), what))
    emit message(QString::fromStdString(error->text()));
  else
    emit message({}); // what was refused before has been put right
}

QString ListsView::text() const {
  QString text = model_->table().header.join('\t') + '\n';
  for (const ListRow& row : model_->table().rows)
    text += row.cells.join('\t') + '\n';
  return text;
}

} // namespace bellmouth::ui
