// SPDX-License-Identifier: GPL-3.0-or-later
// Mouse and keys on the bay: looking round, picking, measuring.
#include "bay_canvas.hpp"
#include "quantity_edit.hpp"

#include <QApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QWheelEvent>

#include <algorithm>
#include <array>
#include <cmath>

namespace bellmouth::ui {

void BayCanvas::wheelEvent(QWheelEvent* event) {
  fitted_ = false;
  set_camera(camera_.zoomed_about(event->position(), std::pow(1.0015, event->angleDelta().y()), size()));
  event->accept();
}

void BayCanvas::mousePressEvent(QMouseEvent* event) {
  if (drag_ || press_)
    return;
  const QPointF point = event->position();
  if (event->button() == Qt::LeftButton && !measuring_) {
    const std::vector<BayGrip> all = grips();
    if (const auto grip = grip_at(all, lookout(), point)) {
      begin_drag(all[*grip], point);
      return;
    }
  }
  press_ = Press{point, point, event->button(), false,
                 scene_.is_ground(id_at(point)) ? std::nullopt : point_at(point)};
}

void BayCanvas::mouseMoveEvent(QMouseEvent* event) {
  if (drag_) {
    if (field_ == nullptr)
      drag_to(event->position(), event->modifiers() & Qt::ShiftModifier);
  } else if (press_) {
    pull(*event);
  } else {
    hover(event->position());
  }
}

void BayCanvas::pull(const QMouseEvent& event) {
  const QPointF now = event.position();
  if (!press_->moved && (now - press_->at).manhattanLength() < QApplication::startDragDistance())
    return;
  const QPointF pulled = now - press_->before;
  press_->moved = true;
  press_->before = now;
  hovered_ = 0;
  const build::Vector pivot = press_->pivot_m.value_or(camera_.target_m);
  if (event.modifiers() & Qt::ShiftModifier) {
    fitted_ = false;
    set_camera(camera_.panned_at(pivot, pulled, size()));
  } else {
    // A fitted picture stays fitted while it is turned about its middle only.
    fitted_ = fitted_ && !press_->pivot_m;
    set_camera(camera_.orbited_about(pivot, pulled, size()));
  }
}

void BayCanvas::hover(QPointF point) {
  if (measuring_) {
    measure_end_ = measured_.size() == 1 ? point_at(point) : std::nullopt;
    update();
    return;
  }
  const auto grip = grip_at(grips(), lookout(), point);
  const std::uint32_t under = grip ? 0 : id_at(point), id = scene_.is_ground(under) ? 0 : under;
  if (grip == hovered_grip_ && id == hovered_)
    return;
  hovered_grip_ = grip;
  hovered_ = id;
  setCursor(grip ? Qt::SizeAllCursor : id != 0 ? Qt::PointingHandCursor : Qt::ArrowCursor);
  update();
}

void BayCanvas::leaveEvent(QEvent* event) {
  QWidget::leaveEvent(event);
  hovered_ = 0;
  hovered_grip_.reset();
  update();
}

void BayCanvas::mouseReleaseEvent(QMouseEvent* event) {
  if (drag_) {
    // What is typed counts once it is accepted.
    if (event->button() == Qt::LeftButton && field_ == nullptr)
      end_drag(true);
    return;
  }
  if (!press_ || event->button() != press_->button)
    return;
  const bool moved = press_->moved;
  press_.reset();
  rest_timer_.start();
  if (moved)
    return;
  if (event->button() == Qt::LeftButton) {
    click(event->position());
  } else if (event->button() == Qt::RightButton) {
    session_.select(scene_.selection_of(id_at(event->position())).value_or(Selection{}));
    show_menu(event->globalPosition().toPoint(), point_at(event->position()));
  }
}

void BayCanvas::click(QPointF point) {
  if (!measuring_) {
    session_.select(scene_.selection_of(id_at(point)).value_or(Selection{}));
    return;
  }
  const auto at = point_at(point);
  if (!at) {
    emit message("Nothing is there to measure from: click on a thing");
    return;
  }
  if (measured_.size() == 2)
    measured_.clear();
  measured_.push_back(*at);
  measure_end_.reset();
  if (measured_.size() == 2)
    emit message(distance_words(measured_[0], measured_[1]));
  update();
}

void BayCanvas::mouseDoubleClickEvent(QMouseEvent* event) {
  if (event->button() != Qt::LeftButton || measuring_) {
    mousePressEvent(event);
    return;
  }
  if (!scene_.is_ground(id_at(event->position())))
    emit edit_requested();
  else
    fit_all();
}

void BayCanvas::step_selection(int step) {
  std::vector<Selection> pieces;
  for (const scene::Solid& solid : scene_.solids())
    if (solid.part.kind == scene::Part::Kind::piece)
      pieces.emplace_back(PickedPiece{solid.part.run, solid.part.row});
  if (pieces.empty())
    return;
  const auto found = std::ranges::find(pieces, session_.selection());
  const auto count = std::ssize(pieces);
  const auto now = found == pieces.end() ? (step > 0 ? -1 : count) : found - pieces.begin();
  session_.select(pieces[static_cast<std::size_t>((now + step + count) % count)]);
}

void BayCanvas::keyPressEvent(QKeyEvent* event) {
  const bool shift = event->modifiers() & Qt::ShiftModifier;
  if (drag_ && event->key() == Qt::Key_Escape) {
    end_drag(false);
    return;
  }
  if (drag_) {
    if (const QString text = event->text();
        !text.isEmpty() && (text[0].isDigit() || text[0] == '-' || text[0] == '.' || text[0] == ','))
      type_value(text);
    return;
  }
  if (event->modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier)) {
    event->ignore();
    return;
  }
  constexpr double zoom_step = 1.25;
  const double turn_px = height() / 24.0; // 7.5 degrees
  const auto turn = [&](double x, double y) {
    const QPointF pulled(x * turn_px, y * turn_px);
    if (shift)
      fitted_ = false;
    set_camera(shift ? camera_.panned(pulled, size()) : camera_.orbited(pulled, size()));
  };
  using enum scene::StandardView;
  constexpr std::array views{slanted, front, rear, left, right, above, below};
  switch (event->key()) {
  case Qt::Key_Left:
    turn(-1, 0);
    break;
  case Qt::Key_Right:
    turn(1, 0);
    break;
  case Qt::Key_Up:
    turn(0, -1);
    break;
  case Qt::Key_Down:
    turn(0, 1);
    break;
  case Qt::Key_Plus:
  case Qt::Key_Equal:
    zoom_by(zoom_step);
    break;
  case Qt::Key_Minus:
    zoom_by(1 / zoom_step);
    break;
  case Qt::Key_F:
    shift ? fit_selection() : fit_all();
    break;
  case Qt::Key_P:
    set_perspective(!camera_.perspective);
    break;
  case Qt::Key_M:
    set_measuring(!measuring_);
    break;
  case Qt::Key_G:
    type_next_value();
    break;
  case Qt::Key_PageDown:
    step_selection(1);
    break;
  case Qt::Key_PageUp:
    step_selection(-1);
    break;
  case Qt::Key_Return:
  case Qt::Key_Enter:
    emit edit_requested();
    break;
  case Qt::Key_Escape:
    if (measuring_)
      set_measuring(false);
    else
      session_.select(std::monostate{});
    break;
  default:
    if (event->key() >= Qt::Key_0 && event->key() <= Qt::Key_6)
      look_from(views[static_cast<std::size_t>(event->key() - Qt::Key_0)]);
    else
      event->ignore();
  }
}

} // namespace bellmouth::ui
