// SPDX-License-Identifier: GPL-3.0-or-later
#include "figures_band.hpp"

#include "piece_text.hpp"
#include "theme.hpp"

#include <QEvent>
#include <QLabel>
#include <QPainter>

#include <algorithm>

namespace bellmouth::ui {

namespace {

constexpr int narrowest_tile_px = 146;
constexpr int padding_px = 8;
/// From here on a tile has room for the difference beside its title.
constexpr int roomy_tile_px = 170;

QColor merit_colour(int merit) {
  const Theme& colours = theme();
  return merit > 0 ? colours.good : merit < 0 ? colours.stop : colours.muted_text;
}

} // namespace

FigureTile::FigureTile(QWidget* parent) : QFrame(parent) {}

void FigureTile::show_figure(const Figure& figure, const QString& rival) {
  const bool same = rival == rival_ && figure_.key == figure.key && figure_.text() == figure.text() &&
                    figure_.detail == figure.detail &&
                    figure_.difference.has_value() == figure.difference.has_value() &&
                    (!figure.difference || figure.difference->marked() == figure_.difference->marked());
  figure_ = figure;
  rival_ = rival;
  if (same)
    return;
  setObjectName("figure_" + figure.key);
  setAccessibleName(figure.title);
  QString spoken = figure.text() + ", " + figure.detail;
  if (figure.difference)
    spoken += ", " + figure.difference->text + " against " + rival +
              (figure.difference->merit > 0   ? ", better"
               : figure.difference->merit < 0 ? ", worse"
                                              : "");
  setAccessibleDescription(spoken);
  const QString against = figure.difference
                              ? "<br>" + figure.difference->marked() + " against " + rival.toHtmlEscaped()
                              : QString();
  setToolTip("<b>" + figure.title + "</b> " + figure.text() + against + "<br>" + figure.detail + "<br>" +
             figure.tip);
  update();
}

int FigureTile::height_at(int width) const {
  const int small = QFontMetrics(small_font()).height();
  const int lines = !rival_.isEmpty() && width < roomy_tile_px ? 3 : 2;
  return 2 * padding_px + QFontMetrics(figure_font()).height() + lines * small;
}

QSize FigureTile::sizeHint() const {
  return {narrowest_tile_px, height_at(narrowest_tile_px)};
}

void FigureTile::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const Theme& colours = theme();
  painter.setPen(QPen(colours.line, 1));
  painter.setBrush(colours.panel);
  painter.drawRoundedRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5), corner, corner);

  const QRectF inside = QRectF(rect()).adjusted(padding_px, padding_px - 2, -padding_px, -padding_px + 2);
  const QFontMetricsF small(small_font()), large(figure_font());
  const auto line = [&](double y, const QString& text, const QColor& colour) {
    painter.setFont(small_font());
    painter.setPen(colour);
    painter.drawText(QRectF(inside.left(), y, inside.width(), small.height()),
                     Qt::AlignLeft | Qt::AlignVCenter,
                     small.elidedText(text, Qt::ElideRight, inside.width()));
  };
  const double value_y = inside.top() + small.height() + 1;
  const double value_width = large.horizontalAdvance(figure_.value),
               unit_width = small.horizontalAdvance(figure_.unit);
  const bool roomy = width() >= roomy_tile_px;
  double title_room = inside.width();
  if (roomy && figure_.difference && figure_.difference->merit != 0) {
    // Beside the title where both fit, else beside the value, else the title gives way.
    const QString text = figure_.difference->marked();
    const double text_width = small.horizontalAdvance(text) + gap;
    const bool by_title = small.horizontalAdvance(figure_.title) + text_width <= inside.width();
    const bool by_value = !by_title && value_width + 5 + unit_width + text_width <= inside.width();
    if (!by_value)
      title_room -= text_width;
    painter.setFont(small_font());
    painter.setPen(merit_colour(figure_.difference->merit));
    const double baseline = by_value ? value_y + large.ascent() : inside.top() + small.ascent();
    painter.drawText(QPointF(inside.right() - text_width + gap, baseline), text);
  }
  line(inside.top(), small.elidedText(figure_.title, Qt::ElideRight, title_room), colours.muted_text);
  painter.setFont(figure_font());
  painter.setPen(figure_.number ? colours.text : colours.muted_text);
  painter.drawText(QPointF(inside.left(), value_y + large.ascent()), figure_.value);
  painter.setFont(small_font());
  painter.setPen(colours.muted_text);
  const double room = inside.width() - value_width - 5;
  painter.drawText(QPointF(inside.left() + value_width + 5, value_y + large.ascent()),
                   small.elidedText(figure_.unit, Qt::ElideRight, room));
  const double last_y = value_y + large.height() + 1;
  line(last_y, figure_.detail, colours.muted_text);
  if (figure_.difference && !roomy)
    line(last_y + small.height(), figure_.difference->marked(), merit_colour(figure_.difference->merit));
}

