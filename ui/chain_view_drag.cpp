// SPDX-License-Identifier: GPL-3.0-or-later
// The mouse on the chain: picking, dragging lengths, moving pieces, dropping new ones from the tray.
#include "chain_paint.hpp"
#include "chain_view.hpp"
#include "new_piece.hpp"
#include "piece_art.hpp"
#include "piece_text.hpp"
#include "tray.hpp"

#include <bellmouth/build.hpp>

#include <QApplication>
#include <QDragEnterEvent>
#include <QMimeData>
#include <QMouseEvent>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

constexpr double edge_reach_px = 5;
constexpr double snap_m = 5e-3, fine_snap_m = 1e-3;

/// The length of a straight piece or the place of a fitting; nullptr when the kind has neither.
double* draggable_value(build::Shape& shape) {
  return std::visit(
      [](auto& s) -> double* {
        using S = std::decay_t<decltype(s)>;
        if constexpr (std::is_same_v<S, build::Tube> || std::is_same_v<S, build::Hose>)
          return &s.length_m;
        else if constexpr (requires { s.position_m; })
          return &s.position_m;
        else
          return nullptr;
      },
      shape);
}

std::optional<std::size_t> dragged_shape(const QMimeData& data) {
  bool is_number = false;
  const qulonglong index = data.data(piece_mime_type).toULongLong(&is_number);
  return is_number && index < shape_count ? std::optional(static_cast<std::size_t>(index)) : std::nullopt;
}

} // namespace

void ChainView::mousePressEvent(QMouseEvent* event) {
  if (event->button() != Qt::LeftButton)
    return;
  const QPointF point = to_drawing(event->position());
  const auto selected = selected_item(chain_, session_.selection());
  // The edge of what is selected can be taken even where a hose lies over it.
  if (!(selected && chain_.on_edge(*selected, point, edge_reach_px)))
    session_.select(picked_at(point).value_or(Selection{}));
  begin_drag(point);
}

void ChainView::begin_drag(QPointF point) {
  const auto index = selected_item(chain_, session_.selection());
  if (!index || chain_.items[*index].kind != ChainItem::Kind::piece)
    return;
  const ChainItem& item = chain_.items[*index];
  const build::PieceRef ref{session_.option(), item.run, item.row};
  const build::Piece* piece = build::find(session_.build(), ref);
  if (!piece)
    return;
  if (item.fitting || chain_.on_edge(*index, point, edge_reach_px)) {
    build::Piece copy = *piece;
    const double value_m = *draggable_value(copy.shape);
    value_drag_ = ValueDrag{ref, *piece, value_m, value_m, point.x(), scale_px_m_};
  } else {
    move_drag_ = MoveDrag{ref, point};
  }
}

void ChainView::mouseMoveEvent(QMouseEvent* event) {
  if (value_drag_) {
    drag_value(*event);
    return;
  }
  const QPointF point = to_drawing(event->position());
  if (!move_drag_) {
    hover(point);
    return;
  }
  if (!move_drag_->under_way &&
      (point - move_drag_->from).manhattanLength() < QApplication::startDragDistance())
    return;
  move_drag_->under_way = true;
  viewport()->setCursor(Qt::ClosedHandCursor);
  std::optional<DropSlot> nearest;
  for (const DropSlot& place : chain_.places)
    if (place.run == move_drag_->piece.run &&
        (!nearest || std::abs(place.x - point.x()) < std::abs(nearest->x - point.x())))
      nearest = place;
  if (nearest != drop_) {
    drop_ = nearest;
    viewport()->update();
  }
}

void ChainView::hover(QPointF point) {
  const auto item = chain_.item_at(point);
  const auto selected = selected_item(chain_, session_.selection());
  const bool on_edge = (selected && chain_.on_edge(*selected, point, edge_reach_px)) ||
                       (item && chain_.on_edge(*item, point, edge_reach_px));
  const bool fitting = item && chain_.items[*item].fitting;
  viewport()->setCursor(on_edge || fitting ? Qt::SplitHCursor
                        : item             ? Qt::PointingHandCursor
                                           : Qt::ArrowCursor);
  if (item != hovered_) {
    hovered_ = item;
    viewport()->update();
  }
}

void ChainView::drag_value(const QMouseEvent& event) {
  ValueDrag& drag = *value_drag_;
  const double moved_px = to_drawing(event.position()).x() - drag.from_x;
  if (!session_.previewing() && std::abs(moved_px) < 2)
    return;
  const double step_m = event.modifiers() & Qt::ShiftModifier ? fine_snap_m : snap_m;
  const double value_m = std::round((drag.value_m + moved_px / drag.px_m) / step_m) * step_m;
  if (value_m == drag.shown_m)
    return;
  build::Piece piece = drag.before;
  *draggable_value(piece.shape) = value_m;
  build::Build next = build::with_piece_replaced(session_.build(), drag.piece, std::move(piece));
  if (const auto error = build::validate(next)) {
    emit message(QString::fromStdString(error->text()));
    return;
  }
  drag.shown_m = value_m;
  session_.preview(std::move(next));
}

