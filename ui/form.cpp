// SPDX-License-Identifier: GPL-3.0-or-later
#include "form.hpp"

#include <QWheelEvent>

namespace bellmouth::ui {

void ComboBox::wheelEvent(QWheelEvent* event) {
  if (hasFocus())
    QComboBox::wheelEvent(event);
  else
    event->ignore();
}

} // namespace bellmouth::ui
