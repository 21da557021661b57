// SPDX-License-Identifier: GPL-3.0-or-later
// The placed runs among ports and keep-outs, from above and from the side, to one scale.
#pragma once

#include "bay_drawing.hpp"
#include "session.hpp"

#include <QWidget>

#include <array>
#include <optional>

namespace bellmouth::ui {

/// The wheel zooms about the pointer, dragging moves, F fits, a click picks a piece. How each run meets its
/// port stands below in words.
class BayPlan : public QWidget {
  Q_OBJECT

public:
  explicit BayPlan(Session& session, QWidget* parent = nullptr);
  void zoom_to_fit();
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;
  /// The two panes as they are drawn now: from above, from the side.
  [[nodiscard]] std::array<BayPane, 2> panes() const;

signals:
  void edit_requested(); ///< double click on a piece

protected:
  bool event(QEvent* event) override; ///< tool tips of keep-outs
  void paintEvent(QPaintEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  void changeEvent(QEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void mouseDoubleClickEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;

private:
  void refresh();
  void zoom_about(QPointF point, double factor);
  void move_by(const BayPane& pane, QPointF px);
  [[nodiscard]] const BayPane* pane_at(const std::array<BayPane, 2>& all, QPointF point) const;
  [[nodiscard]] int words_height() const;

  Session& session_;
  std::vector<PlacedPiece> pieces_;
  std::optional<BayExtent> extent_;
  build::Vector middle_m_{};
  double scale_px_m_ = 500;
  bool fitted_ = true; ///< follows the size until the user zooms or moves
  std::optional<QPointF> pressed_, moved_from_;
};

} // namespace bellmouth::ui
