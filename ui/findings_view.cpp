// SPDX-License-Identifier: GPL-3.0-or-later
#include "findings_view.hpp"

#include "form.hpp"
#include "proposal_dialog.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <bellmouth/join.hpp>

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QListView>
#include <QMenu>
#include <QPushButton>
#include <QStackedWidget>

#include <algorithm>

namespace bellmouth::ui {

FindingsView::FindingsView(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), model_(new FindingsModel(this)), filter_(new FindingsFilter(this)),
      count_(new QLabel(this)), least_(new ComboBox(this)), list_(new QListView(this)),
      empty_(new QLabel(this)), stack_(new QStackedWidget(this)), waiver_words_(new WrappedLabel(this)),
      reason_(new QLineEdit(this)), waive_(new QPushButton(tr("Waive"), this)) {
  setObjectName("findings_view");
  filter_->setSourceModel(model_);

  least_->setFocusPolicy(Qt::StrongFocus);
  least_->setObjectName("findings_least");
  least_->setAccessibleName("Least severity shown");
  least_->addItem("All", static_cast<int>(check::Severity::note));
  least_->addItem("Cautions and stops", static_cast<int>(check::Severity::caution));
  least_->addItem("Stops only", static_cast<int>(check::Severity::stop));
  count_->setObjectName("findings_count");

  auto* delegate = new FindingsDelegate(list_);
  list_->setObjectName("findings_list");
  list_->setAccessibleName("Findings");
  list_->setModel(filter_);
  list_->setItemDelegate(delegate);
  list_->setResizeMode(QListView::Adjust);
  list_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
  list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  list_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  list_->setFrameShape(QFrame::NoFrame);
  list_->setContextMenuPolicy(Qt::CustomContextMenu);
  list_->installEventFilter(this);

  empty_->setObjectName("findings_empty");
  empty_->setAlignment(Qt::AlignCenter);
  empty_->setWordWrap(true);
  empty_->setMargin(2 * wide_gap);

  stack_->addWidget(list_);
  stack_->addWidget(empty_);
  auto* head = new QHBoxLayout;
  head->addWidget(count_, 1);
  head->addWidget(least_);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(gap, gap, gap, gap);
  column->setSpacing(gap);
  column->addLayout(head);
  column->addWidget(stack_, 1);
  waiver_ = make_waiver();
  column->addWidget(waiver_);

  connect(least_, &QComboBox::currentIndexChanged, this, [this] {
    filter_->set_least(static_cast<check::Severity>(least_->currentData().toInt()));
    show_empty_state();
  });
  connect(list_->selectionModel(), &QItemSelectionModel::currentChanged, this, &FindingsView::pick);
  connect(list_, &QListView::clicked, this, &FindingsView::pick);
  connect(list_, &QListView::customContextMenuRequested, this, &FindingsView::show_menu);
  connect(delegate, &FindingsDelegate::asked, this, &FindingsView::act);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Change::document | Change::evaluation | Change::purchase))
      refresh();
    if (!(changes & (Change::weighing | Change::purchase)))
      return;
    mends_stale_ = true;
    if (isVisible())
      refresh_mends();
  });
  refresh();
}

QWidget* FindingsView::make_waiver() {
  auto* box = new QFrame(this);
  box->setObjectName("waiver");
  box->setFrameShape(QFrame::StyledPanel);
  waiver_words_->setObjectName("waiver_words");
  reason_->setObjectName("waiver_reason");
  reason_->setAccessibleName(tr("Reason"));
  reason_->setPlaceholderText(tr("Your reason; it is printed with the finding"));
  reason_->installEventFilter(this);
  waive_->setObjectName("waiver_accept");
  auto* cancel = new QPushButton(tr("Cancel"), box);
  cancel->setObjectName("waiver_cancel");
  auto* row = new QHBoxLayout;
  row->setSpacing(gap);
  row->addWidget(reason_, 1);
  row->addWidget(waive_);
  row->addWidget(cancel);
  auto* column = new QVBoxLayout(box);
  column->setContentsMargins(gap, gap, gap, gap);
  column->setSpacing(gap);
  column->addWidget(waiver_words_);
  column->addLayout(row);
  const auto refresh = [this] { waive_->setEnabled(!reason_->text().trimmed().isEmpty()); };
  connect(reason_, &QLineEdit::textChanged, this, refresh);
  connect(reason_, &QLineEdit::returnPressed, this, &FindingsView::accept_reason);
  connect(waive_, &QPushButton::clicked, this, &FindingsView::accept_reason);
  connect(cancel, &QPushButton::clicked, box, &QWidget::hide);
  refresh();
  box->hide();
  return box;
}

