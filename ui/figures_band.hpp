// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of the shown option in one row of tiles, each with its difference to the option compared with.
#pragma once

#include "figures.hpp"
#include "session.hpp"

#include <QWidget>

#include <vector>

namespace bellmouth::ui {

class FiguresBand : public QWidget {
  Q_OBJECT

public:
  explicit FiguresBand(Session& session, QWidget* parent = nullptr);
  /// What the tiles show now.
  [[nodiscard]] const std::vector<Figure>& figures() const { return figures_; }
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;
  [[nodiscard]] bool hasHeightForWidth() const override { return true; }
  [[nodiscard]] int heightForWidth(int width) const override;

protected:
  void paintEvent(QPaintEvent* event) override;
  bool event(QEvent* event) override;

private:
  void refresh();
  [[nodiscard]] std::vector<QRect> tiles(int width) const;

  Session& session_;
  std::vector<Figure> figures_;
  QString trouble_; ///< why the figures may not be used, in words; empty when they may
};

} // namespace bellmouth::ui
