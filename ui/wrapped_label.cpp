// SPDX-License-Identifier: GPL-3.0-or-later
#include "wrapped_label.hpp"

#include "theme.hpp"

#include <QResizeEvent>

namespace bellmouth::ui {

WrappedLabel::WrappedLabel(QWidget* parent) : QLabel(parent) {
  setWordWrap(true);
  setTextFormat(Qt::PlainText);
}

void WrappedLabel::set_text(const QString& text) {
  setText(text);
  fit();
}

void WrappedLabel::resizeEvent(QResizeEvent* event) {
  QLabel::resizeEvent(event);
  if (event->size().width() != event->oldSize().width())
    fit();
}

void WrappedLabel::fit() {
  // Not heightForWidth(): that is never less than the minimum height, which is what is to be found.
  const QRect needed =
      fontMetrics().boundingRect(QRect(0, 0, width(), QWIDGETSIZE_MAX), Qt::TextWordWrap, text());
  setMinimumHeight(text().isEmpty() ? 0 : needed.height());
}

void show_complaint(WrappedLabel& label, const QString& why) {
  QPalette colours = label.palette();
  colours.setColor(QPalette::WindowText, theme().stop);
  label.setPalette(colours);
  label.setFont(small_font());
  label.setVisible(!why.isEmpty());
  label.set_text(why);
}

} // namespace bellmouth::ui
