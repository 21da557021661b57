// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_editor.hpp"

#include "budget_tables.hpp"
#include "build_fields.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <array>

namespace bellmouth::ui {

namespace {

/// A coefficient as people call it; in the order of the enumerators.
QString name_of(build::Coefficient coefficient) {
  static constexpr std::array names{QT_TRANSLATE_NOOP("BuildEditor", "Engine's volumetric efficiency"),
                                    QT_TRANSLATE_NOOP("BuildEditor", "Blower's volumetric efficiency"),
                                    QT_TRANSLATE_NOOP("BuildEditor", "Blower's adiabatic efficiency"),
                                    QT_TRANSLATE_NOOP("BuildEditor", "Filter's drop"),
                                    QT_TRANSLATE_NOOP("BuildEditor", "Cooler's drop"),
                                    QT_TRANSLATE_NOOP("BuildEditor", "Cooler's effectiveness"),
                                    QT_TRANSLATE_NOOP("BuildEditor", "Losses of the ducting")};
  return BuildEditor::tr(names.at(static_cast<std::size_t>(coefficient)));
}

} // namespace

BuildEditor::BuildEditor(Session& session, TableFiles files, QWidget* parent)
    : QWidget(parent), session_(session), files_(std::move(files)), note_(new QPlainTextEdit(this)),
      forms_place_(new QVBoxLayout), budget_(new BudgetTables(session, this)), measured_(new QWidget(this)),
      measured_list_(new FactList(measured_)), forget_(new QPushButton(measured_)),
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
  column->addWidget(budget_);
  measured_->setObjectName("measured");
  measured_list_->setObjectName("measured_list");
  forget_->setObjectName("forget_measured");
  forget_->setText(tr("Forget what was measured"));
  forget_->setToolTip(tr("The build's own figures hold again"));
  connect(forget_, &QPushButton::clicked, this, &BuildEditor::forget_measured);
  auto* measured = new QVBoxLayout(measured_);
  measured->setContentsMargins(0, 0, 0, gap);
  measured->setSpacing(gap);
  measured->addWidget(heading(tr("Measured"), measured_));
  measured->addWidget(measured_list_);
  measured->addWidget(forget_, 0, Qt::AlignLeft);
  column->addWidget(measured_);
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
  for (BuildGroup& group : build_fields(session_, files_)) {
    column->addWidget(heading(group.title, forms_widget_));
    forms_.push_back(std::make_unique<Form<build::Build>>(
        "build", std::move(group.rows), [this](build::Build next, const QString& key, const QString& label) {
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
  if (forms_for_ != session_.document_number()) {
    build_forms();
    forms_for_ = session_.document_number();
  }
  for (const auto& form : forms_)
    form->show(build);
  budget_->refresh();
  if (note_->toPlainText() != QString::fromStdString(build.note))
    note_->setPlainText(QString::fromStdString(build.note));
  refresh_measured();
  ports_->refresh(std::nullopt);
}

void BuildEditor::refresh_measured() {
  const std::vector<build::Measured>& measured = session_.build().measured;
  measured_->setVisible(!measured.empty());
  std::vector<Fact> facts;
  facts.reserve(measured.size());
  for (const build::Measured& each : measured)
    facts.push_back(
        {name_of(each.coefficient),
         tr("× %1, ± %2, measured").arg(show_ratio(each.factor, 3), show_percent(each.band, 1)),
         tr("The build's own figure is multiplied with this factor; 19 in 20 lie within the band")});
  measured_list_->show_facts(facts);
}

void BuildEditor::forget_measured() {
  // Nothing can be wrong with a build of which nothing was measured.
  [[maybe_unused]] const auto error =
      session_.apply(build::without_measured(session_.build()), tr("Forget what was measured"));
}

void BuildEditor::accept_note() {
  build::Build next = session_.build();
  next.note = note_->toPlainText().toStdString();
  // Any text is a note: nothing can be wrong with it.
  [[maybe_unused]] const auto error = session_.apply(std::move(next), tr("Change the note"), "build/note");
}

std::optional<Error> BuildEditor::apply(build::Build next, const QString& key, const QString& label) {
  return session_.apply(std::move(next), tr("Change %1").arg(label.toLower()),
                        key.isEmpty() ? QString() : "build/" + key);
}

bool BuildEditor::eventFilter(QObject* watched, QEvent* event) {
  if (watched == note_ && event->type() == QEvent::FocusOut)
    accept_note();
  return QWidget::eventFilter(watched, event);
}

} // namespace bellmouth::ui
