// SPDX-License-Identifier: GPL-3.0-or-later
// A channel of a log over engine speed, with what is predicted before and after a fit.
#pragma once

#include "fit_tables.hpp"

#include <QtCharts/QChartView>
#include <QtCharts/QLineSeries>
#include <QtCharts/QScatterSeries>
#include <QtCharts/QValueAxis>

namespace bellmouth::ui {

class ReadingsChart : public QChartView {
  Q_OBJECT

public:
  explicit ReadingsChart(QWidget* parent = nullptr);
  void show_curves(const ChannelCurves& curves);
  [[nodiscard]] const ChannelCurves& curves() const { return curves_; }

protected:
  void changeEvent(QEvent* event) override;

private:
  void apply_theme();

  ChannelCurves curves_;
  QLineSeries *before_, *after_;
  QScatterSeries *measured_, *outliers_;
  QValueAxis *across_, *up_;
};

} // namespace bellmouth::ui
