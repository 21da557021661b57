// SPDX-License-Identifier: GPL-3.0-or-later
// The table of commands of the window, and what those do that edit the build.
#include "chain_view.hpp"
#include "inspector.hpp"
#include "main_window.hpp"
#include "measures_view.hpp"
#include "meet_dialog.hpp"
#include "new_piece.hpp"
#include "part_edits.hpp"
#include "piece_text.hpp"
#include "quantity_edit.hpp"
#include "route_panel.hpp"

#include <QMenu>
#include <QStackedWidget>
#include <QTabWidget>

namespace bellmouth::ui {

namespace {

QList<QKeySequence> keys(std::initializer_list<QKeySequence> all) {
  return QList<QKeySequence>(all);
}

} // namespace

std::vector<Command> MainWindow::build_commands() {
  const Menu menu = Menu::build;
  return {
      {"new", menu, tr("&New"), "new", keys({QKeySequence::New}), tr("Start a build of your own"),
       [this] { start_new(); }},
      {"open", menu, tr("&Open…"), "open", keys({QKeySequence::Open}), tr("Open a build from a file"),
       [this] { open(); }},
      {.id = "save",
       .menu = menu,
       .text = tr("&Save"),
       .icon = "save",
       .keys = keys({QKeySequence::Save}),
       .tip = tr("Save the build"),
       .run = [this] { save(); },
       .group_above = true},
      {"save_as", menu, tr("Save &as…"), "", keys({QKeySequence("Ctrl+Shift+S")}),
       tr("Save the build under another name"), [this] { save_as(); }},
      {.id = "export_lists",
       .menu = menu,
       .text = tr("&Export lists…"),
       .icon = "export",
       .keys = keys({QKeySequence("Ctrl+E")}),
       .tip = tr("Write all lists as CSV files into a folder"),
       .run = [this] { export_lists(); },
       .group_above = true},
      {"print_lists", menu, tr("&Print lists…"), "", keys({QKeySequence::Print}),
       tr("All lists and findings on paper, or as a PDF file"), [this] { print_lists(); }},
      {.id = "import_scan",
       .menu = menu,
       .text = tr("&Import a scan of the bay…"),
       .icon = "",
       .keys = keys({QKeySequence("Ctrl+I")}),
       .tip = tr("Bring in a mesh that a scanner made, as a keep-out"),
       .run = [this] { import_scan(); },
       .group_above = true},
      {.id = "import_stock",
       .menu = menu,
       .text = tr("Import s&tock…"),
       .icon = "",
       .keys = keys({QKeySequence("Ctrl+Shift+I")}),
       .tip = tr("Look at a list of things that can be bought, and take its good rows"),
       .run = [this] { import_stock(); },
       .group_above = true},
      {"export_stock", menu, tr("E&xport stock…"), "", keys({QKeySequence("Ctrl+Shift+E")}),
       tr("Write the stock of the build as a table (CSV) or as a list of this program (JSON)"),
       [this] { export_stock(); }, [this] { return !session_.build().stock->empty(); }},
      {.id = "fit_to_measurement",
       .menu = menu,
       .text = tr("&Fit to measurement…"),
       .icon = "",
       .keys = keys({QKeySequence("Ctrl+M")}),
       .tip = tr("Correct the build's figures so that they agree with a log of measurements"),
       .run = [this] { fit_to_measurement(); },
       .possible = [this] { return std::holds_alternative<machine::Engine>(session_.build().demand); },
       .group_above = true},
      {.id = "close",
       .menu = menu,
       .text = tr("&Close"),
       .icon = "",
       .keys = keys({QKeySequence("Ctrl+Q")}),
       .tip = tr("Close the window"),
       .run = [this] { close(); },
       .group_above = true},
  };
}

std::vector<Command> MainWindow::edit_commands() {
  const Menu menu = Menu::edit;
  return {
      {"undo", menu, tr("&Undo"), "undo", keys({QKeySequence::Undo}), tr("Take the last change back"),
       [this] { session_.undo(); }, [this] { return session_.can_undo(); }},
      {"redo", menu, tr("&Redo"), "redo", keys({QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")}),
       tr("Make the change again that was taken back"), [this] { session_.redo(); },
       [this] { return session_.can_redo(); }},
      {.id = "copy_option",
       .menu = menu,
       .text = tr("&Copy option…"),
       .icon = "copy_option",
       .keys = keys({QKeySequence("Ctrl+Shift+N")}),
       .tip = tr("Make another option out of the one shown"),
       .run = [this] { copy_option(); },
       .group_above = true},
      {"rename_option",
       menu,
       tr("Re&name option…"),
       "rename_option",
       {},
       tr("Give the option shown another name"),
       [this] { rename_option(); }},
      {"remove_option",
       menu,
       tr("Re&move option"),
       "remove_option",
       {},
       tr("Remove the option shown"),
       [this] { remove_option(); },
       [this] { return session_.build().options.size() > 1; }},
      {.id = "edit_build",
       .menu = menu,
       .text = tr("&Build, engine and surroundings"),
       .icon = "engine",
       .keys = keys({QKeySequence("Ctrl+B")}),
       .tip = tr("Show the fields of the build as a whole"),
       .run =
           [this] {
             session_.select(std::monostate{});
             edit_first();
           },
       .group_above = true},
      {"thresholds", menu, tr("&Thresholds…"), "", keys({QKeySequence("Ctrl+T")}),
       tr("What the checks, joints and lists measure by, with its sources; it can be changed"),
       [this] { edit_thresholds(); }},
  };
}

std::vector<Command> MainWindow::piece_commands() {
  const Menu menu = Menu::piece;
  const auto has_piece = [this] { return session_.picked_piece() != nullptr; };
  const auto has_piece_or_keep_out = [this] {
    return session_.picked_piece() != nullptr || std::holds_alternative<PickedKeepOut>(session_.selection());
  };
  return {
      {.id = "edit_piece",
       .menu = menu,
       .text = tr("&Edit"),
       .icon = "edit",
       .keys = keys({QKeySequence("F2")}),
       .tip = tr("Go to the fields of what is picked"),
       .run = [this] { edit_picked(); },
       .group_above = true},
      {"duplicate_piece", menu, tr("&Duplicate"), "duplicate", keys({QKeySequence("Ctrl+D")}),
       tr("Put a copy behind the picked piece or keep-out"), [this] { duplicate_piece(); },
       has_piece_or_keep_out},
      {"move_piece_up", menu, tr("Move &upstream"), "move_left", keys({QKeySequence("Alt+Left")}),
       tr("Swap the picked piece with the one before it"), [this] { move_piece(-1); }, has_piece},
      {"move_piece_down", menu, tr("Move do&wnstream"), "move_right", keys({QKeySequence("Alt+Right")}),
       tr("Swap the picked piece with the one behind it"), [this] { move_piece(1); }, has_piece},
      {"remove_piece", menu, tr("&Remove"), "remove", keys({QKeySequence::Delete}),
       tr("Remove the picked piece and the fittings on it, or the picked keep-out"),
       [this] { remove_piece(); }, has_piece_or_keep_out},
      {.id = "meet_port",
       .menu = menu,
       .text = tr("&Meet the port…"),
       .icon = "",
       .keys = keys({QKeySequence("Ctrl+G")}),
       .tip = tr("Let sizes of the run move until its end is on its port"),
       .run = [this] { meet_port(); },
       .possible = [this] { return picked_run().has_value(); },
       .group_above = true},
      {"join", menu, tr("&Join…"), "", keys({QKeySequence("Ctrl+J")}),
       tr("Put in the couplers, reducers, clamps and beads that are missing"), [this] { join_runs(); },
       [this] { return !session_.build().find(session_.option())->runs.empty(); }},
      {"find_routes", menu, tr("Find &routes"), "", keys({QKeySequence("Ctrl+R")}),
       tr("Find ways for the run with pieces from stock, and show them as they come"),
       [this] { find_routes(); }, [this] { return !session_.build().find(session_.option())->runs.empty(); }},
  };
}

std::vector<Command> MainWindow::view_commands() {
  const Menu menu = Menu::view;
  std::vector<Command> commands{
      {"zoom_in", menu, tr("Zoom &in"), "zoom_in", keys({QKeySequence::ZoomIn}), tr("Draw the path larger"),
       [this] { chain_->zoom_by(1.25); }},
      {"zoom_out", menu, tr("Zoom &out"), "zoom_out", keys({QKeySequence::ZoomOut}),
       tr("Draw the path smaller"), [this] { chain_->zoom_by(0.8); }},
      {"zoom_fit", menu, tr("&Fit the path"), "zoom_fit", keys({QKeySequence("Ctrl+0")}),
       tr("Show the whole path"), [this] { chain_->zoom_to_fit(); }},
  };
  const std::pair<const char*, QString> tabs[] = {{"tab_bay", tr("&Bay")},
                                                  {"tab_measures", tr("&Measures")},
                                                  {"tab_path", tr("&Along the path")},
                                                  {"tab_costs", tr("&What it costs")},
                                                  {"tab_findings", tr("Fin&dings")},
                                                  {"tab_lists", tr("&Lists")},
                                                  {"tab_stock", tr("&Stock")},
                                                  {"tab_compare", tr("&Compare")}};
  int number = 1;
  for (const auto& [id, text] : tabs) {
    commands.push_back({.id = QString("show_%1").arg(id),
                        .menu = menu,
                        .text = text,
                        .icon = "",
                        .keys = keys({QKeySequence(QString("Ctrl+%1").arg(number))}),
                        .tip = tr("Show this view"),
                        .run = [this, tab = QString(id)] { show_tab(tab); },
                        .group_above = number == 1});
    ++number;
  }
  commands.push_back({.id = "show_routes",
                      .menu = menu,
                      .text = tr("&Routes"),
                      .icon = "",
                      .keys = keys({QKeySequence("Ctrl+Shift+R")}),
                      .tip = tr("Show routes in the place of the editor, or the editor again"),
                      .run = [this] { show_routes(aside_->currentWidget() != routes_); },
                      .on = [this] { return aside_ != nullptr && aside_->currentWidget() == routes_; }});
  commands.push_back({.id = "bay_alone",
                      .menu = menu,
                      .text = tr("Bay al&one"),
                      .icon = "",
                      .keys = keys({QKeySequence("F11")}),
                      .tip = tr("Give the whole window to the bay, or everything its place back"),
                      .run = [this] { set_bay_alone(!bay_alone_); },
                      .on = [this] { return bay_alone_; }});
  commands.push_back(
      {.id = "switch_look",
       .menu = menu,
       .text = tr("&Dark"),
       .icon = "look",
       .keys = keys({QKeySequence("Ctrl+L")}),
       .tip = tr("Light or dark window"),
       .run = [this] { use_look_and_remember(theme().look == Look::dark ? Look::light : Look::dark); },
       .on = [] { return theme().look == Look::dark; },
       .group_above = true});
  return commands;
}

std::vector<Command> MainWindow::help_commands() {
  const Menu menu = Menu::help;
  return {{"keys", menu, tr("&Keys"), "", keys({QKeySequence::HelpContents}), tr("What each key does"),
           [this] { show_keys(this, commands_); }},
          {"caution",
           menu,
           tr("&Before the first start"),
           "",
           {},
           tr("What to mind with air under pressure"),
           [this] { show_caution(this); }},
          {.id = "about",
           .menu = menu,
           .text = tr("&About"),
           .icon = "",
           .keys = {},
           .tip = tr("Version and licence"),
           .run = [this] { show_about(this); },
           .group_above = true}};
}

void MainWindow::make_add_menu(QMenu& menu) {
  for (std::size_t i = 0; i < shape_count; ++i) {
    const std::string_view name = kind_name(i);
    QString text = QString::fromUtf8(name.data(), static_cast<qsizetype>(name.size()));
    text[0] = text[0].toUpper();
    QAction* item = menu.addAction(text);
    item->setObjectName(QString("add_%1").arg(i));
    connect(item, &QAction::triggered, this, [this, i] { add_piece(i); });
  }
}

void MainWindow::apply(build::Build next, const QString& what) {
  if (const auto error = session_.apply(std::move(next), what))
    say(complaint(*error));
}

std::optional<build::PieceRef> MainWindow::picked() const {
  const auto* piece = std::get_if<PickedPiece>(&session_.selection());
  if (piece == nullptr || session_.picked_piece() == nullptr)
    return std::nullopt;
  return build::PieceRef{session_.option(), piece->run, piece->row};
}

std::optional<build::PieceRef> MainWindow::place_for_new() const {
  const build::Option& option = *session_.build().find(session_.option());
  if (const auto at = picked()) {
    const build::Run& run = *option.find(at->run);
    return build::PieceRef{at->option, at->run, at->row + build::rows_with_fittings(run, at->row)};
  }
  if (const auto* picked_run = std::get_if<PickedRun>(&session_.selection()))
    return build::PieceRef{option.id, picked_run->run, option.find(picked_run->run)->pieces.size()};
  if (option.runs.empty())
    return std::nullopt;
  return build::PieceRef{option.id, option.runs.front()->id, option.runs.front()->pieces.size()};
}

void MainWindow::add_piece(std::size_t shape_index) {
  const auto place = place_for_new();
  if (!place) {
    say(tr("The option has no run that could take a piece"));
    return;
  }
  const build::Piece piece = new_piece(shape_index, session_.build(), *place);
  const QString what = tr("Add %1 to %2").arg(piece_title(piece), run_name(place->run));
  if (const auto error = session_.apply(build::with_piece_inserted(session_.build(), *place, piece), what))
    say(complaint(*error));
  else
    session_.select(PickedPiece{place->run, place->row});
}

void MainWindow::remove_piece() {
  measures_->remove();
  if (const auto at = picked())
    apply(build::with_piece_removed(session_.build(), *at),
          tr("Remove %1").arg(piece_title(*session_.picked_piece())));
}

void MainWindow::duplicate_piece() {
  measures_->duplicate();
  const auto at = picked();
  if (!at)
    return;
  const build::Run& run = *session_.build().find(at->option)->find(at->run);
  const std::size_t copy = at->row + build::rows_with_fittings(run, at->row);
  const QString what = tr("Duplicate %1").arg(piece_title(*session_.picked_piece()));
  if (const auto error = session_.apply(with_piece_doubled(session_.build(), *at), what))
    say(complaint(*error));
  else
    session_.select(PickedPiece{at->run, copy});
}

void MainWindow::move_piece(int steps) {
  const auto at = picked();
  if (!at)
    return;
  const build::Run& run = *session_.build().find(at->option)->find(at->run);
  const auto& pieces = run.pieces;
  std::size_t to = at->row, lands = 0;
  if (steps < 0) {
    if (at->row == 0)
      return;
    // Over the piece before, with the fittings that sit on it.
    do
      --to;
    while (to > 0 && build::is_fitting(pieces[to].shape));
    lands = to;
  } else {
    const std::size_t behind = at->row + build::rows_with_fittings(run, at->row);
    if (behind >= pieces.size())
      return;
    const std::size_t jumped = build::rows_with_fittings(run, behind);
    to = behind + jumped;
    lands = at->row + jumped;
  }
  const QString what = tr("Move %1").arg(piece_title(*session_.picked_piece()));
  if (const auto error = session_.apply(build::with_piece_moved(session_.build(), *at, to), what))
    say(complaint(*error));
  else
    session_.select(PickedPiece{at->run, lands});
}

std::optional<build::RunId> MainWindow::picked_run() const {
  if (const auto* run = std::get_if<PickedRun>(&session_.selection()))
    return run->run;
  const auto piece = picked();
  return piece ? std::optional(piece->run) : std::nullopt;
}

void MainWindow::meet_port() {
  const auto run = picked_run();
  if (!run)
    return;
  auto* dialog = new MeetDialog(session_, *run, this);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  // High up, so that the views below it show what it does.
  constexpr int from_top = 40;
  dialog->move(mapToGlobal(QPoint((width() - dialog->width()) / 2, from_top)));
  dialog->open();
}

std::optional<build::OptionId> MainWindow::ask_option_name(const QString& title, const QString& proposed) {
  QString name = proposed;
  QString label = tr("Name of the option:");
  for (;;) {
    const auto given = dialogs_.line_of_text(this, title, label, name);
    if (!given)
      return std::nullopt;
    build::OptionId id{given->toStdString()};
    if (session_.build().find(id) == nullptr)
      return id;
    name = *given;
    label = tr("There is an option of that name already. Another name:");
  }
}

void MainWindow::copy_option() {
  const build::OptionId from = session_.option();
  const auto id =
      ask_option_name(tr("Copy the option"), tr("%1 copy").arg(QString::fromStdString(from.text)));
  if (!id)
    return;
  const QString what = tr("Copy option %1").arg(option_name(from));
  if (const auto error = session_.apply(build::with_option_copied(session_.build(), from, *id), what)) {
    say(complaint(*error));
    return;
  }
  session_.show_option(*id);
  session_.compare_with(from);
}

void MainWindow::rename_option() {
  const build::OptionId from = session_.option();
  const auto id = ask_option_name(tr("Rename the option"), QString::fromStdString(from.text));
  if (id)
    apply(build::with_option_renamed(session_.build(), from, *id),
          tr("Rename option %1").arg(option_name(from)));
}

void MainWindow::remove_option() {
  const build::OptionId id = session_.option();
  if (session_.build().options.size() > 1)
    apply(build::with_option_removed(session_.build(), id), tr("Remove option %1").arg(option_name(id)));
}

} // namespace bellmouth::ui
