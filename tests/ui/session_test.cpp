// SPDX-License-Identifier: GPL-3.0-or-later
// History, merging, previews and the guard of the file. All checks are identities of the session's contract.
#include "sample.hpp"

#include <QFile>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <gtest/gtest.h>

#include <cmath>
#include <session.hpp>

namespace bellmouth::ui {
namespace {

using test::sample_build;
using test::sample_with_two_options;

build::Build titled(const build::Build& build, const std::string& title) {
  return build::with_title(build, title);
}

TEST(Session, ShowsFirstOptionAtWorkingSpeed) {
  const Session session(sample_with_two_options());
  EXPECT_EQ(session.option().text, "first");
  ASSERT_TRUE(session.rival());
  EXPECT_EQ(session.rival()->text, "second");
  EXPECT_DOUBLE_EQ(session.engine_speed_rev_s(), 100.0);
  EXPECT_EQ(session.evaluation().option.text, "first");
  ASSERT_NE(session.rival_evaluation(), nullptr);
  EXPECT_EQ(session.rival_evaluation()->option.text, "second");
  EXPECT_FALSE(session.modified());
}

TEST(Session, OnlyOptionHasNoRival) {
  const Session session(sample_build());
  EXPECT_FALSE(session.rival());
  EXPECT_EQ(session.rival_evaluation(), nullptr);
}

TEST(Session, UndoesAndRedoesEveryStep) {
  Session session(sample_build());
  constexpr int steps = 300;
  for (int i = 0; i < steps; ++i)
    ASSERT_FALSE(
        session.apply(titled(session.build(), "title " + std::to_string(i)), QString("step %1").arg(i)));
  EXPECT_EQ(session.undo_text(), QString("step %1").arg(steps - 1));
  for (int i = steps - 1; i >= 0; --i) {
    ASSERT_TRUE(session.can_undo());
    EXPECT_EQ(session.build().title, "title " + std::to_string(i));
    session.undo();
  }
  EXPECT_FALSE(session.can_undo());
  EXPECT_EQ(session.build(), sample_build());
  EXPECT_FALSE(session.modified());
  EXPECT_EQ(session.redo_text(), "step 0");
  for (int i = 0; i < steps; ++i)
    session.redo();
  EXPECT_FALSE(session.can_redo());
  EXPECT_EQ(session.build().title, "title 299");
}

TEST(Session, NewStepDropsWhatWasUndone) {
  Session session(sample_build());
  ASSERT_FALSE(session.apply(titled(session.build(), "one"), "one"));
  session.undo();
  ASSERT_FALSE(session.apply(titled(session.build(), "two"), "two"));
  EXPECT_FALSE(session.can_redo());
  session.undo();
  EXPECT_EQ(session.build(), sample_build());
}

TEST(Session, EqualEditMakesNoStep) {
  Session session(sample_build());
  QSignalSpy changes(&session, &Session::changed);
  ASSERT_FALSE(session.apply(session.build(), "nothing"));
  EXPECT_FALSE(session.can_undo());
  EXPECT_EQ(changes.count(), 0);
}

TEST(Session, MergesEditsOfOneField) {
  Session session(sample_build());
  for (const char* title : {"a", "ab", "abc"})
    ASSERT_FALSE(session.apply(titled(session.build(), title), "Change title", "title"));
  EXPECT_EQ(session.build().title, "abc");
  session.undo();
  EXPECT_EQ(session.build(), sample_build());
  EXPECT_FALSE(session.can_undo());
}

TEST(Session, DoesNotMergeOtherFieldsNorAcrossAnUndo) {
  Session session(sample_build());
  ASSERT_FALSE(session.apply(titled(session.build(), "a"), "Change title", "title"));
  build::Build noted = session.build();
  noted.note = "n";
  ASSERT_FALSE(session.apply(noted, "Change note", "note"));
  ASSERT_FALSE(session.apply(titled(session.build(), "b"), "Change title", "title"));
  session.undo();
  session.undo();
  EXPECT_EQ(session.build().title, "a");
  session.redo();
  session.undo();
  ASSERT_FALSE(session.apply(titled(session.build(), "c"), "Change title", "title"));
  session.undo();
  EXPECT_EQ(session.build().title, "a") << "the step before the undo was replaced";
}

TEST(Session, MergingBackToWhereItBeganLeavesNoStep) {
  Session session(sample_build());
  ASSERT_FALSE(session.apply(titled(session.build(), "a"), "Change title", "title"));
  ASSERT_FALSE(session.apply(sample_build(), "Change title", "title"));
  EXPECT_FALSE(session.can_undo());
  EXPECT_FALSE(session.modified());
}

TEST(Session, RefusesAnInvalidBuild) {
  Session session(sample_build());
  build::Piece tube = *build::find(session.build(), {{"first"}, test::first_run(), 1});
  std::get<build::Tube>(tube.shape).length_m = -1;
  const auto error = session.apply(
      build::with_piece_replaced(session.build(), {{"first"}, test::first_run(), 1}, tube), "bad");
  ASSERT_TRUE(error);
  EXPECT_FALSE(error->accepted.empty());
  EXPECT_FALSE(session.can_undo());
  EXPECT_EQ(session.build(), sample_build());
}

TEST(Session, PreviewMakesNoStepUntilCommitted) {
  Session session(sample_build());
  session.preview(titled(session.build(), "dragging"));
  session.preview(titled(session.build(), "dragged"));
  EXPECT_TRUE(session.previewing());
  EXPECT_EQ(session.build().title, "dragged");
  EXPECT_FALSE(session.can_undo());
  session.commit_preview("Drag");
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.undo_text(), "Drag");
  session.undo();
  EXPECT_EQ(session.build(), sample_build());
}

TEST(Session, CancelledPreviewLeavesNothing) {
  Session session(sample_build());
  session.preview(titled(session.build(), "dragging"));
  session.cancel_preview();
  EXPECT_EQ(session.build(), sample_build());
  EXPECT_FALSE(session.modified());
  EXPECT_FALSE(session.can_undo());
}

TEST(Session, UndoDuringAPreviewAbandonsIt) {
  Session session(sample_build());
  ASSERT_FALSE(session.apply(titled(session.build(), "one"), "one"));
  session.preview(titled(session.build(), "dragging"));
  session.undo();
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.build(), sample_build());
}

