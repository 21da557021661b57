// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of the shown option in tiles, each with its difference to the option compared with.
#pragma once

#include "figures.hpp"
#include "session.hpp"

#include <QFrame>
#include <QWidget>

#include <vector>

class QLabel;

namespace bellmouth::ui {

/// One figure.
class FigureTile : public QFrame {
  Q_OBJECT

public:
  explicit FigureTile(QWidget* parent = nullptr);
  /// `rival` names the option compared with, for which room is kept; empty when there is none.
  void show_figure(const Figure& figure, const QString& rival);
  [[nodiscard]] const Figure& figure() const { return figure_; }
  [[nodiscard]] QSize sizeHint() const override;
  /// Height a tile of this width needs.
  [[nodiscard]] int height_at(int width) const;

protected:
  void paintEvent(QPaintEvent* event) override;

private:
  Figure figure_;
  QString rival_;
};

/// As many tiles to a row as there is room for, below them what they are compared with; why the flow figures
/// are missing stands above them in words.
class FiguresBand : public QWidget {
  Q_OBJECT

public:
  explicit FiguresBand(Session& session, QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;
  [[nodiscard]] bool hasHeightForWidth() const override { return true; }
  [[nodiscard]] int heightForWidth(int width) const override;

protected:
  void resizeEvent(QResizeEvent* event) override;
  void changeEvent(QEvent* event) override;

private:
  void refresh();
  void place_tiles();
  void colour_trouble();
  [[nodiscard]] int columns(int width) const;
  [[nodiscard]] int tile_height(int width) const;

  Session& session_;
  QLabel *trouble_, *against_;
  std::vector<FigureTile*> tiles_;
};

} // namespace bellmouth::ui
