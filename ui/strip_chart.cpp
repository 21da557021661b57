// SPDX-License-Identifier: GPL-3.0-or-later
#include "strip_chart.hpp"

#include "nice_step.hpp"
#include "units.hpp"

#include <QLocale>
#include <QMouseEvent>
#include <QtCharts/QChart>

#include <algorithm>
#include <cmath>
#include <limits>

namespace bellmouth::ui {

namespace {

constexpr double left_px = 62, right_px = 14, head_px = 22, names_px = 18, foot_px = 6, lowest_foot_px = 36,
                 least_plot_px = 36;

} // namespace

StripChart::StripChart(const QString& name, Place place, QWidget* parent)
    : QChartView(parent), place_(place), along_(new QValueAxis(this)), value_(new QValueAxis(this)) {
  setObjectName(name);
  setRenderHint(QPainter::Antialiasing);
  setFrameShape(QFrame::NoFrame);
  setMouseTracking(true);
  setMinimumHeight(static_cast<int>(above_px() + below_px() + least_plot_px));
  setFocusPolicy(Qt::NoFocus);
  QChart* plot = chart();
  plot->legend()->hide();
  plot->setBackgroundVisible(false);
  plot->setPlotAreaBackgroundVisible(false);
  plot->setMargins({});
  plot->setLocalizeNumbers(true);
  plot->addAxis(along_, Qt::AlignBottom);
  plot->addAxis(value_, Qt::AlignLeft);
  along_->setLabelsVisible(false);
  along_->setGridLineVisible(false);
  along_->setLineVisible(false);
  along_->setTickCount(2);
  along_->setRange(0, 1);
  // Qt Charts leaves labels and grid of an axis where they were when a plot area is set by hand: both are
  // drawn here instead.
  value_->setLabelsVisible(false);
  value_->setGridLineVisible(false);
  value_->setLineVisible(false);
}

void StripChart::set_title(const QString& title) {
  title_ = title;
  setAccessibleName(title);
  viewport()->update();
}

void StripChart::set_lines(const std::vector<StripLine>& lines) {
  lines_ = lines;
  while (series_.size() < lines_.size()) {
    auto* series = new QLineSeries(this);
    chart()->addSeries(series);
    series->attachAxis(along_);
    series->attachAxis(value_);
    series_.push_back(series);
  }
  for (std::size_t i = 0; i < lines_.size(); ++i)
    series_[i]->setPen(QPen(lines_[i].color, lines_[i].width, lines_[i].style, Qt::FlatCap, Qt::BevelJoin));
}

void StripChart::fit_value_axis(double low, double high) {
  const double room = std::max(high - low, std::max(std::abs(high), 1.0) * 0.01);
  const double step = nice_step(room, 4);
  const double below = std::floor((low - 0.04 * room) / step) * step;
  const double bottom = low >= 0 ? std::max(below, 0.0) : below,
               top = std::ceil((high + 0.04 * room) / step) * step;
  step_ = step;
  // Laying the axis out anew costs, so only what differs is set.
  if (bottom != value_->min() || top != value_->max())
    value_->setRange(bottom, top);
}

void StripChart::show_points(const PathSpans& spans, const std::vector<QList<QPointF>>& points) {
  spans_ = spans;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  end_x_ = spans.end_x();
  for (const QList<QPointF>& line : points)
    for (const QPointF& point : line) {
      low = std::min(low, point.y());
      high = std::max(high, point.y());
      end_x_ = std::max(end_x_, point.x());
    }
  // The chart's own axis goes from 0 to 1 for good: another range would lay out everything anew at each edit.
  for (std::size_t i = 0; i < series_.size(); ++i) {
    QList<QPointF> line = i < points.size() ? points[i] : QList<QPointF>();
    for (QPointF& point : line)
      point.rx() /= end_x_ > 0 ? end_x_ : 1;
    series_[i]->replace(line);
  }
  if (low <= high)
    fit_value_axis(low, high);
  viewport()->update();
}

void StripChart::mark(std::optional<std::pair<double, double>> part) {
  if (part == marked_)
    return;
  marked_ = part;
  viewport()->update();
}

void StripChart::set_cursor(std::optional<double> x, const QString& read_out) {
  cursor_ = x;
  read_out_ = read_out;
  viewport()->update();
}

void StripChart::apply_theme() {
  const Theme& colours = theme();
  setBackgroundBrush(colours.panel);
  viewport()->update();
}

double StripChart::to_px(double x) const {
  const QRectF plot = chart()->plotArea();
  return plot.left() + (end_x_ > 0 ? x / end_x_ : 0) * plot.width();
}
double StripChart::to_x(double px) const {
  const QRectF plot = chart()->plotArea();
  return (px - plot.left()) / plot.width() * end_x_;
}

void StripChart::drawBackground(QPainter* painter, const QRectF&) {
  const Theme& colours = theme();
  painter->fillRect(sceneRect(), colours.panel);
  const QRectF plot = chart()->plotArea();
  QColor band = colours.machine;
  band.setAlphaF(0.38F);
  painter->setFont(small_font());
  for (const PathSpan& span : spans_.spans()) {
    const QRectF box(to_px(span.from_x), plot.top(), to_px(span.to_x) - to_px(span.from_x), plot.height());
    if (span.machine)
      painter->fillRect(box, band);
    painter->setPen(QPen(colours.line, 0.7));
    painter->drawLine(box.topLeft(), box.bottomLeft());
  }
  if (marked_) {
    QColor wash = colours.accent;
    wash.setAlphaF(0.22F);
    const double left = to_px(marked_->first), right = std::max(to_px(marked_->second), left + 2);
    painter->fillRect(QRectF(left, plot.top(), right - left, plot.height()), wash);
  }
  draw_values(*painter);
  painter->setPen(QPen(colours.line, 1));
  painter->drawRect(plot);
}

/// Grid lines and their numbers; where the plot is low, every second or third of them.
void StripChart::draw_values(QPainter& painter) const {
  const Theme& colours = theme();
  const QRectF plot = chart()->plotArea();
  const QFontMetricsF metrics(painter.font());
  const double bottom = value_->min(), range = value_->max() - bottom;
  if (!(range > 0) || !(step_ > 0) || plot.height() <= 0)
    return;
  const int steps = static_cast<int>(std::lround(range / step_));
  const int most = std::max(1, static_cast<int>(plot.height() / (metrics.height() * 1.15)));
  const int stride = std::max(1, (steps + most - 1) / most);
  const int decimals = decimals_of_step(step_);
  for (int i = 0; i <= steps; i += stride) {
    const double value = bottom + i * step_, y = plot.bottom() - i * step_ / range * plot.height();
    painter.setPen(QPen(colours.line, 0.7));
    painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y));
    painter.setPen(colours.muted_text);
    painter.drawText(QRectF(0, y - metrics.height() / 2, plot.left() - 6, metrics.height()),
                     Qt::AlignRight | Qt::AlignVCenter, QLocale().toString(value, 'f', decimals));
  }
}

