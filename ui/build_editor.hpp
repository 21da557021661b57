// SPDX-License-Identifier: GPL-3.0-or-later
// The fields of the build as a whole: title, surroundings, bay, engine, budget, what was measured. Shown
// while nothing is picked.
#pragma once

#include "form.hpp"
#include "machine_editor.hpp"
#include "session.hpp"

#include <QWidget>

#include <memory>
#include <vector>

class QPlainTextEdit;
class QPushButton;
class QVBoxLayout;

namespace bellmouth::ui {

class BudgetTables;

class BuildEditor : public QWidget {
  Q_OBJECT

public:
  explicit BuildEditor(Session& session, TableFiles files = desktop_table_files(), QWidget* parent = nullptr);
  void refresh();

protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

private:
  void build_forms();
  void accept_note();
  void refresh_measured();
  void forget_measured();
  std::optional<Error> apply(build::Build next, const QString& key, const QString& label);

  Session& session_;
  TableFiles files_;
  QPlainTextEdit* note_;
  QVBoxLayout* forms_place_;
  QWidget* forms_widget_ = nullptr;
  std::vector<std::unique_ptr<Form<build::Build>>> forms_;
  std::optional<std::size_t> forms_for_; ///< the document's number
  BudgetTables* budget_;
  QWidget* measured_; ///< heading, list and button
  FactList* measured_list_;
  QPushButton* forget_;
  PortForms* ports_;
};

} // namespace bellmouth::ui
