// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_canvas.hpp"

#include "piece_text.hpp"
#include "quantity_edit.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QFileInfo>
#include <QHelpEvent>
#include <QPainter>
#include <QToolTip>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

constexpr int rest_ms = 150;
constexpr int pick_reach_px = 4;

} // namespace

BayCanvas::BayCanvas(Session& session, QWidget* parent) : QWidget(parent), session_(session) {
  setObjectName("bay_canvas");
  setAccessibleName("Bay");
  setFocusPolicy(Qt::StrongFocus);
  setMouseTracking(true);
  setAcceptDrops(true);
  setAttribute(Qt::WA_OpaquePaintEvent);
  camera_ = camera_.seen_from(scene::StandardView::slanted);
  rest_timer_.setSingleShot(true);
  rest_timer_.setInterval(rest_ms);
  connect(&rest_timer_, &QTimer::timeout, this, &BayCanvas::rest);
  connect(&session_, &Session::changed, this, &BayCanvas::on_changed);
  refresh_scene();
}

BayCanvas::~BayCanvas() = default;

QSize BayCanvas::sizeHint() const {
  return {900, 520};
}
QSize BayCanvas::minimumSizeHint() const {
  return {320, 150};
}

// ---------------------------------------------------------------- what is drawn

void BayCanvas::on_changed(Changes changes) {
  if (changes & (Changes(Change::document) | Change::evaluation | Change::bay_state) && !isVisible())
    stale_ = true;
  else if (changes & (Changes(Change::document) | Change::evaluation | Change::bay_state))
    refresh_scene();
  else if (changes & Change::selection && !stale_) {
    scene_.mark(session_.build(), session_.selection());
    redraw();
  }
  // Somebody else has taken the preview away: undo, or another edit.
  if (changes & Change::document && drag_ && drag_->moved && !session_.previewing())
    abandon_drag();
  if (changes & Change::selection)
    next_grip_ = 0;
  if (changes & Change::file)
    photographs_.forget();
}

void BayCanvas::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (stale_)
    refresh_scene();
}

void BayCanvas::refresh_scene() {
  stale_ = false;
  scene_.refresh(session_, colouring_, theme().look == Look::dark);
  hovered_ = 0;
  setAccessibleDescription(ports_measured() ? meeting_lines(session_.evaluation()).join(". ")
                                            : "Ports are not measured yet");
  // The picture stays still while something is dragged.
  if (fitted_ && !session_.previewing())
    fit_all();
  redraw();
}

bool BayCanvas::ports_measured() const {
  return std::ranges::any_of(session_.build().ports,
                             [](const build::Port& port) { return port.pose.has_value(); });
}

void BayCanvas::redraw() {
  drawn_ = false;
  quality_ = scene::Quality::dragging;
  rest_timer_.start();
  update();
}

void BayCanvas::rest() {
  if (press_ || drag_ || session_.previewing()) {
    rest_timer_.start();
    return;
  }
  quality_ = scene::Quality::resting;
  drawn_ = false;
  update();
}

bool BayCanvas::drawn_at_rest() const {
  return drawn_ && quality_ == scene::Quality::resting;
}

std::optional<scene::SectionPlane> BayCanvas::section_plane() const {
  const auto extent = scene_.extent();
  if (!section_ || !extent)
    return std::nullopt;
  const std::size_t axis = section_->axis;
  scene::SectionPlane plane;
  plane.point_m = extent->low;
  plane.point_m[axis] = std::lerp(extent->low[axis], extent->high[axis], section_->share);
  plane.normal = {0, 0, 0};
  plane.normal[axis] = section_->other_side ? -1 : 1;
  return plane;
}

void BayCanvas::draw_picture() {
  if (!renderer_) {
    scene::MadeRenderer made = scene::make_renderer();
    renderer_ = std::move(made.renderer);
    renderer_missing_ = made.missing;
  }
  const double ratio = devicePixelRatioF();
  const QSize size_px = (QSizeF(size()) * ratio).toSize();
  scene::DrawOptions options = theme().look == Look::dark ? scene::dark_options(size_px, quality_)
                                                          : scene::light_options(size_px, quality_);
  options.device_pixel_ratio = ratio;
  options.selected = theme().accent.rgb();
  options.section = section_plane();
  const bool photographs = photographs_shown_ && photographs_.any_shown(session_.build(), lookout());
  picture_ = photographs ? renderer_->draw(scene_.without_planes(), camera_, options)
                         : renderer_->draw(scene_.scene(), camera_, options);
  if (photographs) {
    // The photograph lies under all that was drawn.
    QImage cut = picture_.image.convertToFormat(QImage::Format_ARGB32_Premultiplied);
    for (int y = 0; y < cut.height(); ++y) {
      auto* line = reinterpret_cast<QRgb*>(cut.scanLine(y)); // NOLINT(*-reinterpret-cast)
      const std::size_t row = static_cast<std::size_t>(y) * static_cast<std::size_t>(cut.width());
      for (int x = 0; x < cut.width(); ++x)
        if (picture_.ids[row + static_cast<std::size_t>(x)] == 0)
          line[x] = 0;
    }
    QImage whole = picture_.image.copy();
    whole.setDevicePixelRatio(ratio);
    cut.setDevicePixelRatio(ratio);
    QPainter painter(&whole);
    const QString folder = QFileInfo(session_.file()).absolutePath();
    photographs_.paint(painter, session_.build(), folder, lookout());
    painter.drawImage(QPointF(0, 0), cut);
    painter.end();
    picture_.image = whole;
    for (const QString& problem : photographs_.problems())
      emit message(problem);
  }
  drawn_ = true;
}

