// SPDX-License-Identifier: GPL-3.0-or-later
// The shopping, cut, clamp, reducer and fitting lists of the shown option.
#pragma once

#include "lists_model.hpp"
#include "session.hpp"

#include <QWidget>

class QLabel;
class QStackedWidget;
class QTabBar;
class QTableView;

namespace bellmouth::ui {

/// Picking a row picks its first piece. What is owned can be typed into the shopping list.
class ListsView : public QWidget {
  Q_OBJECT

public:
  explicit ListsView(Session& session, QWidget* parent = nullptr);
  /// The table shown, tab separated, as the Copy button puts it on the clipboard.
  [[nodiscard]] QString text() const;

signals:
  void export_requested();           ///< the CSV button
  void message(const QString& text); ///< why an entry was refused, what was copied; empty: all is well

protected:
  void resizeEvent(QResizeEvent* event) override;

private:
  void refresh();
  void fit_columns();
  void show_table();
  void pick(const QModelIndex& index);
  void own(int line, double quantity);

  Session& session_;
  ListModel* model_;
  QTabBar* tabs_;
  QTableView* table_;
  QLabel* empty_;
  QStackedWidget* stack_;
  QLabel* totals_;
};

} // namespace bellmouth::ui
