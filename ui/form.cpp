// SPDX-License-Identifier: GPL-3.0-or-later
#include "form.hpp"

#include "theme.hpp"

#include <QWheelEvent>

namespace bellmouth::ui {

void show_complaint(QLabel& label, const QString& why) {
  QPalette colours = label.palette();
  colours.setColor(QPalette::WindowText, theme().stop);
  label.setPalette(colours);
  label.setFont(small_font());
  label.setText(why);
  label.setVisible(!why.isEmpty());
}

void ComboBox::wheelEvent(QWheelEvent* event) {
  if (hasFocus())
    QComboBox::wheelEvent(event);
  else
    event->ignore();
}

} // namespace bellmouth::ui
