// SPDX-License-Identifier: GPL-3.0-or-later
// The window as its user has it: real widgets, dialogs answered by the test.
#pragma once

#include "sample.hpp"
#include "support/sample_builds.hpp"

#include <QAction>
#include <QDir>
#include <QPdfWriter>
#include <QTemporaryDir>
#include <QTest>
#include <gtest/gtest.h>

#include <chrono>
#include <main_window.hpp>
#include <recovery.hpp>

namespace bellmouth::ui {

class Window : public testing::Test {
protected:
  QTemporaryDir temporary;
  Session session{test::sample_with_two_options()};
  Settings settings{temporary.filePath("settings.ini")};
  Recovery recovery{session, QDir(temporary.filePath("recovery")), std::chrono::hours(1)};
  /// What the test answers, and what it was asked.
  QString file_to_open, file_to_save, folder;
  QString paper; ///< the PDF file that is printed into; empty: the user thinks better of it
  std::optional<QString> words;
  Recipe recipe;
  bool overwrite = false, remove_used = false;
  Dialogs::Unsaved unsaved = Dialogs::Unsaved::cancel;
  Dialogs::Changed changed = Dialogs::Changed::cancel;
  Dialogs::LeftBehind left_behind = Dialogs::LeftBehind::later;
  QStringList errors, asked;
  std::unique_ptr<MainWindow> window;

  void SetUp() override {
    QDir(temporary.path()).mkpath("demo");
    ASSERT_TRUE(build::save_build(temporary.filePath("demo/small_car.json").toStdString(), demo()));
    Dialogs dialogs;
    dialogs.file_to_open = [this](QWidget*, const QString&) { return file_to_open; };
    dialogs.file_to_save = [this](QWidget*, const QString&) { return file_to_save; };
    dialogs.folder_for_lists = [this](QWidget*, const QString&) { return folder; };
    dialogs.overwrite = [this](QWidget*, const QString&, const QStringList& files) {
      asked << files;
      return overwrite;
    };
    dialogs.stock_to_open = [this](QWidget*, const QString&) { return file_to_open; };
    dialogs.stock_to_save = [this](QWidget*, const QString&) { return file_to_save; };
    dialogs.remove_used = [this](QWidget*, const QString& what) {
      asked << what;
      return remove_used;
    };
    dialogs.line_of_text = [this](QWidget*, const QString&, const QString&, const QString&) {
      return std::exchange(words, std::nullopt);
    };
    dialogs.paper = [this](QWidget*) -> std::unique_ptr<QPagedPaintDevice> {
      if (paper.isEmpty())
        return nullptr;
      return std::make_unique<QPdfWriter>(paper);
    };
    dialogs.recipe = [this](QWidget*) { return std::optional(recipe); };
    dialogs.unsaved_changes = [this](QWidget*, const QString& name) {
      asked << name;
      return unsaved;
    };
    dialogs.changed_on_disk = [this](QWidget*, const QString& name) {
      asked << name;
      return changed;
    };
    dialogs.left_behind = [this](QWidget*, const QString& what) {
      asked << what;
      return left_behind;
    };
    dialogs.error = [this](QWidget*, const QString&, const QString& text) { errors << text; };
    window = std::make_unique<MainWindow>(
        session, recovery, settings, dialogs,
        Places{QDir(temporary.filePath("demo")), QDir(BELLMOUTH_SHARED_DIR "/stock")});
    window->show();
    ASSERT_TRUE(QTest::qWaitForWindowActive(window.get()));
  }
  static build::Build demo() { return build::with_title(test::sample_build(), "Small car"); }

  template <class W> W* find(const QString& name) const {
    W* widget = window->findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  void trigger(const QString& id) const { find<QAction>(id)->trigger(); }
  const build::Run& run() const { return *session.build().find(session.option())->find(test::first_run()); }
  void edit_title(const std::string& title) {
    ASSERT_FALSE(session.apply(build::with_title(session.build(), title), "Change title"));
  }
};

} // namespace bellmouth::ui
