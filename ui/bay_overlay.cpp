// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_overlay.hpp"

#include "piece_text.hpp"
#include "scene/vector.hpp"
#include "units.hpp"

#include <QPainter>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace bellmouth::ui {

namespace {

using build::Vector;
using scene::plus;

/// Nearer than this, and straighter, a run's end is on its port.
constexpr double meets_m = 1e-3;
constexpr double meets_rad = 0.5 * std::numbers::pi / 180;

class OverlayPainter {
public:
  OverlayPainter(QPainter& painter, const BayOverlay& overlay)
      : painter_(painter), overlay_(overlay), colours_(overlay.colours),
        pane_(QPointF(0, 0), overlay.lookout.viewport) {}

  void paint() {
    painter_.setFont(small_font());
    legend();
    scale_bar();
    axes();
    gaps();
    tight_places();
    port_names();
  }

private:
  [[nodiscard]] std::optional<QPointF> seen(const Vector& point_m) const {
    if (overlay_.section &&
        scene::dot(scene::minus(point_m, overlay_.section->point_m), overlay_.section->normal) > 0)
      return std::nullopt;
    const scene::Projected at = overlay_.lookout.camera.project(point_m, overlay_.lookout.viewport);
    return overlay_.lookout.camera.perspective && at.depth_m <= 0 ? std::nullopt : std::optional(at.pixel);
  }

  void plate(const QString& text, QPointF middle, const QColor& ink) {
    taken_.push_back(paint_plate(painter_, text, middle, pane_, ink, colours_));
  }

  /// At rest only: a run is laid out at rest.
  void gaps() {
    if (roll_share(overlay_.session) != 0)
      return;
    const build::Build& build = overlay_.session.build();
    const build::Option& option = *build.find(overlay_.session.option());
    for (const RunResult& result : overlay_.session.evaluation().runs) {
      const QString words = gap_words(result);
      const build::Run* run = option.find(result.id);
      const build::Port* port = run ? build.find(run->to) : nullptr;
      if (words.isEmpty() || !port || !port->pose || result.frames.empty())
        continue;
      const auto from = seen(result.frames.back().position_m), to = seen(port->pose->position_m);
      if (!from || !to)
        continue;
      QPen dashes(colours_.stop, 1.8);
      dashes.setDashPattern({4, 3});
      painter_.setPen(dashes);
      painter_.drawLine(*from, *to);
      painter_.setBrush(colours_.stop);
      painter_.setPen(Qt::NoPen);
      for (const QPointF end : {*from, *to})
        painter_.drawEllipse(end, 3.5, 3.5);
      const QPointF above((from->x() + to->x()) / 2, std::min(from->y(), to->y()) - 18);
      plate(run_name(result.id) + " " + words, above, colours_.stop);
    }
  }

  void tight_places() {
    for (const TightPlace& place : overlay_.tight_places) {
      const auto from = seen(place.from_m), to = seen(place.to_m);
      if (!from || !to)
        continue;
      const QColor ink = place.judgement == TightPlace::Judgement::tight      ? colours_.stop
                         : place.judgement == TightPlace::Judgement::doubtful ? colours_.caution
                                                                              : colours_.muted_text;
      painter_.setPen(QPen(ink, 2.2, Qt::SolidLine, Qt::RoundCap));
      painter_.drawLine(*from, *to);
      painter_.setBrush(ink);
      painter_.setPen(Qt::NoPen);
      for (const QPointF end : {*from, *to})
        painter_.drawEllipse(end, 2.5, 2.5);
      const QFontMetricsF metrics(painter_.font());
      const double height = metrics.height() + 4;
      // Beside the line where there is room; a figure without room gives way.
      QRectF box(0, 0, metrics.horizontalAdvance(place.words) + 10, height);
      for (const double down : {0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0}) {
        box.moveCenter((*from + *to) / 2 + QPointF(box.width() / 2 + 8, down * (height + 2)));
        if (std::ranges::none_of(taken_, [&](const QRectF& other) { return other.intersects(box); })) {
          plate(place.words, box.center(), ink);
          break;
        }
      }
    }
  }

