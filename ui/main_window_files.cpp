// SPDX-License-Identifier: GPL-3.0-or-later
// Files of the window: opening, saving, leaving, what was left behind, lists for the shop.
#include "bay_view.hpp"
#include "fit_dialog.hpp"
#include "main_window.hpp"
#include "new_build.hpp"
#include "photograph_dialog.hpp"
#include "quantity_edit.hpp"
#include "recovery.hpp"
#include "scan_dialog.hpp"

#include <bellmouth/build.hpp>

#include <QApplication>
#include <QCloseEvent>
#include <QDragEnterEvent>
#include <QDropEvent>
#include <QFileInfo>
#include <QLocale>
#include <QMenu>
#include <QMimeData>
#include <QSplitter>
#include <QUrl>

namespace bellmouth::ui {

namespace {

/// The one file that is dragged, or empty.
QString dragged_file(const QMimeData& data) {
  return data.urls().size() == 1 ? data.urls().front().toLocalFile() : QString();
}

/// The stock items of a file.
Result<std::vector<build::StockItem>> load_stock(const QString& name) {
  QFile file(name);
  if (!file.open(QIODevice::ReadOnly)) {
    Error error;
    error.place.file = name.toStdString();
    error.found = file.errorString().toStdString();
    error.accepted = "a readable file";
    return fail(std::move(error));
  }
  return build::read_stock(file.readAll().toStdString(), name.toStdString());
}

} // namespace

void MainWindow::complain(const QString& title, const Error& error) {
  dialogs_.error(this, title, QString::fromStdString(error.text()));
}

void MainWindow::accept_typing() {
  if (QWidget* typing = focusWidget()) {
    typing->clearFocus();
    typing->setFocus();
  }
}

bool MainWindow::may_leave() {
  accept_typing();
  if (!session_.modified())
    return true;
  const QString title = QString::fromStdString(session_.build().title);
  const QString name = session_.file().isEmpty() ? (title.isEmpty() ? tr("The new build") : title)
                                                 : QFileInfo(session_.file()).fileName();
  switch (dialogs_.unsaved_changes(this, name)) {
  case Dialogs::Unsaved::save:
    return save();
  case Dialogs::Unsaved::discard:
    return true;
  case Dialogs::Unsaved::cancel:
    return false;
  }
  return false;
}

void MainWindow::open() {
  const QString folder =
      session_.file().isEmpty() ? QDir::homePath() : QFileInfo(session_.file()).absolutePath();
  if (const QString file = dialogs_.file_to_open(this, folder); !file.isEmpty())
    open_file(file);
}

bool MainWindow::open_file(const QString& file) {
  if (!may_leave())
    return false;
  auto build = build::load_build(file.toStdString());
  if (!build) {
    complain(tr("The build cannot be opened"), build.error());
    settings_.remove_recent_file(file);
    refresh_recent_files();
    return false;
  }
  session_.replace(*std::move(build), QFileInfo(file).absoluteFilePath());
  settings_.add_recent_file(file);
  refresh_recent_files();
  return true;
}

bool MainWindow::open_demo(const QString& file) {
  if (!may_leave())
    return false;
  auto build = build::load_build(file.toStdString());
  if (!build) {
    complain(tr("The build cannot be opened"), build.error());
    return false;
  }
  // Without a file of its own it names the files that belong to it in full.
  session_.replace(
      build::with_files_named_from(*std::move(build), QFileInfo(file).absolutePath().toStdString(), {}), {});
  session_.mark_demo();
  return true;
}

void MainWindow::start_new() {
  if (!may_leave())
    return;
  const auto recipe = dialogs_.recipe(this);
  if (!recipe)
    return;
  auto stock =
      load_stock(places_.stock.filePath(recipe->stock == Recipe::Stock::inch ? "inch.json" : "metric.json"));
  if (!stock) {
    complain(tr("The stock that comes with the program cannot be read"), stock.error());
    stock = std::vector<build::StockItem>();
  }
  session_.replace(new_build(*recipe, *std::move(stock)), {});
}

bool MainWindow::save() {
  accept_typing();
  return session_.file().isEmpty() ? save_as() : save_to(session_.file());
}

bool MainWindow::save_as() {
  accept_typing();
  QString proposed = session_.file();
  if (proposed.isEmpty()) {
    QString name = QString::fromStdString(session_.build().title).simplified().replace(' ', '_').remove('/');
    proposed = QDir::home().filePath((name.isEmpty() ? QString("build") : name) + ".json");
  }
  QString file = dialogs_.file_to_save(this, proposed);
  if (file.isEmpty())
    return false;
  if (QFileInfo(file).suffix().isEmpty())
    file += ".json";
  return save_to(QFileInfo(file).absoluteFilePath());
}

bool MainWindow::save_to(const QString& file) {
  bool force = false;
  if (file == session_.file() && session_.changed_on_disk()) {
    switch (dialogs_.changed_on_disk(this, QFileInfo(file).fileName())) {
    case Dialogs::Changed::overwrite:
      force = true;
      break;
    case Dialogs::Changed::save_as:
      return save_as();
    case Dialogs::Changed::cancel:
      return false;
    }
  }
  if (const auto error = session_.save(file, force)) {
    complain(tr("The build cannot be saved"), *error);
    return false;
  }
  settings_.add_recent_file(file);
  refresh_recent_files();
  say(tr("Saved %1").arg(QFileInfo(file).fileName()));
  return true;
}

void MainWindow::refresh_recent_files() {
  recent_->clear();
  for (const QString& file : settings_.recent_files()) {
    QAction* item = recent_->addAction(QFileInfo(file).fileName());
    item->setToolTip(file);
    item->setStatusTip(file);
    connect(item, &QAction::triggered, this, [this, file] { open_file(file); });
  }
  recent_->setEnabled(!recent_->isEmpty());
}

void MainWindow::make_demo_menu(QMenu& menu) {
  menu.setObjectName("demo_builds");
  for (const QFileInfo& file : places_.demo_builds.entryInfoList({"*.json"}, QDir::Files, QDir::Name)) {
    QString name = file.completeBaseName().replace('_', ' ').replace('-', ' ');
    name[0] = name[0].toUpper();
    QAction* item = menu.addAction(name);
    item->setObjectName("demo_" + file.completeBaseName());
    connect(item, &QAction::triggered, this, [this, path = file.absoluteFilePath()] { open_demo(path); });
  }
  menu.setEnabled(!menu.isEmpty());
}

void MainWindow::fit_to_measurement() {
  accept_typing();
  auto* dialog = new FitDialog(
      session_,
      [this](QWidget* parent) {
        const QString beside = session_.file();
        return dialogs_.log_to_open(parent,
                                    beside.isEmpty() ? QDir::homePath() : QFileInfo(beside).absolutePath());
      },
      this);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  dialog->open();
}

QString MainWindow::start_folder() const {
  return session_.file().isEmpty() ? QDir::homePath() : QFileInfo(session_.file()).absolutePath();
}

void MainWindow::import_scan() {
  auto* dialog = new ScanDialog(
      session_, [this](QWidget* parent) { return dialogs_.scan_to_open(parent, start_folder()); }, this);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  dialog->open();
}

void MainWindow::add_photograph() {
  auto* dialog = new PhotographDialog(
      session_, [this](QWidget* parent) { return dialogs_.picture_to_open(parent, start_folder()); }, this);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  dialog->open();
}

void MainWindow::offer_left_behind() {
  for (const LeftBehind& copy : recovery_.left_behind()) {
    if (!copy.build) {
      complain(tr("A copy of unsaved work is damaged"), copy.build.error());
      Recovery::throw_away(copy);
      continue;
    }
    const QString name = copy.original.isEmpty() ? QString::fromStdString(copy.build->title)
                                                 : QDir::toNativeSeparators(copy.original);
    const QString what = tr("The program ended before “%1” was saved. A copy was kept on %2.")
                             .arg(name, QLocale().toString(copy.saved_at, QLocale::ShortFormat));
    const auto answer = dialogs_.left_behind(this, what);
    if (answer == Dialogs::LeftBehind::later)
      continue;
    if (answer == Dialogs::LeftBehind::restore) {
      if (!may_leave())
        return;
      // Its names of scans are seen from where the original lies.
      const QString folder = copy.original.isEmpty() ? QString() : QFileInfo(copy.original).absolutePath();
      session_.restore(build::with_scans_loaded(*copy.build, folder.toStdString()), copy.original);
      // From here on the work is kept by this run.
      recovery_.keep();
    }
    Recovery::throw_away(copy);
  }
}

void MainWindow::closeEvent(QCloseEvent* event) {
  if (!may_leave()) {
    event->ignore();
    return;
  }
  recovery_.finish();
  settings_.set_window_geometry(saveGeometry());
  settings_.set_splitter(columns_->objectName(), columns_->saveState());
  keep_rows();
  event->accept();
}

void MainWindow::dragEnterEvent(QDragEnterEvent* event) {
  if (!dragged_file(*event->mimeData()).isEmpty())
    event->acceptProposedAction();
}

void MainWindow::dropEvent(QDropEvent* event) {
  const QString file = dragged_file(*event->mimeData());
  if (file.isEmpty())
    return;
  event->acceptProposedAction();
  open_file(file);
}

} // namespace bellmouth::ui
