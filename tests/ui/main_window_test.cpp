// SPDX-License-Identifier: GPL-3.0-or-later
// The window as its user has it: real widgets, dialogs answered by the test. Identities of the contract.
#include "sample.hpp"
#include "support/sample_builds.hpp"

#include <QAccessible>
#include <QAction>
#include <QApplication>
#include <QComboBox>
#include <QDir>
#include <QDropEvent>
#include <QFile>
#include <QLineEdit>
#include <QMenu>
#include <QMimeData>
#include <QSlider>
#include <QStatusBar>
#include <QTabWidget>
#include <QTemporaryDir>
#include <QTest>
#include <QToolBar>
#include <QUrl>
#include <QWheelEvent>
#include <gtest/gtest.h>
#include <quantity_edit.hpp>

#include <main_window.hpp>
#include <new_piece.hpp>
#include <recovery.hpp>
#include <theme.hpp>

namespace bellmouth::ui {
namespace {

using namespace std::chrono_literals;

class Window : public testing::Test {
protected:
  QTemporaryDir temporary;
  Session session{test::sample_with_two_options()};
  Settings settings{temporary.filePath("settings.ini")};
  Recovery recovery{session, QDir(temporary.filePath("recovery")), 1h};
  /// What the test answers, and what it was asked.
  QString file_to_open, file_to_save, folder;
  std::optional<QString> words;
  Recipe recipe;
  bool overwrite = false;
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
    dialogs.line_of_text = [this](QWidget*, const QString&, const QString&, const QString&) {
      return std::exchange(words, std::nullopt);
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
  EXPECT_EQ(written.size(), static_cast<int>(list::tables(session.evaluation().lists).size()));
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
            static_cast<int>(list::tables(session.evaluation().lists).size()));
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

TEST_F(Window, AcceptsWhatIsBeingTypedBeforeSaving) {
  session.select(PickedPiece{test::first_run(), 1});
  auto* length = find<QLineEdit>("piece_length_line");
  length->setFocus();
  length->selectAll();
  QTest::keyClicks(length, "555");
  file_to_save = temporary.filePath("typed.json");
  trigger("save");
  const auto saved = build::load_build(file_to_save.toStdString());
  ASSERT_TRUE(saved);
  EXPECT_NEAR(std::get<build::Tube>(build::find(*saved, {{"first"}, test::first_run(), 1})->shape).length_m,
              0.555, 1e-12);
}

TEST_F(Window, GuardsUnsavedChangesOnOpening) {
  edit_title("Mine");
  const build::Build mine = session.build();
  trigger("demo_small_car");
  EXPECT_EQ(asked, QStringList{"Mine"});
  EXPECT_EQ(session.build(), mine) << "cancelled";
  unsaved = Dialogs::Unsaved::discard;
  trigger("demo_small_car");
  EXPECT_EQ(session.build(), demo());
}

TEST_F(Window, GuardsUnsavedChangesOnClosing) {
  edit_title("Mine");
  EXPECT_FALSE(window->close());
  EXPECT_TRUE(window->isVisible());
  unsaved = Dialogs::Unsaved::save;
  EXPECT_FALSE(window->close()) << "no name was given";
  file_to_save = temporary.filePath("mine.json");
  EXPECT_TRUE(window->close());
  EXPECT_TRUE(QFile::exists(file_to_save));
}

TEST_F(Window, AsksBeforeOverwritingAForeignChange) {
  file_to_save = temporary.filePath("shared.json");
  trigger("save");
  edit_title("Mine");
  QFile file(file_to_save);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write("theirs");
  file.close();
  trigger("save");
  EXPECT_EQ(asked, QStringList{"shared.json"});
  EXPECT_TRUE(session.modified());
  changed = Dialogs::Changed::overwrite;
  trigger("save");
  EXPECT_FALSE(session.modified());
  EXPECT_TRUE(build::load_build(file_to_save.toStdString()));
}

TEST_F(Window, ShowsWhyABadFileCannotBeOpened) {
  file_to_open = temporary.filePath("bad.json");
  QFile file(file_to_open);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write("{\n  \"format\": 12\n}\n");
  file.close();
  const build::Build before = session.build();
  trigger("open");
  ASSERT_EQ(errors.size(), 1);
  EXPECT_TRUE(errors.front().contains("bad.json")) << errors.front().toStdString();
  EXPECT_EQ(session.build(), before);
}

TEST_F(Window, OpensAFileThatIsDroppedOnIt) {
  ASSERT_TRUE(build::save_build(temporary.filePath("dropped.json").toStdString(), demo()));
  QMimeData data;
  data.setUrls({QUrl::fromLocalFile(temporary.filePath("dropped.json"))});
  QDragEnterEvent enter({10, 10}, Qt::CopyAction, &data, Qt::LeftButton, {});
  QApplication::sendEvent(window.get(), &enter);
  EXPECT_TRUE(enter.isAccepted());
  QDropEvent drop({10, 10}, Qt::CopyAction, &data, Qt::LeftButton, {});
  QApplication::sendEvent(window.get(), &drop);
  EXPECT_EQ(session.build(), demo());
  EXPECT_EQ(session.file(), temporary.filePath("dropped.json"));
}

TEST_F(Window, StartsANewBuildFromEitherStockList) {
  for (const auto& [stock, currency] :
       {std::pair(Recipe::Stock::metric, "EUR"), std::pair(Recipe::Stock::inch, "USD")}) {
    recipe.stock = stock;
    trigger("new");
    EXPECT_TRUE(errors.isEmpty()) << errors.join(' ').toStdString();
    EXPECT_EQ(session.build().title, "New build");
    EXPECT_EQ(session.build().budget.currency.text(), currency);
    EXPECT_FALSE(session.build().stock->empty());
    EXPECT_TRUE(session.file().isEmpty());
    EXPECT_FALSE(session.modified());
    EXPECT_FALSE(build::validate(session.build()));
    EXPECT_TRUE(session.evaluation().path.point.usable());
    for (const build::Piece& piece : run().pieces)
      EXPECT_FALSE(piece.stock.text.empty()) << "bought from the list";
  }
}

TEST_F(Window, OpensEveryDemoBuildThatShips) {
  const QDir demos(BELLMOUTH_DEMO_DIR);
  const QStringList names = demos.entryList({"*.json"}, QDir::Files);
  ASSERT_FALSE(names.isEmpty());
  for (const QString& name : names) {
    EXPECT_TRUE(window->open_demo(demos.filePath(name))) << errors.join(' ').toStdString();
    EXPECT_TRUE(session.evaluation().path.point.usable()) << name.toStdString();
    EXPECT_TRUE(session.file().isEmpty());
  }
}

TEST_F(Window, RestoresWhatWasLeftBehind) {
  const build::Build lost = build::with_title(test::sample_build(), "Lost");
  {
    Session other(lost);
    other.restore(lost, {});
    Recovery kept(other, QDir(temporary.filePath("recovery")), 1h);
    kept.keep();
    ASSERT_TRUE(QFile::copy(kept.copy(), temporary.filePath("recovery/left.json")));
  }
  window->offer_left_behind();
  EXPECT_EQ(asked.size(), 1);
  EXPECT_NE(session.build(), lost) << "decided later";
  left_behind = Dialogs::LeftBehind::restore;
  window->offer_left_behind();
  EXPECT_EQ(session.build(), lost);
  EXPECT_TRUE(session.modified());
  EXPECT_FALSE(QFile::exists(temporary.filePath("recovery/left.json")));
  EXPECT_TRUE(QFile::exists(recovery.copy())) << "this run keeps it now";
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
