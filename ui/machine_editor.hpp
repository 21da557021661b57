// SPDX-License-Identifier: GPL-3.0-or-later
// The fields and the figures of the picked machine, with its ports.
#pragma once

#include "fact_list.hpp"
#include "form.hpp"
#include "session.hpp"
#include "table_files.hpp"

#include <QWidget>

#include <memory>
#include <vector>

class QVBoxLayout;

namespace bellmouth::ui {

/// One port: a heading and its fields.
class PortForm : public QWidget {
  Q_OBJECT

public:
  PortForm(Session& session, const build::Port& port, QWidget* parent = nullptr);
  void refresh();
  /// Whether the form is one for this port as it is now.
  [[nodiscard]] bool suits(const build::Port& port) const;
  /// Takes the form off the screen, as Form::retire() does.
  void retire();

private:
  Session& session_;
  build::PortId port_;
  bool measured_;
  std::unique_ptr<Form<build::Port>> form_;
};

/// The ports of a machine, or of the engine's manifold, below each other.
class PortForms : public QWidget {
  Q_OBJECT

public:
  explicit PortForms(Session& session, QWidget* parent = nullptr);
  void refresh(const std::optional<build::MachineId>& machine);

private:
  Session& session_;
  QVBoxLayout* column_;
  std::vector<PortForm*> forms_;
};

class MachineEditor : public QWidget {
  Q_OBJECT

public:
  explicit MachineEditor(Session& session, TableFiles files = desktop_table_files(),
                         QWidget* parent = nullptr);
  /// Shows the picked machine; there must be one.
  void refresh();

private:
  void build_form(const build::Machine& machine, double ambient_Pa);
  /// What the shown machine does, or nullptr.
  [[nodiscard]] const flow::MachineFlow* flow() const;

  /// What a form is for. It keeps aside what its choices took away, so each machine has its own.
  struct Subject {
    std::size_t document;
    build::MachineId machine;
    std::size_t kind;
    double ambient_Pa;
    friend bool operator==(const Subject&, const Subject&) = default;
  };
  Session& session_;
  TableFiles files_;
  QLabel* title_;
  QLabel* kind_;
  QVBoxLayout* form_place_;
  std::unique_ptr<Form<build::Machine>> form_;
  std::optional<Subject> form_for_;
  FactList* facts_;
  PortForms* ports_;
};

} // namespace bellmouth::ui
