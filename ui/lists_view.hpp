// SPDX-License-Identifier: GPL-3.0-or-later
// The lists of the shown option: what to buy, saw, mark, join, weld; with money.
#pragma once

#include "lists_model.hpp"
#include "session.hpp"

#include <QWidget>

class QComboBox;
class QLabel;
class QListWidget;
class QPushButton;
class QStackedWidget;
class QTableView;

namespace bellmouth::ui {

class WrappedLabel;

/// Picking a row picks its first piece, picking it again the next one. Waits for the purchase and, hidden,
/// until it is shown.
class ListsView : public QWidget {
  Q_OBJECT

public:
  explicit ListsView(Session& session, QWidget* parent = nullptr);
  /// The list shown, tab separated, as the Copy button puts it on the clipboard.
  [[nodiscard]] QString text() const;
  /// Shows another list, by its key.
  void show_list(const QString& key);

signals:
  void export_requested();           ///< the CSV button
  void print_requested();            ///< the Print button
  void budget_requested();           ///< the fields of the budget are wanted
  void message(const QString& text); ///< why an entry was refused, what was copied; empty: all is well

protected:
  void resizeEvent(QResizeEvent* event) override;
  void showEvent(QShowEvent* event) override;

private:
  [[nodiscard]] QWidget* make_head();
  [[nodiscard]] QWidget* make_plan();
  void prepare_table();
  void refresh();
  void refresh_money();
  /// Looks what the other aims would cost, which takes a moment.
  void refresh_aims();
  void show_table();
  void fit_columns();
  /// Picks a piece of a row: its first, or the one behind that picked last.
  void pick(int row, bool next);
  void show_next();
  void own(const build::StockId& stock, const QString& typed);
  void pay(const build::StockId& stock, const QString& typed);
  void apply(build::Build next, const QString& what);
  [[nodiscard]] QString item_name(const build::StockId& stock) const;

  Session& session_;
  std::vector<ListTable> tables_;
  ListModel* model_;
  QListWidget* names_;
  QLabel* about_;
  QPushButton* next_;
  QTableView* table_;
  QLabel* empty_;
  QStackedWidget* stack_;
  QWidget* plan_ = nullptr; ///< above the shopping list: what it aims at
  QComboBox* aim_;
  WrappedLabel* sums_; ///< below it
  bool stale_ = true;
  int picked_row_ = -1;
  std::size_t picked_piece_ = 0; ///< of the row's
  bool just_picked_ = false;     ///< by the click that is still to be told
};

} // namespace bellmouth::ui
