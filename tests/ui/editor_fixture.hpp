// SPDX-License-Identifier: GPL-3.0-or-later
// The editor of what is picked, as its user has it: real widgets by name, files answered by the test.
#pragma once

#include "sample.hpp"

#include <QApplication>
#include <QCheckBox>
#include <QComboBox>
#include <QFile>
#include <QLabel>
#include <QLineEdit>
#include <QTemporaryDir>
#include <QTest>
#include <QToolButton>
#include <gtest/gtest.h>
#include <quantity_edit.hpp>

#include <inspector.hpp>
#include <session.hpp>

namespace bellmouth::ui::test {

class EditorFixture : public testing::Test {
protected:
  explicit EditorFixture(build::Build build = sample_build()) : session(std::move(build)) {}

  QTemporaryDir folder;
  QString file_to_open, file_to_save; ///< what the test answers
  Session session;
  Inspector inspector{session,
                      {.to_open = [this](QWidget*) { return file_to_open; },
                       .to_save = [this](QWidget*, const QString&) { return file_to_save; }}};

  void SetUp() override {
    inspector.resize(360, 700);
    inspector.show();
  }
  void pick(std::size_t row) { session.select(PickedPiece{first_run(), row}); }
  [[nodiscard]] const build::Piece& piece(std::size_t row) const {
    return *build::find(session.build(), {session.option(), first_run(), row});
  }
  void pick_machine(const char* id) { session.select(PickedMachine{{id}}); }
  template <class K> [[nodiscard]] const K& machine(const char* id) const {
    return std::get<K>(session.build().find(build::MachineId{id})->kind);
  }
  [[nodiscard]] const machine::Engine& engine() const {
    return std::get<machine::Engine>(session.build().demand);
  }
  void start_with(const build::Build& build) { session.replace(build, {}); }

  template <class W> W* find(const QString& name) const {
    W* widget = inspector.findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  /// Whether the field stands on the screen.
  [[nodiscard]] bool shown(const QString& name) const { return find<QWidget>(name)->isVisibleTo(&inspector); }
  void type(const QString& line_name, const QString& text) const {
    auto* line = find<QLineEdit>(line_name);
    ASSERT_TRUE(line->isVisibleTo(&inspector)) << line_name.toStdString();
    line->selectAll();
    if (text.isEmpty())
      QTest::keyClick(line, Qt::Key_Delete);
    QTest::keyClicks(line, text);
    QTest::keyClick(line, Qt::Key_Return);
  }
  void choose(const QString& box_name, int index) const {
    auto* box = find<QComboBox>(box_name);
    ASSERT_TRUE(box->isVisibleTo(&inspector)) << box_name.toStdString();
    ASSERT_LT(index, box->count());
    box->setCurrentIndex(index);
    emit box->activated(index);
  }
  void click(const QString& button_name) const {
    auto* button = find<QAbstractButton>(button_name);
    ASSERT_TRUE(button->isVisibleTo(&inspector)) << button_name.toStdString();
    button->click();
  }
  [[nodiscard]] QString complaint_of(const QString& name) const {
    return find<QLabel>(name + "_error")->text();
  }
  QString file_with(const QString& name, const QByteArray& text) const {
    QFile file(folder.filePath(name));
    EXPECT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(text);
    return file.fileName();
  }
  static QByteArray content_of(const QString& name) {
    QFile file(name);
    EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << name.toStdString();
    return file.readAll();
  }
};

} // namespace bellmouth::ui::test
