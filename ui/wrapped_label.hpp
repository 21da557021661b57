// SPDX-License-Identifier: GPL-3.0-or-later
// A label whose text wraps and is never cut off.
#pragma once

#include <QLabel>

namespace bellmouth::ui {

/// QLabel with word wrap asks for height only through height-for-width, which a scroll area around a form
/// does not pass on; this one asks for the height that its text needs at the width it has.
class WrappedLabel : public QLabel {
public:
  explicit WrappedLabel(QWidget* parent = nullptr);
  void set_text(const QString& text);

protected:
  void resizeEvent(QResizeEvent* event) override;

private:
  void fit();
};

/// Shows what was wrong in the colour of a stop, or nothing.
void show_complaint(WrappedLabel& label, const QString& why);

} // namespace bellmouth::ui