void ChainView::end_value_drag(bool keep) {
  const ValueDrag drag = *value_drag_;
  value_drag_.reset();
  if (session_.previewing()) {
    if (keep && drag.shown_m != drag.value_m)
      session_.commit_preview(
          QString(build::is_fitting(drag.before.shape) ? "Move %1 along its host" : "Change length of %1")
              .arg(piece_title(drag.before)));
    else
      session_.cancel_preview();
  }
  relayout();
  viewport()->update();
}

void ChainView::mouseReleaseEvent(QMouseEvent* event) {
  if (event->button() != Qt::LeftButton)
    return;
  if (value_drag_)
    end_value_drag(true);
  if (move_drag_ && move_drag_->under_way)
    drop_moved_piece();
  move_drag_.reset();
  drop_.reset();
  viewport()->unsetCursor();
  viewport()->update();
}

void ChainView::drop_moved_piece() {
  if (!drop_)
    return;
  const build::PieceRef ref = move_drag_->piece;
  const build::Option* option = session_.build().find(ref.option);
  const build::Run* run = option ? option->find(ref.run) : nullptr;
  const build::Piece* piece = build::find(session_.build(), ref);
  if (!run || !piece)
    return;
  const std::size_t rows = build::rows_with_fittings(*run, ref.row), to = drop_->before_row;
  if (to >= ref.row && to <= ref.row + rows)
    return;
  const QString what = QString("Move %1").arg(piece_title(*piece));
  if (const auto error = session_.apply(build::with_piece_moved(session_.build(), ref, to), what))
    emit message(QString::fromStdString(error->text()));
  else
    session_.select(PickedPiece{ref.run, to > ref.row ? to - rows : to});
}

void ChainView::cancel_drag() {
  if (value_drag_)
    end_value_drag(false);
  move_drag_.reset();
  drop_.reset();
  viewport()->unsetCursor();
  viewport()->update();
}

void ChainView::mouseDoubleClickEvent(QMouseEvent* event) {
  if (event->button() == Qt::LeftButton && chain_.item_at(to_drawing(event->position())))
    emit edit_requested();
}

std::optional<DropSlot> ChainView::place_for(std::size_t shape_index, QPointF point) const {
  if (!build::is_fitting(sample_shape(shape_index)))
    return chain_.place_at(point);
  const auto host = std::ranges::find_if(chain_.items, [&](const ChainItem& item) {
    return item.kind == ChainItem::Kind::piece && !item.fitting && !item.flexible &&
           item.body.left() <= point.x() && item.body.right() >= point.x();
  });
  if (host == chain_.items.end())
    return std::nullopt;
  const build::Option* option = session_.build().find(session_.option());
  const build::Run* run = option ? option->find(host->run) : nullptr;
  if (!run)
    return std::nullopt;
  return DropSlot{host->run, host->row + build::rows_with_fittings(*run, host->row), point.x()};
}

void ChainView::insert_shape(std::size_t shape_index, const DropSlot& place) {
  const build::PieceRef before{session_.option(), place.run, place.before_row};
  build::Piece piece = new_piece(shape_index, session_.build(), before);
  if (build::is_fitting(piece.shape)) {
    const auto host = std::ranges::find_if(chain_.items, [&](const ChainItem& item) {
      return item.run == place.run && !item.fitting && !item.flexible && item.body.left() <= place.x &&
             item.body.right() >= place.x;
    });
    if (host != chain_.items.end())
      *draggable_value(piece.shape) =
          std::round((place.x - host->body.left()) / scale_px_m_ / snap_m) * snap_m;
  }
  const QString what = QString("Add %1").arg(piece_title(piece));
  if (const auto error =
          session_.apply(build::with_piece_inserted(session_.build(), before, std::move(piece)), what))
    emit message(QString::fromStdString(error->text()));
  else
    session_.select(PickedPiece{place.run, place.before_row});
}

void ChainView::dragEnterEvent(QDragEnterEvent* event) {
  if (event->mimeData()->hasFormat(piece_mime_type))
    event->acceptProposedAction();
}

void ChainView::dragMoveEvent(QDragMoveEvent* event) {
  const auto shape = dragged_shape(*event->mimeData());
  const auto place = shape ? place_for(*shape, to_drawing(event->position())) : std::nullopt;
  if (place != drop_) {
    drop_ = place;
    viewport()->update();
  }
  place ? event->acceptProposedAction() : event->ignore();
}

void ChainView::dragLeaveEvent(QDragLeaveEvent*) {
  drop_.reset();
  viewport()->update();
}

void ChainView::dropEvent(QDropEvent* event) {
  const auto shape = dragged_shape(*event->mimeData());
  const auto place = shape ? place_for(*shape, to_drawing(event->position())) : std::nullopt;
  drop_.reset();
  viewport()->update();
  if (!place)
    return;
  event->acceptProposedAction();
  insert_shape(*shape, *place);
}

} // namespace bellmouth::ui
