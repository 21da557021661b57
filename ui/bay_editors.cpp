// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_editors.hpp"

#include "fact_list.hpp"
#include "keep_out_fields.hpp"
#include "theme.hpp"

namespace bellmouth::ui {

namespace {

QVBoxLayout* column_in(QWidget* widget) {
  auto* column = new QVBoxLayout(widget);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  return column;
}

} // namespace

PortEditor::PortEditor(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), where_(new WrappedLabel(this)), place_(new QVBoxLayout) {
  setObjectName("port_editor");
  where_->setForegroundRole(QPalette::PlaceholderText);
  auto* column = column_in(this);
  column->addWidget(where_);
  column->addLayout(place_);
  column->addStretch(1);
}

void PortEditor::refresh() {
  const build::Port& port = *session_.build().find(std::get<PickedPort>(session_.selection()).port);
  if (form_ == nullptr || !form_->suits(port) || document_ != session_.document_number()) {
    if (form_ != nullptr)
      form_->retire();
    form_ = new PortForm(session_, port, this);
    document_ = session_.document_number();
    place_->addWidget(form_);
    form_->show();
  }
  form_->refresh();
  where_->set_text(port.machine ? tr("of %1").arg(owner_word(session_.build(), port.machine))
                                : tr("of the engine, or in the open"));
}

KeepOutEditor::KeepOutEditor(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), title_(heading({}, this)), kind_(new WrappedLabel(this)),
      place_(new QVBoxLayout) {
  setObjectName("keep_out_editor");
  title_->setObjectName("keep_out_title");
  kind_->setForegroundRole(QPalette::PlaceholderText);
  auto* column = column_in(this);
  column->addWidget(title_);
  column->addWidget(kind_);
  column->addLayout(place_);
  column->addStretch(1);
}

void KeepOutEditor::build_form(const build::KeepOut& keep_out) {
  if (form_)
    form_->retire();
  form_ = std::make_unique<Form<build::KeepOut>>(
      "keep_out",
      keep_out_fields(keep_out, session_.build(),
                      [this]() -> const build::Build& { return session_.build(); }),
      [this](build::KeepOut next, const QString& key, const QString& label) {
        return apply(std::move(next), key, label);
      });
  place_->addWidget(form_->widget());
  form_->widget()->show();
}

void KeepOutEditor::refresh() {
  const build::Build& build = session_.build();
  shown_ = std::get<PickedKeepOut>(session_.selection()).index;
  const build::KeepOut& keep_out = build.keep_outs.at(shown_);
  QStringList words = owner_words(build);
  for (const build::BayState& state : build.states)
    words << QString::fromStdString(state.id.text);
  if (const auto* scan = std::get_if<build::Scan>(&keep_out.shape))
    words << QString::fromStdString(scan->file) << QString::fromStdString(scan->problem);
  const Subject subject{session_.document_number(), build.keep_outs.size(), shown_, keep_out.shape.index(),
                        std::move(words)};
  if (form_for_ != subject) {
    build_form(keep_out);
    form_for_ = subject;
  }
  form_->show(keep_out);
  title_->setText(keep_out_title(build, shown_));
  kind_->set_text(tr("Keep-out: %1, %2").arg(keep_out_kind(keep_out), size_text(keep_out)));
}

std::optional<Error> KeepOutEditor::apply(build::KeepOut next, const QString& key, const QString& label) {
  // The keep-out that is shown, even where another has just been picked and this field is only now left.
  const build::Build& build = session_.build();
  if (shown_ >= build.keep_outs.size() || build.keep_outs[shown_].shape.index() != next.shape.index())
    return std::nullopt;
  const QString text = tr("Change %1 of %2").arg(label.toLower(), keep_out_title(build, shown_));
  return session_.apply(build::with_keep_out_replaced(build, shown_, std::move(next)), text,
                        key.isEmpty() ? QString() : QString("keep_out/%1/%2").arg(shown_).arg(key));
}

} // namespace bellmouth::ui
