// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_drawing.hpp"

#include "keep_out_outline.hpp"
#include "piece_text.hpp"
#include "units.hpp"

#include <QPainter>
#include <QStringList>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace bellmouth::ui {

namespace {

constexpr double sample_rad = 0.06;

std::vector<build::Vector> centreline(const bay::Frame& frame, const bay::Track& track) {
  const int arc_steps = std::max(1, static_cast<int>(std::ceil(track.angle_rad / sample_rad)));
  std::vector<build::Vector> points{frame.position_m};
  const auto add = [&](double distance_m) {
    points.push_back(bay::along(frame, track, distance_m).position_m);
  };
  if (track.angle_rad > 0)
    for (int i = 0; i <= arc_steps; ++i)
      add(track.straight_in_m + track.radius_m * track.angle_rad * i / arc_steps);
  add(track.length_m());
  return points;
}

class BayPainter {
public:
  BayPainter(QPainter& painter, const BayScene& scene, const BayPane& pane)
      : painter_(painter), scene_(scene), pane_(pane), colours_(scene.colours) {}

  void paint() {
    painter_.setClipRect(pane_.box);
    painter_.fillRect(pane_.box, colours_.panel);
    painter_.setFont(small_font());
    for (const build::KeepOut& keep_out : scene_.build.keep_outs)
      draw_keep_out(painter_, keep_out, pane_, colours_);
    for (const PlacedPiece& piece : scene_.pieces)
      if (!piece.flexible)
        tube(piece);
    for (const PlacedPiece& piece : scene_.pieces)
      if (piece.flexible)
        tube(piece);
    for (const PlacedPiece& piece : scene_.pieces)
      thin_line(piece);
    for (const build::Port& port : scene_.build.ports)
      if (port.pose)
        draw_port(port);
    for (const RunResult& run : scene_.evaluation.runs)
      draw_gap(run);
    labels();
    frame();
  }

private:
  [[nodiscard]] QPolygonF line_of(const PlacedPiece& piece) const {
    QPolygonF line;
    for (const build::Vector& point : piece.centreline_m)
      line << pane_.project(point);
    return line;
  }

  void tube(const PlacedPiece& piece) {
    const QPolygonF line = line_of(piece);
    const double width = std::max(piece.diameter_m * pane_.scale_px_m, 3.0);
    const bool picked = scene_.selection == Selection(piece.picked);
    const QColor edge = picked ? colours_.accent : piece.flexible ? colours_.hose_edge : colours_.rigid_edge;
    painter_.setBrush(Qt::NoBrush);
    painter_.setPen(QPen(edge, width + (picked ? 4 : 1.5), Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin));
    painter_.drawPolyline(line);
    painter_.setPen(QPen(piece.flexible ? colours_.hose : colours_.rigid, width - 1, Qt::SolidLine,
                         Qt::FlatCap, Qt::RoundJoin));
    painter_.drawPolyline(line);
  }

  void thin_line(const PlacedPiece& piece) {
    QPen pen(colours_.on_piece, 0.8);
    pen.setDashPattern({9, 3, 2, 3});
    painter_.setPen(pen);
    painter_.drawPolyline(line_of(piece));
  }

