// SPDX-License-Identifier: GPL-3.0-or-later
// The fields of the build as a whole: title, surroundings, engine, budget. Shown while nothing is picked.
#pragma once

#include "form.hpp"
#include "machine_editor.hpp"
#include "session.hpp"

#include <QWidget>

#include <array>
#include <memory>
#include <vector>

class QPlainTextEdit;
class QVBoxLayout;

namespace bellmouth::ui {

class BuildEditor : public QWidget {
  Q_OBJECT

public:
  explicit BuildEditor(Session& session, QWidget* parent = nullptr);
  void refresh();

protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

private:
  void build_forms();
  void accept_note();
  std::optional<Error> apply(build::Build next, const QString& key, const QString& label);

  Session& session_;
  QPlainTextEdit* note_;
  QVBoxLayout* forms_place_;
  QWidget* forms_widget_ = nullptr;
  std::vector<std::unique_ptr<Form<build::Build>>> forms_;
  /// The alternatives the forms are for: surroundings, demand, kind of inlet.
  std::optional<std::array<std::size_t, 3>> forms_for_;
  PortForms* ports_;
};

} // namespace bellmouth::ui
