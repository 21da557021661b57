// SPDX-License-Identifier: GPL-3.0-or-later
#include "findings_view.hpp"

#include "findings_delegate.hpp"
#include "form.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QHBoxLayout>
#include <QListView>
#include <QStackedWidget>

namespace bellmouth::ui {

FindingsView::FindingsView(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), model_(new FindingsModel(this)), filter_(new FindingsFilter(this)),
      count_(new QLabel(this)), least_(new ComboBox(this)), list_(new QListView(this)),
      empty_(new QLabel(this)), stack_(new QStackedWidget(this)) {
  setObjectName("findings_view");
  filter_->setSourceModel(model_);

  least_->setFocusPolicy(Qt::StrongFocus);
  least_->setObjectName("findings_least");
  least_->setAccessibleName("Least severity shown");
  least_->addItem("All", static_cast<int>(check::Severity::note));
  least_->addItem("Cautions and stops", static_cast<int>(check::Severity::caution));
  least_->addItem("Stops only", static_cast<int>(check::Severity::stop));
  count_->setObjectName("findings_count");

  list_->setObjectName("findings_list");
  list_->setAccessibleName("Findings");
  list_->setModel(filter_);
  list_->setItemDelegate(new FindingsDelegate(list_));
  list_->setResizeMode(QListView::Adjust);
  list_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
  list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  list_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  list_->setFrameShape(QFrame::NoFrame);

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

  connect(least_, &QComboBox::currentIndexChanged, this, [this] {
    filter_->set_least(static_cast<check::Severity>(least_->currentData().toInt()));
    show_empty_state();
  });
  connect(list_->selectionModel(), &QItemSelectionModel::currentChanged, this, &FindingsView::pick);
  connect(list_, &QListView::clicked, this, &FindingsView::pick);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Change::document | Change::evaluation))
      refresh();
  });
  refresh();
}

void FindingsView::refresh() {
  model_->set_findings(session_.evaluation().findings);
  const auto counted = [this](check::Severity severity, const char* one, const char* many) {
    const int count = model_->count(severity);
    return QString("%1 %2").arg(count).arg(count == 1 ? one : many);
  };
  count_->setText(counted(check::Severity::stop, "stop", "stops") + ", " +
                  counted(check::Severity::caution, "caution", "cautions") + ", " +
                  counted(check::Severity::note, "note", "notes") +
                  (units().length == UnitChoice::Length::inches ? "; lists and findings are metric" : ""));
  show_empty_state();
}

void FindingsView::show_empty_state() {
  empty_->setText(model_->rowCount() == 0 ? "No findings.\n\nThe checks see only what is written into the "
                                            "build; this is no proof that it is right."
                                          : "Nothing of this severity. Choose All to see the rest.");
  stack_->setCurrentWidget(filter_->rowCount() == 0 ? static_cast<QWidget*>(empty_) : list_);
}

void FindingsView::pick(const QModelIndex& index) {
  if (!index.isValid())
    return;
  const check::Where& where = model_->finding(filter_->mapToSource(index).row()).where;
  if (where.piece)
    session_.select(PickedPiece{where.piece->run, where.piece->row});
  else if (where.machine)
    session_.select(PickedMachine{*where.machine});
}

} // namespace bellmouth::ui
