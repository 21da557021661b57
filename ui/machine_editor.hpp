// SPDX-License-Identifier: GPL-3.0-or-later
// The fields and the figures of the picked machine, with its ports.
#pragma once

#include "fact_list.hpp"
#include "form.hpp"
#include "session.hpp"

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
  explicit MachineEditor(Session& session, QWidget* parent = nullptr);
  /// Shows the picked machine; there must be one.
  void refresh();

private:
  void build_form(const build::Machine& machine, double ambient_Pa);

  Session& session_;
  QLabel* title_;
  QLabel* kind_;
  QVBoxLayout* form_place_;
  std::unique_ptr<Form<build::Machine>> form_;
  std::optional<std::pair<std::size_t, double>> form_for_; ///< kind and ambient pressure
  FactList* facts_;
  PortForms* ports_;
};

} // namespace bellmouth::ui
