// SPDX-License-Identifier: GPL-3.0-or-later
// One of several charts that share the path's distance axis.
#pragma once

#include "path_spans.hpp"
#include "theme.hpp"

#include <QtCharts/QChartView>
#include <QtCharts/QLineSeries>
#include <QtCharts/QValueAxis>

#include <optional>
#include <vector>

namespace bellmouth::ui {

/// What a strip shows.
struct StripLine {
  QString name;
  QColor color;
  Qt::PenStyle style = Qt::SolidLine;
  double width = 2;
};

/// Curves over the path, on bands for machines, with the selected part marked and a cursor that all strips
/// share.
class StripChart : public QChartView {
  Q_OBJECT

public:
  /// The topmost strip names the machines and runs, the lowest carries the numbers of the distance axis.
  enum class Place { topmost, middle, lowest };
  StripChart(const QString& name, Place place, QWidget* parent = nullptr);
  void set_lines(const std::vector<StripLine>& lines);
  void set_title(const QString& title);
  /// Replaces the points of the lines, one list for each, and fits the axes to them.
  void show_points(const PathSpans& spans, const std::vector<QList<QPointF>>& points);
  void mark(std::optional<std::pair<double, double>> part);
  void set_cursor(std::optional<double> x, const QString& read_out);
  void apply_theme();
  /// Between neighbouring grid lines, in the unit shown.
  [[nodiscard]] double grid_step() const { return step_; }

signals:
  void hovered(std::optional<double> x);
  void picked(double x);

protected:
  void drawBackground(QPainter* painter, const QRectF& rect) override;
  void drawForeground(QPainter* painter, const QRectF& rect) override;
  void resizeEvent(QResizeEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void leaveEvent(QEvent* event) override;

private:
  [[nodiscard]] double to_px(double x) const;
  [[nodiscard]] double to_x(double px) const;
  void draw_head(QPainter& painter) const;
  void draw_names(QPainter& painter) const;
  void draw_distances(QPainter& painter) const;
  void draw_values(QPainter& painter) const;
  [[nodiscard]] double above_px() const; ///< room over the plot
  [[nodiscard]] double below_px() const;
  void fit_value_axis(double low, double high);

  Place place_;
  QString title_, read_out_;
  std::vector<StripLine> lines_;
  std::vector<QLineSeries*> series_;
  QValueAxis *along_, *value_;
  PathSpans spans_;
  double step_ = 0;  ///< between grid lines
  double end_x_ = 0; ///< of the longest curve
  std::optional<std::pair<double, double>> marked_;
  std::optional<double> cursor_;
};

} // namespace bellmouth::ui
