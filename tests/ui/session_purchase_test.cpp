// SPDX-License-Identifier: GPL-3.0-or-later
// The purchase that follows each build. Identities of the session's contract with buy/ and check/.
#include "view_sample.hpp"

#include <QTest>
#include <gtest/gtest.h>

namespace bellmouth::ui {
namespace {

class Purchases : public testing::Test {
protected:
  Session session{test::full_build()};
  int told = 0; ///< how often the purchase was

  void SetUp() override {
    QObject::connect(&session, &Session::changed, &session,
                     [this](Changes changes) { told += changes.testFlag(Change::purchase) ? 1 : 0; });
  }
  void wait() {
    ASSERT_TRUE(QTest::qWaitFor([this] { return !session.purchase_is_due(); }));
  }
};

TEST_F(Purchases, AreThoseOfTheShownOptionAndItsRival) {
  EXPECT_TRUE(session.purchase_is_due());
  EXPECT_EQ(session.last_purchase(), nullptr) << "nobody has asked yet";
  wait();
  EXPECT_EQ(told, 1);
  const build::Build& build = session.build();
  EXPECT_EQ(session.purchase().totals.total, buy::purchase(build, {"small"}).totals.total);
  ASSERT_NE(session.rival_purchase(), nullptr);
  EXPECT_EQ(session.rival_purchase()->totals.total, buy::purchase(build, {"wide"}).totals.total);
  session.show_option({"wide"});
  EXPECT_EQ(session.last_purchase(), nullptr) << "of this option";
  EXPECT_EQ(session.purchase().totals.total, buy::purchase(build, {"wide"}).totals.total);
}

TEST_F(Purchases, FollowEachBuildAndNotTheEngine) {
  wait();
  ASSERT_FALSE(session.set_engine_speed(50));
  EXPECT_FALSE(session.purchase_is_due()) << "money does not hang on the engine's speed";
  const auto before = session.purchase().totals.total;
  ASSERT_FALSE(session.apply(test::with_empty_run(session.build(), test::cold_side), "empty a run"));
  EXPECT_TRUE(session.purchase_is_due());
  ASSERT_NE(session.last_purchase(), nullptr);
  EXPECT_EQ(session.last_purchase()->totals.total, before) << "as it was planned last";
  EXPECT_LT(session.purchase().totals.total.minor, before.minor) << "asked for, it is that of the build";
  wait();
  session.undo();
  EXPECT_EQ(session.purchase().totals.total, before);
}

TEST_F(Purchases, AreToldOnceForManyEdits) {
  wait();
  told = 0;
  for (const char* title : {"one", "two", "three"})
    ASSERT_FALSE(session.apply(build::with_title(session.build(), title), "Change title"));
  wait();
  EXPECT_EQ(told, 1);
}

TEST_F(Purchases, AimAtWhatIsChosen) {
  wait();
  session.set_aim(buy::Aim::suppliers);
  wait();
  EXPECT_EQ(session.purchase().task.question.aim, buy::Aim::suppliers);
  EXPECT_LE(session.purchase_with(buy::Aim::money).totals.goods.minor +
                session.purchase_with(buy::Aim::money).totals.postage.minor,
            session.purchase().totals.goods.minor + session.purchase().totals.postage.minor);
  EXPECT_FALSE(session.can_undo()) << "it is no part of the build";
}

TEST_F(Purchases, TheChecksSpeakOfThem) {
  EXPECT_EQ(session.findings().size(), session.evaluation().findings.size());
  wait();
  const auto of_purchase = check::check_purchase(session.build(), session.purchase());
  ASSERT_FALSE(of_purchase.empty());
  const auto all = session.findings();
  EXPECT_EQ(all.size(), session.evaluation().findings.size() + of_purchase.size());
  EXPECT_TRUE(std::ranges::is_sorted(all, std::ranges::greater(), &check::Finding::severity));
  // Those of pieces that are gone are not told until all is planned anew.
  ASSERT_FALSE(session.apply(test::with_empty_run(session.build(), test::suction), "empty a run"));
  for (const check::Finding& finding : session.findings())
    if (finding.where.piece) {
      EXPECT_NE(build::find(session.build(), *finding.where.piece), nullptr) << finding.where.text;
    }
}

} // namespace
} // namespace bellmouth::ui