  void port_names() {
    std::vector<BayLabel> labels;
    const QFontMetricsF metrics(painter_.font());
    for (const build::Port& port : overlay_.session.build().ports) {
      if (!port.pose)
        continue;
      // Behind the face, away from where the run goes.
      const auto at = seen(port.pose->position_m),
                 behind = seen(plus(port.pose->position_m, port.pose->direction, -0.03));
      if (!at || !behind)
        continue;
      BayLabel label{QString::fromStdString(port.id.text).replace('_', ' '), {}};
      const double width = metrics.horizontalAdvance(label.text) + 8, height = metrics.height() + 2;
      const QPointF way = *behind - *at;
      const double length = std::hypot(way.x(), way.y());
      const QPointF unit = length > 1 ? way / length : QPointF(0, 1);
      for (const double off : {26.0, 44.0, 62.0}) {
        QRectF box(0, 0, width, height);
        box.moveCenter(*at + unit * off + QPointF(unit.x() * width / 2, 0));
        label.places.push_back(box);
        for (const double down : {1.0, -1.0})
          label.places.push_back(box.translated(0, down * (height + 2)));
      }
      labels.push_back(std::move(label));
    }
    const std::vector<QRectF> boxes = place_bay_labels(labels, pane_, taken_);
    QColor ground = colours_.panel;
    ground.setAlphaF(0.72F);
    for (std::size_t i = 0; i < labels.size(); ++i)
      if (!boxes[i].isNull()) {
        painter_.setPen(Qt::NoPen);
        painter_.setBrush(ground);
        painter_.drawRoundedRect(boxes[i], 3, 3);
        painter_.setPen(colours_.text);
        painter_.drawText(boxes[i], Qt::AlignCenter, labels[i].text);
      }
  }

  void axes() {
    const QPointF origin(46, pane_.height() - 50);
    const scene::Camera& camera = overlay_.lookout.camera;
    const Vector right = camera.right(), up = camera.up(), into = camera.forward();
    struct Axis {
      Vector way;
      QString name;
      QColor ink;
    };
    std::vector<Axis> axes{{{1, 0, 0}, "forward", colours_.pressure},
                           {{0, 1, 0}, "left", colours_.good},
                           {{0, 0, 1}, "up", colours_.velocity}};
    std::ranges::sort(axes, [&](const Axis& a, const Axis& b) {
      return scene::dot(a.way, into) > scene::dot(b.way, into);
    });
    const QFontMetricsF metrics(painter_.font());
    for (const Axis& axis : axes) {
      const QPointF way(scene::dot(axis.way, right), -scene::dot(axis.way, up));
      if (std::hypot(way.x(), way.y()) < 0.12)
        continue;
      const QPointF tip = origin + way * 28;
      painter_.setPen(QPen(axis.ink, 2.2, Qt::SolidLine, Qt::RoundCap));
      painter_.drawLine(origin, tip);
      const double width = metrics.horizontalAdvance(axis.name);
      const QPointF middle = tip + QPointF(way.x() * (6 + width / 2), way.y() * 10);
      painter_.drawText(QRectF(middle - QPointF(width, 10), QSizeF(2 * width, 20)), Qt::AlignCenter,
                        axis.name);
    }
    taken_.emplace_back(0, pane_.height() - 100, 110, 100);
    if (!overlay_.corner_words.isEmpty()) {
      painter_.setPen(colours_.muted_text);
      painter_.drawText(QRectF(gap, pane_.height() - 20, pane_.width() / 2, 18),
                        Qt::AlignLeft | Qt::AlignVCenter, overlay_.corner_words);
    }
  }

  void scale_bar() {
    const double px_m =
        overlay_.lookout.camera.px_per_m(overlay_.lookout.camera.target_m, overlay_.lookout.viewport);
    if (px_m <= 0)
      return;
    // Round in the unit shown, millimetres or inches.
    constexpr std::array round{1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0};
    const double unit_m = 1 / in_shown_unit(quantity::Dimension::length, 1.0);
    double length_m = round.front() * unit_m;
    for (const double longer : round)
      if (longer * unit_m * px_m <= 130)
        length_m = longer * unit_m;
    const double px = length_m * px_m;
    const QPointF right(pane_.right() - 16, pane_.bottom() - 14), left = right - QPointF(px, 0);
    painter_.setPen(QPen(colours_.text, 1.4));
    painter_.drawLine(left, right);
    for (const QPointF& end : {left, right})
      painter_.drawLine(end - QPointF(0, 4), end + QPointF(0, 4));
    QString text = show(quantity::Dimension::length, length_m);
    if (overlay_.lookout.camera.perspective)
      text += " in the middle";
    const double width = QFontMetricsF(painter_.font()).horizontalAdvance(text) + 4;
    const double text_left = std::min(left.x() + px / 2 - width / 2, pane_.right() - width - 8);
    const QRectF box(text_left, left.y() - 22, width, 18);
    painter_.drawText(box, Qt::AlignCenter, text);
    taken_.push_back(box.united(QRectF(left, right)).adjusted(-6, -4, 6, 6));
  }

