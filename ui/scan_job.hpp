// SPDX-License-Identifier: GPL-3.0-or-later
// The reading of a scan under way on a thread of its own.
#pragma once

#include <bellmouth/mesh.hpp>

#include <QObject>
#include <QString>

#include <memory>
#include <thread>

namespace bellmouth::ui {

using ScanOutcome = std::shared_ptr<const Result<std::shared_ptr<const mesh::Scan>>>;

/// Reads one file at a time. Signals come on the thread that made the object. Destroying it cancels and
/// waits.
class ScanJob : public QObject {
  Q_OBJECT

public:
  explicit ScanJob(QObject* parent = nullptr);
  ~ScanJob() override;
  /// None may be running (an assertion).
  void start(const QString& file);
  /// Asks the thread to end; finished() still comes, with the error that says so.
  void cancel();
  [[nodiscard]] bool running() const { return running_; }
  /// Whether the last reading was asked to end.
  [[nodiscard]] bool cancelled() const { return cancelled_; }

signals:
  void progressed(double share); ///< from 0 to 1
  void finished(const bellmouth::ui::ScanOutcome& outcome);

private:
  std::jthread thread_;
  bool running_ = false, cancelled_ = false;
};

} // namespace bellmouth::ui
