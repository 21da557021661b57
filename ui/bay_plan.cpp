// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_plan.hpp"

#include "keep_out_outline.hpp"

#include <QApplication>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QStringList>
#include <QToolTip>
#include <QWheelEvent>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

constexpr double lowest_scale_px_m = 30, highest_scale_px_m = 8000;
constexpr double margin_px = 46;

} // namespace

BayPlan::BayPlan(Session& session, QWidget* parent) : QWidget(parent), session_(session) {
  setObjectName("bay_plan");
  setAccessibleName("Bay");
  setFocusPolicy(Qt::StrongFocus);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Change::document | Change::evaluation))
      refresh();
    else if (changes & Change::selection)
      update();
  });
  refresh();
}

QSize BayPlan::sizeHint() const {
  return {900, 420};
}
QSize BayPlan::minimumSizeHint() const {
  return {320, 160};
}

void BayPlan::refresh() {
  pieces_ = placed_pieces(session_.build(), session_.evaluation());
  extent_ = bay_extent(session_.build(), pieces_);
  setAccessibleDescription(extent_ ? meeting_lines(session_.evaluation()).join(". ")
                                   : "Ports are not measured yet");
  // The picture stays still while a build that fits is worked on.
  if (fitted_ && !session_.previewing())
    zoom_to_fit();
  update();
}

int BayPlan::words_height() const {
  return QFontMetrics(small_font()).height() + 2 * gap;
}

std::array<BayPane, 2> BayPlan::panes() const {
  const double width = (this->width() - gap) / 2.0, height = this->height() - words_height();
  return {BayPane{BaySide::above, QRectF(0, 0, width, height), middle_m_, scale_px_m_},
          BayPane{BaySide::side, QRectF(width + gap, 0, width, height), middle_m_, scale_px_m_}};
}

void BayPlan::zoom_to_fit() {
  fitted_ = true;
  if (!extent_)
    return;
  const auto size = [&](std::size_t axis) {
    return std::max(extent_->high_m[axis] - extent_->low_m[axis], 0.05);
  };
  const QRectF box = panes()[0].box;
  const double across = std::max(box.width() - 2 * margin_px, 40.0),
               up = std::max(box.height() - 2 * margin_px, 40.0);
  scale_px_m_ = std::clamp(std::min(across / size(0), up / std::max(size(1), size(2))), lowest_scale_px_m,
                           highest_scale_px_m);
  for (std::size_t axis = 0; axis < 3; ++axis)
    middle_m_[axis] = (extent_->low_m[axis] + extent_->high_m[axis]) / 2;
  update();
}

const BayPane* BayPlan::pane_at(const std::array<BayPane, 2>& all, QPointF point) const {
  const auto found = std::ranges::find_if(all, [&](const BayPane& pane) { return pane.box.contains(point); });
  return found == all.end() ? nullptr : &*found;
}

void BayPlan::move_by(const BayPane& pane, QPointF px) {
  fitted_ = false;
  middle_m_[0] -= px.x() / scale_px_m_;
  middle_m_[pane.side == BaySide::above ? 1 : 2] += px.y() / scale_px_m_;
  update();
}

void BayPlan::zoom_about(QPointF point, double factor) {
  const auto all = panes();
  const BayPane* pane = pane_at(all, point);
  if (!pane)
    return;
  const double before = scale_px_m_;
  scale_px_m_ = std::clamp(before * factor, lowest_scale_px_m, highest_scale_px_m);
  // What is under the pointer stays there.
  const QPointF from_middle = point - pane->box.center();
  move_by(*pane, from_middle - from_middle * (scale_px_m_ / before));
}

void BayPlan::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  const Theme& colours = theme();
  painter.fillRect(rect(), colours.background);
  if (!extent_) {
    painter.fillRect(rect(), colours.panel);
    painter.setPen(colours.muted_text);
    painter.drawText(rect().adjusted(40, 20, -40, -20), Qt::AlignCenter | Qt::TextWordWrap,
                     "Ports are not measured yet.\nPick a machine or a run in the path and tick “Position "
                     "measured” under its port: the runs that start there are drawn here.");
    return;
  }
  const BayScene scene{session_.build(), session_.evaluation(), pieces_, session_.selection(), colours};
  for (const BayPane& pane : panes())
    paint_bay(painter, scene, pane);
  painter.setFont(small_font());
  painter.setPen(colours.text);
  const QRect words(gap, height() - words_height(), width() - 2 * gap, words_height());
  painter.drawText(words, Qt::AlignLeft | Qt::AlignVCenter,
                   painter.fontMetrics().elidedText(meeting_lines(session_.evaluation()).join("   ·   "),
                                                    Qt::ElideRight, words.width()));
  if (hasFocus()) {
    painter.setPen(QPen(colours.accent, 1));
    painter.drawRect(rect().adjusted(0, 0, -1, -1));
  }
}

bool BayPlan::event(QEvent* event) {
  if (event->type() != QEvent::ToolTip)
    return QWidget::event(event);
  const auto* help = static_cast<const QHelpEvent*>(event);
  const auto all = panes();
  const BayPane* pane = pane_at(all, help->pos());
  const QString name = pane && extent_ ? keep_out_at(session_.build(), *pane, help->pos()) : QString();
  name.isEmpty() ? QToolTip::hideText() : QToolTip::showText(help->globalPos(), name, this);
  return true;
}

void BayPlan::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  if (fitted_)
    zoom_to_fit();
}

void BayPlan::changeEvent(QEvent* event) {
  QWidget::changeEvent(event);
  if (event->type() == QEvent::PaletteChange)
    update();
}

void BayPlan::wheelEvent(QWheelEvent* event) {
  zoom_about(event->position(), std::pow(1.0015, event->angleDelta().y()));
  event->accept();
}

void BayPlan::mousePressEvent(QMouseEvent* event) {
  pressed_ = event->position();
  moved_from_.reset();
}

void BayPlan::mouseMoveEvent(QMouseEvent* event) {
  if (!pressed_)
    return;
  const QPointF now = event->position();
  if (!moved_from_ && (now - *pressed_).manhattanLength() < QApplication::startDragDistance())
    return;
  const QPointF before = moved_from_.value_or(*pressed_);
  const auto all = panes();
  if (const BayPane* pane = pane_at(all, *pressed_))
    move_by(*pane, now - before);
  moved_from_ = now;
}

void BayPlan::mouseReleaseEvent(QMouseEvent* event) {
  const auto all = panes();
  const BayPane* pane = pane_at(all, event->position());
  if (pressed_ && !moved_from_ && pane) {
    const auto piece = piece_at(pieces_, *pane, event->position());
    session_.select(piece ? Selection(*piece) : Selection());
  }
  pressed_.reset();
  moved_from_.reset();
}

void BayPlan::mouseDoubleClickEvent(QMouseEvent* event) {
  const auto all = panes();
  const BayPane* pane = pane_at(all, event->position());
  if (pane && piece_at(pieces_, *pane, event->position()))
    emit edit_requested();
  else
    zoom_to_fit();
}

void BayPlan::keyPressEvent(QKeyEvent* event) {
  constexpr double zoom_step = 1.25;
  const QPointF centre = panes()[0].box.center();
  switch (event->key()) {
  case Qt::Key_Plus:
  case Qt::Key_Equal:
    zoom_about(centre, zoom_step);
    break;
  case Qt::Key_Minus:
    zoom_about(centre, 1 / zoom_step);
    break;
  case Qt::Key_F:
    zoom_to_fit();
    break;
  default:
    QWidget::keyPressEvent(event);
  }
}

} // namespace bellmouth::ui
