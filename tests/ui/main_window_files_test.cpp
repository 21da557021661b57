// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does with files: saving, guarding, opening, restoring. Identities of the contract.
#include "window_fixture.hpp"

#include <QApplication>
#include <QDir>
#include <QDropEvent>
#include <QFile>
#include <QLineEdit>
#include <QMimeData>
#include <QTest>
#include <QUrl>
#include <gtest/gtest.h>
#include <quantity_edit.hpp>

#include <main_window.hpp>
#include <new_piece.hpp>
#include <recovery.hpp>

namespace bellmouth::ui {
namespace {

using namespace std::chrono_literals;

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

} // namespace
} // namespace bellmouth::ui
