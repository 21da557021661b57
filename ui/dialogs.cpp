// SPDX-License-Identifier: GPL-3.0-or-later
#include "dialogs.hpp"

#include "recipe_dialog.hpp"

#include <QCoreApplication>
#include <QFileDialog>
#include <QInputDialog>
#include <QMessageBox>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("Dialogs", text);
}
QString build_files() {
  return tr("Builds (*.json);;All files (*)");
}

} // namespace

Dialogs desktop_dialogs() {
  return {
      .file_to_open =
          [](QWidget* parent, const QString& folder) {
            return QFileDialog::getOpenFileName(parent, tr("Open a build"), folder, build_files());
          },
      .file_to_save =
          [](QWidget* parent, const QString& proposed) {
            QString file =
                QFileDialog::getSaveFileName(parent, tr("Save the build"), proposed, build_files());
            return file;
          },
      .folder_for_lists =
          [](QWidget* parent, const QString& folder) {
            return QFileDialog::getExistingDirectory(parent, tr("Folder for the lists"), folder);
          },
      .log_to_open =
          [](QWidget* parent, const QString& folder) {
            return QFileDialog::getOpenFileName(parent, tr("Choose a log"), folder,
                                                tr("Logs (*.csv);;All files (*)"));
          },
      .scan_to_open =
          [](QWidget* parent, const QString& folder) {
            return QFileDialog::getOpenFileName(parent, tr("Choose a scan"), folder,
                                                tr("Meshes (*.stl *.obj *.ply *.gltf *.glb);;All files (*)"));
          },
      .picture_to_open =
          [](QWidget* parent, const QString& folder) {
            return QFileDialog::getOpenFileName(
                parent, tr("Choose a picture"), folder,
                tr("Pictures (*.png *.jpg *.jpeg *.webp *.bmp);;All files (*)"));
          },
      .stock_to_open =
          [](QWidget* parent, const QString& folder) {
            return QFileDialog::getOpenFileName(parent, tr("Choose a stock list"), folder,
                                                tr("Stock lists (*.csv *.json *.tsv *.txt);;All files (*)"));
          },
      .stock_to_save =
          [](QWidget* parent, const QString& proposed) {
            return QFileDialog::getSaveFileName(
                parent, tr("Write the stock"), proposed,
                tr("Tables (*.csv);;Lists of this program (*.json);;All files (*)"));
          },
      .line_of_text = [](QWidget* parent, const QString& title, const QString& label,
                         const QString& proposed) -> std::optional<QString> {
        bool given = false;
        QString text = QInputDialog::getText(parent, title, label, QLineEdit::Normal, proposed, &given);
        return given && !text.trimmed().isEmpty() ? std::optional(text.trimmed()) : std::nullopt;
      },
      .recipe = [](QWidget* parent) { return ask_recipe(parent); },
      .paper = [](QWidget* parent) -> std::unique_ptr<QPagedPaintDevice> {
        auto printer = std::make_unique<QPrinter>(QPrinter::HighResolution);
        printer->setPageOrientation(QPageLayout::Landscape);
        printer->setDocName(tr("Lists"));
        QPrintDialog dialog(printer.get(), parent);
        dialog.setWindowTitle(tr("Print the lists"));
        if (dialog.exec() != QDialog::Accepted)
          return nullptr;
        return printer;
      },
      .overwrite =
          [](QWidget* parent, const QString& folder, const QStringList& files) {
            QMessageBox box(QMessageBox::Warning, tr("Files exist already"),
                            tr("In %1 these files exist already:\n%2").arg(folder, files.join('\n')),
                            QMessageBox::Cancel, parent);
            const auto* overwrite = box.addButton(tr("Overwrite them"), QMessageBox::DestructiveRole);
            box.setDefaultButton(QMessageBox::Cancel);
            box.exec();
            return box.clickedButton() == overwrite;
          },
      .remove_used =
          [](QWidget* parent, const QString& what) {
            QMessageBox box(QMessageBox::Question, tr("The item is in use"), what, QMessageBox::Cancel,
                            parent);
            box.setInformativeText(
                tr("When it is removed they are not bought as anything; undo brings it back."));
            const auto* remove = box.addButton(tr("Remove it"), QMessageBox::DestructiveRole);
            box.setDefaultButton(QMessageBox::Cancel);
            box.exec();
            return box.clickedButton() == remove;
          },
      .unsaved_changes =
          [](QWidget* parent, const QString& name) {
            const auto answer = QMessageBox::question(
                parent, tr("Unsaved changes"), tr("%1 has changes that are not saved.").arg(name),
                QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel, QMessageBox::Save);
            return answer == QMessageBox::Save      ? Dialogs::Unsaved::save
                   : answer == QMessageBox::Discard ? Dialogs::Unsaved::discard
                                                    : Dialogs::Unsaved::cancel;
          },
      .changed_on_disk =
          [](QWidget* parent, const QString& file) {
            QMessageBox box(
                QMessageBox::Warning, tr("The file has changed"),
                tr("%1 was changed by another program since it was opened or saved here.").arg(file),
                QMessageBox::Cancel, parent);
            const auto* overwrite = box.addButton(tr("Overwrite it"), QMessageBox::DestructiveRole);
            const auto* elsewhere = box.addButton(tr("Save under another name"), QMessageBox::AcceptRole);
            box.exec();
            return box.clickedButton() == overwrite   ? Dialogs::Changed::overwrite
                   : box.clickedButton() == elsewhere ? Dialogs::Changed::save_as
                                                      : Dialogs::Changed::cancel;
          },
      .left_behind =
          [](QWidget* parent, const QString& what) {
            QMessageBox box(QMessageBox::Question, tr("Unsaved work was found"), what, QMessageBox::NoButton,
                            parent);
            const auto* restore = box.addButton(tr("Restore"), QMessageBox::AcceptRole);
            const auto* throw_away = box.addButton(tr("Throw away"), QMessageBox::DestructiveRole);
            box.addButton(tr("Decide later"), QMessageBox::RejectRole);
            box.exec();
            return box.clickedButton() == restore      ? Dialogs::LeftBehind::restore
                   : box.clickedButton() == throw_away ? Dialogs::LeftBehind::throw_away
                                                       : Dialogs::LeftBehind::later;
          },
      .error = [](QWidget* parent, const QString& title,
                  const QString& text) { QMessageBox::critical(parent, title, text); },
  };
}

} // namespace bellmouth::ui
