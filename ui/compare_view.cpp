// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare_view.hpp"

#include "comparison.hpp"
#include "form.hpp"
#include "piece_text.hpp"
#include "theme.hpp"
#include "titled_table.hpp"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStackedWidget>

#include <iterator>

namespace bellmouth::ui {

CompareView::CompareView(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), stack_(new QStackedWidget(this)), shown_(new QLabel(this)),
      chooser_(new ComboBox(this)), figures_(new TitledTable("compare_figures", "Figures", {}, this)),
      runs_(new TitledTable("compare_runs", "Runs", {}, this)),
      money_(new TitledTable("compare_money", "Money", "Neither costs anything.", this)),
      needs_(new TitledTable("compare_needs", "Only one of them needs", "Both need the same things.", this)),
      findings_(new TitledTable("compare_findings", "Said of only one of them",
                                "The checks say the same of both.", this)) {
  setObjectName("compare_view");
  findings_->set_words_last();
  chooser_->setFocusPolicy(Qt::StrongFocus);
  chooser_->setObjectName("compare_chooser");
  chooser_->setAccessibleName("Option to compare with");
  chooser_->setPlaceholderText("choose an option");
  shown_->setObjectName("compare_shown");
  stack_->addWidget(tables_page());
  stack_->addWidget(empty_page());
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(gap, gap, gap, gap);
  all->addWidget(stack_);

  connect(chooser_, &QComboBox::activated, this, [this] {
    session_.compare_with(build::OptionId{chooser_->currentData().toString().toStdString()});
  });
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (!(changes & (Change::document | Change::evaluation | Change::rival | Change::purchase)))
      return;
    stale_ = true;
    if (isVisible())
      refresh();
  });
}

QWidget* CompareView::tables_page() {
  auto* page = new QWidget(this);
  auto* head = new QHBoxLayout;
  head->setSpacing(gap);
  head->addWidget(shown_);
  head->addWidget(chooser_);
  head->addStretch(1);
  auto* tables = new QWidget;
  grid_ = new QGridLayout(tables);
  grid_->setContentsMargins(0, 0, gap, 0);
  grid_->setSpacing(2 * wide_gap);
  arrange(false);
  auto* scroll = new QScrollArea(page);
  scroll->setAccessibleName("Comparison");
  scroll->setObjectName("compare_scroll");
  scroll->setAccessibleName("Comparison");
  scroll->setFrameShape(QFrame::NoFrame);
  scroll->setWidgetResizable(true);
  scroll->setWidget(tables);
  auto* column = new QVBoxLayout(page);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(wide_gap);
  column->addLayout(head);
  column->addWidget(scroll, 1);
  return page;
}

/// Two tables beside each other where they fit, else all under each other.
void CompareView::arrange(bool beside) {
  TitledTable* const tables[] = {figures_, runs_, money_, needs_, findings_};
  const int across = beside ? 2 : 1;
  int place = 0;
  for (TitledTable* table : tables) {
    grid_->addWidget(table, place / across, place % across);
    ++place;
  }
  grid_->setColumnStretch(0, 1);
  grid_->setColumnStretch(1, beside ? 1 : 0);
  grid_->setRowStretch(static_cast<int>(std::size(tables)), 1);
  beside_ = beside;
}

void CompareView::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  constexpr int room_for_two_px = 1120;
  if (const bool beside = width() >= room_for_two_px; beside != beside_)
    arrange(beside);
}

QWidget* CompareView::empty_page() {
  auto* page = new QWidget(this);
  auto* words =
      new QLabel("There is only one option. Copy it, change the copy, and see both side by side.", page);
  words->setObjectName("compare_empty");
  words->setAlignment(Qt::AlignCenter);
  words->setWordWrap(true);
  auto* copy = new QPushButton("Copy this option", page);
  copy->setObjectName("compare_copy");
  connect(copy, &QPushButton::clicked, this, &CompareView::copy_option_requested);
  auto* column = new QVBoxLayout(page);
  column->addStretch(1);
  column->addWidget(words);
  column->addWidget(copy, 0, Qt::AlignHCenter);
  column->addStretch(2);
  return page;
}

void CompareView::refresh() {
  stale_ = false;
  stack_->setCurrentIndex(session_.build().options.size() > 1 ? 0 : 1);
  refresh_chooser();
  const Evaluation* rival = session_.rival_evaluation();
  if (!rival) {
    for (TitledTable* table : {figures_, runs_, money_, needs_, findings_})
      table->show_table({});
    return;
  }
  const Comparison comparison{
      session_.build(),
      {session_.evaluation(), session_.weighing(), session_.last_purchase(), session_.findings()},
      {*rival, session_.rival_weighing(), session_.last_rival_purchase(), session_.rival_findings()}};
  figures_->show_table(comparison.figures());
  runs_->show_table(comparison.runs());
  money_->show_table(comparison.money());
  needs_->show_table(comparison.needs());
  findings_->show_table(comparison.findings());
}

void CompareView::refresh_chooser() {
  shown_->setText(QString("<b>%1</b> compared with").arg(option_name(session_.option()).toHtmlEscaped()));
  const QSignalBlocker quiet(chooser_);
  chooser_->clear();
  for (const build::Option& option : session_.build().options)
    if (option.id != session_.option())
      chooser_->addItem(option_name(option.id), QString::fromStdString(option.id.text));
  chooser_->setCurrentIndex(
      session_.rival() ? chooser_->findData(QString::fromStdString(session_.rival()->text)) : -1);
}

void CompareView::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (stale_)
    refresh();
}

} // namespace bellmouth::ui
