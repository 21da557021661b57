// SPDX-License-Identifier: GPL-3.0-or-later
#include "scan_job.hpp"

#include <QMetaObject>

#include <cassert>

namespace bellmouth::ui {

ScanJob::ScanJob(QObject* parent) : QObject(parent) {}

ScanJob::~ScanJob() {
  // Joined here and not with the member, so that the thread posts to an object that is still whole.
  thread_.request_stop();
  if (thread_.joinable())
    thread_.join();
}

void ScanJob::start(const QString& file) {
  assert(!running_);
  running_ = true;
  cancelled_ = false;
  thread_ = std::jthread([this, name = file.toStdString()](const std::stop_token& stop) {
    constexpr double worth_telling = 0.01;
    double told = 0;
    const auto outcome = std::make_shared<const Result<std::shared_ptr<const mesh::Scan>>>(
        mesh::load_scan(name, [&](double share) {
          if (share >= told + worth_telling) {
            told = share;
            QMetaObject::invokeMethod(
                this, [this, share] { emit progressed(share); }, Qt::QueuedConnection);
          }
          return !stop.stop_requested();
        }));
    QMetaObject::invokeMethod(
        this,
        [this, outcome] {
          running_ = false;
          emit finished(outcome);
        },
        Qt::QueuedConnection);
  });
}

void ScanJob::cancel() {
  cancelled_ = true;
  thread_.request_stop();
}

} // namespace bellmouth::ui
