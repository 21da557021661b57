// SPDX-License-Identifier: GPL-3.0-or-later
#include "form.hpp"

#include <QWheelEvent>

namespace bellmouth::ui {

ComboBox::ComboBox(QWidget* parent) : QComboBox(parent) {
  // The wheel must not give it the focus either.
  setFocusPolicy(Qt::StrongFocus);
}

void show_beginning(QLineEdit& line) {
  if (!line.hasFocus())
    line.setCursorPosition(0);
}

void ComboBox::wheelEvent(QWheelEvent* event) {
  if (hasFocus())
    QComboBox::wheelEvent(event);
  else
    event->ignore();
}

} // namespace bellmouth::ui
