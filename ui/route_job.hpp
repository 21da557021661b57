// SPDX-License-Identifier: GPL-3.0-or-later
// A search for routes under way on a thread of its own.
#pragma once

#include "route_source.hpp"

#include <QObject>

#include <atomic>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

namespace bellmouth::ui {

/// What is to be searched: copies that belong to the thread, so that nobody else can change them.
struct RouteTask {
  build::Build build;
  find::Question question;
  way::Effort effort;
};
/// How far a search has come.
struct RouteNews {
  way::Found found;
  std::vector<find::Proposal> proposals; ///< one for each of the answers
  std::vector<find::Reason> reasons;     ///< at the end, where there is no answer
  bool stopped = false;                  ///< it was asked to end
};

/// Runs one search at a time. Signals come on the thread that made the object. Of news that come quicker than
/// they are taken, only the last are told. Destroying it stops the search and waits.
class RouteJob : public QObject {
  Q_OBJECT

public:
  explicit RouteJob(RouteSource source, QObject* parent = nullptr);
  ~RouteJob() override;
  /// Starts a search; one that runs is stopped first, and nothing more is told of it.
  void start(RouteTask task);
  /// Asks the thread to end; finished() still comes, with what there is. `then_why`: where there is no answer
  /// reasons are looked for before, as they are when a search ends by itself.
  void stop(bool then_why = false);
  [[nodiscard]] bool running() const { return running_; }

signals:
  void progressed(const std::shared_ptr<const bellmouth::ui::RouteNews>& news);
  void asks_why(); ///< the search has ended without an answer, and reasons are looked for
  void finished(const std::shared_ptr<const bellmouth::ui::RouteNews>& news);

private:
  void launch(RouteTask task);
  void run(const RouteTask& task, const std::stop_token& stopped);
  void hand_over(std::unique_ptr<RouteNews> news);
  void deliver();
  void end(const std::shared_ptr<const RouteNews>& news);

  RouteSource source_;
  std::jthread thread_;
  bool running_ = false;
  std::atomic<bool> then_why_ = false;
  std::optional<RouteTask> next_;
  std::mutex mutex_;
  std::unique_ptr<RouteNews> waiting_; ///< to be told; under the mutex
};

} // namespace bellmouth::ui
