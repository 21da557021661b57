// SPDX-License-Identifier: GPL-3.0-or-later
// The routes of one run: what is asked, what has been found, in which order, and whether it still holds.
#pragma once

#include "route_ghost.hpp"
#include "route_job.hpp"
#include "session.hpp"

#include <QObject>
#include <QString>

#include <memory>
#include <optional>
#include <vector>

namespace bellmouth::ui {

class RouteSearch : public QObject {
  Q_OBJECT

public:
  enum class State {
    idle,      ///< nothing has been asked
    searching, ///< routes may still come
    asking,    ///< there is none, and reasons are looked for
    ended      ///< as far as it goes
  };
  /// How far the search has come.
  struct Progress {
    std::size_t rounds = 0;
    double seconds = 0, seconds_allowed = 0;
    std::optional<double> best_cost; ///< of the best route, by what matters
    double least_cost = 0;           ///< no route can cost less
    bool exhausted = false;          ///< nothing better is left to be found
    bool stopped = false;            ///< by the user, or by an edit
  };
  /// How many routes are shown.
  static constexpr std::size_t wanted = 5;

  RouteSearch(Session& session, RouteSource source, QObject* parent = nullptr);

  /// \name What is asked
  ///@{
  /// What is asked of a run of the shown option unless the user says otherwise. The run must exist.
  [[nodiscard]] find::Ask usual(const build::RunId& run) const;
  /// Begins a search; an error where there is no question. What an earlier one found is forgotten.
  std::optional<Error> start(const find::Ask& ask, double seconds);
  /// The route that is never dropped from those shown, however good others are; none: no such.
  void hold(std::optional<way::Way> way) { held_ = std::move(way); }
  /// Puts the routes there are in another order at once, and searches on by what matters now.
  void set_matters(const find::Matters& matters);
  /// Ends the search; where it has found nothing, reasons are looked for.
  void stop();
  /// Forgets everything.
  void clear();
  ///@}

  /// \name What there is
  ///@{
  [[nodiscard]] State state() const { return state_; }
  [[nodiscard]] const Progress& progress() const { return progress_; }
  /// Best first.
  [[nodiscard]] const std::vector<find::Proposal>& routes() const { return routes_; }
  /// Why there is none.
  [[nodiscard]] const std::vector<find::Reason>& reasons() const { return reasons_; }
  /// The build has changed since: what there is belongs to an older state.
  [[nodiscard]] bool stale() const { return stale_; }
  /// Unset: nothing has been asked.
  [[nodiscard]] const std::optional<find::Question>& question() const { return question_; }
  /// The build that the question was asked of.
  [[nodiscard]] const build::Build& asked_build() const { return base_; }
  /// The number must be that of a route.
  [[nodiscard]] std::shared_ptr<const RouteGhost> ghost(std::size_t route) const;
  ///@}

  /// Puts a route into a new option, in one step, and shows that beside the option it was found for. Its
  /// name, or an error, and then nothing has changed. Not of routes that are stale (an assertion).
  [[nodiscard]] Result<build::OptionId> take(std::size_t route);

signals:
  void routes_changed();
  void state_changed(); ///< state, progress, reasons, whether it is stale

private:
  void launch();
  void take_in(const RouteNews& news);
  void rank();
  void check_stale();
  [[nodiscard]] const find::Proposal& proposal_of(const way::Answer& answer);
  [[nodiscard]] build::OptionId free_name(const build::Build& build) const;

  Session& session_;
  RouteSource source_;
  RouteJob job_;
  State state_ = State::idle;
  build::Build base_;
  std::optional<find::Question> question_;
  double seconds_ = 0;
  Progress progress_;
  std::vector<way::Answer> pool_; ///< all that has been found for the question, whatever mattered then
  std::vector<find::Proposal> known_;
  std::vector<find::Proposal> routes_;
  std::optional<way::Way> held_;
  std::vector<find::Reason> reasons_;
  bool stale_ = false;
};

} // namespace bellmouth::ui
