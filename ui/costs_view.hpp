// SPDX-License-Identifier: GPL-3.0-or-later
// What each part of the shown option costs the engine, dearest first, and where the doubt about the figures
// comes from, widest first.
#pragma once

#include "session.hpp"

#include <QWidget>

class QLabel;
class QStackedWidget;
class QTabBar;

namespace bellmouth::ui {

class RankedTable;
class WrappedLabel;

/// Picking a row picks the piece, run or machine in the path. Waits for the weighing and, hidden, until it is
/// shown.
class CostsView : public QWidget {
  Q_OBJECT

public:
  explicit CostsView(Session& session, QWidget* parent = nullptr);

protected:
  void showEvent(QShowEvent* event) override;

private:
  void refresh();
  void show_table();

  Session& session_;
  QTabBar* which_;
  WrappedLabel* words_;
  RankedTable *costs_, *doubts_;
  QLabel* empty_;
  QStackedWidget* stack_;
  bool stale_ = true;
};

} // namespace bellmouth::ui
