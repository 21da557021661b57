// SPDX-License-Identifier: GPL-3.0-or-later
// Dragging the grips of the picked piece, and typing a value on the way.
#include "bay_canvas.hpp"
#include "piece_text.hpp"
#include "quantity_edit.hpp"
#include "units.hpp"

#include <QKeyEvent>
#include <QLineEdit>

#include <cmath>
#include <numbers>

namespace bellmouth::ui {

void BayCanvas::begin_drag(const BayGrip& grip, QPointF point) {
  const auto* picked = std::get_if<PickedPiece>(&session_.selection());
  if (picked == nullptr)
    return;
  const QPointF at = camera_.project(grip.place_m, size()).pixel;
  drag_ = GripDrag{{session_.option(), picked->run, picked->row},
                   session_.build(),
                   grip,
                   at - point,
                   grip.value,
                   false,
                   {}};
  update();
}

void BayCanvas::drag_to(QPointF point, bool fine) {
  const double raw = value_at(drag_->grip, lookout(), point + drag_->off, drag_->shown);
  if (!drag_->moved && std::abs(raw - drag_->grip.value) < 0.5 * snap_step(drag_->grip.which, fine))
    return;
  drag_->moved = true;
  double value = snapped(drag_->grip.which, raw, fine);
  if (drag_->grip.which == GripValue::clocking)
    value = std::remainder(value, 2 * std::numbers::pi);
  if (value != drag_->shown || !drag_->refused.isEmpty())
    try_value(value);
}

void BayCanvas::try_value(double value) {
  build::Piece piece = *build::find(drag_->base, drag_->piece);
  piece.shape = with_value(std::move(piece.shape), drag_->grip.which, value);
  build::Build next = build::with_piece_replaced(drag_->base, drag_->piece, std::move(piece));
  if (const auto error = build::validate(next)) {
    drag_->refused = complaint(*error);
  } else {
    drag_->refused.clear();
    drag_->shown = value;
    drag_->moved = true;
    drag_->grip.place_m = drag_->grip.at(value);
    session_.preview(std::move(next));
  }
  update();
}

void BayCanvas::end_drag(bool keep) {
  close_field();
  const GripDrag drag = *std::exchange(drag_, std::nullopt);
  if (session_.previewing()) {
    if (keep && drag.shown != drag.grip.value)
      session_.commit_preview(
          QString("Change %1 of %2")
              .arg(grip_name(drag.grip.which), piece_title(*build::find(drag.base, drag.piece))));
    else
      session_.cancel_preview();
  }
  if (keep && !drag.refused.isEmpty())
    emit message(drag.refused);
  redraw();
}

QString BayCanvas::drag_words() const {
  if (!drag_->refused.isEmpty())
    return drag_->refused;
  return grip_name(drag_->grip.which) + " " +
         (is_angle(drag_->grip.which) ? show_angle(drag_->shown) : show_length(drag_->shown));
}

void BayCanvas::type_value(const QString& first) {
  const bool angle = is_angle(drag_->grip.which);
  if (field_ == nullptr) {
    field_ =
        new QuantityEdit(quantity_of(angle ? quantity::Dimension::angle : quantity::Dimension::length), this);
    field_->set_names("grip_value", grip_name(drag_->grip.which));
    field_->setAutoFillBackground(true);
    field_->line()->installEventFilter(this);
  }
  field_->set_value(drag_->shown);
  if (!first.isEmpty())
    field_->line()->setText(first);
  field_->resize(150, field_->sizeHint().height());
  const QPointF at = camera_.project(drag_->grip.place_m, size()).pixel;
  field_->move(std::clamp(static_cast<int>(at.x()) - 75, 2, std::max(2, width() - 152)),
               std::clamp(static_cast<int>(at.y()) + 14, 2, std::max(2, height() - 60)));
  field_->show();
  field_->setFocus(Qt::OtherFocusReason);
  if (first.isEmpty())
    field_->line()->selectAll();
  else
    field_->line()->setCursorPosition(static_cast<int>(first.size()));
}

void BayCanvas::type_next_value() {
  const std::vector<BayGrip> all = grips();
  if (all.empty()) {
    emit message("Pick a piece to type its length, clocking or angle");
    return;
  }
  const BayGrip& grip = all[next_grip_++ % all.size()];
  begin_drag(grip, camera_.project(grip.place_m, size()).pixel);
  type_value({});
}

void BayCanvas::close_field() {
  if (field_ == nullptr)
    return;
  QuantityEdit* field = std::exchange(field_, nullptr);
  field->line()->removeEventFilter(this);
  const bool had_focus = field->line()->hasFocus();
  field->hide();
  field->deleteLater();
  if (had_focus)
    setFocus(Qt::OtherFocusReason);
}

void BayCanvas::abandon_drag() {
  drag_.reset();
  close_field();
}

/// Keys in the field for a typed value: Enter takes it and ends the drag, Escape leaves nothing, as does
/// going elsewhere.
bool BayCanvas::eventFilter(QObject* watched, QEvent* event) {
  if (field_ != nullptr && drag_ && event->type() == QEvent::FocusOut) {
    const Qt::FocusReason reason = static_cast<QFocusEvent*>(event)->reason();
    if (reason != Qt::PopupFocusReason && reason != Qt::ActiveWindowFocusReason)
      end_drag(false);
    return QWidget::eventFilter(watched, event);
  }
  if (field_ == nullptr || !drag_ || event->type() != QEvent::KeyPress)
    return QWidget::eventFilter(watched, event);
  const int key = static_cast<QKeyEvent*>(event)->key();
  if (key == Qt::Key_Escape) {
    end_drag(false);
    return true;
  }
  if (key != Qt::Key_Return && key != Qt::Key_Enter)
    return QWidget::eventFilter(watched, event);
  const QString typed = field_->line()->text();
  emit field_->line()->returnPressed();
  // Complained about: it stays to be mended.
  if (!field_->error().isEmpty() || !field_->value())
    return true;
  try_value(*field_->value());
  if (drag_->refused.isEmpty()) {
    end_drag(true);
  } else {
    field_->set_error(drag_->refused);
    field_->line()->setText(typed);
  }
  return true;
}

} // namespace bellmouth::ui