TEST(Session, ShowingTheRivalSwapsTheTwo) {
  Session session(sample_with_two_options());
  session.show_option({"second"});
  EXPECT_EQ(session.option().text, "second");
  ASSERT_TRUE(session.rival());
  EXPECT_EQ(session.rival()->text, "first");
  EXPECT_EQ(session.evaluation().option.text, "second");
  EXPECT_EQ(session.rival_evaluation()->option.text, "first");
}

TEST(Session, FollowsARenamedOption) {
  Session session(sample_with_two_options());
  ASSERT_FALSE(session.apply(build::with_option_renamed(session.build(), {"first"}, {"low"}), "Rename"));
  EXPECT_EQ(session.option().text, "low");
  session.undo();
  EXPECT_EQ(session.option().text, "first");
}

TEST(Session, SurvivesTheRemovalOfTheShownOption) {
  Session session(sample_with_two_options());
  ASSERT_FALSE(session.apply(build::with_option_removed(session.build(), {"first"}), "Remove"));
  EXPECT_EQ(session.option().text, "second");
  EXPECT_FALSE(session.rival());
  session.undo();
  EXPECT_NE(session.build().find(session.option()), nullptr);
}

TEST(Session, SelectionMovesUpWhenTheLastPieceGoes) {
  Session session(sample_build());
  session.select(PickedPiece{test::first_run(), 2});
  ASSERT_FALSE(
      session.apply(build::with_piece_removed(session.build(), {{"first"}, test::first_run(), 2}), "Remove"));
  ASSERT_TRUE(std::holds_alternative<PickedPiece>(session.selection()));
  EXPECT_EQ(std::get<PickedPiece>(session.selection()).row, 1U);
  ASSERT_NE(session.picked_piece(), nullptr);
}

