// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_view.hpp"

#include "form.hpp"
#include "piece_text.hpp"
#include "stock_sheet.hpp"
#include "stock_text.hpp"
#include "theme.hpp"

#include <QKeyEvent>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QShortcut>
#include <QStackedWidget>
#include <QToolButton>

#include <algorithm>
#include <set>

namespace bellmouth::ui {

namespace {

constexpr int widest_column_px = 200;

} // namespace

StockView::StockView(Session& session, AskRemove ask_remove, QWidget* parent)
    : QWidget(parent), session_(session), ask_remove_(std::move(ask_remove)),
      model_(new StockModel(session, this)), order_(new StockOrder(*model_, this)),
      sheet_(new StockSheet(session, this)), search_(new QLineEdit(this)), kinds_(new ComboBox(this)),
      suppliers_(new ComboBox(this)), owned_(new QCheckBox(tr("Owned"), this)),
      used_(new QCheckBox(tr("Used"), this)), count_(new QLabel(this)), add_(new QToolButton(this)),
      duplicate_(new QPushButton(tr("Duplicate"), this)), remove_(new QPushButton(tr("Remove"), this)),
      where_used_(new QPushButton(tr("Show where used"), this)),
      import_(new QPushButton(tr("Import…"), this)), table_(new StockTable(this)),
      stack_(new QStackedWidget(this)), error_(new WrappedLabel(this)) {
  setObjectName("stock_view");
  sheet_->hide();
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(gap, gap, gap, gap);
  column->setSpacing(gap);
  column->addWidget(choice_row());
  column->addWidget(button_row());
  empty_ = empty_page();
  nothing_found_ = nothing_found_page();
  stack_->addWidget(table_page());
  stack_->addWidget(empty_);
  stack_->addWidget(nothing_found_);
  column->addWidget(stack_, 1);
  error_->setObjectName("stock_error");
  error_->hide();
  column->addWidget(error_);
  auto* find = new QShortcut(QKeySequence::Find, this);
  connect(find, &QShortcut::activated, this, &StockView::focus_search);
  connect(sheet_, &StockSheet::close_requested, this, [this] {
    emit sheet_closed();
    table_->setFocus();
  });
  connect(model_, &StockModel::refused_changed, this, &StockView::show_complaint_of_cell);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (!(changes & (Changes(Change::document) | Change::evaluation)))
      return;
    if (isVisible())
      refresh();
    else
      stale_ = true; // no drag in another view waits for what nobody sees
  });
  refresh();
}

void StockView::refresh() {
  model_->refresh();
  refresh_suppliers();
  refresh_state();
  if (!fitted_ && isVisible() && model_->rowCount() > 0)
    fit_columns();
}

void StockView::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (std::exchange(stale_, false) || !fitted_)
    refresh();
}

void StockView::refresh_suppliers() {
  const auto before_it = std::exchange(suppliers_of_, session_.build().stock);
  if (&*before_it == &*suppliers_of_ && suppliers_->count() > 0)
    return;
  std::set<std::string> names;
  for (const build::StockItem& item : *suppliers_of_)
    names.insert(item.supplier);
  const QVariant before = suppliers_->currentData();
  const QSignalBlocker quiet(suppliers_);
  suppliers_->clear();
  suppliers_->addItem(tr("all suppliers"));
  for (const std::string& name : names)
    suppliers_->addItem(name.empty() ? tr("supplier not said") : QString::fromStdString(name),
                        QString::fromStdString(name));
  const int again = before.isValid() ? suppliers_->findData(before) : 0;
  suppliers_->setCurrentIndex(std::max(again, 0));
  suppliers_->setEnabled(names.size() > 1);
  choose(); // the one that was chosen may be gone
}

void StockView::choose() {
  const auto before = picked();
  StockChoice choice;
  choice.words = searchable(search_->text()).simplified().split(' ', Qt::SkipEmptyParts);
  if (kinds_->currentIndex() > 0)
    choice.kind = static_cast<build::StockKind>(kinds_->currentIndex() - 1);
  if (suppliers_->currentIndex() > 0)
    choice.supplier = suppliers_->currentData().toString().toStdString();
  choice.owned = owned_->isChecked();
  choice.used = used_->isChecked();
  order_->choose(std::move(choice));
  if (before && picked() == before)
    table_->scrollTo(table_->currentIndex());
  refresh_state();
}