  void draw_port(const build::Port& port) {
    const QPointF at = pane_.project(port.pose->position_m),
                  way = pane_.project_direction(port.pose->direction);
    const double length = std::hypot(way.x(), way.y());
    painter_.setPen(QPen(colours_.machine_edge, 2, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter_.setBrush(colours_.machine);
    if (length > 0.15) {
      // A face of the port's own diameter, and an arrow out of the machine.
      const QPointF unit = way / length, across(-unit.y(), unit.x());
      const double half = port.outer_diameter_m / 2 * pane_.scale_px_m;
      painter_.drawLine(at - across * half, at + across * half);
      const QPointF tip = at + unit * 20 * length;
      painter_.drawLine(at, tip);
      painter_.drawPolyline(QPolygonF{tip - unit * 6 + across * 4, tip, tip - unit * 6 - across * 4});
    } else {
      painter_.drawEllipse(at, port.outer_diameter_m / 2 * pane_.scale_px_m,
                           port.outer_diameter_m / 2 * pane_.scale_px_m);
    }
    painter_.drawEllipse(at, 3, 3);
  }

  /// Behind the face where there is room, away from where the run goes; else around the port.
  [[nodiscard]] BayLabel port_label(const build::Port& port) const {
    BayLabel label{QString::fromStdString(port.id.text).replace('_', ' '), {}};
    const QPointF at = pane_.project(port.pose->position_m),
                  way = pane_.project_direction(port.pose->direction);
    const QFontMetricsF metrics(painter_.font());
    const double width = metrics.horizontalAdvance(label.text) + 2, height = metrics.height();
    const auto box_at = [&](double x, double y) {
      return QRectF(x - width / 2, y - height / 2, width, height);
    };
    const double beside = width / 2 + 14;
    const double left = std::abs(way.x()) <= 0.3 ? at.x() : at.x() - (way.x() > 0 ? beside : -beside);
    const double first_y = at.y() - way.y() * 12 - (std::abs(way.x()) <= 0.3 ? (way.y() > 0 ? 12 : -12) : 0);
    label.places.push_back(box_at(left, first_y));
    for (const double down : {1.0, -1.0, 2.0, -2.0, 3.0, -3.0})
      label.places.push_back(box_at(left, first_y + down * (height + 2)));
    for (const double down : {0.0, 1.0, -1.0, 2.0, -2.0})
      for (const double across : {beside, -beside, 0.0})
        label.places.push_back(box_at(at.x() + across, at.y() + down * (height + 2)));
    return label;
  }

  /// Names of ports, then of keep-outs, none over another; a name without room is left to the tool tip.
  void labels() {
    const QFontMetricsF metrics(painter_.font());
    std::vector<BayLabel> labels;
    for (const build::Port& port : scene_.build.ports)
      if (port.pose)
        labels.push_back(port_label(port));
    const std::size_t ports = labels.size();
    for (const build::KeepOut& keep_out : scene_.build.keep_outs)
      labels.push_back(keep_out_label(keep_out, pane_, metrics));
    const double line = metrics.height();
    std::vector<QRectF> taken = gaps_;
    taken.emplace_back(pane_.box.left(), pane_.box.top(), 110, line + 12);         // title
    taken.emplace_back(pane_.box.left(), pane_.box.bottom() - 72, 110, 72);        // axes
    taken.emplace_back(pane_.box.right() - 170, pane_.box.bottom() - 44, 170, 44); // scale bar
    const std::vector<QRectF> boxes = place_bay_labels(labels, pane_.box, std::move(taken));
    QColor ground = colours_.panel;
    ground.setAlphaF(0.75F);
    for (std::size_t i = 0; i < labels.size(); ++i) {
      if (boxes[i].isNull())
        continue;
      painter_.fillRect(boxes[i], ground);
      painter_.setPen(i < ports ? colours_.text : colours_.muted_text);
      painter_.drawText(boxes[i], Qt::AlignCenter, labels[i].text);
    }
  }

  void draw_gap(const RunResult& run) {
    const build::Option* option = scene_.build.find(scene_.evaluation.option);
    const build::Run* pieces = option ? option->find(run.id) : nullptr;
    const build::Port* port = pieces ? scene_.build.find(pieces->to) : nullptr;
    if (!run.meeting || run.frames.empty() || !port || !port->pose)
      return;
    const QPointF from = pane_.project(run.frames.back().position_m),
                  to = pane_.project(port->pose->position_m);
    if (QLineF(from, to).length() < 3)
      return;
    painter_.setPen(QPen(colours_.stop, 1.6, Qt::DotLine));
    painter_.drawLine(from, to);
    painter_.setBrush(colours_.stop);
    painter_.setPen(Qt::NoPen);
    painter_.drawEllipse(from, 3, 3);
    const QString text = "gap " + show_length(run.meeting->gap_m);
    const QFontMetricsF metrics(painter_.font());
    QRectF box(0, 0, metrics.horizontalAdvance(text) + 8, metrics.height() + 2);
    box.moveCenter((from + to) / 2);
    painter_.setBrush(colours_.panel);
    painter_.setPen(QPen(colours_.stop, 1));
    painter_.drawRoundedRect(box, 3, 3);
    painter_.drawText(box, Qt::AlignCenter, text);
    gaps_.push_back(box);
  }

  /// Title, axes and scale bar.
  void frame() {
    const bool above = pane_.side == BaySide::above;
    painter_.setPen(colours_.text);
    painter_.drawText(pane_.box.adjusted(10, 8, -10, -8), Qt::AlignLeft | Qt::AlignTop,
                      above ? "From above" : "From the side");
    const QPointF corner_at = pane_.box.bottomLeft() + QPointF(18, -18);
    painter_.setPen(QPen(colours_.muted_text, 1.4, Qt::SolidLine, Qt::RoundCap));
    painter_.drawLine(corner_at, corner_at + QPointF(30, 0));
    painter_.drawLine(corner_at, corner_at + QPointF(0, -30));
    const QFontMetricsF metrics(painter_.font());
    painter_.drawText(corner_at + QPointF(34, metrics.ascent() / 2 - 1), "x forward");
    painter_.drawText(corner_at + QPointF(-4, -36), above ? "y left" : "z up");
    scale_bar();
    painter_.setBrush(Qt::NoBrush);
    painter_.setPen(QPen(colours_.line, 1));
    painter_.drawRect(pane_.box.adjusted(0.5, 0.5, -0.5, -0.5));
  }

  void scale_bar() {
    // Round in the unit shown, millimetres or inches.
    constexpr std::array round{1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0};
    const double unit_m = 1 / in_shown_unit(quantity::Dimension::length, 1.0);
    double length_m = round.front() * unit_m;
    for (const double longer : round)
      if (longer * unit_m * pane_.scale_px_m <= 130)
        length_m = longer * unit_m;
    const double px = length_m * pane_.scale_px_m;
    const QPointF right = pane_.box.bottomRight() + QPointF(-16, -18), left = right - QPointF(px, 0);
    painter_.setPen(QPen(colours_.text, 1.4));
    painter_.drawLine(left, right);
    for (const QPointF& end : {left, right})
      painter_.drawLine(end - QPointF(0, 4), end + QPointF(0, 4));
    painter_.drawText(QRectF(left.x() - 40, left.y() - 22, px + 80, 18), Qt::AlignCenter,
                      show(quantity::Dimension::length, length_m));
  }

  QPainter& painter_;
  const BayScene& scene_;
  const BayPane& pane_;
  const Theme& colours_;
  std::vector<QRectF> gaps_; ///< boxes that say how wide gaps are
};

} // namespace

QPointF BayPane::project(const build::Vector& point_m) const {
  const std::size_t up = side == BaySide::above ? 1 : 2;
  return box.center() + QPointF(point_m[0] - middle_m[0], -(point_m[up] - middle_m[up])) * scale_px_m;
}

QPointF BayPane::project_direction(const build::Vector& direction) const {
  return {direction[0], -direction[side == BaySide::above ? 1 : 2]};
}

std::vector<PlacedPiece> placed_pieces(const build::Build& build, const Evaluation& evaluation) {
  std::vector<PlacedPiece> placed;
  const build::Option* option = build.find(evaluation.option);
  for (const RunResult& result : evaluation.runs) {
    const build::Run* run = option ? option->find(result.id) : nullptr;
    if (!run || result.frames.size() != run->pieces.size() + 1)
      continue;
    for (std::size_t row = 0; row < run->pieces.size(); ++row) {
      const build::Shape& shape = run->pieces[row].shape;
      if (build::is_fitting(shape))
        continue;
      const joint::Row& fit = result.fit.rows[row];
      const bay::Track track = bay::track(shape, fit.cover_in_m, fit.cover_out_m);
      placed.push_back({{run->id, row},
                        build::is_flexible(shape),
                        std::max(build::outer_diameter_in_m(shape), build::outer_diameter_out_m(shape)),
                        centreline(result.frames[row], track)});
    }
  }
  return placed;
}

std::optional<BayExtent> bay_extent(const build::Build& build, const std::vector<PlacedPiece>& pieces) {
  constexpr double far = std::numeric_limits<double>::infinity();
  BayExtent extent{{far, far, far}, {-far, -far, -far}};
  const auto add = [&](const build::Vector& point, double around_m) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
      extent.low_m[axis] = std::min(extent.low_m[axis], point[axis] - around_m);
      extent.high_m[axis] = std::max(extent.high_m[axis], point[axis] + around_m);
    }
  };
  for (const build::Port& port : build.ports)
    if (port.pose)
      add(port.pose->position_m, port.outer_diameter_m);
  if (extent.low_m[0] > extent.high_m[0])
    return std::nullopt;
  for (const PlacedPiece& piece : pieces)
    for (const build::Vector& point : piece.centreline_m)
      add(point, piece.diameter_m / 2);
  for (const build::KeepOut& keep_out : build.keep_outs)
    for (const build::Vector& point : outline_points(keep_out))
      add(point, 0);
  return extent;
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

void paint_bay(QPainter& painter, const BayScene& scene, const BayPane& pane) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  BayPainter(painter, scene, pane).paint();
  painter.restore();
}