TEST(Session, RefusesSpeedsThatTheEngineDoesNotRunAt) {
  Session session(sample_build());
  const auto& engine = std::get<machine::Engine>(session.build().demand);
  const double before = session.engine_speed_rev_s();
  for (const double wrong : {1e6, 0.0, engine.max_speed_rev_s + 0.01, std::nan("")}) {
    const auto error = session.set_engine_speed(wrong);
    ASSERT_TRUE(error) << wrong;
    EXPECT_EQ(error->accepted, "850 rpm to 6500 rpm, as the engine runs");
    EXPECT_EQ(session.engine_speed_rev_s(), before);
  }
  EXPECT_FALSE(session.set_engine_speed(engine.max_speed_rev_s));
  EXPECT_FALSE(session.set_engine_speed(engine.idle_speed_rev_s));
  EXPECT_DOUBLE_EQ(session.engine_speed_rev_s(), engine.idle_speed_rev_s);
  EXPECT_DOUBLE_EQ(session.evaluation().path.point.engine_speed_rev_s, engine.idle_speed_rev_s);
}

TEST(Session, EveryShownBuildHasItsOwnRevision) {
  Session session(sample_build());
  const std::size_t start = session.revision();
  session.preview(titled(session.build(), "p"));
  EXPECT_GT(session.revision(), start);
  const std::size_t previewed = session.revision();
  session.cancel_preview();
  EXPECT_GT(session.revision(), previewed);
}

class SessionFile : public testing::Test {
protected:
  QTemporaryDir folder;
  QString file = folder.filePath("build.json");

  void write(const QByteArray& text) const {
    QFile device(file);
    ASSERT_TRUE(device.open(QIODevice::WriteOnly));
    device.write(text);
  }
};

TEST_F(SessionFile, SavesAndForgetsThatItWasModified) {
  Session session(sample_build());
  ASSERT_FALSE(session.apply(titled(session.build(), "saved"), "t"));
  EXPECT_TRUE(session.modified());
  ASSERT_FALSE(session.save(file));
  EXPECT_FALSE(session.modified());
  EXPECT_EQ(session.file(), file);
  const auto loaded = build::load_build(file.toStdString());
  ASSERT_TRUE(loaded) << loaded.error().text();
  EXPECT_EQ(*loaded, session.build());
  session.undo();
  EXPECT_TRUE(session.modified());
}

TEST_F(SessionFile, RefusesToOverwriteAForeignChange) {
  Session session(sample_build());
  ASSERT_FALSE(session.save(file));
  ASSERT_FALSE(session.apply(titled(session.build(), "mine"), "t"));
  write("theirs");
  EXPECT_TRUE(session.changed_on_disk());
  ASSERT_TRUE(session.save(file));
  QFile device(file);
  ASSERT_TRUE(device.open(QIODevice::ReadOnly));
  EXPECT_EQ(device.readAll(), "theirs");
  device.close();
  EXPECT_TRUE(session.modified());
  EXPECT_FALSE(session.save(file, true));
  EXPECT_FALSE(session.modified());
  EXPECT_TRUE(build::load_build(file.toStdString()));
}

TEST_F(SessionFile, SavesAgainWhereTheFileWasDeleted) {
  Session session(sample_build());
  ASSERT_FALSE(session.save(file));
  ASSERT_TRUE(QFile::remove(file));
  EXPECT_FALSE(session.changed_on_disk());
  EXPECT_FALSE(session.save(file));
  EXPECT_TRUE(QFile::exists(file));
}

TEST_F(SessionFile, ReportsAFolderThatIsNotThere) {
  Session session(sample_build());
  const auto error = session.save(folder.filePath("missing/build.json"));
  ASSERT_TRUE(error);
  EXPECT_FALSE(error->text().empty());
  EXPECT_TRUE(session.file().isEmpty());
}

TEST_F(SessionFile, RestoredWorkCountsAsModified) {
  Session session(sample_build());
  session.restore(titled(sample_build(), "restored"), file);
  EXPECT_TRUE(session.modified());
  EXPECT_EQ(session.file(), file);
  ASSERT_FALSE(session.save(file));
  EXPECT_FALSE(session.modified());
}

} // namespace
} // namespace bellmouth::ui
