// SPDX-License-Identifier: GPL-3.0-or-later
#include "chain_paint.hpp"

#include "badge.hpp"
#include "piece_art.hpp"
#include "piece_text.hpp"
#include "units.hpp"

#include <QLinearGradient>
#include <QPainter>

#include <algorithm>
#include <array>

namespace bellmouth::ui {

namespace {

/// Lower ends of the velocity bands [m/s]: 40 is a usual ceiling ahead of a blower, 60 to 90 is usual behind
/// one (supplier guides; trade practice).
constexpr std::array<double, 5> band_from_m_s{0, 25, 40, 60, 90};

QColor band_colour(std::size_t band, const Theme& colours) {
  constexpr std::array<float, band_from_m_s.size()> depth{0.14F, 0.34F, 0.56F, 0.78F, 1.0F};
  const QColor& ground = colours.panel;
  const QColor& full = colours.velocity;
  const auto mix = [&](float from, float to) { return from + (to - from) * depth[band]; };
  return QColor::fromRgbF(mix(ground.redF(), full.redF()), mix(ground.greenF(), full.greenF()),
                          mix(ground.blueF(), full.blueF()));
}

std::size_t band_of(double velocity_m_s) {
  const auto above = std::ranges::upper_bound(band_from_m_s, velocity_m_s);
  return static_cast<std::size_t>(std::max<std::ptrdiff_t>(above - band_from_m_s.begin() - 1, 0));
}

class ChainPainter {
public:
  ChainPainter(QPainter& painter, const ChainScene& scene, const QRectF& clip)
      : painter_(painter), scene_(scene), chain_(scene.chain), colours_(scene.colours), clip_(clip),
        selected_(selected_item(scene.chain, scene.selection)) {}

  void paint() {
    run_backgrounds();
    flow_arrow();
    for (const ChainSpigot& spigot : chain_.spigots)
      if (seen(spigot.box))
        draw_spigot(painter_, spigot.box, spigot.beaded, spigot.faces_right, colours_);
    bodies([](const ChainItem& item) { return !item.flexible && !item.fitting; });
    bodies([](const ChainItem& item) { return item.flexible; });
    for (const ChainCover& cover : chain_.covers)
      if (seen(cover.spigot)) {
        draw_hidden_spigot(painter_, cover.spigot, colours_);
        draw_clamp(painter_, cover.clamp, cover.clamp_diameter_m * chain_.scale_px_m, chain_.scale_px_m,
                   colours_);
      }
    centrelines();
    bodies([](const ChainItem& item) { return item.fitting; });
    selection_outline();
    dimensions();
    strip();
    marks();
    labels();
    drop_mark();
  }

private:
  [[nodiscard]] bool seen(const QRectF& box) const {
    return box.left() <= clip_.right() && box.right() >= clip_.left();
  }

  [[nodiscard]] const build::Piece* piece_of(const ChainItem& item) const {
    return item.kind == ChainItem::Kind::piece
               ? build::find(scene_.build, {scene_.evaluation.option, item.run, item.row})
               : nullptr;
  }

  void run_backgrounds() {
    const auto* picked = std::get_if<PickedRun>(&scene_.selection);
    for (const ChainRun& run : chain_.runs)
      if (picked && picked->run == run.run) {
        QColor wash = colours_.accent;
        wash.setAlphaF(0.08F);
        const double top = chain_.dimension_y - 16;
        painter_.fillRect(QRectF(run.left, top, run.right - run.left, chain_.strip_y + strip_height_px - top),
                          wash);
      }
  }

