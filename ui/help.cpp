// SPDX-License-Identifier: GPL-3.0-or-later
// The dialogs of the help menu.
#include "caution.hpp"
#include "main_window.hpp"
#include "theme.hpp"

#include <QCoreApplication>
#include <QDialog>
#include <QDialogButtonBox>
#include <QHeaderView>
#include <QMessageBox>
#include <QTableWidget>
#include <QVBoxLayout>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("Help", text);
}

struct KeyLine {
  QString keys, does;
};

/// Keys that belong to a view and not to the window.
std::vector<KeyLine> keys_of_views() {
  return {{tr("Left, Right, Home, End"), tr("In the path: pick the piece before, behind, first, last")},
          {tr("Enter"),
           tr("In the path: edit what is picked. In the tray: add a piece of that kind. In a field: accept")},
          {tr("Escape"), tr("In a field: bring back what was there")},
          {tr("Up, Down"), tr("In a field: one step more or less (1 mm, 1°)")},
          {tr("Page Up, Page Down"), tr("In a field: ten steps more or less")},
          {tr("+, -, F"), tr("In the path: larger, smaller, all of it")},
          {tr("Ctrl and the wheel"), tr("In the path: larger, smaller")},
          {tr("Arrows, with Shift"), tr("In the bay: turn it, shift it")},
          {tr("+, -, F, Shift+F"), tr("In the bay: larger, smaller, all of it, what is picked")},
          {tr("1 to 6, 0"), tr("In the bay: look from front, rear, left, right, above, below; slantwise")},
          {tr("P, M"), tr("In the bay: perspective on and off; measure between two points")},
          {tr("Page Up, Page Down"), tr("In the bay: pick the piece before, behind")},
          {tr("G"), tr("In the bay: type a value of the picked piece, each time the next one")},
          {tr("Up, Down"), tr("In the routes: point at another, and see it in the bay")},
          {tr("Enter, Escape"), tr("In the routes: take the one that is pointed at, or let go of it")},
          {tr("M, W"), tr("In the findings: mend the one that is picked; waive it, or take the waiver back")},
          {tr("A number while dragging"),
           tr("In the bay: the value itself; Enter takes it, Escape leaves nothing")}};
}

} // namespace

void show_keys(QWidget* parent, const std::vector<Command>& commands) {
  std::vector<KeyLine> lines;
  for (const Command& command : commands) {
    QStringList keys;
    for (const QKeySequence& key : command.keys)
      keys << key.toString(QKeySequence::NativeText);
    if (!keys.isEmpty())
      lines.push_back({keys.join(tr(" or ")),
                       QString(command.text).remove('&').remove(QChar(0x2026)) + ": " + command.tip});
  }
  for (const KeyLine& line : keys_of_views())
    lines.push_back(line);

  QDialog dialog(parent);
  dialog.setObjectName("keys_dialog");
  dialog.setWindowTitle(tr("Keys"));
  dialog.resize(720, 560);
  auto* column = new QVBoxLayout(&dialog);
  auto* table = new QTableWidget(static_cast<int>(lines.size()), 2, &dialog);
  table->setAccessibleName(tr("Keys"));
  table->setHorizontalHeaderLabels({tr("Keys"), tr("What they do")});
  table->verticalHeader()->hide();
  table->setEditTriggers(QAbstractItemView::NoEditTriggers);
  table->setSelectionMode(QAbstractItemView::NoSelection);
  table->setShowGrid(false);
  table->setAlternatingRowColors(true);
  for (int row = 0; row < table->rowCount(); ++row) {
    table->setItem(row, 0, new QTableWidgetItem(lines[static_cast<std::size_t>(row)].keys));
    table->setItem(row, 1, new QTableWidgetItem(lines[static_cast<std::size_t>(row)].does));
  }
  table->resizeColumnToContents(0);
  table->horizontalHeader()->setStretchLastSection(true);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, &dialog);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  column->addWidget(table);
  column->addWidget(buttons);
  dialog.exec();
}

void show_about(QWidget* parent) {
  QMessageBox box(parent);
  box.setWindowTitle(tr("About Bellmouth"));
  constexpr int icon_px = 64;
  box.setIconPixmap(icon("bellmouth").pixmap(icon_px));
  box.setTextFormat(Qt::RichText);
  box.setText(tr("<h3>Bellmouth %1</h3><p>Lays out, sizes, buys, makes and proves the air path from "
                 "the filter to the engine.</p>"
                 "<p>Free software under the GNU General Public License, version 3 or later, without "
                 "any warranty.</p>"
                 "<p>Prices and parts in the demo builds are invented.</p>")
                  .arg(QCoreApplication::applicationVersion()));
  box.exec();
}

void show_caution(QWidget* parent) {
  QMessageBox box(parent);
  box.setObjectName("caution_dialog");
  box.setWindowTitle(tr("Before the first start"));
  box.setIcon(QMessageBox::Warning);
  box.setTextFormat(Qt::RichText);
  box.setText(caution_html());
  box.exec();
}

} // namespace bellmouth::ui
