// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does for the view of the bay: room, and where its questions lead.
#include "bay_view.hpp"
#include "chain_view.hpp"
#include "figures_band.hpp"
#include "inspector.hpp"
#include "main_window.hpp"

#include <QSplitter>
#include <QTabWidget>

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
}

void MainWindow::edit_picked() {
  set_bay_alone(false);
  inspector_->focus_first();
}

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
  inspector_->setVisible(!alone);
  if (alone)
    bay_->setFocus(Qt::OtherFocusReason);
  refresh_actions();
}

} // namespace bellmouth::ui
