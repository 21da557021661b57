// SPDX-License-Identifier: GPL-3.0-or-later
// The window: tool bar, figures, tray and path, views and editor; and what its commands do.
#pragma once

#include "commands.hpp"
#include "dialogs.hpp"
#include "session.hpp"
#include "settings.hpp"
#include "stock_view.hpp"

#include <QDir>
#include <QMainWindow>

#include <vector>

class QComboBox;
class QMenu;
class QSlider;
class QSplitter;
class QStackedWidget;
class QTabWidget;
class QToolButton;

namespace bellmouth::ui {

class BayView;
class ChainView;
class FiguresBand;
class Inspector;
class MeasuresView;
class QuantityEdit;
class Recovery;
class RoutePanel;

/// Where the data that ships with the program lies.
struct Places {
  QDir demo_builds; ///< build files
  QDir stock;       ///< stock files, for new builds
};

class MainWindow : public QMainWindow {
  Q_OBJECT

public:
  MainWindow(Session& session, Recovery& recovery, Settings& settings, Dialogs dialogs, Places places,
             QWidget* parent = nullptr);

  /// \name What the commands do; each asks what it must
  ///@{
  void open();
  /// Opens a file after asking about unsaved changes. Whether it was opened.
  bool open_file(const QString& file);
  /// Opens a copy of a demo build that has no file yet.
  bool open_demo(const QString& file);
  void start_new();
  bool save();
  bool save_as();
  void export_lists();
  void print_lists();
  /// Shows the fields of the budget.
  void edit_budget();
  void fit_to_measurement();
  void import_scan();
  void add_photograph();
  /// Shows what of a stock list could be taken, of a file if one is named.
  void import_stock(const QString& file = {});
  void export_stock();
  /// Of the picked run, or that of the picked piece.
  void meet_port();
  /// Proposes what is missing at the joints of the picked run, or of all.
  void join_runs();
  void edit_thresholds();
  /// Begins to find routes for the picked run, that of the picked piece or port, else for the first run that
  /// does not meet its port, else for the first; shows them beside the bay.
  void find_routes();
  /// Shows the routes in the place of the editor, or the editor again.
  void show_routes(bool shown);
  void add_piece(std::size_t shape_index);
  void remove_piece();
  void duplicate_piece();
  void move_piece(int steps);
  void copy_option();
  void rename_option();
  void remove_option();
  void show_tab(const QString& object_name);
  /// Gives the whole window to the bay, or everything its place back.
  void set_bay_alone(bool alone);
  void use_look_and_remember(Look look);
  void use_units_and_remember(const UnitChoice& choice);
  ///@}
  /// Offers what an earlier run left behind.
  void offer_left_behind();
  [[nodiscard]] const std::vector<Command>& commands() const { return commands_; }

protected:
  void closeEvent(QCloseEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dropEvent(QDropEvent* event) override;
  void changeEvent(QEvent* event) override;

private:
  /// \name Making the window
  ///@{
  void make_commands();
  void make_menus();
  void make_tool_bar();
  void make_views();
  void make_add_menu(QMenu& menu);
  void make_demo_menu(QMenu& menu);
  void make_unit_menu(QMenu& menu);
  [[nodiscard]] std::vector<Command> build_commands();
  [[nodiscard]] std::vector<Command> edit_commands();
  [[nodiscard]] std::vector<Command> piece_commands();
  [[nodiscard]] std::vector<Command> view_commands();
  [[nodiscard]] std::vector<Command> help_commands();
  [[nodiscard]] QAction* action(const QString& id) const;
  void connect_bay();
  void connect_stock();
  [[nodiscard]] QString shipped_stock(StockView::Shipped which) const;
  ///@}
  /// The bay has more of the height than the other views: the path stands shorter while it is in front.
  void arrange_rows();
  /// Remembers and brings back how the rows stand with the bay in front and with another view.
  void keep_rows();
  void restore_rows();
  void edit_picked();
  void edit_first();
  void find_routes_for(const build::RunId& run);
  void on_changed(Changes changes);
  void refresh_title();
  void refresh_actions();
  void refresh_options();
  void refresh_speed();
  /// Complains in the speed field about a speed that the engine does not run at.
  void set_engine_speed(double rev_s);
  void refresh_findings_count();
  void refresh_recent_files();
  void refresh_icons();
  [[nodiscard]] std::optional<build::RunId> picked_run() const;
  void show_piece_menu(const QPointF& global_position);
  void say(const QString& text);
  /// Accepts what is being typed in a field.
  void accept_typing();
  /// Whether the build may be left: saved, or the user does not mind.
  bool may_leave();
  bool save_to(const QString& file);
  /// The folder of the build's file, or that of the user.
  [[nodiscard]] QString start_folder() const;
  void complain(const QString& title, const Error& error);
  void apply(build::Build next, const QString& what);
  [[nodiscard]] std::optional<build::PieceRef> picked() const;
  /// Where a new piece goes: behind the picked one and its fittings, at the end of the picked run, else at
  /// the end of the first run.
  [[nodiscard]] std::optional<build::PieceRef> place_for_new() const;
  /// A name that no option has yet, or nothing when the user thinks better of it.
  [[nodiscard]] std::optional<build::OptionId> ask_option_name(const QString& title, const QString& proposed);

  Session& session_;
  Recovery& recovery_;
  Settings& settings_;
  Dialogs dialogs_;
  Places places_;
  std::vector<Command> commands_;
  std::vector<QAction*> actions_; ///< one for each command
  FiguresBand* figures_ = nullptr;
  ChainView* chain_ = nullptr;
  QTabWidget* tabs_ = nullptr;
  QWidget* findings_ = nullptr;
  BayView* bay_ = nullptr;
  MeasuresView* measures_ = nullptr;
  StockView* stock_ = nullptr;
  Inspector* inspector_ = nullptr;
  RoutePanel* routes_ = nullptr;
  QStackedWidget* aside_ = nullptr; ///< editor, routes, and the sheet of an item of the stock
  QSplitter* rows_ = nullptr;
  QSplitter* columns_ = nullptr;
  bool bay_in_front_ = false, bay_alone_ = false;
  QByteArray rows_with_bay_, rows_without_bay_; ///< how the splitter stands; empty: not seen yet
  QComboBox* options_ = nullptr;
  QSlider* speed_slider_ = nullptr;
  QuantityEdit* speed_edit_ = nullptr;
  QMenu* recent_ = nullptr;
  QMenu* piece_menu_ = nullptr;
};

/// The keys of all commands in a dialog.
void show_keys(QWidget* parent, const std::vector<Command>& commands);
/// What the program is and its licence.
void show_about(QWidget* parent);
/// What to mind before the first start: the caution that belongs to pressurised air.
void show_caution(QWidget* parent);

} // namespace bellmouth::ui
