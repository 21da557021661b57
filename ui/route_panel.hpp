// SPDX-License-Identifier: GPL-3.0-or-later
// Finds routes for a run, beside the views: which run, what is asked and what matters, and the routes as they
// come.
#pragma once

#include "route_picture.hpp"
#include "route_search.hpp"
#include "session.hpp"

#include <QWidget>

class QComboBox;
class QLabel;
class QProgressBar;
class QPushButton;
class QStackedWidget;
class QToolButton;
class QVBoxLayout;

namespace bellmouth::ui {

class RouteList;
class RouteMatters;
class RouteOptions;
class WrappedLabel;

class RoutePanel : public QWidget {
  Q_OBJECT

public:
  explicit RoutePanel(Session& session, RouteSource source = core_routes(), QWidget* parent = nullptr);
  /// Begins a search for a run of the shown option, which must exist (an assertion).
  void find_routes(const build::RunId& run);
  /// The run that is chosen; unset: the option has none.
  [[nodiscard]] std::optional<build::RunId> run() const;
  void choose_run(const build::RunId& run);
  /// Asks that routes pass near a point.
  void pass_near(const build::Vector& point_m);
  [[nodiscard]] const RouteSearch& search() const { return search_; }

signals:
  /// The route that is pointed at; nullptr: none.
  void ghost_changed(const std::shared_ptr<const bellmouth::ui::RouteGhost>& ghost);
  void compare_requested();
  void close_requested();
  void message(const QString& text);

protected:
  void changeEvent(QEvent* event) override;
  void showEvent(QShowEvent* event) override;
  void hideEvent(QHideEvent* event) override;

private:
  enum Page { empty_page, list_page, none_page, options_page };
  void make_head(QVBoxLayout& column);
  void make_pages(QVBoxLayout& column);
  void make_foot(QVBoxLayout& column);
  void on_session(Changes changes);
  void follow_selection();
  void refresh_runs();
  void show_usual();
  void begin();
  void begin_or_stop();
  void change_matters();
  void show_routes();
  void show_state();
  void show_reasons();
  void show_page();
  void tell_ghost();
  void take(std::size_t route);
  void compare();

  Session& session_;
  RouteSearch search_;
  std::optional<build::PortId> picked_before_;
  struct Taken {
    build::OptionId made, from;
    way::Way way;
  };
  std::optional<Taken> taken_; ///< the last route that was taken
  std::optional<PictureSide> side_;
  bool was_stale_ = false;

  QComboBox* runs_;
  QPushButton* find_;
  QToolButton* options_button_;
  RouteMatters* matters_;
  RouteOptions* options_;
  QProgressBar* progress_;
  QLabel* progress_words_;
  WrappedLabel *error_, *stale_, *empty_words_;
  QStackedWidget* pages_;
  RouteList* list_;
  QWidget* none_ = nullptr;
  QVBoxLayout* none_column_ = nullptr;
  QPushButton *take_, *compare_;
};

} // namespace bellmouth::ui
