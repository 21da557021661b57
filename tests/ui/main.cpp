// SPDX-License-Identifier: GPL-3.0-or-later
// Runs the window tests: without a display unless one is asked for, with one style, font and locale.
#include <QApplication>
#include <QLocale>
#include <QStandardPaths>
#include <gtest/gtest.h>

#include <theme.hpp>

int main(int argc, char** argv) {
  if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM"))
    qputenv("QT_QPA_PLATFORM", "offscreen");
  // The same picture on every machine.
  qputenv("BELLMOUTH_RENDERER", "cpu");
  QStandardPaths::setTestModeEnabled(true);
  testing::InitGoogleTest(&argc, argv);
  QApplication application(argc, argv);
  QApplication::setApplicationName("bellmouth-tests");
  QApplication::setFont(QFont("DejaVu Sans", 9));
  QLocale::setDefault(QLocale(QLocale::English, QLocale::UnitedKingdom));
  bellmouth::ui::use_look(bellmouth::ui::Look::light);
  return RUN_ALL_TESTS();
}
