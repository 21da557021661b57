// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does on the way from the layout to the parcel: joining, thresholds, lists.
#include "inspector.hpp"
#include "list_tables.hpp"
#include "main_window.hpp"
#include "paper.hpp"
#include "piece_text.hpp"
#include "proposal_dialog.hpp"
#include "thresholds_dialog.hpp"

#include <bellmouth/build.hpp>

#include <QDate>
#include <QFileInfo>
#include <QPagedPaintDevice>

namespace bellmouth::ui {

void MainWindow::join_runs() {
  const build::OptionId option = session_.option();
  const auto& runs = session_.build().find(option)->runs;
  if (runs.empty())
    return;
  const auto picked = picked_run();
  std::vector<ProposalDialog::Choice> choices{
      {tr("All runs"), [option](const build::Build& build) { return join::join(build, option); }}};
  int first = 0;
  for (const auto& run : runs) {
    if (run->id == picked)
      first = static_cast<int>(choices.size());
    choices.push_back(
        {tr("Run: %1").arg(run_name(run->id)),
         [option, id = run->id](const build::Build& build) { return join::join(build, option, id); }});
  }
  auto* dialog = new ProposalDialog(session_, tr("Join"), std::move(choices), first, this);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  dialog->open_beside(*this);
}

void MainWindow::edit_thresholds() {
  accept_typing();
  auto* dialog = new ThresholdsDialog(session_, this);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  dialog->open();
}

void MainWindow::export_lists() {
  const QString folder = dialogs_.folder_for_lists(this, start_folder());
  if (folder.isEmpty())
    return;
  const std::vector<list::Table> tables =
      file_tables(session_.build(), session_.evaluation(), session_.purchase());
  const auto name_of = [](const list::Table& table) { return QString::fromStdString(table.name) + ".csv"; };
  QStringList existing;
  for (const list::Table& table : tables)
    if (QFileInfo::exists(QDir(folder).filePath(name_of(table))))
      existing << name_of(table);
  if (!existing.isEmpty() && !dialogs_.overwrite(this, QDir::toNativeSeparators(folder), existing))
    return;
  int written = 0;
  for (const list::Table& table : tables) {
    const QString file = QDir(folder).filePath(name_of(table));
    if (const auto saved = build::save_text(file.toStdString(), list::csv(table)); !saved) {
      complain(tr("The lists cannot be written"), saved.error());
      return;
    }
    ++written;
  }
  say(tr("%1 lists written to %2").arg(written).arg(QDir::toNativeSeparators(folder)));
}

void MainWindow::print_lists() {
  accept_typing();
  const auto device = dialogs_.paper(this);
  if (!device)
    return;
  const Paper paper{session_.build(),
                    {session_.evaluation(), session_.weighing(), &session_.purchase(), session_.findings()},
                    QDate::currentDate(),
                    session_.engine_speed_rev_s()};
  const int pages = print_paper(paper, *device);
  if (pages == 0)
    dialogs_.error(this, tr("The lists cannot be printed"), tr("The printer or the file did not take them."));
  else
    say(pages == 1 ? tr("One page printed") : tr("%1 pages printed").arg(pages));
}

void MainWindow::edit_budget() {
  session_.select(std::monostate{});
  show_routes(false);
  inspector_->show_budget();
}

} // namespace bellmouth::ui
