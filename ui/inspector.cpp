// SPDX-License-Identifier: GPL-3.0-or-later
#include "inspector.hpp"

#include "bay_editors.hpp"
#include "build_editor.hpp"
#include "machine_editor.hpp"
#include "piece_editor.hpp"
#include "run_editor.hpp"
#include "theme.hpp"

#include <QLineEdit>
#include <QVBoxLayout>

#include <utility>

namespace bellmouth::ui {

Inspector::Inspector(Session& session, TableFiles files, QWidget* parent)
    : QScrollArea(parent), session_(session), piece_(new PieceEditor(session)),
      machine_(new MachineEditor(session, files)), run_(new RunEditor(session)),
      port_(new PortEditor(session)), keep_out_(new KeepOutEditor(session)),
      build_(new BuildEditor(session, std::move(files))) {
  setObjectName("inspector");
  setAccessibleName(tr("Editor"));
  setWidgetResizable(true);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setFrameShape(QFrame::NoFrame);
  auto* content = new QWidget;
  auto* column = new QVBoxLayout(content);
  column->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  for (QWidget* page : std::initializer_list<QWidget*>{piece_, machine_, run_, port_, keep_out_, build_}) {
    column->addWidget(page);
    page->hide();
  }
  setWidget(content);
  connect(run_, &RunEditor::meet_requested, this, &Inspector::meet_requested);
  connect(run_, &RunEditor::join_requested, this, &Inspector::join_requested);
  connect(run_, &RunEditor::routes_requested, this, &Inspector::routes_requested);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Changes(Change::document) | Change::evaluation | Change::selection | Change::bay_state))
      refresh();
  });
  refresh();
}

void Inspector::refresh() {
  const Selection& selection = session_.selection();
  QWidget* page = build_;
  const auto show = [&](auto* editor) {
    editor->refresh();
    page = editor;
  };
  if (session_.picked_piece() != nullptr)
    show(piece_);
  else if (std::holds_alternative<PickedMachine>(selection))
    show(machine_);
  else if (std::holds_alternative<PickedRun>(selection))
    show(run_);
  else if (std::holds_alternative<PickedPort>(selection))
    show(port_);
  else if (std::holds_alternative<PickedKeepOut>(selection))
    show(keep_out_);
  else
    build_->refresh();
  for (QWidget* each : std::initializer_list<QWidget*>{piece_, machine_, run_, port_, keep_out_, build_})
    each->setVisible(each == page);
}

void Inspector::focus_first() {
  QWidget* first = nullptr;
  QPoint first_at;
  for (QWidget* field : widget()->findChildren<QWidget*>()) {
    if (!field->isVisibleTo(this) || (field->focusPolicy() & Qt::TabFocus) == 0)
      continue;
    const QPoint at = field->mapTo(widget(), QPoint(0, 0));
    if (first == nullptr || std::pair(at.y(), at.x()) < std::pair(first_at.y(), first_at.x())) {
      first = field;
      first_at = at;
    }
  }
  if (first == nullptr)
    return;
  first->setFocus(Qt::ShortcutFocusReason);
  ensureWidgetVisible(first);
  if (auto* line = qobject_cast<QLineEdit*>(first))
    line->selectAll();
}

void Inspector::show_budget() {
  auto* limit = build_->findChild<QLineEdit*>("build_limit_line");
  auto* last = build_->findChild<QWidget*>("budget_tables");
  widget()->layout()->activate();
  ensureWidgetVisible(last);
  ensureWidgetVisible(limit);
  limit->setFocus(Qt::ShortcutFocusReason);
  limit->selectAll();
}

} // namespace bellmouth::ui
