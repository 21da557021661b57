// SPDX-License-Identifier: GPL-3.0-or-later
// A fit under way on a thread of its own.
#pragma once

#include <bellmouth/fit.hpp>

#include <QObject>

#include <memory>
#include <thread>
#include <vector>

namespace bellmouth::ui {

/// What is to be fitted: copies that belong to the thread, so that nobody else can change them.
struct FitTask {
  build::Build build;
  build::OptionId option;
  fit::Log log;
  std::vector<build::Coefficient> free; ///< empty: as many as the log can tell
};
using FitOutcome = std::shared_ptr<const Result<fit::Fit>>;

/// Runs one fit at a time. Signals come on the thread that made the object. Destroying it cancels and waits.
class FitJob : public QObject {
  Q_OBJECT

public:
  explicit FitJob(QObject* parent = nullptr);
  ~FitJob() override;
  /// None may be running (an assertion).
  void start(FitTask task);
  /// Asks the thread to end; finished() still comes, with what there is.
  void cancel();
  [[nodiscard]] bool running() const { return running_; }

signals:
  void progressed(int iteration, double cost);
  void finished(const bellmouth::ui::FitOutcome& outcome);

private:
  std::jthread thread_;
  bool running_ = false;
};

} // namespace bellmouth::ui