void StockView::refresh_state() {
  const int all = model_->rowCount(), shown = order_->rowCount();
  QWidget* page = all == 0 ? empty_ : shown == 0 ? nothing_found_ : static_cast<QWidget*>(table_);
  if (stack_->currentWidget() != page)
    stack_->setCurrentWidget(page);
  count_->setText(shown == all ? tr("%1 items").arg(all) : tr("%1 of %2 items").arg(shown).arg(all));
  const int row = picked_row();
  duplicate_->setEnabled(row >= 0);
  remove_->setEnabled(row >= 0);
  where_used_->setEnabled(row >= 0 && model_->use_of(row).count > 0);
  if (const auto id = picked()) // when the picked row is filtered out, its sheet stays
    sheet_->show_item(id);
  else if (sheet_->item() && session_.build().find(*sheet_->item()) == nullptr)
    sheet_->show_item(std::nullopt);
}

void StockView::fit_columns() {
  fitted_ = true;
  for (int column = 0; column < StockModel::columns; ++column) {
    table_->resizeColumnToContents(column);
    table_->setColumnWidth(column, std::min(table_->columnWidth(column) + gap, widest_column_px));
  }
}

int StockView::picked_row() const {
  const QModelIndex index = table_->currentIndex();
  return index.isValid() ? order_->mapToSource(index).row() : -1;
}

std::optional<build::StockId> StockView::picked() const {
  const int row = picked_row();
  return row < 0 ? std::nullopt : std::optional(model_->item(row).id);
}

void StockView::pick(const build::StockId& id) {
  const auto row = model_->row_of(id);
  if (!row)
    return;
  if (!order_->mapFromSource(model_->index(*row, 0)).isValid())
    show_all();
  const QModelIndex index = order_->mapFromSource(model_->index(*row, StockModel::name));
  table_->setCurrentIndex(index);
  table_->scrollTo(index);
}

void StockView::show_all() {
  search_->clear();
  kinds_->setCurrentIndex(0);
  suppliers_->setCurrentIndex(0);
  owned_->setChecked(false);
  used_->setChecked(false);
}

void StockView::open_picked() {
  if (!picked())
    return;
  sheet_->show_item(picked());
  emit sheet_requested();
  sheet_->focus_first();
}

void StockView::insert(build::StockItem item, const QString& what) {
  const build::StockId id = item.id;
  const int row = picked_row();
  const std::size_t before = row < 0 ? session_.build().stock->size() : static_cast<std::size_t>(row) + 1;
  if (const auto error =
          session_.apply(with_item_inserted(session_.build(), before, std::move(item)), what)) {
    emit message(complaint(*error));
    return;
  }
  refresh(); // also where this view is hidden
  pick(id);
  open_picked();
}

void StockView::add(build::StockKind kind) {
  const build::Build& build = session_.build();
  build::StockItem item = ordinary_item(kind, build.budget.currency);
  const QString word = stock_kind_word(kind);
  item.id = free_stock_id(build, QString(word).replace(' ', '-').toStdString());
  item.name = tr("new %1").arg(word).toStdString();
  insert(std::move(item), tr("Add a %1 to the stock").arg(word));
  emit message(
      tr("The sizes of the new %1 are ordinary ones, and it costs nothing yet: type its own").arg(word));
}

void StockView::duplicate() {
  const int row = picked_row();
  if (row < 0)
    return;
  build::StockItem copy = model_->item(row);
  const QString title = stock_title(copy);
  copy.id = free_stock_id(session_.build(), copy.id.text);
  copy.name = tr("%1, copy").arg(title).toStdString();
  insert(std::move(copy), tr("Duplicate %1").arg(title));
}

