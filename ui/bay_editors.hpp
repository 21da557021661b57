// SPDX-License-Identifier: GPL-3.0-or-later
// The editors of what is picked in the bay: a port, a keep-out.
#pragma once

#include "form.hpp"
#include "machine_editor.hpp"
#include "session.hpp"

#include <memory>
#include <tuple>

namespace bellmouth::ui {

/// The picked port, with the machine it belongs to.
class PortEditor : public QWidget {
  Q_OBJECT

public:
  explicit PortEditor(Session& session, QWidget* parent = nullptr);
  /// Shows the picked port; there must be one.
  void refresh();

private:
  Session& session_;
  WrappedLabel* where_;
  QVBoxLayout* place_;
  PortForm* form_ = nullptr;
  std::size_t document_ = 0; ///< that the form is of
};

/// The picked keep-out.
class KeepOutEditor : public QWidget {
  Q_OBJECT

public:
  explicit KeepOutEditor(Session& session, QWidget* parent = nullptr);
  /// Shows the picked keep-out; there must be one.
  void refresh();

private:
  void build_form(const build::KeepOut& keep_out);
  std::optional<Error> apply(build::KeepOut next, const QString& key, const QString& label);

  Session& session_;
  QLabel* title_;
  WrappedLabel* kind_;
  QVBoxLayout* place_;
  std::unique_ptr<Form<build::KeepOut>> form_;
  /// What the form was made for: document, how many keep-outs, which, shape, states, machines, its problem.
  using Subject = std::tuple<std::size_t, std::size_t, std::size_t, std::size_t, QStringList>;
  std::optional<Subject> form_for_;
  std::size_t shown_ = 0;
};

} // namespace bellmouth::ui
