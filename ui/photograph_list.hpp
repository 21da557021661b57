// SPDX-License-Identifier: GPL-3.0-or-later
// The photographs that can lie under the views of the bay.
#pragma once

#include "session.hpp"
#include "sheet.hpp"

class QPushButton;

namespace bellmouth::ui {

/// From where a photograph was taken, in the order of the enumerators.
[[nodiscard]] QStringList photograph_views();

class PhotographList : public QWidget {
  Q_OBJECT

public:
  explicit PhotographList(Session& session, QWidget* parent = nullptr);
  void refresh(bool fit = true);

signals:
  void add_requested();

private:
  [[nodiscard]] std::vector<SheetColumn> columns();
  void remove();

  Session& session_;
  Sheet* sheet_;
  QPushButton *add_, *remove_;
};

} // namespace bellmouth::ui
