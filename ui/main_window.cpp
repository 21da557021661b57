// SPDX-License-Identifier: GPL-3.0-or-later
#include "main_window.hpp"

#include "bay_view.hpp"
#include "chain_view.hpp"
#include "compare_view.hpp"
#include "costs_view.hpp"
#include "figures_band.hpp"
#include "findings_view.hpp"
#include "form.hpp"
#include "inspector.hpp"
#include "lists_view.hpp"
#include "measures_view.hpp"
#include "path_chart.hpp"
#include "piece_text.hpp"
#include "quantity_edit.hpp"
#include "recovery.hpp"
#include "route_panel.hpp"
#include "stock_view.hpp"
#include "theme.hpp"
#include "tray.hpp"

#include <QAction>
#include <QActionGroup>
#include <QComboBox>
#include <QEvent>
#include <QFileInfo>
#include <QLabel>
#include <QMenu>
#include <QMenuBar>
#include <QSlider>
#include <QSplitter>
#include <QStackedWidget>
#include <QStatusBar>
#include <QTabWidget>
#include <QToolBar>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::ui {

namespace {

constexpr double rpm_rev_s = 1.0 / 60.0;
constexpr int inspector_width = 350;
constexpr int least_view_height = 220;

QWidget* with_name(QWidget* widget, const char* object_name) {
  widget->setObjectName(object_name);
  return widget;
}

/// A slider that moves by whole steps of engine speed.
void set_speed_range(QSlider& slider, const machine::Engine& engine) {
  slider.setRange(static_cast<int>(std::lround(engine.idle_speed_rev_s / rpm_rev_s)),
                  static_cast<int>(std::lround(engine.max_speed_rev_s / rpm_rev_s)));
  slider.setSingleStep(50);
  slider.setPageStep(500);
}

} // namespace

MainWindow::MainWindow(Session& session, Recovery& recovery, Settings& settings, Dialogs dialogs,
                       Places places, QWidget* parent)
    : QMainWindow(parent), session_(session), recovery_(recovery), settings_(settings),
      dialogs_(std::move(dialogs)), places_(std::move(places)) {
  setObjectName("main_window");
  setAcceptDrops(true);
  make_commands();
  make_views();
  make_tool_bar();
  make_menus();
  statusBar()->setObjectName("status_bar");
  statusBar()->setSizeGripEnabled(false);
  connect(&session_, &Session::changed, this, &MainWindow::on_changed);
  connect(&recovery_, &Recovery::failed, this,
          [this](const QString& why) { say(tr("No copy of the unsaved work can be kept: %1").arg(why)); });
  resize(1280, 800);
  if (const QByteArray geometry = settings_.window_geometry(); !geometry.isEmpty())
    restoreGeometry(geometry);
  columns_->restoreState(settings_.splitter(columns_->objectName()));
  restore_rows();
  on_changed(Changes(Change::document) | Change::selection | Change::file | Change::rival);
}

void MainWindow::make_commands() {
  for (auto part : {build_commands(), edit_commands(), piece_commands(), view_commands(), help_commands()})
    for (Command& command : part)
      commands_.push_back(std::move(command));
  for (const Command& command : commands_) {
    actions_.push_back(make_action(command, this));
    addAction(actions_.back());
  }
}

QAction* MainWindow::action(const QString& id) const {
  const auto found = std::ranges::find(commands_, id, &Command::id);
  assert(found != commands_.end());
  return actions_[static_cast<std::size_t>(found - commands_.begin())];
}

void MainWindow::make_menus() {
  std::vector<QMenu*> menus;
  for (int i = 0; i < menu_count; ++i) {
    menus.push_back(menuBar()->addMenu(menu_title(static_cast<Menu>(i))));
    menus.back()->setObjectName(QString("menu_%1").arg(i));
  }
  const auto menu = [&](Menu which) { return menus[static_cast<std::size_t>(which)]; };
  make_add_menu(*menu(Menu::piece)->addMenu(tr("&Add")));
  for (std::size_t i = 0; i < commands_.size(); ++i) {
    QMenu* of_command = menu(commands_[i].menu);
    if (commands_[i].group_above)
      of_command->addSeparator();
    of_command->addAction(actions_[i]);
    if (commands_[i].id == "open") {
      recent_ = of_command->addMenu(tr("&Recent"));
      recent_->setObjectName("recent_files");
      make_demo_menu(*of_command->addMenu(tr("&Demo builds")));
    }
  }
  make_unit_menu(*menu(Menu::view)->addMenu(tr("&Units")));
  piece_menu_ = new QMenu(this);
  piece_menu_->setObjectName("piece_menu");
  make_add_menu(*piece_menu_->addMenu(tr("Add behind")));
  for (const char* id :
       {"edit_piece", "duplicate_piece", "move_piece_up", "move_piece_down", "remove_piece", "join"})
    piece_menu_->addAction(action(id));
  refresh_recent_files();
}

