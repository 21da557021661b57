// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_editor.hpp"

#include "build_fields.hpp"
#include "theme.hpp"

#include <QPlainTextEdit>
#include <QVBoxLayout>

namespace bellmouth::ui {

BuildEditor::BuildEditor(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), note_(new QPlainTextEdit(this)), forms_place_(new QVBoxLayout),
      ports_(new PortForms(session, this)) {
  setObjectName("build_editor");
  note_->setObjectName("build_note");
  note_->setAccessibleName(tr("Note"));
  note_->setPlaceholderText(tr("Notes about the build"));
  note_->setTabChangesFocus(true);
  note_->setFixedHeight(90);
  note_->installEventFilter(this);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addLayout(forms_place_);
  column->addSpacing(gap);
  column->addWidget(heading(tr("Note"), this));
  column->addWidget(note_);
  column->addWidget(ports_);
  column->addStretch(1);
}

void BuildEditor::build_forms() {
  if (forms_widget_ != nullptr) {
    for (const auto& form : forms_)
      form->retire();
    forms_.clear();
    forms_widget_->hide();
    forms_widget_->deleteLater();
  }
  forms_widget_ = new QWidget(this);
  auto* column = new QVBoxLayout(forms_widget_);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  for (BuildGroup& group : build_fields(session_.build(), session_)) {
    column->addWidget(heading(group.title, forms_widget_));
    forms_.push_back(std::make_unique<Form<build::Build>>(
        "build", group.rows, [this](build::Build next, const QString& key, const QString& label) {
          return apply(std::move(next), key, label);
        }));
    column->addWidget(forms_.back()->widget());
    column->addSpacing(gap);
  }
  forms_place_->addWidget(forms_widget_);
  forms_widget_->show();
}

void BuildEditor::refresh() {
  const build::Build& build = session_.build();
  const std::array<std::size_t, 3> wanted{build.ambient.index(), build.demand.index(),
                                          static_cast<std::size_t>(build.inlet.kind)};
  if (forms_for_ != wanted) {
    build_forms();
    forms_for_ = wanted;
  }
  for (const auto& form : forms_)
    form->show(build);
  if (note_->toPlainText() != QString::fromStdString(build.note))
    note_->setPlainText(QString::fromStdString(build.note));
  ports_->refresh(std::nullopt);
}

void BuildEditor::accept_note() {
  build::Build next = session_.build();
  next.note = note_->toPlainText().toStdString();
  // Any text is a note: nothing can be wrong with it.
  [[maybe_unused]] const auto error = session_.apply(std::move(next), tr("Change the note"), "build/note");
}

std::optional<Error> BuildEditor::apply(build::Build next, const QString& key, const QString& label) {
  return session_.apply(std::move(next), tr("Change %1").arg(label.toLower()), "build/" + key);
}

bool BuildEditor::eventFilter(QObject* watched, QEvent* event) {
  if (watched == note_ && event->type() == QEvent::FocusOut)
    accept_note();
  return QWidget::eventFilter(watched, event);
}

} // namespace bellmouth::ui
