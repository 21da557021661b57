// SPDX-License-Identifier: GPL-3.0-or-later
// The placed runs among ports and keep-outs, from above and from the side, to one scale.
#pragma once

#include "session.hpp"

#include <QPointF>
#include <QWidget>

#include <optional>

namespace bellmouth::ui {

/// Wheel zooms about the pointer, dragging moves, F or a double click on nothing fits.
class BayPlan : public QWidget {
  Q_OBJECT

public:
  explicit BayPlan(Session& session, QWidget* parent = nullptr);
  void zoom_to_fit();
  [[nodiscard]] QSize sizeHint() const override;

signals:
  void edit_requested(); ///< double click on a piece

protected:
  void paintEvent(QPaintEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void mouseDoubleClickEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;

private:
  struct Impl;
  Session& session_;
  double scale_px_m_ = 0;
  QPointF offset_;         ///< of the plan, px
  double offset_z_px_ = 0; ///< of the side view
  bool fitted_ = true;
  std::optional<QPointF> pan_from_;
  bool panned_ = false;
};

} // namespace bellmouth::ui