void MainWindow::make_tool_bar() {
  auto* bar = addToolBar(tr("Tools"));
  bar->setObjectName("tool_bar");
  bar->setMovable(false);
  bar->setContextMenuPolicy(Qt::PreventContextMenu);
  bar->setIconSize({20, 20});
  const auto space = [&](int width) {
    auto* filler = new QWidget(bar);
    filler->setFixedWidth(width);
    bar->addWidget(filler);
  };
  for (const char* id : {"open", "save", "undo", "redo"})
    bar->addAction(action(id));
  bar->addSeparator();
  space(gap);
  auto* option_label = new QLabel(tr("Option"), bar);
  bar->addWidget(option_label);
  space(gap);
  options_ = new ComboBox(bar);
  options_->setObjectName("option_chooser");
  options_->setAccessibleName(tr("Option shown"));
  options_->setToolTip(tr("The option shown: one complete set of runs"));
  options_->setMinimumWidth(170);
  connect(options_, &QComboBox::activated, this,
          [this](int index) { session_.show_option({options_->itemData(index).toString().toStdString()}); });
  bar->addWidget(options_);
  for (const char* id : {"copy_option", "rename_option", "remove_option"})
    bar->addAction(action(id));
  bar->addSeparator();
  space(gap);
  bar->addWidget(new QLabel(tr("Engine speed"), bar));
  space(gap);
  speed_slider_ = new QSlider(Qt::Horizontal, bar);
  speed_slider_->setObjectName("speed_slider");
  speed_slider_->setAccessibleName(tr("Engine speed"));
  speed_slider_->setFixedWidth(200);
  connect(speed_slider_, &QSlider::valueChanged, this,
          [this](int rpm) { set_engine_speed(rpm * rpm_rev_s); });
  bar->addWidget(speed_slider_);
  space(gap);
  speed_edit_ = new QuantityEdit({.dimension = quantity::Dimension::rotational_speed}, bar);
  speed_edit_->set_names("speed_edit", tr("Engine speed, typed"));
  speed_edit_->setFixedWidth(110);
  speed_edit_->set_compact(tr("Engine speed, from idle to the greatest"));
  connect(speed_edit_, &QuantityEdit::edited, this, [this] { set_engine_speed(*speed_edit_->value()); });
  connect(speed_edit_, &QuantityEdit::complained, this, &MainWindow::say);
  bar->addWidget(speed_edit_);
  auto* stretch = new QWidget(bar);
  stretch->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Preferred);
  bar->addWidget(stretch);
  bar->addAction(action("switch_look"));
  // Buttons can be reached with the tab key, like everything else.
  for (auto* button : bar->findChildren<QToolButton*>()) {
    button->setFocusPolicy(Qt::TabFocus);
    if (button->defaultAction() != nullptr)
      button->setAccessibleName(button->defaultAction()->text().remove('&'));
    else
      button->setAccessibleName(tr("More tools"));
  }
}

