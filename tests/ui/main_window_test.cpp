// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does. Identities of the contract.
#include "window_fixture.hpp"

#include <QAccessible>
#include <QApplication>
#include <QComboBox>
#include <QDir>
#include <QFile>
#include <QLineEdit>
#include <QSlider>
#include <QStatusBar>
#include <QTabWidget>
#include <QTest>
#include <QToolBar>
#include <QWheelEvent>
#include <gtest/gtest.h>
#include <quantity_edit.hpp>

#include <list_tables.hpp>
#include <main_window.hpp>
#include <new_piece.hpp>
#include <recovery.hpp>
#include <theme.hpp>

namespace bellmouth::ui {
namespace {

TEST_F(Window, DoesTheWholeJob) {
  // Open a demo build, add a piece, give it another bore, take that back, compare, take the lists away.
  trigger("demo_small_car");
  EXPECT_EQ(session.build(), demo());
  EXPECT_TRUE(session.file().isEmpty()) << "a demo build is a copy without a file";
  session.select(PickedPiece{test::first_run(), 1});
  trigger("add_5");
  ASSERT_EQ(run().pieces.size(), 4U);
  ASSERT_TRUE(std::holds_alternative<build::Hose>(run().pieces[2].shape));
  EXPECT_EQ(session.picked_piece(), &run().pieces[2]);
  auto* bore = find<QLineEdit>("piece_bore_line");
  bore->setFocus();
  bore->selectAll();
  QTest::keyClicks(bore, "2 1/4 in");
  QTest::keyClick(bore, Qt::Key_Return);
  EXPECT_NEAR(std::get<build::Hose>(run().pieces[2].shape).bore_m, 0.05715, 1e-12);
  QTest::keySequence(bore, QKeySequence::Undo);
  EXPECT_NEAR(std::get<build::Hose>(run().pieces[2].shape).bore_m, 0.0635, 1e-12)
      << "undo from within a field takes the build back";
  words = "other";
  trigger("copy_option");
  EXPECT_EQ(session.option().text, "other");
  ASSERT_TRUE(session.rival());
  EXPECT_EQ(session.rival()->text, "first");
  folder = temporary.filePath("lists");
  QDir().mkpath(folder);
  trigger("export_lists");
  const QStringList written = QDir(folder).entryList({"*.csv"}, QDir::Files);
  EXPECT_EQ(written.size(),
            static_cast<int>(file_tables(session.build(), session.evaluation(), session.purchase()).size()));
  EXPECT_TRUE(written.contains("shopping.csv"));
  EXPECT_TRUE(errors.isEmpty()) << errors.join('\n').toStdString();
}

TEST_F(Window, AsksBeforeWritingListsOverFiles) {
  folder = temporary.filePath("lists");
  QDir().mkpath(folder);
  QFile file(QDir(folder).filePath("shopping.csv"));
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write("theirs");
  file.close();
  trigger("export_lists");
  EXPECT_EQ(asked, QStringList{"shopping.csv"});
  EXPECT_EQ(QDir(folder).entryList(QDir::Files), QStringList{"shopping.csv"}) << "nothing was written";
  overwrite = true;
  trigger("export_lists");
  EXPECT_EQ(QDir(folder).entryList(QDir::Files).size(),
            static_cast<int>(file_tables(session.build(), session.evaluation(), session.purchase()).size()));
  ASSERT_TRUE(file.open(QIODevice::ReadOnly));
  EXPECT_NE(file.readAll(), "theirs");
}

TEST_F(Window, TitleMarksACopyOfADemoBuild) {
  trigger("demo_small_car");
  EXPECT_TRUE(window->windowTitle().startsWith("Demo: Small car, untitled"))
      << window->windowTitle().toStdString();
  file_to_save = temporary.filePath("own.json");
  trigger("save");
  EXPECT_TRUE(window->windowTitle().startsWith("own.json"));
}

TEST_F(Window, RemovesDuplicatesAndMovesPieces) {
  session.select(PickedPiece{test::first_run(), 1});
  trigger("duplicate_piece");
  ASSERT_EQ(run().pieces.size(), 4U);
  const auto beads = [this](std::size_t row) { return std::get<build::Tube>(run().pieces[row].shape).beads; };
  EXPECT_EQ(beads(1), (build::Beads{true, false})) << "welded to its copy";
  EXPECT_EQ(beads(2), (build::Beads{false, true}));
  EXPECT_EQ(std::get<PickedPiece>(session.selection()).row, 2U);
  trigger("move_piece_down");
  EXPECT_TRUE(std::holds_alternative<build::Tube>(run().pieces[3].shape));
  EXPECT_EQ(std::get<PickedPiece>(session.selection()).row, 3U);
  trigger("move_piece_up");
  EXPECT_TRUE(std::holds_alternative<build::Tube>(run().pieces[2].shape));
  EXPECT_EQ(std::get<PickedPiece>(session.selection()).row, 2U);
  trigger("remove_piece");
  EXPECT_EQ(run().pieces.size(), 3U);
  for (int i = 0; i < 4; ++i)
    trigger("undo");
  EXPECT_EQ(session.build(), test::sample_with_two_options());
}

TEST_F(Window, MovesAPieceWithTheFittingsOnIt) {
  session.select(PickedPiece{test::first_run(), 1});
  trigger("add_9"); // a boss on the tube
  session.select(PickedPiece{test::first_run(), 1});
  trigger("move_piece_down");
  EXPECT_TRUE(std::holds_alternative<build::HumpHose>(run().pieces[1].shape));
  EXPECT_TRUE(std::holds_alternative<build::Tube>(run().pieces[2].shape));
  EXPECT_TRUE(std::holds_alternative<build::SensorBoss>(run().pieces[3].shape));
  session.select(PickedPiece{test::first_run(), 2});
  trigger("move_piece_up");
  EXPECT_TRUE(std::holds_alternative<build::Tube>(run().pieces[1].shape));
  EXPECT_TRUE(std::holds_alternative<build::SensorBoss>(run().pieces[2].shape));
}

TEST_F(Window, SaysWhyAFittingCannotGoOnAHose) {
  session.select(PickedPiece{test::first_run(), 0});
  const build::Build before = session.build();
  trigger("add_9");
  EXPECT_EQ(session.build(), before);
}

TEST_F(Window, OptionsAreCopiedRenamedRemoved) {
  auto* chooser = find<QComboBox>("option_chooser");
  EXPECT_EQ(chooser->count(), 2);
  words = "third";
  trigger("copy_option");
  EXPECT_EQ(chooser->count(), 3);
  EXPECT_EQ(chooser->currentData().toString(), "third");
  words = "fourth";
  trigger("rename_option");
  EXPECT_EQ(chooser->currentData().toString(), "fourth");
  trigger("remove_option");
  EXPECT_EQ(chooser->count(), 2);
  emit chooser->activated(1);
  EXPECT_EQ(session.option().text, "second");
}

TEST_F(Window, EngineSpeedBySliderAndByTyping) {
  find<QSlider>("speed_slider")->setValue(3000);
  EXPECT_NEAR(session.engine_speed_rev_s(), 50.0, 1e-9);
  auto* line = find<QLineEdit>("speed_edit_line");
  line->selectAll();
  QTest::keyClicks(line, "4500");
  QTest::keyClick(line, Qt::Key_Return);
  EXPECT_NEAR(session.engine_speed_rev_s(), 75.0, 1e-9);
  EXPECT_EQ(find<QSlider>("speed_slider")->value(), 4500);
  line->selectAll();
  QTest::keyClicks(line, "60000");
  QTest::keyClick(line, Qt::Key_Return);
  EXPECT_NEAR(session.engine_speed_rev_s(), 75.0, 1e-9) << "refused";
  EXPECT_EQ(find<QuantityEdit>("speed_edit")->error(),
            "found 60000 rpm; accepted: 850 rpm to 6500 rpm, as the engine runs");
  for (const int end : {850, 6500}) {
    find<QSlider>("speed_slider")->setValue(end);
    EXPECT_NEAR(session.engine_speed_rev_s(), end / 60.0, 1e-9);
    EXPECT_TRUE(find<QuantityEdit>("speed_edit")->error().isEmpty());
  }
}

TEST_F(Window, WrongTextInTheSpeedFieldLeavesTheToolBarAsItIs) {
  auto* line = find<QLineEdit>("speed_edit_line");
  const int height = find<QToolBar>("tool_bar")->height();
  line->setFocus();
  line->selectAll();
  QTest::keyClicks(line, "fast");
  QTest::keyClick(line, Qt::Key_Return);
  QCoreApplication::processEvents();
  EXPECT_EQ(find<QToolBar>("tool_bar")->height(), height);
  EXPECT_TRUE(line->toolTip().contains("fast")) << line->toolTip().toStdString();
  EXPECT_EQ(window->statusBar()->currentMessage(), line->toolTip());
  EXPECT_TRUE(line->property(wrong_property).toBool());
  QTest::keyClick(line, Qt::Key_Escape);
  EXPECT_FALSE(line->property(wrong_property).toBool());
}

TEST_F(Window, WheelOverTheOptionChooserChangesNothing) {
  auto* chooser = find<QComboBox>("option_chooser");
  chooser->clearFocus();
  QWheelEvent wheel({5, 5}, chooser->mapToGlobal(QPointF(5, 5)), {}, {0, -120}, Qt::NoButton, {},
                    Qt::NoScrollPhase, false);
  QApplication::sendEvent(chooser, &wheel);
  EXPECT_EQ(session.option().text, "first");
  EXPECT_EQ(chooser->currentIndex(), 0);
  EXPECT_EQ(chooser->focusPolicy(), Qt::StrongFocus) << "nor does the wheel give it the focus";
}

TEST_F(Window, LongTitleShowsItsBeginning) {
  edit_title("A title that is much longer than the line in which the inspector shows it, " +
             std::string(60, 'x'));
  QCoreApplication::processEvents();
  EXPECT_EQ(find<QLineEdit>("build_title_line")->cursorPosition(), 0);
}

TEST_F(Window, TitleNamesTheBuildAndMarksChanges) {
  EXPECT_TRUE(window->windowTitle().startsWith("New build"));
  EXPECT_FALSE(window->isWindowModified());
  edit_title("Shed");
  EXPECT_TRUE(window->isWindowModified());
  file_to_save = temporary.filePath("shed");
  trigger("save");
  EXPECT_TRUE(window->windowTitle().startsWith("shed.json"));
  EXPECT_FALSE(window->isWindowModified());
  EXPECT_TRUE(QFile::exists(temporary.filePath("shed.json")));
  EXPECT_EQ(settings.recent_files(), QStringList{temporary.filePath("shed.json")});
}

TEST_F(Window, UnitsReachEveryField) {
  session.select(PickedPiece{test::first_run(), 1});
  window->use_units_and_remember({.length = UnitChoice::Length::inches});
  EXPECT_EQ(find<QLineEdit>("piece_outer_diameter_line")->text(), "2.5 in");
  EXPECT_EQ(settings.units().length, UnitChoice::Length::inches);
  window->use_units_and_remember({});
  EXPECT_EQ(find<QLineEdit>("piece_outer_diameter_line")->text(), "63.5 mm");
}

TEST_F(Window, SwitchesItsLook) {
  // Qt hands a new palette to the widgets by a posted event.
  const auto switch_look = [this] {
    trigger("switch_look");
    QCoreApplication::processEvents();
  };
  switch_look();
  EXPECT_EQ(theme().look, Look::dark);
  EXPECT_EQ(settings.look(), Look::dark);
  EXPECT_LT(window->grab().toImage().pixelColor(3, window->height() - 3).lightness(), 128);
  switch_look();
  EXPECT_EQ(theme().look, Look::light);
}

TEST_F(Window, CommandsHaveNoKeyTwice) {
  QStringList seen;
  for (const Command& command : window->commands())
    for (const QKeySequence& key : command.keys) {
      EXPECT_FALSE(seen.contains(key.toString())) << key.toString().toStdString();
      seen << key.toString();
      EXPECT_FALSE(command.tip.isEmpty()) << command.id.toStdString();
    }
}

/// Every visible widget that takes the focus must say what it is.
void expect_names(const QWidget& root, const std::string& where) {
  int seen = 0;
  for (QWidget* widget : root.findChildren<QWidget*>()) {
    if (!widget->isVisible() || widget->focusPolicy() == Qt::NoFocus || widget->focusProxy() != nullptr)
      continue;
    ++seen;
    QAccessibleInterface* face = QAccessible::queryAccessibleInterface(widget);
    ASSERT_NE(face, nullptr);
    EXPECT_FALSE(face->text(QAccessible::Name).isEmpty())
        << where << ": " << widget->metaObject()->className() << " " << widget->objectName().toStdString();
  }
  EXPECT_GT(seen, 10) << where;
}

TEST_F(Window, EverythingThatTakesTheFocusHasAName) {
  const Selection selections[] = {std::monostate{}, PickedPiece{test::first_run(), 1},
                                  PickedMachine{{"blower"}}, PickedMachine{{"cooler"}},
                                  PickedRun{test::first_run()}};
  auto* tabs = find<QTabWidget>("tabs");
  for (int tab = 0; tab < tabs->count(); ++tab) {
    tabs->setCurrentIndex(tab);
    expect_names(*window, tabs->tabText(tab).toStdString());
  }
  for (const Selection& selection : selections) {
    session.select(selection);
    expect_names(*window, "selection " + std::to_string(selection.index()));
  }
}

TEST_F(Window, ShowsEveryKindOfBuild) {
  auto* tabs = find<QTabWidget>("tabs");
  for (const build::Build& build : bellmouth::test::all_sample_builds()) {
    session.replace(build, {});
    std::vector<Selection> selections{std::monostate{}};
    for (const build::PathStep& step : build.path)
      if (const auto* run = std::get_if<build::RunId>(&step)) {
        selections.emplace_back(PickedRun{*run});
        selections.emplace_back(PickedPiece{*run, 0});
      } else {
        selections.emplace_back(PickedMachine{std::get<build::MachineId>(step)});
      }
    for (int tab = 0; tab < tabs->count(); ++tab) {
      tabs->setCurrentIndex(tab);
      for (const Selection& selection : selections) {
        session.select(selection);
        expect_names(*window, build.title + ", " + tabs->tabText(tab).toStdString());
      }
      EXPECT_FALSE(window->grab().isNull());
    }
    EXPECT_EQ(session.build(), build) << "looking changes nothing";
  }
}

TEST_F(Window, FitsThePromisedSizes) {
  for (const QSize size : {QSize(1280, 800), QSize(1920, 1080)}) {
    window->resize(size);
    QTest::qWait(10);
    EXPECT_EQ(window->size(), size) << "something in the window is too wide or too tall";
  }
}

} // namespace
} // namespace bellmouth::ui
