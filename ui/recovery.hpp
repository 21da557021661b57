// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of unsaved work, for the day the program or the machine falls over.
#pragma once

#include "session.hpp"

#include <QDateTime>
#include <QDir>
#include <QLockFile>
#include <QTimer>

#include <chrono>
#include <memory>
#include <vector>

namespace bellmouth::ui {

/// A copy whose program no longer runs.
struct LeftBehind {
  QString copy;     ///< the file that holds it
  QString original; ///< the file that was being worked on; empty: never saved
  QDateTime saved_at;
  Result<build::Build> build;
};

/// Keeps a copy of the session's build while it is unsaved: a while after each change, never of a preview,
/// written whole or not at all. The copy goes when the build is saved or the object ends in good order (see
/// finish()).
class Recovery : public QObject {
  Q_OBJECT

public:
  Recovery(Session& session, const QDir& folder, std::chrono::milliseconds delay, QObject* parent = nullptr);
  ~Recovery() override;

  /// Copies that other, ended runs of the program have left in the folder; of a damaged one the build is an
  /// error.
  [[nodiscard]] std::vector<LeftBehind> left_behind() const;
  static void throw_away(const LeftBehind& copy);
  /// Writes the copy now if the build is unsaved and new.
  void keep();
  /// Takes the copy away: the program ends in good order.
  void finish();
  /// Where this run keeps its copy.
  [[nodiscard]] const QString& copy() const { return copy_; }

signals:
  void failed(const QString& why); ///< the copy cannot be written

private:
  Session& session_;
  QDir folder_;
  QString copy_;
  std::unique_ptr<QLockFile> lock_;
  QTimer timer_;
  std::size_t kept_revision_ = 0;
  bool finished_ = false;
};

} // namespace bellmouth::ui
