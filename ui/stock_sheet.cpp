// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_sheet.hpp"

#include "fact_list.hpp"
#include "stock_edits.hpp"
#include "stock_offcuts.hpp"
#include "stock_text.hpp"

#include <QKeyEvent>
#include <QToolButton>

#include <algorithm>

namespace bellmouth::ui {

StockSheet::StockSheet(Session& session, QWidget* parent)
    : QScrollArea(parent), session_(session), title_(heading({}, this)), where_(new WrappedLabel(this)),
      close_(new QToolButton(this)), form_(std::make_unique<Form<StockEntry>>(
                                         "stock_item", stock_fields(),
                                         [this](StockEntry next, const QString& key, const QString& label) {
                                           return apply(std::move(next), key, label);
                                         })),
      offcuts_box_(new QWidget(this)), offcuts_(new StockOffcuts(session, offcuts_box_)) {
  setObjectName("stock_sheet");
  setAccessibleName(tr("Item of the stock"));
  setWidgetResizable(true);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setFrameShape(QFrame::NoFrame);
  title_->setObjectName("stock_sheet_title");
  where_->setObjectName("stock_sheet_where");
  where_->setForegroundRole(QPalette::PlaceholderText);
  close_->setObjectName("stock_sheet_close");
  close_->setText(tr("Close"));
  close_->setToolTip(tr("Back to the editor (Esc)"));
  close_->setFocusPolicy(Qt::TabFocus);
  auto* offcuts = new QVBoxLayout(offcuts_box_);
  offcuts->setContentsMargins(0, gap, 0, 0);
  offcuts->setSpacing(gap);
  offcuts->addWidget(heading(tr("Offcuts"), offcuts_box_));
  offcuts->addWidget(offcuts_);
  auto* content = new QWidget;
  auto* head = new QHBoxLayout;
  head->setSpacing(gap);
  head->addWidget(title_, 1);
  head->addWidget(close_);
  auto* column = new QVBoxLayout(content);
  column->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  column->setSpacing(gap);
  column->addLayout(head);
  column->addWidget(where_);
  column->addWidget(form_->widget());
  column->addWidget(offcuts_box_);
  column->addStretch(1);
  setWidget(content);
  connect(close_, &QToolButton::clicked, this, &StockSheet::close_requested);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Changes(Change::document) | Change::evaluation))
      refresh();
  });
  refresh();
}

std::optional<StockEntry> StockSheet::entry() const {
  const build::StockItem* item = id_ ? session_.build().find(*id_) : nullptr;
  if (item == nullptr)
    return std::nullopt;
  const auto& owned = session_.build().owned;
  const auto found = std::ranges::find(owned, *id_, &build::Owned::stock);
  return found == owned.end() ? StockEntry{*item, 0, std::nullopt}
                              : StockEntry{*item, found->quantity, found->paid};
}

void StockSheet::show_item(const std::optional<build::StockId>& id) {
  if (id == id_)
    return;
  id_ = id;
  refresh();
}

QString StockSheet::where_used(const build::StockItem& item) const {
  if (item.kind == build::StockKind::clamp) {
    const StockUses uses = stock_uses(*session_.build().find(session_.option()), session_.evaluation().lists);
    const auto found = uses.find(item.id.text);
    return found == uses.end()        ? tr("the option shown needs none of this size")
           : found->second.count == 1 ? tr("the option shown needs one")
                                      : tr("the option shown needs %1").arg(found->second.count);
  }
  const BoughtAs bought = bought_as_anywhere(session_.build(), item.id);
  return bought.pieces == 0 ? tr("no piece is bought as this")
         : bought.options > 1
             ? tr("%1 pieces in %2 options are bought as this").arg(bought.pieces).arg(bought.options)
         : bought.pieces == 1 ? tr("one piece is bought as this")
                              : tr("%1 pieces are bought as this").arg(bought.pieces);
}

void StockSheet::refresh() {
  stale_ = !isVisible(); // no drag in another view waits for what nobody sees
  if (stale_)
    return;
  const auto shown = entry();
  form_->widget()->setVisible(shown.has_value());
  offcuts_box_->setVisible(shown && leaves_offcuts(shown->item.kind));
  if (!shown) {
    title_->setText(tr("Stock"));
    where_->set_text(tr("No item is picked."));
    return;
  }
  title_->setText(stock_title(shown->item));
  where_->set_text(QString("%1; %2").arg(stock_kind_word(shown->item.kind), where_used(shown->item)));
  form_->show(*shown);
  if (leaves_offcuts(shown->item.kind))
    offcuts_->show_item(*id_);
}

std::optional<Error> StockSheet::apply(StockEntry next, const QString& key, const QString& label) {
  const auto now = entry();
  if (!now)
    return std::nullopt;
  const build::StockId before = *id_;
  const build::Build& build = session_.build();
  const bool other_cuts = leaves_offcuts(now->item.kind) != leaves_offcuts(next.item.kind) ||
                          leaves_bent_offcuts(now->item.kind) != leaves_bent_offcuts(next.item.kind);
  if (other_cuts && !offcuts_of(build, before).empty()) {
    Error error;
    error.found = tr("a %1 that has offcuts").arg(stock_kind_word(now->item.kind)).toStdString();
    error.accepted = tr("another kind once its offcuts are removed").toStdString();
    return error;
  }
  const QString what = tr("Change %1 of %2").arg(label.toLower(), stock_title(now->item));
  const QString merge_key = key.isEmpty() ? QString()
                                          : QString("stock/%1/%2/%3")
                                                .arg(session_.document_number())
                                                .arg(QString::fromStdString(before.text), key);
  build::Build changed = next.item == now->item ? build : with_item_replaced(build, before, next.item);
  if (next.owned != now->owned || next.paid != now->paid)
    changed = build::with_owned(changed, {next.item.id, next.owned, next.paid});
  id_ = next.item.id; // the views are told of the change before it is known to hold
  auto error = session_.apply(std::move(changed), what, merge_key);
  if (error)
    id_ = before;
  return error;
}

void StockSheet::focus_first() {
  auto* name = findChild<QLineEdit*>("stock_item_name_line");
  name->setFocus(Qt::ShortcutFocusReason);
  name->selectAll();
  ensureVisible(0, 0);
}

void StockSheet::showEvent(QShowEvent* event) {
  QScrollArea::showEvent(event);
  if (stale_)
    refresh();
}

void StockSheet::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Escape)
    emit close_requested();
  else
    QScrollArea::keyPressEvent(event);
}

} // namespace bellmouth::ui