void BayCanvas::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  const Theme& colours = theme();
  if (!scene_.extent()) {
    paint_empty(painter);
    return;
  }
  if (!drawn_)
    draw_picture();
  painter.drawImage(QPointF(0, 0), picture_.image);
  paint_hover(painter);
  const BayLookout looked = lookout();
  BayOverlay overlay{session_,        looked, colours,        tight_places(session_, scene_.clearances()),
                     scene_.legend(), {},     section_plane()};
  if (roll_share(session_) != 0 && session_.picked_piece())
    overlay.corner_words = tr("The engine has rolled: pieces are dragged in the bay at rest");
  paint_overlay(painter, overlay);
  if (drag_)
    paint_grips(painter, {drag_->grip}, 0, drag_words(), !drag_->refused.isEmpty(), looked, colours);
  else if (!measuring_)
    paint_grips(painter, grips(), hovered_grip_, {}, false, looked, colours);
  std::vector<build::Vector> line = measured_;
  if (line.size() == 1 && measure_end_)
    line.push_back(*measure_end_);
  paint_measure(painter, line, looked, colours);
  if (drop_)
    paint_drop(painter, camera_.project(drop_->at_m, looked.viewport).pixel, colours);
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(hasFocus() ? colours.accent : colours.line, 1));
  painter.drawRect(rect().adjusted(0, 0, -1, -1));
}

void BayCanvas::paint_empty(QPainter& painter) const {
  painter.fillRect(rect(), theme().panel);
  painter.setPen(theme().line);
  painter.drawRect(rect().adjusted(0, 0, -1, -1));
}

void BayCanvas::paint_hover(QPainter& painter) {
  if (hovered_ == 0 || press_ || drag_)
    return;
  // The picture says which of its pixels belong to the thing: a tint over those, a rim round them.
  const QImage& image = picture_.image;
  QImage tint(image.size(), QImage::Format_ARGB32_Premultiplied);
  tint.fill(0);
  QColor fill = theme().accent;
  fill.setAlphaF(0.18F);
  const QRgb inside = qPremultiply(fill.rgba()), rim = theme().accent.rgb();
  const int width = image.width(), height = image.height();
  const auto is_it = [&](int x, int y) {
    return x >= 0 && y >= 0 && x < width && y < height &&
           picture_.ids[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                        static_cast<std::size_t>(x)] == hovered_;
  };
  for (int y = 0; y < height; ++y) {
    auto* line = reinterpret_cast<QRgb*>(tint.scanLine(y)); // NOLINT(*-reinterpret-cast)
    for (int x = 0; x < width; ++x)
      if (is_it(x, y)) {
        const bool edge = !is_it(x - 1, y) || !is_it(x + 1, y) || !is_it(x, y - 1) || !is_it(x, y + 1);
        line[x] = edge ? rim : inside;
      }
  }
  tint.setDevicePixelRatio(image.devicePixelRatio());
  painter.drawImage(QPointF(0, 0), tint);
}

// ---------------------------------------------------------------- how it is looked at

BayLookout BayCanvas::lookout() const {
  return {camera_, QSizeF(size())};
}

std::vector<BayGrip> BayCanvas::grips() const {
  // Where the engine has rolled the pieces do not stand where their lengths say.
  return roll_share(session_) == 0 ? grips_of(session_, lookout()) : std::vector<BayGrip>();
}

void BayCanvas::set_camera(const scene::Camera& camera) {
  if (camera == camera_)
    return;
  const bool turned = camera.perspective != camera_.perspective;
  camera_ = camera;
  redraw();
  if (turned)
    emit look_changed();
}

void BayCanvas::fit_all() {
  fitted_ = true;
  if (width() > 0 && height() > 0)
    set_camera(scene_.fitted(camera_, size()));
}

void BayCanvas::fit_selection() {
  if (!scene_.extent_of(session_.build(), session_.selection())) {
    fit_all();
    return;
  }
  fitted_ = false;
  set_camera(scene_.fitted_to(session_.build(), session_.selection(), camera_, size()));
}

