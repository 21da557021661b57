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

Held held(QWidget* control, const QString& object_name) {
  auto* holder = new QWidget;
  auto* error = new WrappedLabel(holder);
  auto* column = new QVBoxLayout(holder);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(2);
  column->addWidget(control);
  column->addWidget(error);
  error->setObjectName(object_name + "_error");
  error->hide();
  holder->setFocusProxy(control);
  return {holder, error};
}

void ComboBox::wheelEvent(QWheelEvent* event) {
  if (hasFocus())
    QComboBox::wheelEvent(event);
  else
    event->ignore();
}

} // namespace bellmouth::ui
