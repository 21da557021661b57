// SPDX-License-Identifier: GPL-3.0-or-later
#include "readings_chart.hpp"

#include "theme.hpp"
#include "value_axis.hpp"

#include <QEvent>
#include <QGraphicsLayout>
#include <QtCharts/QChart>
#include <QtCharts/QLegendMarker>

#include <algorithm>
#include <limits>

namespace bellmouth::ui {

namespace {

constexpr int least_height_px = 190;

} // namespace

ReadingsChart::ReadingsChart(QWidget* parent)
    : QChartView(parent), before_(new QLineSeries(this)), after_(new QLineSeries(this)),
      measured_(new QScatterSeries(this)), outliers_(new QScatterSeries(this)), across_(new QValueAxis(this)),
      up_(new QValueAxis(this)) {
  setRenderHint(QPainter::Antialiasing);
  setFrameShape(QFrame::NoFrame);
  setMinimumHeight(least_height_px);
  setFocusPolicy(Qt::NoFocus);
  QChart* plot = chart();
  plot->setBackgroundRoundness(0);
  plot->setMargins(QMargins(0, 0, gap, 0));
  plot->layout()->setContentsMargins(0, 0, 0, 0);
  plot->setLocalizeNumbers(true);
  plot->legend()->setAlignment(Qt::AlignTop);
  plot->legend()->setMarkerShape(QLegend::MarkerShapeFromSeries);
  plot->addAxis(across_, Qt::AlignBottom);
  plot->addAxis(up_, Qt::AlignLeft);
  before_->setName(tr("predicted before"));
  after_->setName(tr("predicted after"));
  measured_->setName(tr("measured"));
  outliers_->setName(tr("outliers, which count less"));
  for (QXYSeries* series : std::initializer_list<QXYSeries*>{before_, after_, measured_, outliers_}) {
    plot->addSeries(series);
    series->attachAxis(across_);
    series->attachAxis(up_);
  }
  apply_theme();
}

void ReadingsChart::show_curves(const ChannelCurves& curves) {
  curves_ = curves;
  setAccessibleName(curves.title);
  before_->replace(curves.before);
  after_->replace(curves.after);
  measured_->replace(curves.measured);
  outliers_->replace(curves.outliers);
  constexpr double infinity = std::numeric_limits<double>::infinity();
  QPointF low(infinity, infinity), high(-infinity, -infinity);
  for (const QList<QPointF>* points : {&curves.before, &curves.after, &curves.measured, &curves.outliers})
    for (const QPointF& point : *points) {
      low = {std::min(low.x(), point.x()), std::min(low.y(), point.y())};
      high = {std::max(high.x(), point.x()), std::max(high.y(), point.y())};
    }
  for (const auto* series : std::initializer_list<QXYSeries*>{before_, after_, measured_, outliers_})
    for (QLegendMarker* marker : chart()->legend()->markers())
      if (marker->series() == series)
        marker->setVisible(series->count() > 0);
  across_->setTitleText(curves.across);
  up_->setTitleText(curves.up);
  if (!(low.x() <= high.x()))
    return;
  fit_axis(*across_, low.x(), high.x(), 6);
  fit_axis(*up_, low.y(), high.y(), 4);
}

void ReadingsChart::apply_theme() {
  const Theme& colours = theme();
  setBackgroundBrush(colours.panel);
  chart()->setBackgroundBrush(colours.panel);
  chart()->legend()->setLabelColor(colours.text);
  chart()->legend()->setFont(small_font());
  before_->setPen(QPen(colours.rival, 1.4, Qt::DashLine));
  after_->setPen(QPen(colours.pressure, 2.2));
  constexpr double marker_px = 8, outlier_px = 13;
  measured_->setMarkerSize(marker_px);
  outliers_->setMarkerSize(outlier_px);
  for (QScatterSeries* series : {measured_, outliers_})
    series->setBorderColor(colours.panel);
  measured_->setColor(colours.velocity);
  outliers_->setColor(colours.stop);
  outliers_->setMarkerShape(QScatterSeries::MarkerShapeTriangle);
  for (QValueAxis* axis : {across_, up_}) {
    axis->setLabelsFont(small_font());
    axis->setTitleFont(small_font());
    axis->setLabelsBrush(colours.muted_text);
    axis->setTitleBrush(colours.muted_text);
    axis->setGridLinePen(QPen(colours.line, 0.7));
    axis->setLinePen(QPen(colours.line, 1));
  }
}

void ReadingsChart::changeEvent(QEvent* event) {
  QChartView::changeEvent(event);
  if (event->type() == QEvent::PaletteChange)
    apply_theme();
}

} // namespace bellmouth::ui
