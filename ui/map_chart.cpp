// SPDX-License-Identifier: GPL-3.0-or-later
#include "map_chart.hpp"

#include "theme.hpp"
#include "value_axis.hpp"

#include <QEvent>
#include <QGraphicsLayout>
#include <QPainter>
#include <QtCharts/QChart>
#include <QtCharts/QLineSeries>

#include <algorithm>
#include <limits>

namespace bellmouth::ui {

namespace {

constexpr int height_px = 210;
/// Room to the right of the curves for their names, as a share of the axis.
constexpr double names_share = 0.14;

} // namespace

MapChart::MapChart(QWidget* parent)
    : QChartView(parent), across_(new QValueAxis(this)), up_(new QValueAxis(this)) {
  setRenderHint(QPainter::Antialiasing);
  setFrameShape(QFrame::NoFrame);
  setFixedHeight(height_px);
  setFocusPolicy(Qt::NoFocus);
  QChart* plot = chart();
  plot->legend()->hide();
  plot->setBackgroundRoundness(0);
  plot->setMargins(QMargins(0, 0, 4, 0));
  plot->layout()->setContentsMargins(0, 0, 0, 0);
  plot->setLocalizeNumbers(true);
  plot->addAxis(across_, Qt::AlignBottom);
  plot->addAxis(up_, Qt::AlignLeft);
  for (QValueAxis* axis : {across_, up_})
    axis->setLabelsFont(small_font());
  apply_theme();
}

void MapChart::show_picture(const MapPicture& picture) {
  setAccessibleName(picture.title);
  const bool same = picture.curves == curves_;
  working_point_ = picture.working_point;
  if (!same) {
    curves_ = picture.curves;
    draw_curves();
  }
  fit_axes();
  viewport()->update();
}

void MapChart::draw_curves() {
  chart()->removeAllSeries();
  const Theme& colours = theme();
  for (const MapCurve& curve : curves_) {
    auto* series = new QLineSeries(this);
    series->replace(curve.points);
    const auto pen = [&]() -> QPen {
      switch (curve.kind) {
      case MapCurve::Kind::speed_line:
        return {colours.pressure, 1.8};
      case MapCurve::Kind::second_line:
        return {colours.velocity, 1.4, Qt::DotLine};
      case MapCurve::Kind::surge:
        return {colours.stop, 1.6, Qt::DashLine};
      case MapCurve::Kind::choke:
        return {colours.caution, 1.6, Qt::DashLine};
      }
      return {};
    }();
    series->setPen(pen);
    chart()->addSeries(series);
    series->attachAxis(across_);
    series->attachAxis(up_);
  }
}

/// Curves and working point are all in sight.
void MapChart::fit_axes() {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  QPointF low(infinity, infinity), high(-infinity, -infinity);
  const auto hold = [&](const QPointF& point) {
    low = {std::min(low.x(), point.x()), std::min(low.y(), point.y())};
    high = {std::max(high.x(), point.x()), std::max(high.y(), point.y())};
  };
  for (const MapCurve& curve : curves_)
    for (const QPointF& point : curve.points)
      hold(point);
  if (working_point_)
    hold(*working_point_);
  if (!(low.x() <= high.x()))
    return;
  fit_axis(*across_, low.x(), high.x() + names_share * (high.x() - low.x()), 5);
  fit_axis(*up_, low.y(), high.y(), 5);
}

std::optional<QPointF> MapChart::working_place() const {
  if (!working_point_ || chart()->series().isEmpty())
    return std::nullopt;
  return chart()->mapToPosition(*working_point_, chart()->series().front());
}

void MapChart::drawForeground(QPainter* painter, const QRectF&) {
  const Theme& colours = theme();
  const QList<QAbstractSeries*> drawn = chart()->series();
  painter->save();
  painter->setFont(small_font());
  const QFontMetricsF metrics(painter->font());
  painter->setPen(colours.muted_text);
  std::vector<QRectF> taken;
  for (qsizetype i = 0; i < drawn.size(); ++i) {
    const MapCurve& curve = curves_[static_cast<std::size_t>(i)];
    if (curve.name.isEmpty() || curve.points.isEmpty())
      continue;
    const QPointF end = chart()->mapToPosition(curve.points.back(), drawn[i]);
    const QRectF box(end.x() + 4, end.y(), metrics.horizontalAdvance(curve.name) + 2, metrics.height());
    // Lines that end close together: the first has its name.
    if (std::ranges::any_of(taken, [&](const QRectF& other) { return other.intersects(box); }))
      continue;
    painter->drawText(box, Qt::AlignLeft | Qt::AlignVCenter, curve.name);
    taken.push_back(box);
  }
  if (const auto place = working_place()) {
    painter->setPen(QPen(colours.panel, 1.5));
    painter->setBrush(colours.temperature);
    painter->drawEllipse(*place, 5, 5);
  }
  painter->restore();
}

void MapChart::apply_theme() {
  const Theme& colours = theme();
  setBackgroundBrush(colours.panel);
  chart()->setBackgroundBrush(colours.panel);
  for (QValueAxis* axis : {across_, up_}) {
    axis->setLabelsBrush(colours.muted_text);
    axis->setGridLinePen(QPen(colours.line, 0.7));
    axis->setLinePen(QPen(colours.line, 1));
  }
}

void MapChart::changeEvent(QEvent* event) {
  QChartView::changeEvent(event);
  if (event->type() == QEvent::PaletteChange) {
    apply_theme();
    draw_curves();
  }
}

} // namespace bellmouth::ui
