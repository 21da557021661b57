// SPDX-License-Identifier: GPL-3.0-or-later
// The ducting in the bay, in space: the picture, and above it the tools to look round with.
#pragma once

#include "bay_canvas.hpp"
#include "session.hpp"

#include <QWidget>

class QComboBox;
class QLabel;
class QPushButton;
class QSlider;
class QToolBar;
class QToolButton;

namespace bellmouth::ui {

/// While no port is measured, it says what to do next in place of a picture.
class BayView : public QWidget {
  Q_OBJECT

public:
  explicit BayView(Session& session, QWidget* parent = nullptr);
  [[nodiscard]] BayCanvas& canvas() { return *canvas_; }

signals:
  void edit_requested();          ///< double click or Enter on what is picked
  void measure_ports_requested(); ///< the user wants to say where ports are
  void routes_requested(const bellmouth::build::RunId& run);
  void pass_requested(const bellmouth::build::Vector& point_m);
  void message(const QString& text);

protected:
  void resizeEvent(QResizeEvent* event) override;
  void changeEvent(QEvent* event) override;

private:
  void make_tools();
  void make_section_plate();
  void make_empty_words();
  void make_offer();
  void refresh();
  void refresh_states();
  void refresh_look();
  void place_plates();
  void change_section();

  Session& session_;
  BayCanvas* canvas_;
  QToolBar* tools_;
  QToolButton *perspective_ = nullptr, *measure_ = nullptr, *photographs_ = nullptr, *other_side_ = nullptr;
  QComboBox *colouring_ = nullptr, *section_ = nullptr, *states_ = nullptr;
  QSlider* section_share_ = nullptr;
  QAction *states_action_ = nullptr, *photographs_action_ = nullptr;
  QWidget* section_plate_ = nullptr; ///< over the picture, while the bay is cut open
  QWidget* empty_ = nullptr;
  QLabel* empty_words_ = nullptr;
  QWidget* offer_ = nullptr; ///< over the picture, while a run has no pieces
  QLabel* offer_words_ = nullptr;
  build::RunId offered_; ///< the run without pieces
};

} // namespace bellmouth::ui