FiguresBand::FiguresBand(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), trouble_(new QLabel(this)), against_(new QLabel(this)) {
  setObjectName("figures_band");
  setAccessibleName("Figures");
  QSizePolicy policy(QSizePolicy::Preferred, QSizePolicy::Fixed);
  policy.setHeightForWidth(true);
  setSizePolicy(policy);
  trouble_->setObjectName("figures_trouble");
  trouble_->setWordWrap(true);
  trouble_->setMargin(gap);
  against_->setObjectName("figures_against");
  against_->setFont(small_font());
  against_->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Changes(Change::document) | Change::evaluation | Change::rival | Change::weighing |
                   Change::purchase))
      refresh();
  });
  colour_trouble();
  refresh();
}

QSize FiguresBand::sizeHint() const {
  return {1200, heightForWidth(1200)};
}
QSize FiguresBand::minimumSizeHint() const {
  return {2 * narrowest_tile_px, tile_height(2 * narrowest_tile_px)};
}

int FiguresBand::tile_height(int width) const {
  return tiles_.empty() ? 0 : tiles_.front()->height_at((width + gap) / columns(width) - gap);
}

int FiguresBand::columns(int width) const {
  const int count = static_cast<int>(tiles_.size());
  const int most = std::clamp((width + gap) / (narrowest_tile_px + gap), 1, std::max(count, 1));
  // Rows of even length: no row with a single tile under a full one.
  const int rows = (count + most - 1) / most;
  return rows > 0 ? (count + rows - 1) / rows : 1;
}

int FiguresBand::heightForWidth(int width) const {
  const int across = columns(width), rows = (static_cast<int>(tiles_.size()) + across - 1) / across;
  const int words = trouble_->text().isEmpty() ? 0 : trouble_->heightForWidth(width) + gap;
  const int against = against_->text().isEmpty() ? 0 : QFontMetrics(small_font()).height();
  return words + rows * (tile_height(width) + gap) - gap + against;
}

void FiguresBand::place_tiles() {
  int y = 0;
  trouble_->setVisible(!trouble_->text().isEmpty());
  if (!trouble_->text().isEmpty()) {
    trouble_->setGeometry(0, 0, width(), trouble_->heightForWidth(width()));
    y = trouble_->height() + gap;
  }
  const int across = columns(width()), height = tile_height(width());
  const int rows = (static_cast<int>(tiles_.size()) + across - 1) / across;
  for (int row = 0, index = 0; row < rows; ++row)
    for (int column = 0; column < across && index < static_cast<int>(tiles_.size()); ++column, ++index) {
      const int left = column * (width() + gap) / across,
                right = (column + 1) * (width() + gap) / across - gap;
      tiles_[static_cast<std::size_t>(index)]->setGeometry(left, y + row * (height + gap), right - left,
                                                           height);
    }
  against_->setVisible(!against_->text().isEmpty());
  against_->setGeometry(0, y + rows * (height + gap) - gap, width(), QFontMetrics(small_font()).height());
}

void FiguresBand::refresh() {
  // The bands follow at once; until then the old ones stand rather than flicker.
  const bool due = session_.weighing_is_due();
  const Evaluation* rival_evaluation = session_.rival_evaluation();
  std::optional<Known> other;
  if (rival_evaluation != nullptr)
    other.emplace(
        Known{*rival_evaluation, nullptr, session_.last_rival_purchase(), session_.rival_findings()});
  auto all = figures(session_.build(),
                     {session_.evaluation(), due ? nullptr : session_.weighing(), session_.last_purchase(),
                      session_.findings()},
                     other ? &*other : nullptr);
  const QString words = trouble(session_.evaluation());
  const QString rival = rival_evaluation ? option_name(rival_evaluation->option) : QString();
  const QString against = rival.isEmpty() ? QString() : "✓ better, ✗ worse than " + rival;
  const int height = tile_height(width());
  const bool other_count = all.size() != tiles_.size();
  while (tiles_.size() > all.size()) {
    delete tiles_.back();
    tiles_.pop_back();
  }
  while (tiles_.size() < all.size()) {
    tiles_.push_back(new FigureTile(this));
    tiles_.back()->show();
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Figure& before = tiles_[i]->figure();
    if (due && all[i].has_band && before.key == all[i].key && !before.band.isEmpty())
      all[i].detail = before.detail;
    tiles_[i]->show_figure(all[i], rival);
  }
  if (!other_count && words == trouble_->text() && against == against_->text() &&
      height == tile_height(width()))
    return;
  trouble_->setText(words);
  against_->setText(against);
  place_tiles();
  updateGeometry();
}

void FiguresBand::colour_trouble() {
  const Theme& colours = theme();
  trouble_->setStyleSheet(QString("color: %1; background: %2; border: 1px solid %1; border-radius: %3px;")
                              .arg(colours.stop.name(), colours.panel.name())
                              .arg(corner));
}

void FiguresBand::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  place_tiles();
}

void FiguresBand::changeEvent(QEvent* event) {
  QWidget::changeEvent(event);
  if (event->type() == QEvent::PaletteChange)
    colour_trouble();
}

} // namespace bellmouth::ui
