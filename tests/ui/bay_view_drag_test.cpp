// SPDX-License-Identifier: GPL-3.0-or-later
// Dragging grips in the bay. Identities: the value dragged to, snapped, is what the build then says; one step
// of history for each drag; nothing left behind by one that is given up.
#include "bay_sample.hpp"

#include <QLineEdit>
#include <QSignalSpy>

#include <cmath>
#include <numbers>

namespace bellmouth::ui {
namespace {

constexpr double degree = std::numbers::pi / 180;

class BayGrips : public test::Bay {
protected:
  void SetUp() override {
    Bay::SetUp();
    canvas.set_perspective(false);
  }
  void pick(const build::RunId& run, std::size_t row) {
    session.select(PickedPiece{run, row});
    canvas.fit_selection();
    canvas.grab();
  }
  BayGrip grip(GripValue which) const {
    for (const BayGrip& each : canvas.grips())
      if (each.which == which)
        return each;
    ADD_FAILURE() << "no grip for " << grip_name(which).toStdString();
    return {};
  }
  void press(const BayGrip& taken) {
    from_ = seen(taken.place_m).toPoint();
    QTest::mousePress(&canvas, Qt::LeftButton, {}, from_);
  }
  /// Moves to where a value would be.
  void move_to(const BayGrip& taken, double value, Qt::KeyboardModifiers modifiers = {}) {
    const QPointF to = from_ + (seen(taken.at(value)) - seen(taken.place_m));
    QMouseEvent move(QEvent::MouseMove, to, canvas.mapToGlobal(to), Qt::NoButton, Qt::LeftButton, modifiers);
    QApplication::sendEvent(&canvas, &move);
    at_ = to.toPoint();
  }
  void let_go() { QTest::mouseRelease(&canvas, Qt::LeftButton, {}, at_); }
  double value(const build::RunId& run, std::size_t row, GripValue which) const {
    return *value_of(test::pieces_of(session, run)[row].shape, which);
  }

