// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does for the stock: where the sheet of an item stands.
#include "inspector.hpp"
#include "main_window.hpp"
#include "stock_sheet.hpp"
#include "stock_view.hpp"

#include <QStackedWidget>
#include <QTabWidget>

namespace bellmouth::ui {

void MainWindow::connect_stock() {
  aside_->addWidget(stock_->sheet());
  const auto close_sheet = [this] {
    if (aside_->currentWidget() == stock_->sheet())
      aside_->setCurrentWidget(inspector_);
  };
  connect(stock_, &StockView::message, this, &MainWindow::say);
  connect(stock_, &StockView::sheet_requested, this, [this] {
    aside_->setCurrentWidget(stock_->sheet());
    refresh_actions();
  });
  connect(stock_, &StockView::sheet_closed, this, close_sheet);
  connect(tabs_, &QTabWidget::currentChanged, this, [this, close_sheet] {
    if (tabs_->currentWidget() != stock_)
      close_sheet();
  });
  connect(&session_, &Session::changed, this, [this, close_sheet](Changes changes) {
    // Who picks a piece wants its fields.
    if ((changes & Change::selection) && !stock_->is_stepping())
      close_sheet();
  });
}

} // namespace bellmouth::ui