void BayCanvas::look_from(scene::StandardView view) {
  set_camera(camera_.seen_from(view));
  if (fitted_)
    fit_all();
}

void BayCanvas::set_perspective(bool perspective) {
  scene::Camera camera = camera_;
  camera.perspective = perspective;
  set_camera(camera);
  if (fitted_)
    fit_all();
}

void BayCanvas::set_section(const std::optional<BaySection>& section) {
  if (section == section_)
    return;
  section_ = section;
  redraw();
  emit look_changed();
}

void BayCanvas::set_colouring(BayColouring colouring) {
  colouring_ = colouring;
  refresh_scene();
  emit look_changed();
}

void BayCanvas::set_photographs_shown(bool shown) {
  photographs_shown_ = shown;
  redraw();
  emit look_changed();
}

void BayCanvas::set_measuring(bool measuring) {
  if (measuring == measuring_)
    return;
  measuring_ = measuring;
  measured_.clear();
  measure_end_.reset();
  measuring ? setCursor(Qt::CrossCursor) : unsetCursor();
  update();
  emit look_changed();
}

void BayCanvas::zoom_by(double factor) {
  fitted_ = false;
  set_camera(camera_.zoomed_about(QRectF(rect()).center(), factor, size()));
}

void BayCanvas::show_ghost(std::shared_ptr<const RouteGhost> ghost) {
  if (ghost == nullptr && scene_.ghost() == nullptr)
    return;
  scene_.set_ghost(std::move(ghost), theme().accent.rgb());
  redraw();
}

void BayCanvas::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  if (fitted_)
    fit_all();
  redraw();
}

void BayCanvas::changeEvent(QEvent* event) {
  QWidget::changeEvent(event);
  if (event->type() == QEvent::PaletteChange)
    isVisible() ? refresh_scene() : static_cast<void>(stale_ = true);
}

// ---------------------------------------------------------------- what stands where

QPoint BayCanvas::device_pixel(QPointF point) const {
  const QPointF device = point * devicePixelRatioF();
  return {static_cast<int>(std::floor(device.x())), static_cast<int>(std::floor(device.y()))};
}

std::uint32_t BayCanvas::id_at(QPointF point) const {
  if (picture_.image.isNull() || !scene_.extent())
    return 0;
  // The nearest thing within reach that is not ground, so that thin things can be picked before a plane too.
  const QPoint middle = device_pixel(point);
  const int reach = static_cast<int>(std::lround(pick_reach_px * devicePixelRatioF()));
  std::uint32_t found = picture_.id_at(middle);
  int nearest = reach * reach + 1;
  for (int y = -reach; y <= reach && scene_.is_ground(picture_.id_at(middle)); ++y)
    for (int x = -reach; x <= reach; ++x)
      if (const std::uint32_t id = picture_.id_at(middle + QPoint(x, y));
          x * x + y * y < nearest && !scene_.is_ground(id)) {
        nearest = x * x + y * y;
        found = id;
      }
  return found;
}

std::optional<build::Vector> BayCanvas::point_at(QPointF point) const {
  return picture_.image.isNull() || !scene_.extent() ? std::nullopt : picture_.point_at(device_pixel(point));
}

bool BayCanvas::event(QEvent* event) {
  if (event->type() != QEvent::ToolTip)
    return QWidget::event(event);
  const auto* help = static_cast<const QHelpEvent*>(event);
  const build::Build& build = session_.build();
  QString text;
  const std::uint32_t id = id_at(help->pos());
  if (const scene::Part* part = scene_.part_of(id); part && !scene_.is_ground(id) && !press_ && !drag_) {
    switch (part->kind) {
    case scene::Part::Kind::piece:
    case scene::Part::Kind::clamp: {
      const build::Piece* piece = build::find(build, {session_.option(), part->run, part->row});
      const RunResult* result = find_run(session_.evaluation(), part->run);
      if (piece && result)
        text = piece_tip(*piece, *result, part->row);
      if (const QString near = clearance_words(session_, scene_.clearances(), part->run, part->row);
          !near.isEmpty())
        text += "<br>" + near.toHtmlEscaped();
      break;
    }
    case scene::Part::Kind::port:
    case scene::Part::Kind::arrow:
      text = QString("port <b>%1</b>").arg(QString::fromStdString(part->port.text).toHtmlEscaped());
      break;
    case scene::Part::Kind::keep_out:
    case scene::Part::Kind::scan: {
      const build::KeepOut& keep_out = build.keep_outs[part->keep_out];
      text = QString("keep-out <b>%1</b><br>%2 to be kept clear")
                 .arg(QString::fromStdString(keep_out.name).toHtmlEscaped(),
                      show_length(build.clearance_m(keep_out)));
      break;
    }
    }
  }
  text.isEmpty() ? QToolTip::hideText() : QToolTip::showText(help->globalPos(), text, this);
  return true;
}

} // namespace bellmouth::ui