  QPoint from_, at_;
};

TEST_F(BayGrips, LengthFollowsInStepsOf5mmAndIsOneStepOfHistory) {
  QTest::keyClick(&canvas, Qt::Key_3);
  pick(test::suction, 1);
  const BayGrip length = grip(GripValue::length);
  const build::Build before = session.build();
  press(length);
  for (const double value : {0.190, 0.200, 0.217}) {
    move_to(length, value);
    EXPECT_TRUE(session.previewing());
  }
  EXPECT_NEAR(value(test::suction, 1, GripValue::length), 0.215, 1e-12) << "evaluated while it is dragged";
  let_go();
  EXPECT_FALSE(session.previewing());
  EXPECT_NEAR(value(test::suction, 1, GripValue::length), 0.215, 1e-12);
  EXPECT_EQ(session.undo_text(), QString("Change length of tube"));
  session.undo();
  EXPECT_EQ(session.build(), before);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(BayGrips, ShiftMakesFineSteps) {
  QTest::keyClick(&canvas, Qt::Key_3);
  pick(test::suction, 1);
  const BayGrip length = grip(GripValue::length);
  press(length);
  move_to(length, 0.2171, Qt::ShiftModifier);
  const double fine = value(test::suction, 1, GripValue::length);
  EXPECT_NEAR(fine, 0.217, 0.6e-3);
  EXPECT_NEAR(std::remainder(fine, 0.5e-3), 0, 1e-12);
  let_go();
}

TEST_F(BayGrips, EscapeLeavesNothing) {
  QTest::keyClick(&canvas, Qt::Key_3);
  pick(test::suction, 1);
  const build::Build before = session.build();
  const BayGrip length = grip(GripValue::length);
  press(length);
  move_to(length, 0.25);
  EXPECT_NE(session.build(), before);
  QTest::keyClick(&canvas, Qt::Key_Escape);
  EXPECT_EQ(session.build(), before);
  let_go();
  EXPECT_EQ(session.build(), before);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(BayGrips, ATypedValueTakesOver) {
  QTest::keyClick(&canvas, Qt::Key_3);
  pick(test::suction, 1);
  const BayGrip length = grip(GripValue::length);
  press(length);
  move_to(length, 0.25);
  QTest::keyClick(&canvas, Qt::Key_2);
  auto* line = canvas.findChild<QLineEdit*>("grip_value_line");
  ASSERT_NE(line, nullptr);
  EXPECT_EQ(line->text(), "2");
  QTest::keyClicks(line, "3.3 cm");
  move_to(length, 0.3);
  let_go();
  EXPECT_TRUE(session.previewing()) << "what is typed waits for Enter";
  QTest::keyClick(line, Qt::Key_Return);
  EXPECT_FALSE(session.previewing());
  EXPECT_NEAR(value(test::suction, 1, GripValue::length), 0.233, 1e-12);
  session.undo();
  EXPECT_FALSE(session.can_undo()) << "still one step";
}

TEST_F(BayGrips, ATypedValueThatIsRefusedStaysToBeMended) {
  QTest::keyClick(&canvas, Qt::Key_3);
  pick(test::suction, 1);
  const BayGrip length = grip(GripValue::length);
  press(length);
  move_to(length, 0.25);
  QTest::keyClick(&canvas, Qt::Key_9);
  auto* line = canvas.findChild<QLineEdit*>("grip_value_line");
  ASSERT_NE(line, nullptr);
  QTest::keyClicks(line, "00 m");
  QTest::keyClick(line, Qt::Key_Return);
  EXPECT_FALSE(canvas.refused_words().isEmpty());
  EXPECT_NEAR(value(test::suction, 1, GripValue::length), 0.25, 1e-12);
  QTest::keyClick(line, Qt::Key_Escape);
  EXPECT_FALSE(session.previewing());
  EXPECT_NEAR(value(test::suction, 1, GripValue::length), 0.18, 1e-12);
}

TEST_F(BayGrips, ARefusedValueIsNotTakenAndSaysWhy) {
  QTest::keyClick(&canvas, Qt::Key_3);
  pick(test::suction, 1);
  const BayGrip length = grip(GripValue::length);
  press(length);
  move_to(length, 0.10);
  const double before = value(test::suction, 1, GripValue::length);
  EXPECT_NEAR(before, 0.10, 1e-12);
  move_to(length, -0.02);
  EXPECT_FALSE(canvas.refused_words().isEmpty());
  EXPECT_EQ(value(test::suction, 1, GripValue::length), before);
  QTest::keyClick(&canvas, Qt::Key_Escape);
}

TEST_F(BayGrips, ClockingTurnsInStepsOf5Degrees) {
  QTest::keyClick(&canvas, Qt::Key_5); // the bend leaves the blower downwards: its ring is seen round
  pick(test::hot_side, 1);
  const BayGrip ring = grip(GripValue::clocking);
  press(ring);
  for (const double angle : {10.0, 30.0, 52.0})
    move_to(ring, angle * degree);
  let_go();
  EXPECT_NEAR(value(test::hot_side, 1, GripValue::clocking), 50 * degree, 1e-9);
}

TEST_F(BayGrips, AngleOfABendIsTrimmed) {
  pick(test::hot_side, 1);
  canvas.look_from(scene::StandardView::left);
  canvas.fit_selection();
  canvas.grab();
  const BayGrip arc = grip(GripValue::angle);
  press(arc);
  move_to(arc, 80 * degree);
  move_to(arc, 61 * degree);
  let_go();
  EXPECT_NEAR(value(test::hot_side, 1, GripValue::angle), 60 * degree, 1e-9);
}

TEST_F(BayGrips, AFittingMovesAlongItsHost) {
  QTest::keyClick(&canvas, Qt::Key_3);
  pick(test::suction, 2);
  canvas.fit_all();
  canvas.grab();
  const BayGrip place = grip(GripValue::position);
  press(place);
  move_to(place, 0.120);
  move_to(place, 0.131);
  let_go();
  EXPECT_NEAR(value(test::suction, 2, GripValue::position), 0.130, 1e-12);
}

TEST_F(BayGrips, ValuesAreTypedWithoutAMouseToo) {
  session.select(PickedPiece{test::hot_side, 1});
  QTest::keyClick(&canvas, Qt::Key_G);
  auto* clocking = canvas.findChild<QLineEdit*>("grip_value_line");
  ASSERT_NE(clocking, nullptr);
  QTest::keyClicks(clocking, "20");
  QTest::keyClick(clocking, Qt::Key_Return);
  EXPECT_NEAR(value(test::hot_side, 1, GripValue::clocking), 20 * degree, 1e-12);
  QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
  QTest::keyClick(&canvas, Qt::Key_G);
  auto* angle = canvas.findChild<QLineEdit*>("grip_value_line");
  ASSERT_NE(angle, nullptr);
  QTest::keyClick(angle, Qt::Key_Escape);
  EXPECT_EQ(session.undo_text(), "Change clocking of tube bend");
}

TEST_F(BayGrips, UndoingInTheMiddleOfADragEndsIt) {
  QTest::keyClick(&canvas, Qt::Key_3);
  const build::Build first = session.build();
  ASSERT_FALSE(session.apply(build::with_title(first, "Renamed"), "Rename"));
  pick(test::suction, 1);
  const BayGrip length = grip(GripValue::length);
  press(length);
  move_to(length, 0.25);
  session.undo();
  EXPECT_EQ(session.build(), first);
  move_to(length, 0.3);
  let_go();
  EXPECT_EQ(session.build(), first);
}

TEST_F(BayGrips, GoingElsewhereLeavesATypedValueBehind) {
  session.select(PickedPiece{test::hot_side, 1});
  const build::Build before = session.build();
  QTest::keyClick(&canvas, Qt::Key_G);
  auto* line = canvas.findChild<QLineEdit*>("grip_value_line");
  ASSERT_NE(line, nullptr);
  QTest::keyClicks(line, "33");
  view.findChild<QWidget*>("bay_fit")->setFocus(Qt::MouseFocusReason);
  EXPECT_EQ(session.build(), before);
  EXPECT_FALSE(session.previewing());
}

// Identity: each grip stands where its own value says, for every piece of the build.
TEST_F(BayGrips, StandWhereTheirValuesSay) {
  for (const auto& run : session.build().find(session.option())->runs)
    for (std::size_t row = 0; row < run->pieces.size(); ++row) {
      session.select(PickedPiece{run->id, row});
      const std::vector<BayGrip> grips = canvas.grips();
      EXPECT_FALSE(grips.empty()) << run->id.text << " row " << row;
      for (const BayGrip& each : grips) {
        EXPECT_EQ(each.at(each.value), each.place_m);
        EXPECT_EQ(each.value, value(run->id, row, each.which));
        const double back = value_at(each, canvas.lookout(), seen(each.place_m), each.value);
        const QPointF miss = seen(each.at(back)) - seen(each.place_m);
        EXPECT_LT(std::hypot(miss.x(), miss.y()), 0.5) << grip_name(each.which).toStdString();
      }
    }
}

} // namespace
} // namespace bellmouth::ui
