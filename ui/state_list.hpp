// SPDX-License-Identifier: GPL-3.0-or-later
// The states of the bay: name, share of the engine's roll; to add, rename and take away.
#pragma once

#include "session.hpp"
#include "sheet.hpp"

class QPushButton;

namespace bellmouth::ui {

class StateList : public QWidget {
  Q_OBJECT

public:
  explicit StateList(Session& session, QWidget* parent = nullptr);
  void refresh(bool fit = true);

private:
  [[nodiscard]] std::vector<SheetColumn> columns();
  std::optional<QString> rename(int row, const QString& typed);
  std::optional<QString> set_roll(int row, const QString& typed);
  void add();
  void remove();

  Session& session_;
  Sheet* sheet_;
  QPushButton *add_, *remove_;
};

} // namespace bellmouth::ui
