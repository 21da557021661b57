// SPDX-License-Identifier: GPL-3.0-or-later
#include "inspector.hpp"

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
      build_(new BuildEditor(session, std::move(files))) {
  setObjectName("inspector");
  setAccessibleName(tr("Editor"));
  setWidgetResizable(true);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setFrameShape(QFrame::NoFrame);
  auto* content = new QWidget;
  auto* column = new QVBoxLayout(content);
  column->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  for (QWidget* page : std::initializer_list<QWidget*>{piece_, machine_, run_, build_}) {
    column->addWidget(page);
    page->hide();
  }
  setWidget(content);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Changes(Change::document) | Change::evaluation | Change::selection))
      refresh();
  });
  refresh();
}

void Inspector::refresh() {
  const Selection& selection = session_.selection();
  const bool piece = session_.picked_piece() != nullptr;
  const bool machine = std::holds_alternative<PickedMachine>(selection);
  const bool run = std::holds_alternative<PickedRun>(selection);
  if (piece)
    piece_->refresh();
  else if (machine)
    machine_->refresh();
  else if (run)
    run_->refresh();
  else
    build_->refresh();
  piece_->setVisible(piece);
  machine_->setVisible(machine);
  run_->setVisible(run);
  build_->setVisible(!piece && !machine && !run);
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

} // namespace bellmouth::ui