void StripChart::drawForeground(QPainter* painter, const QRectF&) {
  const Theme& colours = theme();
  painter->save();
  painter->setFont(small_font());
  draw_head(*painter);
  if (place_ == Place::topmost)
    draw_names(*painter);
  if (place_ == Place::lowest)
    draw_distances(*painter);
  if (cursor_) {
    const QRectF plot = chart()->plotArea();
    const double px = to_px(*cursor_);
    painter->setPen(QPen(colours.text, 1, Qt::DashLine));
    painter->drawLine(QPointF(px, plot.top()), QPointF(px, plot.bottom()));
  }
  painter->restore();
}

/// Title, key to the lines, and what the cursor reads: all above the plot, so that nothing lies on the
/// curves.
void StripChart::draw_head(QPainter& painter) const {
  const Theme& colours = theme();
  const QRectF plot = chart()->plotArea();
  const QFontMetricsF metrics(painter.font());
  const QRectF head(plot.left(), 0, plot.width(), head_px - 2);
  painter.setPen(colours.text);
  painter.drawText(head, Qt::AlignLeft | Qt::AlignVCenter, title_);
  double x = head.left() + metrics.horizontalAdvance(title_) + 18;
  const double read_out_left = head.right() - metrics.horizontalAdvance(read_out_) - 12;
  // The line on top comes first.
  for (std::size_t i = lines_.size(); i-- > 0;) {
    const StripLine& line = lines_[i];
    if (series_[i]->count() == 0)
      continue;
    const double width = 26 + metrics.horizontalAdvance(line.name) + 16;
    if (x + width > read_out_left)
      break;
    painter.setPen(QPen(line.color, line.width, line.style));
    painter.drawLine(QPointF(x, head.center().y()), QPointF(x + 20, head.center().y()));
    painter.setPen(colours.muted_text);
    painter.drawText(QRectF(x + 26, 0, width, head.height()), Qt::AlignLeft | Qt::AlignVCenter, line.name);
    x += width;
  }
  painter.setPen(colours.text);
  painter.drawText(head, Qt::AlignRight | Qt::AlignVCenter, read_out_);
}