void FindingsView::refresh() {
  const std::vector<check::Finding> all = session_.findings();
  model_->set_findings(all);
  const auto counted = [this](check::Severity severity) {
    return severity_count(severity, model_->count(severity));
  };
  count_->setText(counted(check::Severity::stop) + ", " + counted(check::Severity::caution) + ", " +
                  counted(check::Severity::note) +
                  (model_->waived() > 0 ? QString(", %1 waived").arg(model_->waived()) : QString()) +
                  (units().length == UnitChoice::Length::inches ? "; lists and findings are metric" : ""));
  if (asked_about_ && std::ranges::find(all, *asked_about_) == all.end()) {
    asked_about_.reset();
    waiver_->hide();
  }
  show_empty_state();
}

void FindingsView::refresh_mends() {
  mends_stale_ = false;
  QStringList mends;
  for (int row = 0; row < model_->rowCount(); ++row) {
    const auto proposal = join::mend(session_.build(), session_.evaluation(), model_->finding(row));
    mends << (proposal ? QString::fromStdString(proposal->title) : QString());
  }
  model_->set_mends(std::move(mends));
}

void FindingsView::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (mends_stale_ && !session_.weighing_is_due())
    refresh_mends();
}

void FindingsView::show_empty_state() {
  empty_->setText(model_->rowCount() == 0 ? "No findings.\n\nThe checks see only what is written into the "
                                            "build; this is no proof that it is right."
                                          : "Nothing of this severity. Choose All to see the rest.");
  stack_->setCurrentWidget(filter_->rowCount() == 0 ? static_cast<QWidget*>(empty_) : list_);
}

const check::Finding& FindingsView::finding(const QModelIndex& index) const {
  return model_->finding(filter_->mapToSource(index).row());
}

void FindingsView::pick(const QModelIndex& index) {
  if (!index.isValid())
    return;
  const check::Where& where = finding(index).where;
  if (where.piece)
    session_.select(PickedPiece{where.piece->run, where.piece->row});
  else if (where.machine)
    session_.select(PickedMachine{*where.machine});
}

void FindingsView::act(FindingAction action, const QModelIndex& index) {
  const check::Finding what = finding(index); // a change makes the rows anew
  switch (action) {
  case FindingAction::mend:
    mend(what);
    break;
  case FindingAction::waive:
    ask_reason(what);
    break;
  case FindingAction::take_back:
    waive(what, {});
    break;
  }
}

void FindingsView::show_menu(const QPoint& at) {
  const QPersistentModelIndex index = list_->indexAt(at);
  if (!index.isValid())
    return;
  QMenu menu(this);
  for (const FindingAction action : actions_of(index))
    connect(menu.addAction(action_word(action)), &QAction::triggered, this, [this, action, index] {
      if (index.isValid())
        act(action, index);
    });
  menu.exec(list_->viewport()->mapToGlobal(at));
}

void FindingsView::mend(const check::Finding& what) {
  auto proposal = join::mend(session_.build(), session_.evaluation(), what);
  if (!proposal) {
    emit message(tr("There is no mend that the program could choose"));
    return;
  }
  auto* dialog =
      new ProposalDialog(session_, tr("Mend"),
                         {{QString::fromStdString(what.message),
                           [proposal = *std::move(proposal)](const build::Build&) { return proposal; }}},
                         0, window());
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  dialog->open_beside(*window());
}

void FindingsView::ask_reason(const check::Finding& what) {
  asked_about_ = what;
  waiver_words_->set_text(tr("To live with this, say why: %1").arg(QString::fromStdString(what.message)));
  reason_->clear();
  waiver_->show();
  reason_->setFocus();
}

void FindingsView::accept_reason() {
  const QString reason = reason_->text().simplified();
  if (reason.isEmpty() || !asked_about_)
    return;
  waiver_->hide();
  waive(*std::exchange(asked_about_, std::nullopt), reason);
  list_->setFocus();
}

void FindingsView::waive(const check::Finding& what, const QString& reason) {
  const std::string rule(what.rule);
  const build::Build& build = session_.build();
  build::Build next = what.where.piece
                          ? build::with_waiver(build, *what.where.piece, rule, reason.toStdString())
                          : build::with_waiver(build, what.where.machine, rule, reason.toStdString());
  const QString text = reason.isEmpty() ? tr("Take back the waiver of “%1”") : tr("Waive “%1”");
  if (const auto error = session_.apply(std::move(next), text.arg(QString::fromStdString(what.where.text))))
    emit message(QString::fromStdString(error->text()));
}

bool FindingsView::eventFilter(QObject* watched, QEvent* event) {
  if (event->type() != QEvent::KeyPress)
    return QWidget::eventFilter(watched, event);
  const int key = static_cast<QKeyEvent*>(event)->key();
  if (watched == reason_ && key == Qt::Key_Escape) {
    waiver_->hide();
    list_->setFocus();
    return true;
  }
  const QModelIndex index = list_->currentIndex();
  if (watched != list_ || !index.isValid())
    return QWidget::eventFilter(watched, event);
  for (const FindingAction action : actions_of(index)) {
    const bool meant = action == FindingAction::mend ? key == Qt::Key_M : key == Qt::Key_W;
    if (meant) {
      act(action, index);
      return true;
    }
  }
  return QWidget::eventFilter(watched, event);
}

} // namespace bellmouth::ui
