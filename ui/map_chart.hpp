// SPDX-License-Identifier: GPL-3.0-or-later
// A blower's map with its working point.
#pragma once

#include "map_picture.hpp"

#include <QtCharts/QChartView>
#include <QtCharts/QValueAxis>

namespace bellmouth::ui {

class MapChart : public QChartView {
  Q_OBJECT

public:
  explicit MapChart(QWidget* parent = nullptr);
  void show_picture(const MapPicture& picture);
  /// Where the working point lies on the widget, if there is one.
  [[nodiscard]] std::optional<QPointF> working_place() const;

protected:
  void drawForeground(QPainter* painter, const QRectF& rect) override;
  void changeEvent(QEvent* event) override;

private:
  void draw_curves();
  void fit_axes();
  void apply_theme();

  std::vector<MapCurve> curves_;
  std::optional<QPointF> working_point_;
  QValueAxis *across_, *up_;
};

} // namespace bellmouth::ui
