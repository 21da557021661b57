// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does for the stock: where the sheet of an item stands, lists that come in and go out.
#include "inspector.hpp"
#include "main_window.hpp"
#include "stock_import_dialog.hpp"
#include "stock_sheet.hpp"
#include "stock_view.hpp"

#include <bellmouth/stock/export.hpp>

#include <QFileInfo>
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
  connect(stock_, &StockView::import_requested, this, [this] { import_stock(); });
  connect(stock_, &StockView::shipped_requested, this,
          [this](StockView::Shipped which) { import_stock(shipped_stock(which)); });
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

QString MainWindow::shipped_stock(StockView::Shipped which) const {
  return places_.stock.filePath(which == StockView::Shipped::inch ? "inch.json" : "metric.json");
}

void MainWindow::import_stock(const QString& file) {
  accept_typing();
  auto* dialog = new StockImportDialog(
      session_, [this](QWidget* asking) { return dialogs_.stock_to_open(asking, start_folder()); },
      [this](StockView::Shipped which) { return shipped_stock(which); }, this);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  connect(dialog, &StockImportDialog::taken, this, &MainWindow::say);
  if (!file.isEmpty())
    dialog->load(file);
  dialog->open();
}

void MainWindow::export_stock() {
  accept_typing();
  const build::Build& build = session_.build();
  QString file = dialogs_.stock_to_save(this, QDir(start_folder()).filePath(tr("stock.csv")));
  if (file.isEmpty())
    return;
  if (QFileInfo(file).suffix().isEmpty())
    file += ".csv";
  const bool json = QFileInfo(file).suffix().compare("json", Qt::CaseInsensitive) == 0;
  const std::string text = json ? stock::json(*build.stock, build.owned, build.budget.currency)
                                : stock::csv(*build.stock, build.owned);
  if (const auto saved = build::save_text(file.toStdString(), text); !saved) {
    complain(tr("The stock cannot be written"), saved.error());
    return;
  }
  say(tr("%1 items written to %2").arg(build.stock->size()).arg(QFileInfo(file).fileName()));
}

} // namespace bellmouth::ui