std::optional<PickedPiece> piece_at(const std::vector<PlacedPiece>& pieces, const BayPane& pane,
                                    QPointF point) {
  std::optional<PickedPiece> found;
  double nearest = std::numeric_limits<double>::infinity();
  for (const PlacedPiece& piece : pieces) {
    const double reach = std::max(piece.diameter_m / 2 * pane.scale_px_m, 5.0);
    for (std::size_t i = 1; i < piece.centreline_m.size(); ++i) {
      const QPointF a = pane.project(piece.centreline_m[i - 1]),
                    along = pane.project(piece.centreline_m[i]) - a;
      const double length2 = QPointF::dotProduct(along, along);
      const double share =
          length2 > 0 ? std::clamp(QPointF::dotProduct(point - a, along) / length2, 0.0, 1.0) : 0;
      const QPointF off = point - (a + along * share);
      const double distance = std::hypot(off.x(), off.y());
      if (distance <= reach && distance < nearest) {
        nearest = distance;
        found = piece.picked;
      }
    }
  }
  return found;
}

QStringList meeting_lines(const Evaluation& evaluation) {
  QStringList lines;
  for (const RunResult& run : evaluation.runs)
    lines << (run.meeting ? QString("%1 ends %2 and %3 off its port")
                                .arg(run_name(run.id), show_length(run.meeting->gap_m),
                                     show_angle(run.meeting->angle_rad))
                          : run_name(run.id) + ": a port is not measured yet");
  return lines;
}

} // namespace bellmouth::ui