void StockView::remove() {
  const auto id = picked();
  if (!id)
    return;
  const QString title = stock_title(*session_.build().find(*id));
  if (const BoughtAs bought = bought_as_anywhere(session_.build(), *id); bought.pieces > 0) {
    const QString pieces = bought.pieces == 1 ? tr("One piece is bought as %1.").arg(title)
                           : bought.options > 1
                               ? tr("%1 pieces in %2 options are bought as %3.")
                                     .arg(bought.pieces)
                                     .arg(bought.options)
                                     .arg(title)
                               : tr("%1 pieces are bought as %2.").arg(bought.pieces).arg(title);
    if (!ask_remove_(this, pieces))
      return;
  }
  const int view_row = table_->currentIndex().row(), column = table_->currentIndex().column();
  // Nothing that is taken away can make a build wrong.
  [[maybe_unused]] const auto error =
      session_.apply(with_item_removed(session_.build(), *id), tr("Remove %1 from the stock").arg(title));
  if (order_->rowCount() > 0)
    table_->setCurrentIndex(order_->index(std::min(view_row, order_->rowCount() - 1), column));
}

void StockView::show_where_used() {
  const int row = picked_row();
  if (row < 0)
    return;
  const std::vector<build::PieceRef>& pieces = model_->use_of(row).pieces;
  if (pieces.empty())
    return;
  if (stepped_ != picked() || next_use_ >= pieces.size()) {
    stepped_ = picked();
    next_use_ = 0;
  }
  const build::PieceRef at = pieces[next_use_++];
  const QScopedValueRollback stepping(stepping_, true);
  session_.select(PickedPiece{at.run, at.row});
  emit message(tr("%1: use %2 of %3, row %4 of %5")
                   .arg(stock_title(model_->item(row)))
                   .arg(next_use_)
                   .arg(pieces.size())
                   .arg(at.row + 1)
                   .arg(run_name(at.run)));
}

void StockView::focus_search() {
  search_->setFocus(Qt::ShortcutFocusReason);
  search_->selectAll();
}

void StockView::show_complaint_of_cell() {
  const QModelIndex index = order_->mapToSource(table_->currentIndex());
  const QString why = model_->complaint(index);
  show_complaint(
      *error_,
      why.isEmpty()
          ? QString()
          : QString("%1, %2: %3")
                .arg(stock_title(model_->item(index.row())),
                     model_->headerData(index.column(), Qt::Horizontal, Qt::DisplayRole).toString().trimmed(),
                     why));
}

/// What a key does in the table.
bool StockView::take_key(int key) {
  const QModelIndex cell = table_->currentIndex();
  switch (key) {
  case Qt::Key_Return:
  case Qt::Key_Enter:
    open_picked();
    return true;
  case Qt::Key_F2:
    if (cell.flags() & Qt::ItemIsEditable)
      table_->edit(cell);
    else
      open_picked();
    return true;
  case Qt::Key_Delete:
    remove();
    return true;
  case Qt::Key_Escape:
    model_->revert(order_->mapToSource(cell));
    return true;
  default:
    return false;
  }
}

bool StockView::eventFilter(QObject* watched, QEvent* event) {
  const auto* key = event->type() == QEvent::KeyPress || event->type() == QEvent::ShortcutOverride
                        ? static_cast<QKeyEvent*>(event)
                        : nullptr;
  if (key == nullptr)
    return QWidget::eventFilter(watched, event);
  if (watched == search_) {
    // From the search straight into what was found.
    if (event->type() == QEvent::KeyPress && key->key() == Qt::Key_Down && order_->rowCount() > 0) {
      table_->setFocus();
      if (picked_row() < 0)
        table_->setCurrentIndex(order_->index(0, StockModel::name));
      return true;
    }
    return QWidget::eventFilter(watched, event);
  }
  if (watched != table_ || table_->is_editing() || key->modifiers() != Qt::NoModifier)
    return QWidget::eventFilter(watched, event);
  if (event->type() == QEvent::KeyPress)
    return take_key(key->key());
  // These keys mean the item, not the piece that is picked elsewhere.
  if (key->key() == Qt::Key_F2 || key->key() == Qt::Key_Delete) {
    event->accept();
    return true;
  }
  return QWidget::eventFilter(watched, event);
}

} // namespace bellmouth::ui