  void legend() {
    if (!overlay_.legend)
      return;
    const scene::ValueScale& scale = overlay_.legend->scale;
    const QFontMetricsF metrics(painter_.font());
    const QRectF bar(pane_.right() - 74, 40, 14, std::min(190.0, pane_.height() - 130));
    const double title_width = metrics.horizontalAdvance(overlay_.legend->title) + 12;
    const QRectF ground(std::min(bar.left() - 10, pane_.right() - title_width - 10), 10,
                        std::max(80.0, title_width), bar.height() + 42);
    QColor plate = colours_.panel;
    plate.setAlphaF(0.85F);
    painter_.setPen(QPen(colours_.line, 1));
    painter_.setBrush(plate);
    painter_.drawRoundedRect(ground, 4, 4);
    painter_.setPen(colours_.text);
    painter_.drawText(QRectF(ground.left(), ground.top() + 4, ground.width(), 18), Qt::AlignCenter,
                      overlay_.legend->title);
    QLinearGradient gradient(bar.bottomLeft(), bar.topLeft());
    constexpr int stops = 24;
    for (int i = 0; i <= stops; ++i)
      gradient.setColorAt(static_cast<double>(i) / stops,
                          QColor(scene::colour_at(scale.map, static_cast<double>(i) / stops)));
    painter_.setBrush(gradient);
    painter_.drawRect(bar);
    const std::vector<double> ticks = scale.ticks(6);
    const double step = ticks.size() > 1 ? ticks[1] - ticks[0] : 1;
    const int decimals = std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9)));
    for (const double tick : ticks) {
      const double y = bar.bottom() - scale.share(tick) * bar.height();
      painter_.drawLine(QPointF(bar.right(), y), QPointF(bar.right() + 4, y));
      painter_.drawText(QRectF(bar.right() + 7, y - 9, 60, 18), Qt::AlignLeft | Qt::AlignVCenter,
                        show_ratio(tick, decimals));
    }
    taken_.push_back(ground);
  }

  QPainter& painter_;
  const BayOverlay& overlay_;
  const Theme& colours_;
  QRectF pane_;
  std::vector<QRectF> taken_;
};

} // namespace

QString gap_words(const RunResult& run) {
  if (!run.meeting || (run.meeting->gap_m <= meets_m && run.meeting->angle_rad <= meets_rad))
    return {};
  constexpr double shown_rad = std::numbers::pi / 180 / 10;
  const double angle_rad = std::round(run.meeting->angle_rad / shown_rad) * shown_rad;
  return angle_rad == 0
             ? QString("%1 off").arg(show_length(run.meeting->gap_m))
             : QString("%1 and %2 off").arg(show_length(run.meeting->gap_m), show_angle(angle_rad));
}

QStringList meeting_lines(const Evaluation& evaluation) {
  QStringList lines;
  for (const RunResult& run : evaluation.runs) {
    const QString off = gap_words(run);
    lines << run_name(run.id) + (!run.meeting    ? QString(": a port is not measured yet")
                                 : off.isEmpty() ? QString(" meets its port")
                                                 : " ends " + off);
  }
  return lines;
}

QString distance_words(const Vector& from_m, const Vector& to_m) {
  const Vector way = scene::minus(to_m, from_m);
  const auto part = [&](std::size_t axis, const char* plus_word, const char* minus_word) {
    return QString("%1 %2").arg(show_length(std::abs(way[axis])), way[axis] < 0 ? minus_word : plus_word);
  };
  return QString("%1: %2, %3, %4")
      .arg(show_length(scene::length(way)), part(0, "forward", "rearward"), part(1, "left", "right"),
           part(2, "up", "down"));
}

std::vector<QRectF> place_bay_labels(const std::vector<BayLabel>& labels, const QRectF& pane,
                                     std::vector<QRectF> taken) {
  std::vector<QRectF> boxes;
  for (const BayLabel& label : labels) {
    const auto free = std::ranges::find_if(label.places, [&](const QRectF& place) {
      return pane.contains(place) &&
             std::ranges::none_of(taken, [&](const QRectF& other) { return other.intersects(place); });
    });
    boxes.push_back(free == label.places.end() ? QRectF() : *free);
    if (free != label.places.end())
      taken.push_back(*free);
  }
  return boxes;
}

void paint_overlay(QPainter& painter, const BayOverlay& overlay) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  OverlayPainter(painter, overlay).paint();
  painter.restore();
}

} // namespace bellmouth::ui
