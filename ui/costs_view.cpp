// SPDX-License-Identifier: GPL-3.0-or-later
#include "costs_view.hpp"

#include "figures.hpp"
#include "theme.hpp"
#include "weighing_tables.hpp"
#include "wrapped_label.hpp"

#include <QStackedWidget>
#include <QTabBar>
#include <QVBoxLayout>

namespace bellmouth::ui {

CostsView::CostsView(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), which_(new QTabBar(this)), words_(new WrappedLabel(this)),
      costs_(new RankedTable("costs_table", tr("What each part costs"), this)),
      doubts_(new RankedTable("doubts_table", tr("Where the doubt comes from"), this)),
      empty_(new QLabel(this)), stack_(new QStackedWidget(this)) {
  setObjectName("costs_view");
  which_->setObjectName("costs_which");
  which_->setAccessibleName(tr("Which table"));
  which_->setDrawBase(false);
  which_->setExpanding(false);
  which_->addTab(tr("What each part costs"));
  which_->addTab(tr("Where the doubt comes from"));
  words_->setObjectName("costs_words");
  words_->setForegroundRole(QPalette::PlaceholderText);
  costs_->set_wide_column(cost_what);
  costs_->sort_by(cost_power, Qt::DescendingOrder);
  doubts_->set_wide_column(doubt_source);
  doubts_->sort_by(doubt_power, Qt::DescendingOrder);
  empty_->setObjectName("costs_empty");
  empty_->setAlignment(Qt::AlignCenter);
  empty_->setWordWrap(true);
  empty_->setMargin(2 * wide_gap);
  for (QWidget* page : std::initializer_list<QWidget*>{costs_, doubts_, empty_})
    stack_->addWidget(page);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(gap, gap, gap, gap);
  column->setSpacing(gap);
  column->addWidget(which_);
  column->addWidget(words_);
  column->addWidget(stack_, 1);

  connect(which_, &QTabBar::currentChanged, this, &CostsView::show_table);
  connect(costs_, &RankedTable::picked, this, [this](const RankedRow& row) {
    if (!std::holds_alternative<std::monostate>(row.leads_to))
      session_.select(row.leads_to);
  });
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    // Units may change without an evaluation of their own; a weighing follows either.
    if (!(changes & Change::weighing))
      return;
    stale_ = true;
    if (isVisible())
      refresh();
  });
}

void CostsView::refresh() {
  stale_ = false;
  const Weighing* weighing = session_.weighing();
  const bool engine = std::holds_alternative<machine::Engine>(session_.build().demand);
  if (weighing != nullptr) {
    costs_->show_ranking(costs_ranking(session_.build(), session_.evaluation(), *weighing));
    doubts_->show_ranking(doubts_ranking(*weighing));
  }
  // Without an engine there is neither power nor air to win, and the pressure decides.
  for (const int column : {cost_power, cost_air}) {
    if (!engine && !costs_->isColumnHidden(column))
      costs_->sort_by(cost_drop, Qt::DescendingOrder);
    costs_->setColumnHidden(column, !engine);
  }
  if (!engine && !doubts_->isColumnHidden(doubt_power))
    doubts_->sort_by(doubt_pressure, Qt::DescendingOrder);
  doubts_->setColumnHidden(doubt_power, !engine);
  show_table();
}

void CostsView::show_table() {
  const bool doubts = which_->currentIndex() == 1;
  const bool there = session_.weighing() != nullptr;
  words_->set_text(!there ? QString() : doubts ? doubts_words() : costs_words(session_.build()));
  words_->setVisible(there);
  empty_->setText(trouble(session_.evaluation()));
  stack_->setCurrentWidget(!there ? static_cast<QWidget*>(empty_) : doubts ? doubts_ : costs_);
}

void CostsView::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (stale_)
    refresh();
}

} // namespace bellmouth::ui
