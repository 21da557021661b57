// SPDX-License-Identifier: GPL-3.0-or-later
// A heading with a read-only table under it.
#pragma once

#include "comparison.hpp"

#include <QWidget>

class QLabel;
class QStackedWidget;
class QTableView;

namespace bellmouth::ui {

class TitledTable : public QWidget {
  Q_OBJECT

public:
  /// `empty` is shown in place of a table without rows; the column `wide` takes the room that is left.
  TitledTable(const QString& name, const QString& title, const QString& empty, int wide,
              QWidget* parent = nullptr);
  void show_table(TextTable table);

protected:
  void changeEvent(QEvent* event) override;

private:
  TextTableModel* model_;
  QLabel* title_;
  QTableView* view_;
  QLabel* empty_;
  QStackedWidget* stack_;
  int wide_;
};

} // namespace bellmouth::ui