  void flow_arrow() {
    if (chain_.items.empty())
      return;
    const QPointF tip(chain_.items.front().body.left() - 5, chain_.axis_y);
    painter_.setPen(QPen(colours_.accent, 2.2, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter_.drawLine(tip - QPointF(22, 0), tip);
    painter_.drawPolyline(QPolygonF{tip + QPointF(-7, -5), tip, tip + QPointF(-7, 5)});
  }

  void centrelines() {
    QColor colour = colours_.on_piece;
    colour.setAlphaF(0.5F);
    QPen pen(colour, 0.8);
    pen.setDashPattern({12, 3, 2, 3});
    painter_.setPen(pen);
    for (const ChainRun& run : chain_.runs)
      if (run.left < clip_.right() && run.right > clip_.left() && has_pieces(run))
        painter_.drawLine(QPointF(run.left - 8, chain_.axis_y), QPointF(run.right + 8, chain_.axis_y));
  }

  [[nodiscard]] bool has_pieces(const ChainRun& run) const {
    return std::ranges::any_of(chain_.items, [&](const ChainItem& item) {
      return item.kind == ChainItem::Kind::piece && item.run == run.run;
    });
  }

  template <class Wanted> void bodies(Wanted wanted) {
    for (const ChainItem& item : chain_.items)
      if (wanted(item) && seen(item.body))
        body(item);
  }

  void body(const ChainItem& item) {
    switch (item.kind) {
    case ChainItem::Kind::open_inlet:
      draw_open_inlet(painter_, scene_.build.inlet, item.body, colours_);
      break;
    case ChainItem::Kind::demand:
      draw_demand(painter_, scene_.build.demand, item.body, colours_);
      break;
    case ChainItem::Kind::machine:
      if (const build::Machine* machine = scene_.build.find(item.machine))
        draw_machine(painter_, machine->kind, item.body, colours_);
      break;
    case ChainItem::Kind::empty_run:
      empty_run(item);
      break;
    case ChainItem::Kind::piece:
      if (const build::Piece* piece = piece_of(item)) {
        if (item.fitting)
          draw_fitting(painter_, piece->shape, item.on_host, item.host_diameter_m, chain_.scale_px_m,
                       colours_);
        else
          draw_piece(painter_, piece->shape, piece->material,
                     {QPointF(item.body.left(), chain_.axis_y), chain_.scale_px_m}, colours_);
      }
      break;
    }
  }

  void empty_run(const ChainItem& item) {
    painter_.setBrush(colours_.background);
    painter_.setPen(QPen(colours_.line, 1.2, Qt::DashLine));
    painter_.drawRoundedRect(item.body.adjusted(4, 0, -4, 0), corner, corner);
    painter_.setPen(colours_.muted_text);
    painter_.setFont(small_font());
    painter_.drawText(item.body.adjusted(14, 4, -14, -4), Qt::AlignCenter | Qt::TextWordWrap,
                      "No pieces yet: drag one here or press Insert");
  }

  void selection_outline() {
    if (scene_.hovered && scene_.hovered != selected_ && *scene_.hovered < chain_.items.size())
      outline(chain_.items[*scene_.hovered], 1.2, 0.0F);
    if (!selected_)
      return;
    const ChainItem& item = chain_.items[*selected_];
    outline(item, 2, 0.14F);
    if (scene_.focused) {
      painter_.setBrush(Qt::NoBrush);
      painter_.setPen(QPen(colours_.accent, 1, Qt::DotLine));
      painter_.drawRoundedRect(item.body.adjusted(-7, -7, 7, 7), corner, corner);
    }
    if (item.length_changes) {
      // The grip at the edge that can be dragged.
      const QRectF grip(item.body.right() - 2.5, chain_.axis_y - 11, 5, 22);
      painter_.setPen(QPen(colours_.panel, 1));
      painter_.setBrush(colours_.accent);
      painter_.drawRoundedRect(grip, 2.5, 2.5);
    }
    if (scene_.length_read_out) {
      const QFontMetricsF metrics(painter_.font());
      const QRectF chip(item.body.right() + 8, item.body.top() - 26,
                        metrics.horizontalAdvance(*scene_.length_read_out) + 14, metrics.height() + 6);
      painter_.setPen(Qt::NoPen);
      painter_.setBrush(colours_.accent);
      painter_.drawRoundedRect(chip, 4, 4);
      painter_.setPen(colours_.on_accent);
      painter_.drawText(chip, Qt::AlignCenter, *scene_.length_read_out);
    }
  }

  void outline(const ChainItem& item, double width, float wash_alpha) {
    QColor wash = colours_.accent;
    wash.setAlphaF(wash_alpha);
    painter_.setBrush(wash);
    painter_.setPen(QPen(colours_.accent, width));
    painter_.drawRoundedRect(item.body.adjusted(-3, -3, 3, 3), 5, 5);
  }

  void dimensions() {
    const double y = chain_.dimension_y;
    painter_.setFont(small_font());
    for (const ChainRun& run : chain_.runs) {
      if (!seen(QRectF(run.left, 0, run.right - run.left, 1).united(run.dimension_text)))
        continue;
      const auto* picked = std::get_if<PickedRun>(&scene_.selection);
      const QColor colour = picked && picked->run == run.run ? colours_.accent : colours_.muted_text;
      painter_.setPen(QPen(colour, 1));
      painter_.setBrush(colour);
      for (const double x : {run.left, run.right})
        painter_.drawLine(QPointF(x, y - 5), QPointF(x, y + 9));
      painter_.drawLine(QPointF(run.left, y), QPointF(run.right, y));
      painter_.drawPolygon(QPolygonF{{run.left, y}, {run.left + 7, y - 2.5}, {run.left + 7, y + 2.5}});
      painter_.drawPolygon(QPolygonF{{run.right, y}, {run.right - 7, y - 2.5}, {run.right - 7, y + 2.5}});
      painter_.setPen(colours_.text);
      painter_.drawText(run.dimension_text, Qt::AlignCenter, run.dimension);
    }
  }

  void strip() {
    for (const ChainItem& item : chain_.items) {
      if (item.kind != ChainItem::Kind::piece || item.flow_right <= item.flow_left || !seen(item.body))
        continue;
      const RunResult* result = find_run(scene_.evaluation, item.run);
      const QRectF box(item.flow_left, chain_.strip_y, item.flow_right - item.flow_left, strip_height_px);
      if (!result || item.row >= result->flow.rows.size()) {
        painter_.fillRect(box, QBrush(colours_.line, Qt::BDiagPattern));
        continue;
      }
      const auto& flow = result->flow.rows[item.row];
      QLinearGradient blend(box.topLeft(), box.topRight());
      blend.setColorAt(0, band_colour(band_of(flow.inlet.station.velocity_m_s), colours_));
      blend.setColorAt(1, band_colour(band_of(flow.outlet.station.velocity_m_s), colours_));
      painter_.fillRect(box, blend);
    }
    painter_.setBrush(Qt::NoBrush);
    painter_.setPen(QPen(colours_.line, 1));
    for (const ChainRun& run : chain_.runs)
      painter_.drawRect(QRectF(run.left, chain_.strip_y, run.right - run.left, strip_height_px));
  }

  /// Above each piece: the worst that is said of it, and the angle that it turns.
  void marks() {
    constexpr double size_px = 16, above_px = 12;
    for (const ChainItem& item : chain_.items) {
      if (!seen(item.body))
        continue;
      const build::Piece* piece = piece_of(item);
      const double angle_rad = piece ? build::angle_rad(piece->shape) : 0;
      const bool turns = angle_rad > 0 && item.body.width() > 14;
      const auto severity = worst(item);
      const double aside = turns && severity ? size_px * 0.65 : 0;
      const QPointF centre(item.body.center().x(), item.body.top() - above_px);
      if (turns)
        draw_angle_mark(painter_, centre + QPointF(aside, 0), size_px, angle_rad, colours_.muted_text);
      if (severity)
        draw_badge(painter_,
                   QRectF(centre.x() - aside - size_px / 2, centre.y() - size_px / 2, size_px, size_px),
                   *severity, colours_);
    }
  }

  void labels() {
    painter_.setFont(small_font());
    const QFontMetricsF metrics(painter_.font());
    for (const ChainItem& item : chain_.items) {
      if (item.label.isNull() || !seen(item.label))
        continue;
      if (item.label.top() > chain_.label_y + 1 || item.fitting) {
        painter_.setPen(QPen(colours_.line, 1));
        painter_.drawLine(QPointF(item.body.center().x(), chain_.strip_y + strip_height_px + 2),
                          QPointF(item.body.center().x(), item.label.top() - 1));
      }
    }
    for (std::size_t i = 0; i < chain_.items.size(); ++i) {
      const ChainItem& item = chain_.items[i];
      if (item.label.isNull() || !seen(item.label))
        continue;
      // A label stands on its own ground, so that leaders pass behind it.
      painter_.fillRect(item.label.adjusted(-1, 0, 1, 0), colours_.panel);
      const QRectF first(item.label.left(), item.label.top(), item.label.width(), metrics.height());
      painter_.setPen(selected_ == i ? colours_.accent : colours_.text);
      painter_.drawText(first, Qt::AlignCenter,
                        metrics.elidedText(item.title, Qt::ElideRight, item.label.width()));
      painter_.setPen(colours_.muted_text);
      painter_.drawText(first.translated(0, metrics.height()), Qt::AlignCenter,
                        metrics.elidedText(item.size, Qt::ElideRight, item.label.width()));
    }
  }

  /// The worst that is said of an item.
  [[nodiscard]] std::optional<check::Severity> worst(const ChainItem& item) const {
    std::optional<check::Severity> found;
    for (const check::Finding& finding : scene_.evaluation.findings) {
      const auto& where = finding.where;
      const bool here =
          item.kind == ChainItem::Kind::piece
              ? where.piece && where.piece->run == item.run && where.piece->row == item.row
              : item.kind == ChainItem::Kind::machine && where.machine && *where.machine == item.machine;
      if (here && !finding.waived && finding.severity != check::Severity::note &&
          (!found || *found < finding.severity))
        found = finding.severity;
    }
    return found;
  }

  void drop_mark() {
    if (!scene_.drop)
      return;
    const double x = scene_.drop->x, top = chain_.dimension_y + 24, bottom = chain_.strip_y - 2;
    painter_.setPen(QPen(colours_.accent, 2.5, Qt::SolidLine, Qt::RoundCap));
    painter_.drawLine(QPointF(x, top), QPointF(x, bottom));
    painter_.setBrush(colours_.accent);
    painter_.setPen(Qt::NoPen);
    painter_.drawPolygon(QPolygonF{{x - 6, top - 7}, {x + 6, top - 7}, {x, top + 1}});
  }

  QPainter& painter_;
  const ChainScene& scene_;
  const ChainLayout& chain_;
  const Theme& colours_;
  QRectF clip_;
  std::optional<std::size_t> selected_;
};

} // namespace

void paint_chain(QPainter& painter, const ChainScene& scene, const QRectF& clip) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  ChainPainter(painter, scene, clip).paint();
  painter.restore();
}

void paint_velocity_key(QPainter& painter, const QRectF& box, const Theme& colours) {
  painter.save();
  painter.setFont(small_font());
  const QFontMetricsF metrics(painter.font());
  const auto speed = [](double velocity_m_s) {
    return QString::number(std::lround(in_shown_unit(quantity::Dimension::velocity, velocity_m_s)));
  };
  const auto unit = shown_unit(quantity::Dimension::velocity);
  double x = box.right();
  const double middle = box.center().y();
  for (std::size_t band = band_from_m_s.size(); band-- > 0;) {
    QString text = band + 1 < band_from_m_s.size()
                       ? speed(band_from_m_s[band]) + "–" + speed(band_from_m_s[band + 1])
                       : "over " + speed(band_from_m_s[band]) + " " +
                             QString::fromUtf8(unit.data(), static_cast<qsizetype>(unit.size()));
    if (band == 0)
      text = "below " + speed(band_from_m_s[1]);
    const double width = metrics.horizontalAdvance(text);
    x -= width;
    painter.setPen(colours.muted_text);
    painter.drawText(QRectF(x, box.top(), width + 2, box.height()), Qt::AlignVCenter | Qt::AlignLeft, text);
    x -= 20;
    painter.setPen(QPen(colours.line, 1));
    painter.setBrush(band_colour(band, colours));
    painter.drawRect(QRectF(x, middle - 3.5, 14, strip_height_px));
    x -= 12;
  }
  const QString word = "Velocity";
  painter.setPen(colours.muted_text);
  painter.drawText(QRectF(x - metrics.horizontalAdvance(word), box.top(), metrics.horizontalAdvance(word) + 2,
                          box.height()),
                   Qt::AlignVCenter | Qt::AlignLeft, word);
  painter.restore();
}

std::optional<std::size_t> selected_item(const ChainLayout& chain, const Selection& selection) {
  const auto* piece = std::get_if<PickedPiece>(&selection);
  const auto* machine = std::get_if<PickedMachine>(&selection);
  const auto* run = std::get_if<PickedRun>(&selection);
  const auto found = std::ranges::find_if(chain.items, [&](const ChainItem& item) {
    return (piece && item.kind == ChainItem::Kind::piece && item.run == piece->run &&
            item.row == piece->row) ||
           (machine && item.kind == ChainItem::Kind::machine && item.machine == machine->machine) ||
           (run && item.kind == ChainItem::Kind::empty_run && item.run == run->run);
  });
  if (found == chain.items.end())
    return std::nullopt;
  return static_cast<std::size_t>(found - chain.items.begin());
}

std::optional<Selection> selection_of(const ChainItem& item) {
  switch (item.kind) {
  case ChainItem::Kind::piece:
    return PickedPiece{item.run, item.row};
  case ChainItem::Kind::machine:
    return PickedMachine{item.machine};
  case ChainItem::Kind::empty_run:
    return PickedRun{item.run};
  case ChainItem::Kind::open_inlet:
  case ChainItem::Kind::demand:
    break;
  }
  return std::nullopt;
}

} // namespace bellmouth::ui
