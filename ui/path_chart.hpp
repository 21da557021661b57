// SPDX-License-Identifier: GPL-3.0-or-later
// Pressure, velocity and temperature along the path, one under the other over one distance axis.
#pragma once

#include "session.hpp"

#include <QWidget>

#include <memory>

namespace bellmouth::ui {

class PathChart : public QWidget {
  Q_OBJECT

public:
  explicit PathChart(Session& session, QWidget* parent = nullptr);
  ~PathChart() override;
  PathChart(const PathChart&) = delete;
  PathChart& operator=(const PathChart&) = delete;
  /// What the cursor reads at a distance along the path [m].
  [[nodiscard]] QString read_out(double distance_m) const;

protected:
  void changeEvent(QEvent* event) override;
  bool eventFilter(QObject* watched, QEvent* event) override;

private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

} // namespace bellmouth::ui
