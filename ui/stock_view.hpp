// SPDX-License-Identifier: GPL-3.0-or-later
// The stock of the build: what can be bought, searched, sorted and edited.
#pragma once

#include "session.hpp"
#include "stock_model.hpp"

#include <QTableView>
#include <QWidget>

#include <functional>

class QCheckBox;
class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QStackedWidget;
class QToolButton;

namespace bellmouth::ui {

class StockSheet;
class WrappedLabel;

/// A table that says whether a cell of it is being typed in.
class StockTable : public QTableView {
public:
  using QTableView::QTableView;
  [[nodiscard]] bool is_editing() const { return state() == EditingState; }
};

/// Double click and Enter open the picked item in its sheet, which stands where the window puts it.
class StockView : public QWidget {
  Q_OBJECT

public:
  /// Whether an item that is in use may be removed; `what` says where it is used.
  using AskRemove = std::function<bool(QWidget* parent, const QString& what)>;
  /// The lists to start from that ship with the program.
  enum class Shipped { metric, inch };

  StockView(Session& session, AskRemove ask_remove, QWidget* parent = nullptr);
  /// The sheet of the picked item; hidden, until somebody gives it a place.
  [[nodiscard]] StockSheet* sheet() const { return sheet_; }

  [[nodiscard]] std::optional<build::StockId> picked() const;
  /// Picks an item and brings it into view. One that is left out makes all items shown.
  void pick(const build::StockId& id);
  /// \name What the buttons do
  ///@{
  void open_picked();
  void add(build::StockKind kind);
  void duplicate();
  void remove();
  /// Selects the first piece that is bought as the picked item, then with each call the next.
  void show_where_used();
  void focus_search();
  void show_all();
  ///@}
  /// Whether the selection is just being changed by show_where_used().
  [[nodiscard]] bool is_stepping() const { return stepping_; }

signals:
  void message(const QString& text);
  void sheet_requested(); ///< the sheet is to be seen
  void sheet_closed();
  void import_requested();
  void shipped_requested(bellmouth::ui::StockView::Shipped which);

protected:
  void showEvent(QShowEvent* event) override;
  bool eventFilter(QObject* watched, QEvent* event) override;

private:
  [[nodiscard]] QWidget* choice_row();
  [[nodiscard]] QWidget* button_row();
  [[nodiscard]] QWidget* table_page();
  [[nodiscard]] QWidget* empty_page();
  [[nodiscard]] QWidget* nothing_found_page();
  void refresh();
  void refresh_suppliers();
  void refresh_state();
  void choose();
  void fit_columns();
  void show_complaint_of_cell();
  bool take_key(int key);
  /// The row of the model that is picked; none: -1.
  [[nodiscard]] int picked_row() const;
  void insert(build::StockItem item, const QString& what);

  Session& session_;
  AskRemove ask_remove_;
  StockModel* model_;
  StockOrder* order_;
  StockSheet* sheet_;
  QLineEdit* search_;
  QComboBox *kinds_, *suppliers_;
  QCheckBox *owned_, *used_;
  QLabel* count_;
  QToolButton* add_;
  QPushButton *duplicate_, *remove_, *where_used_, *import_;
  StockTable* table_;
  QStackedWidget* stack_;
  QWidget *empty_ = nullptr, *nothing_found_ = nullptr;
  WrappedLabel* error_;
  bool stale_ = false;  ///< hidden, and behind the build
  bool fitted_ = false; ///< the columns are as wide as what they say
  bool stepping_ = false;
  std::optional<build::StockId> stepped_; ///< whose uses are being stepped through
  std::size_t next_use_ = 0;
  build::Shared<std::vector<build::StockItem>> suppliers_of_; ///< the stock whose suppliers are offered
};

} // namespace bellmouth::ui