void MainWindow::make_views() {
  figures_ = new FiguresBand(session_);
  auto* tray = new Tray(session_);
  chain_ = new ChainView(session_);
  inspector_ = new Inspector(session_);
  routes_ = new RoutePanel(session_);
  aside_ = new QStackedWidget;
  aside_->setObjectName("aside");
  aside_->addWidget(inspector_);
  aside_->addWidget(routes_);
  auto* findings = new FindingsView(session_);
  findings_ = findings;
  auto* lists = new ListsView(session_);
  auto* compare = new CompareView(session_);
  bay_ = new BayView(session_);

  tabs_ = new QTabWidget;
  tabs_->setObjectName("tabs");
  tabs_->setDocumentMode(true);
  tabs_->tabBar()->setAccessibleName(tr("Views"));
  measures_ = new MeasuresView(session_);
  tabs_->addTab(with_name(bay_, "tab_bay"), tr("Bay"));
  tabs_->addTab(with_name(measures_, "tab_measures"), tr("Measures"));
  tabs_->addTab(with_name(new PathChart(session_), "tab_path"), tr("Along the path"));
  tabs_->addTab(with_name(new CostsView(session_), "tab_costs"), tr("What it costs"));
  tabs_->addTab(with_name(findings_, "tab_findings"), tr("Findings"));
  tabs_->addTab(with_name(lists, "tab_lists"), tr("Lists"));
  stock_ = new StockView(
      session_, [this](QWidget* asking, const QString& what) { return dialogs_.remove_used(asking, what); });
  tabs_->addTab(with_name(stock_, "tab_stock"), tr("Stock"));
  tabs_->addTab(with_name(compare, "tab_compare"), tr("Compare"));

  auto* path = new QWidget;
  auto* path_row = new QHBoxLayout(path);
  path_row->setContentsMargins(0, 0, 0, 0);
  path_row->setSpacing(gap);
  path_row->addWidget(tray);
  path_row->addWidget(chain_, 1);

  columns_ = new QSplitter(Qt::Horizontal);
  columns_->setObjectName("columns");
  columns_->addWidget(tabs_);
  columns_->addWidget(aside_);
  columns_->setStretchFactor(0, 1);
  columns_->setStretchFactor(1, 0);
  columns_->setChildrenCollapsible(false);
  // A view that would like more height than a small screen has must do with less.
  tabs_->setMinimumHeight(least_view_height);
  columns_->setSizes({930, inspector_width});
  aside_->setMinimumWidth(300);

  rows_ = new QSplitter(Qt::Vertical);
  rows_->setObjectName("rows");
  rows_->addWidget(path);
  rows_->addWidget(columns_);
  rows_->setStretchFactor(0, 2);
  rows_->setStretchFactor(1, 3);
  rows_->setChildrenCollapsible(false);
  rows_->setSizes({280, 300});

  auto* centre = new QWidget;
  auto* column = new QVBoxLayout(centre);
  column->setContentsMargins(gap, gap, gap, 0);
  column->setSpacing(gap);
  column->addWidget(figures_);
  column->addWidget(rows_, 1);
  setCentralWidget(centre);

  connect(tray, &Tray::add_requested, this, &MainWindow::add_piece);
  connect(chain_, &ChainView::edit_requested, this, &MainWindow::edit_first);
  connect(chain_, &ChainView::menu_requested, this, &MainWindow::show_piece_menu);
  connect(chain_, &ChainView::message, this, &MainWindow::say);
  connect_bay();
  connect_stock();
  connect(inspector_, &Inspector::meet_requested, this, &MainWindow::meet_port);
  connect(inspector_, &Inspector::join_requested, this, &MainWindow::join_runs);
  connect(measures_, &MeasuresView::message, this, &MainWindow::say);
  connect(measures_, &MeasuresView::scan_requested, this, &MainWindow::import_scan);
  connect(measures_, &MeasuresView::photograph_requested, this, &MainWindow::add_photograph);
  connect(findings, &FindingsView::message, this, &MainWindow::say);
  connect(lists, &ListsView::export_requested, this, &MainWindow::export_lists);
  connect(lists, &ListsView::print_requested, this, &MainWindow::print_lists);
  connect(lists, &ListsView::budget_requested, this, &MainWindow::edit_budget);
  connect(lists, &ListsView::message, this, &MainWindow::say);
  connect(compare, &CompareView::copy_option_requested, this, &MainWindow::copy_option);
}

void MainWindow::make_unit_menu(QMenu& menu) {
  const auto group = [&](const QString& title, std::initializer_list<std::pair<QString, UnitChoice>> choices,
                         auto UnitChoice::*part) {
    menu.addSection(title);
    auto* exclusive = new QActionGroup(this);
    for (const auto& [text, choice] : choices) {
      QAction* item = menu.addAction(text);
      item->setCheckable(true);
      item->setChecked(units().*part == choice.*part);
      exclusive->addAction(item);
      connect(item, &QAction::triggered, this, [this, part, wanted = choice.*part] {
        UnitChoice next = units();
        next.*part = wanted;
        use_units_and_remember(next);
      });
    }
  };
  using C = UnitChoice;
  group(tr("Lengths"),
        {{tr("millimetres"), {.length = C::Length::millimetres}},
         {tr("inches"), {.length = C::Length::inches}}},
        &C::length);
  group(tr("Pressures"),
        {{tr("kPa"), {.pressure = C::Pressure::kilopascals}},
         {tr("bar"), {.pressure = C::Pressure::bars}},
         {tr("psi"), {.pressure = C::Pressure::psi}}},
        &C::pressure);
  group(tr("Temperatures"),
        {{tr("°C"), {.temperature = C::Temperature::celsius}},
         {tr("°F"), {.temperature = C::Temperature::fahrenheit}}},
        &C::temperature);
  group(tr("Flow, speed and power"),
        {{tr("kg/s, m/s, L, kW"), {.flow = C::Flow::metric}},
         {tr("lb/min, ft/s, cu in, hp"), {.flow = C::Flow::imperial}}},
        &C::flow);
}

