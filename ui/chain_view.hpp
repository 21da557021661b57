// SPDX-License-Identifier: GPL-3.0-or-later
// The air path from left to right, to scale: machines as blocks, between them the pieces of each run with
// their joints.
#pragma once

#include "chain_layout.hpp"
#include "session.hpp"

#include <QAbstractScrollArea>

#include <optional>

namespace bellmouth::ui {

/// Shows the path, picks and moves pieces, drags lengths. One common scale holds for lengths and bores. Ctrl
/// and the wheel, + and - change the scale, F fits the whole path. Left, Right, Home and End move the
/// selection along the path; whatever else keys do to a piece is the window's.
class ChainView : public QAbstractScrollArea {
  Q_OBJECT

public:
  explicit ChainView(Session& session, QWidget* parent = nullptr);

  void zoom_by(double factor); ///< about the middle of what is seen
  void zoom_to_fit();
  [[nodiscard]] double scale_px_m() const { return scale_px_m_; }
  /// Where things are, in the coordinates of the drawing (see drawing_to_viewport()).
  [[nodiscard]] const ChainLayout& chain() const { return chain_; }
  [[nodiscard]] QPointF drawing_to_viewport(QPointF point) const;
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;

signals:
  void edit_requested(); ///< double click or Enter: show the fields of what is picked
  void
  menu_requested(QPoint global_position); ///< right click or the menu key, after picking what is under it
  void message(const QString& text);      ///< what went wrong with a drop or a drag

protected:
  bool viewportEvent(QEvent* event) override;
  void paintEvent(QPaintEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  void changeEvent(QEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void mouseDoubleClickEvent(QMouseEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void contextMenuEvent(QContextMenuEvent* event) override;
  void focusInEvent(QFocusEvent* event) override;
  void focusOutEvent(QFocusEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dragMoveEvent(QDragMoveEvent* event) override;
  void dragLeaveEvent(QDragLeaveEvent* event) override;
  void dropEvent(QDropEvent* event) override;

private:
  /// A length, or the place of a fitting, that follows the pointer.
  struct ValueDrag {
    build::PieceRef piece;
    build::Piece before;
    double value_m = 0, shown_m = 0;
    double from_x = 0, px_m = 1;
  };
  /// A piece that is on its way to another place in its run.
  struct MoveDrag {
    build::PieceRef piece;
    QPointF from;
    bool under_way = false;
  };

  void on_changed(Changes changes);
  void relayout();
  void set_scale(double px_m, double keep_viewport_x);
  void update_bars();
  void reveal_selection();
  void tell_selection();
  void step_selection(int step);
  void select_item(std::size_t item);
  void hover(QPointF viewport_point);
  void begin_drag(QPointF point);
  void drag_value(const QMouseEvent& event);
  void end_value_drag(bool keep);
  void drop_moved_piece();
  void cancel_drag();
  void insert_shape(std::size_t shape_index, const DropSlot& place);
  /// Where a kind would go that is dropped at a point of the drawing; a fitting goes onto the rigid piece
  /// there.
  [[nodiscard]] std::optional<DropSlot> place_for(std::size_t shape_index, QPointF point) const;
  [[nodiscard]] QPointF to_drawing(QPointF viewport_point) const;
  [[nodiscard]] std::optional<Selection> picked_at(QPointF point) const;

  Session& session_;
  QWidget* velocity_key_ = nullptr;
  ChainLayout chain_;
  double scale_px_m_ = 0;
  bool fitted_ = true; ///< the scale follows the width until the user picks one
  std::optional<ValueDrag> value_drag_;
  std::optional<MoveDrag> move_drag_;
  std::optional<DropSlot> drop_;
  std::optional<std::size_t> hovered_;
};

} // namespace bellmouth::ui