/// Machines and runs above the plot, each over its part of it.
void StripChart::draw_names(QPainter& painter) const {
  const Theme& colours = theme();
  const QFontMetricsF metrics(painter.font());
  const double top = chart()->plotArea().top() - names_px;
  for (const PathSpan& span : spans_.spans()) {
    const double left = to_px(span.from_x), width = to_px(span.to_x) - left;
    painter.setPen(span.machine ? colours.text : colours.muted_text);
    painter.drawText(QRectF(left, top, width, names_px), Qt::AlignCenter,
                     metrics.elidedText(span.name, Qt::ElideRight, width - 4));
  }
}

void StripChart::draw_distances(QPainter& painter) const {
  const Theme& colours = theme();
  const QRectF plot = chart()->plotArea();
  const QFontMetricsF metrics(painter.font());
  const auto shown = [](double length_m) { return in_shown_unit(quantity::Dimension::length, length_m); };
  const auto& spans = spans_.spans();
  if (spans.empty())
    return;
  const double end_m = spans.back().to_m,
               step = nice_step(shown(end_m), static_cast<int>(std::clamp(plot.width() / 90, 2.0, 14.0)));
  const double per_unit = shown(1.0);
  painter.setPen(colours.muted_text);
  double free_from = plot.left() - 20;
  const int marks = static_cast<int>(std::floor(shown(end_m) / step + 1e-9));
  for (int mark = 0; mark <= marks; ++mark) {
    const double at = mark * step;
    const double px = to_px(spans_.x_of(at / per_unit));
    painter.drawLine(QPointF(px, plot.bottom()), QPointF(px, plot.bottom() + 4));
    const QString text = QLocale().toString(at, 'f', 0);
    const double width = metrics.horizontalAdvance(text);
    if (px - width / 2 > free_from) {
      painter.drawText(QRectF(px - width / 2, plot.bottom() + 5, width + 2, metrics.height()),
                       Qt::AlignCenter, text);
      free_from = px + width / 2 + 6;
    }
  }
  const auto unit = shown_unit(quantity::Dimension::length);
  painter.drawText(QRectF(plot.left(), plot.bottom() + 5 + metrics.height(), plot.width(), metrics.height()),
                   Qt::AlignRight,
                   "distance along the runs, " +
                       QString::fromUtf8(unit.data(), static_cast<qsizetype>(unit.size())) +
                       "; machines as bands without length");
}

void StripChart::resizeEvent(QResizeEvent* event) {
  QChartView::resizeEvent(event);
  const QRectF all(QPointF(0, 0), QSizeF(event->size()));
  chart()->setPlotArea(all.adjusted(left_px, above_px(), -right_px, -below_px()));
}

double StripChart::above_px() const {
  return head_px + (place_ == Place::topmost ? names_px : 0);
}
double StripChart::below_px() const {
  return place_ == Place::lowest ? lowest_foot_px : foot_px;
}

void StripChart::mouseMoveEvent(QMouseEvent* event) {
  const double x = to_x(event->position().x());
  emit hovered(x >= 0 && x <= end_x_ ? std::optional(x) : std::nullopt);
}
void StripChart::mousePressEvent(QMouseEvent* event) {
  if (event->button() == Qt::LeftButton)
    emit picked(to_x(event->position().x()));
}
void StripChart::leaveEvent(QEvent* event) {
  QChartView::leaveEvent(event);
  emit hovered(std::nullopt);
}

} // namespace bellmouth::ui