void MainWindow::on_changed(Changes changes) {
  if (changes == Change::weighing)
    return;
  if (changes == Change::purchase) {
    refresh_findings_count();
    return;
  }
  if (changes & (Changes(Change::document) | Change::evaluation)) {
    refresh_options();
    refresh_speed();
    refresh_findings_count();
  }
  refresh_title();
  refresh_actions();
}

void MainWindow::refresh_title() {
  const QString file = session_.file();
  const QString title = QString::fromStdString(session_.build().title);
  QString name = file.isEmpty() ? (title.isEmpty() ? tr("New build") : title) : QFileInfo(file).fileName();
  if (session_.is_demo())
    name = tr("Demo: %1, untitled").arg(name);
  setWindowTitle(QString("%1[*] - Bellmouth").arg(name));
  setWindowModified(session_.modified());
}

void MainWindow::refresh_actions() {
  for (std::size_t i = 0; i < commands_.size(); ++i) {
    if (commands_[i].possible)
      actions_[i]->setEnabled(commands_[i].possible());
    if (commands_[i].on)
      actions_[i]->setChecked(commands_[i].on());
  }
  action("undo")->setText(session_.can_undo() ? tr("&Undo: %1").arg(session_.undo_text()) : tr("&Undo"));
  action("redo")->setText(session_.can_redo() ? tr("&Redo: %1").arg(session_.redo_text()) : tr("&Redo"));
}

void MainWindow::refresh_options() {
  options_->clear();
  for (const build::Option& option : session_.build().options)
    options_->addItem(option_name(option.id), QString::fromStdString(option.id.text));
  options_->setCurrentIndex(options_->findData(QString::fromStdString(session_.option().text)));
}

void MainWindow::refresh_speed() {
  const auto* engine = std::get_if<machine::Engine>(&session_.build().demand);
  speed_slider_->setEnabled(engine != nullptr);
  speed_edit_->setEnabled(engine != nullptr);
  if (engine == nullptr) {
    speed_edit_->set_value(std::nullopt);
    return;
  }
  const QSignalBlocker quiet(speed_slider_);
  set_speed_range(*speed_slider_, *engine);
  speed_slider_->setValue(static_cast<int>(std::lround(session_.engine_speed_rev_s() / rpm_rev_s)));
  speed_edit_->set_value(session_.engine_speed_rev_s());
}

void MainWindow::set_engine_speed(double rev_s) {
  if (const auto error = session_.set_engine_speed(rev_s))
    speed_edit_->set_error(complaint(*error));
}

void MainWindow::refresh_findings_count() {
  // As the tile of figures counts them.
  const std::vector<check::Finding> all = session_.findings();
  const auto count =
      std::ranges::count_if(all, [](const check::Finding& finding) { return !finding.waived; });
  tabs_->setTabText(tabs_->indexOf(findings_), count == 0 ? tr("Findings") : tr("Findings (%1)").arg(count));
}

void MainWindow::refresh_icons() {
  for (std::size_t i = 0; i < commands_.size(); ++i)
    if (!commands_[i].icon.isEmpty())
      actions_[i]->setIcon(icon(commands_[i].icon));
}

void MainWindow::changeEvent(QEvent* event) {
  QMainWindow::changeEvent(event);
  if (event->type() == QEvent::PaletteChange)
    refresh_icons();
}

void MainWindow::show_piece_menu(const QPointF& global_position) {
  piece_menu_->popup(global_position.toPoint());
}

void MainWindow::say(const QString& text) {
  constexpr int shown_ms = 8000;
  statusBar()->showMessage(text, shown_ms);
}

void MainWindow::show_tab(const QString& object_name) {
  for (int i = 0; i < tabs_->count(); ++i)
    if (tabs_->widget(i)->objectName() == object_name)
      tabs_->setCurrentIndex(i);
}

void MainWindow::use_look_and_remember(Look look) {
  use_look(look);
  settings_.set_look(look);
  refresh_icons();
  refresh_actions();
}

void MainWindow::use_units_and_remember(const UnitChoice& choice) {
  use_units(choice);
  settings_.set_units(choice);
  session_.show_everything_anew();
}

} // namespace bellmouth::ui
