// SPDX-License-Identifier: GPL-3.0-or-later
// Two options side by side: figures, runs, what only one of them needs, and what the checks say of only one.
#pragma once

#include "session.hpp"

#include <QWidget>

class QComboBox;
class QGridLayout;
class QLabel;
class QStackedWidget;

namespace bellmouth::ui {

class TitledTable;

class CompareView : public QWidget {
  Q_OBJECT

public:
  explicit CompareView(Session& session, QWidget* parent = nullptr);

signals:
  void copy_option_requested(); ///< there is nothing to compare with yet

protected:
  void showEvent(QShowEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;

private:
  void refresh();
  void refresh_chooser();
  [[nodiscard]] QWidget* empty_page();
  [[nodiscard]] QWidget* tables_page();
  void arrange(bool beside);

  Session& session_;
  QStackedWidget* stack_;
  QLabel* shown_;
  QComboBox* chooser_;
  TitledTable *figures_, *runs_, *money_, *needs_, *findings_;
  QGridLayout* grid_ = nullptr;
  bool beside_ = false; ///< two tables in a row
  bool stale_ = true;   ///< not refreshed since something changed; hidden views wait until they are shown
};

} // namespace bellmouth::ui
