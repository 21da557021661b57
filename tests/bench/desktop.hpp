// SPDX-License-Identifier: GPL-3.0-or-later
// The application that benchmarks of the window share, without a display.
#pragma once

#include <QApplication>

#include <theme.hpp>

namespace bellmouth::ui {

inline QApplication& application() {
  static int count = 1;
  static char name[] = "bench";               // NOLINT(*-avoid-c-arrays)
  static char* arguments[] = {name, nullptr}; // NOLINT(*-avoid-c-arrays)
  qputenv("QT_QPA_PLATFORM", "offscreen");
  qputenv("BELLMOUTH_RENDERER", "cpu");
  static QApplication the_one(count, arguments);
  use_look(Look::light);
  return the_one;
}

} // namespace bellmouth::ui
