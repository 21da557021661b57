// SPDX-License-Identifier: GPL-3.0-or-later
// Four sliders that say what matters in a route.
#pragma once

#include <bellmouth/find.hpp>

#include <QWidget>

#include <array>

class QLabel;
class QSlider;

namespace bellmouth::ui {

/// A slider's middle is the usual share, its left end nothing, its right end four times the usual.
class RouteMatters : public QWidget {
  Q_OBJECT

public:
  explicit RouteMatters(QWidget* parent = nullptr);
  void show_matters(const find::Matters& matters);
  [[nodiscard]] find::Matters matters() const;

signals:
  void changed(); ///< by the user

private:
  void refresh_words();

  struct Row {
    QSlider* slider;
    QLabel* words;
  };
  std::array<Row, 4> rows_{};
};

} // namespace bellmouth::ui
