// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does for the view of the bay: room, and where its questions lead.
#include "bay_overlay.hpp"
#include "bay_view.hpp"
#include "chain_view.hpp"
#include "figures_band.hpp"
#include "inspector.hpp"
#include "main_window.hpp"
#include "piece_text.hpp"
#include "route_panel.hpp"

#include <QSplitter>
#include <QStackedWidget>
#include <QTabWidget>

#include <algorithm>
#include <numeric>
#include <utility>

namespace bellmouth::ui {

namespace {

constexpr auto rows_with_bay_key = "rows_with_bay";
/// Of the height that path and views share, while the bay is not in front.
constexpr double path_share = 0.48;
/// The strip of velocities under the pieces.
constexpr int strip_height = 8;

} // namespace

void MainWindow::connect_bay() {
  connect(bay_, &BayView::edit_requested, this, &MainWindow::edit_picked);
  connect(bay_, &BayView::message, this, &MainWindow::say);
  connect(bay_, &BayView::measure_ports_requested, this, [this] {
    set_bay_alone(false);
    show_tab("tab_measures");
  });
  connect(tabs_, &QTabWidget::currentChanged, this, &MainWindow::arrange_rows);
  connect(bay_, &BayView::routes_requested, this, &MainWindow::find_routes_for);
  connect(bay_, &BayView::pass_requested, this, [this](const build::Vector& point_m) {
    show_routes(true);
    routes_->pass_near(point_m);
  });
  connect(inspector_, &Inspector::routes_requested, this, &MainWindow::find_routes);
  connect(routes_, &RoutePanel::ghost_changed, &bay_->canvas(), &BayCanvas::show_ghost);
  connect(routes_, &RoutePanel::message, this, &MainWindow::say);
  connect(routes_, &RoutePanel::close_requested, this, [this] { show_routes(false); });
  connect(routes_, &RoutePanel::compare_requested, this, [this] { show_tab("tab_compare"); });
}

void MainWindow::edit_picked() {
  set_bay_alone(false);
  edit_first();
}

void MainWindow::edit_first() {
  show_routes(false);
  inspector_->focus_first();
}

// ---------------------------------------------------------------- routes

void MainWindow::find_routes() {
  const auto& runs = session_.build().find(session_.option())->runs;
  if (runs.empty())
    return;
  auto run = picked_run();
  if (const auto* port = std::get_if<PickedPort>(&session_.selection()))
    for (const auto& each : runs)
      if (each->from == port->port || each->to == port->port)
        run = each->id;
  if (!run) {
    const auto is_open = [this](const auto& each) {
      const RunResult* result = find_run(session_.evaluation(), each->id);
      return each->pieces.empty() || (result && !gap_words(*result).isEmpty());
    };
    const auto open = std::ranges::find_if(runs, is_open);
    run = (open == runs.end() ? runs.front() : *open)->id;
  }
  find_routes_for(*run);
}

void MainWindow::find_routes_for(const build::RunId& run) {
  show_tab("tab_bay");
  show_routes(true);
  routes_->find_routes(run);
}

void MainWindow::show_routes(bool shown) {
  QWidget* page = shown ? static_cast<QWidget*>(routes_) : inspector_;
  if (aside_->currentWidget() == page)
    return;
  aside_->setCurrentWidget(page);
  aside_->setVisible(!bay_alone_ || shown);
  refresh_actions();
}

// ---------------------------------------------------------------- room

void MainWindow::arrange_rows() {
  const bool in_front = tabs_->currentWidget() == bay_;
  if (!in_front)
    set_bay_alone(false);
  if (in_front == bay_in_front_)
    return;
  if (isVisible())
    (bay_in_front_ ? rows_with_bay_ : rows_without_bay_) = rows_->saveState();
  bay_in_front_ = in_front;
  // What a larger window has more goes to the bay.
  rows_->setStretchFactor(0, in_front ? 0 : 2);
  const QByteArray& state = in_front ? rows_with_bay_ : rows_without_bay_;
  if (!state.isEmpty()) {
    rows_->restoreState(state);
    return;
  }
  const QList<int> now = rows_->sizes();
  const int whole = std::accumulate(now.begin(), now.end(), 0);
  const int path =
      in_front ? chain_->minimumSizeHint().height() + strip_height : static_cast<int>(whole * path_share);
  rows_->setSizes({path, std::max(whole - path, path)});
}

void MainWindow::keep_rows() {
  set_bay_alone(false);
  (bay_in_front_ ? rows_with_bay_ : rows_without_bay_) = rows_->saveState();
  settings_.set_splitter(rows_->objectName(), rows_without_bay_);
  settings_.set_splitter(rows_with_bay_key, rows_with_bay_);
}

void MainWindow::restore_rows() {
  rows_without_bay_ = settings_.splitter(rows_->objectName());
  rows_with_bay_ = settings_.splitter(rows_with_bay_key);
  arrange_rows();
}

void MainWindow::set_bay_alone(bool alone) {
  if (alone == bay_alone_)
    return;
  if (alone)
    show_tab("tab_bay");
  bay_alone_ = alone;
  figures_->setVisible(!alone);
  rows_->widget(0)->setVisible(!alone);
  aside_->setVisible(!alone || aside_->currentWidget() == routes_);
  if (alone)
    bay_->setFocus(Qt::OtherFocusReason);
  refresh_actions();
}

} // namespace bellmouth::ui
