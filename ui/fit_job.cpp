// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_job.hpp"

#include <QMetaObject>

#include <cassert>
#include <utility>

namespace bellmouth::ui {

FitJob::FitJob(QObject* parent) : QObject(parent) {}

FitJob::~FitJob() {
  // Joined here and not with the member, so that the thread posts to an object that is still whole.
  thread_.request_stop();
  if (thread_.joinable())
    thread_.join();
}

void FitJob::start(FitTask task) {
  assert(!running_);
  running_ = true;
  thread_ = std::jthread([this, task = std::move(task)](const std::stop_token& cancelled) {
    fit::Options options;
    options.free = task.free;
    options.cancel = cancelled;
    options.on_progress = [&](const fit::Progress& progress) {
      QMetaObject::invokeMethod(
          this, [this, progress] { emit progressed(progress.iteration, progress.cost); },
          Qt::QueuedConnection);
      return !cancelled.stop_requested();
    };
    const auto outcome =
        std::make_shared<const Result<fit::Fit>>(fit::fit(task.build, task.option, task.log, options));
    QMetaObject::invokeMethod(
        this,
        [this, outcome] {
          running_ = false;
          emit finished(outcome);
        },
        Qt::QueuedConnection);
  });
}

void FitJob::cancel() {
  thread_.request_stop();
}

} // namespace bellmouth::ui
