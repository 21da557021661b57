// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of unsaved work. Identities of the contract.
#include "sample.hpp"

#include <QFile>
#include <QSysInfo>
#include <QTemporaryDir>
#include <QTest>
#include <gtest/gtest.h>

#include <chrono>
#include <recovery.hpp>

namespace bellmouth::ui {
namespace {

using namespace std::chrono_literals;

class RecoveryTest : public testing::Test {
protected:
  QTemporaryDir temporary;
  QDir folder{temporary.filePath("recovery")};
  Session session{test::sample_build()};

  void edit(const std::string& title) {
    ASSERT_FALSE(session.apply(build::with_title(session.build(), title), "Change title"));
  }
};

TEST_F(RecoveryTest, KeepsACopyAWhileAfterAChange) {
  Recovery recovery(session, folder, 20ms);
  EXPECT_FALSE(QFile::exists(recovery.copy()));
  edit("unsaved");
  EXPECT_TRUE(QTest::qWaitFor([&] { return QFile::exists(recovery.copy()); }, 3000));
}

TEST_F(RecoveryTest, NeverKeepsAPreview) {
  Recovery recovery(session, folder, 1h);
  edit("committed");
  session.preview(build::with_title(session.build(), "dragging"));
  recovery.keep();
  EXPECT_FALSE(QFile::exists(recovery.copy()));
  session.cancel_preview();
  recovery.keep();
  EXPECT_TRUE(QFile::exists(recovery.copy()));
}

TEST_F(RecoveryTest, TheCopyGoesWhenTheBuildIsSaved) {
  Recovery recovery(session, folder, 1h);
  edit("unsaved");
  recovery.keep();
  ASSERT_TRUE(QFile::exists(recovery.copy()));
  ASSERT_FALSE(session.save(temporary.filePath("build.json")));
  EXPECT_FALSE(QFile::exists(recovery.copy()));
}

TEST_F(RecoveryTest, TheCopyGoesInTheEnd) {
  QString copy;
  {
    Recovery recovery(session, folder, 1h);
    edit("unsaved");
    recovery.keep();
    copy = recovery.copy();
    ASSERT_TRUE(QFile::exists(copy));
  }
  EXPECT_FALSE(QFile::exists(copy));
}

TEST_F(RecoveryTest, DoesNotOfferWhatARunningProgramKeeps) {
  Recovery running(session, folder, 1h);
  edit("unsaved");
  running.keep();
  Session other(test::sample_build());
  const Recovery recovery(other, folder, 1h);
  EXPECT_TRUE(recovery.left_behind().empty());
}

/// What a run leaves that ended without finish(): its copy without a lock that anybody holds.
void leave_behind(Session& session, const QDir& folder) {
  QByteArray kept;
  {
    Recovery recovery(session, folder, 1h);
    recovery.keep();
    QFile copy(recovery.copy());
    ASSERT_TRUE(copy.open(QIODevice::ReadOnly));
    kept = copy.readAll();
  }
  QFile left(folder.filePath("left.json"));
  ASSERT_TRUE(left.open(QIODevice::WriteOnly));
  left.write(kept);
}

TEST_F(RecoveryTest, OffersWhatAnEndedProgramLeft) {
  session.restore(build::with_title(test::sample_build(), "lost"), "/builds/mine.json");
  leave_behind(session, folder);
  Session later(test::sample_build());
  const Recovery recovery(later, folder, 1h);
  const auto left = recovery.left_behind();
  ASSERT_EQ(left.size(), 1U);
  ASSERT_TRUE(left.front().build) << left.front().build.error().text();
  EXPECT_EQ(*left.front().build, session.build());
  EXPECT_EQ(left.front().original, "/builds/mine.json");
  EXPECT_TRUE(left.front().saved_at.isValid());
  Recovery::throw_away(left.front());
  EXPECT_TRUE(recovery.left_behind().empty());
}

TEST_F(RecoveryTest, ClearsAwayTheLocksOfEndedRuns) {
  folder.mkpath(".");
  const QString lock = folder.filePath("gone.json.lock");
  QFile file(lock);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  // As QLockFile writes it: a process that cannot be, program, machine.
  file.write("999999999\nbellmouth\n" + QSysInfo::machineHostName().toUtf8() + "\n");
  file.close();
  const Recovery recovery(session, folder, 1h);
  EXPECT_FALSE(QFile::exists(lock));
  EXPECT_TRUE(QFile::exists(recovery.copy() + ".lock")) << "its own lock stays";
}

TEST_F(RecoveryTest, ReportsADamagedCopy) {
  folder.mkpath(".");
  QFile left(folder.filePath("left.json"));
  ASSERT_TRUE(left.open(QIODevice::WriteOnly));
  left.write("{\"format\": \"bellmouth-rec");
  left.close();
  const Recovery recovery(session, folder, 1h);
  const auto found = recovery.left_behind();
  ASSERT_EQ(found.size(), 1U);
  ASSERT_FALSE(found.front().build);
  EXPECT_FALSE(found.front().build.error().text().empty());
}

TEST_F(RecoveryTest, SaysWhenItCannotWrite) {
  // A file where the folder should be.
  QFile in_the_way(temporary.filePath("recovery"));
  ASSERT_TRUE(in_the_way.open(QIODevice::WriteOnly));
  in_the_way.close();
  Recovery recovery(session, folder, 1h);
  QString why;
  QObject::connect(&recovery, &Recovery::failed, [&](const QString& text) { why = text; });
  edit("unsaved");
  recovery.keep();
  EXPECT_FALSE(why.isEmpty());
}

} // namespace
} // namespace bellmouth::ui
