// SPDX-License-Identifier: GPL-3.0-or-later
// Pressure, velocity and temperature along the path, one under the other over one distance axis.
#pragma once

#include "path_spans.hpp"
#include "session.hpp"

#include <QWidget>

class QLabel;
class QStackedWidget;

namespace bellmouth::ui {

class StripChart;

/// The rival's curves are thin and dashed. A click picks the piece or machine under it.
class PathChart : public QWidget {
  Q_OBJECT

public:
  explicit PathChart(Session& session, QWidget* parent = nullptr);
  /// What the cursor reads at a place on the axis, in words.
  [[nodiscard]] QString read_out(double x) const;
  [[nodiscard]] const PathSpans& spans() const { return spans_; }

protected:
  void showEvent(QShowEvent* event) override;
  void changeEvent(QEvent* event) override;

private:
  void refresh();
  void restyle();
  void mark_selection();
  void hover(std::optional<double> x);
  void pick(double x);

  Session& session_;
  QStackedWidget* stack_;
  QLabel* empty_;
  StripChart *pressure_, *velocity_, *temperature_;
  PathSpans spans_, rival_spans_;
  QString rival_name_;
  bool stale_ = true; ///< hidden charts wait until they are shown
};

} // namespace bellmouth::ui
