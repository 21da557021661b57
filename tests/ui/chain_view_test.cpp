// SPDX-License-Identifier: GPL-3.0-or-later
// The chain under mouse and keys. Identities of the contract: what is picked, what one undo step takes back.
#include "view_sample.hpp"

#include <QApplication>
#include <QContextMenuEvent>
#include <QDragEnterEvent>
#include <QMimeData>
#include <QSignalSpy>
#include <QTest>
#include <gtest/gtest.h>

#include <chain_paint.hpp>
#include <chain_view.hpp>
#include <tray.hpp>

namespace bellmouth::ui {
namespace {

class Chain : public testing::Test {
protected:
  Chain() { test::show(view, 1600, 460); }

  [[nodiscard]] const ChainItem& item(const build::RunId& run, std::size_t row) const {
    const auto found = std::ranges::find_if(view.chain().items, [&](const ChainItem& i) {
      return i.kind == ChainItem::Kind::piece && i.run == run && i.row == row;
    });
    EXPECT_NE(found, view.chain().items.end());
    return *found;
  }
  [[nodiscard]] QPoint at(QPointF drawing) const { return view.drawing_to_viewport(drawing).toPoint(); }
  [[nodiscard]] QPoint middle(const build::RunId& run, std::size_t row) const {
    return at(item(run, row).body.center());
  }
  void drag(QPoint from, QPoint to, Qt::KeyboardModifiers keys = {}, bool release = true) {
    QTest::mousePress(view.viewport(), Qt::LeftButton, keys, from);
    for (int step = 1; step <= 8; ++step) {
      const QPoint now = from + (to - from) * step / 8;
      QMouseEvent move(QEvent::MouseMove, now, view.viewport()->mapToGlobal(now), Qt::NoButton,
                       Qt::LeftButton, keys);
      QApplication::sendEvent(view.viewport(), &move);
    }
    if (release)
      QTest::mouseRelease(view.viewport(), Qt::LeftButton, keys, to);
  }
  static void drop_on(ChainView& target, std::size_t shape_index, QPoint where) {
    QMimeData data;
    data.setData(piece_mime_type, QByteArray::number(static_cast<qulonglong>(shape_index)));
    QDragEnterEvent enter(where, Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(target.viewport(), &enter);
    EXPECT_TRUE(enter.isAccepted());
    QDragMoveEvent move(where, Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(target.viewport(), &move);
    QDropEvent drop(where, Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(target.viewport(), &drop);
  }
  void drop(std::size_t shape_index, QPoint where) { drop_on(view, shape_index, where); }
  [[nodiscard]] double tube_length_m() const {
    return std::get<build::Tube>(test::pieces_of(session, test::suction)[1].shape).length_m;
  }

  Session session{test::full_build()};
  ChainView view{session};
};

TEST_F(Chain, ClickPicksPieceMachineAndNothing) {
  QTest::mouseClick(view.viewport(), Qt::LeftButton, {}, middle(test::hot_side, 1));
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::hot_side, 1}));
  QTest::mouseClick(view.viewport(), Qt::LeftButton, {}, at(view.chain().items.front().body.center()));
  EXPECT_EQ(session.selection(), Selection(PickedMachine{{"filter"}}));
  QTest::mouseClick(view.viewport(), Qt::LeftButton, {}, QPoint(3, 3));
  EXPECT_EQ(session.selection(), Selection());
}

TEST_F(Chain, ClickOnDimensionPicksTheRun) {
  const ChainRun& run = view.chain().runs[1];
  QTest::mouseClick(view.viewport(), Qt::LeftButton, {},
                    at({(run.left + run.right) / 2, view.chain().dimension_y - 6}));
  EXPECT_EQ(session.selection(), Selection(PickedRun{test::hot_side}));
}

TEST_F(Chain, ArrowsWalkTheWholePathAndBack) {
  QTest::keyClick(&view, Qt::Key_Home);
  EXPECT_EQ(session.selection(), Selection(PickedMachine{{"filter"}}));
  std::vector<Selection> seen{session.selection()};
  for (int i = 0; i < 40; ++i) {
    QTest::keyClick(&view, Qt::Key_Right);
    if (session.selection() != seen.back())
      seen.push_back(session.selection());
  }
  EXPECT_EQ(seen.size(), 4U + 4U + 6U + 6U) << "four machines and all rows";
  EXPECT_EQ(session.selection(), Selection(PickedMachine{{"throttle"}}));
  QTest::keyClick(&view, Qt::Key_Left);
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::cold_side, 5}));
  QTest::keyClick(&view, Qt::Key_End);
  EXPECT_EQ(session.selection(), Selection(PickedMachine{{"throttle"}}));
}

TEST_F(Chain, SaysWhatIsSelected) {
  session.select(PickedPiece{test::cold_side, 2});
  EXPECT_TRUE(view.accessibleDescription().contains("cold side, row 3: crossover"))
      << view.accessibleDescription().toStdString();
  session.select(std::monostate{});
  EXPECT_EQ(view.accessibleDescription(), "nothing selected");
}

TEST_F(Chain, DoubleClickAndEnterAskForEditing) {
  const QSignalSpy spy(&view, &ChainView::edit_requested);
  QTest::mouseDClick(view.viewport(), Qt::LeftButton, {}, middle(test::cold_side, 2));
  EXPECT_EQ(spy.count(), 1);
  QTest::keyClick(&view, Qt::Key_Return);
  EXPECT_EQ(spy.count(), 2);
}

TEST_F(Chain, DraggingTheEdgeChangesTheLengthInOneStep) {
  session.select(PickedPiece{test::suction, 1});
  const double before_m = tube_length_m();
  const QPoint edge = at({item(test::suction, 1).body.right(), view.chain().axis_y});
  const double scale = view.scale_px_m();
  drag(edge, edge + QPoint(61, 0));
  const double after_m = tube_length_m();
  EXPECT_NEAR(after_m, before_m + 61 / scale, 2.6e-3);
  EXPECT_NEAR(after_m * 200, std::round(after_m * 200), 1e-9) << "snaps to 5 mm";
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.undo_text(), "Change length of tube");
  session.undo();
  EXPECT_DOUBLE_EQ(tube_length_m(), before_m);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Chain, ShiftSnapsToOneMillimetre) {
  session.select(PickedPiece{test::suction, 1});
  const QPoint edge = at({item(test::suction, 1).body.right(), view.chain().axis_y});
  const double scale = view.scale_px_m();
  const int pixels = static_cast<int>(std::lround(0.022 * scale));
  drag(edge, edge + QPoint(pixels, 0), Qt::ShiftModifier);
  EXPECT_NEAR(tube_length_m() * 1000, std::round(tube_length_m() * 1000), 1e-6);
  EXPECT_NEAR(tube_length_m(), 0.180 + pixels / scale, 0.6e-3);
}

TEST_F(Chain, EscapeAbandonsADragAndLeavesNothing) {
  session.select(PickedPiece{test::suction, 1});
  const build::Build before = session.build();
  const QPoint edge = at({item(test::suction, 1).body.right(), view.chain().axis_y});
  drag(edge, edge + QPoint(60, 0), {}, false);
  EXPECT_TRUE(session.previewing());
  EXPECT_NE(session.build(), before);
  QTest::keyClick(&view, Qt::Key_Escape);
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.build(), before);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Chain, ALengthThatMakesNoSenseIsRefusedAndSaid) {
  session.select(PickedPiece{test::suction, 1});
  const QSignalSpy spy(&view, &ChainView::message);
  const QPoint edge = at({item(test::suction, 1).body.right(), view.chain().axis_y});
  drag(edge, edge - QPoint(400, 0));
  EXPECT_GT(spy.count(), 0);
  EXPECT_GT(tube_length_m(), 0);
  EXPECT_FALSE(build::validate(session.build()));
}

TEST_F(Chain, ABossSlidesAlongItsHost) {
  const QPoint from = middle(test::suction, 2);
  drag(from, from + QPoint(20, 0));
  const auto& boss = std::get<build::SensorBoss>(test::pieces_of(session, test::suction)[2].shape);
  EXPECT_NEAR(boss.position_m, 0.090 + 20 / view.scale_px_m(), 2.6e-3);
  EXPECT_EQ(session.undo_text(), "Move intake temperature along its host");
}

TEST_F(Chain, DraggingAPieceMovesItWithItsFittings) {
  // The tube with its boss goes behind the reducer.
  const QPoint from = middle(test::suction, 1) - QPoint(10, 0);
  const QPoint to = at({view.chain().runs[0].right - 1, view.chain().axis_y});
  drag(from, to);
  const auto& rows = test::pieces_of(session, test::suction);
  EXPECT_TRUE(std::holds_alternative<build::HoseReducer>(rows[1].shape));
  EXPECT_TRUE(std::holds_alternative<build::Tube>(rows[2].shape));
  EXPECT_TRUE(std::holds_alternative<build::SensorBoss>(rows[3].shape));
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 2}));
  session.undo();
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Chain, DroppedKindGoesWhereTheMarkIs) {
  const std::size_t hose = 5;
  const ChainItem& reducer = item(test::suction, 3);
  drop(hose, at({reducer.flow_left, view.chain().axis_y}));
  const auto& rows = test::pieces_of(session, test::suction);
  ASSERT_EQ(rows.size(), 5U);
  EXPECT_TRUE(std::holds_alternative<build::Hose>(rows[3].shape));
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 3}));
  session.undo();
  EXPECT_EQ(test::pieces_of(session, test::suction).size(), 4U);
}

TEST_F(Chain, DroppedBossSitsUnderThePointer) {
  const std::size_t boss = 9;
  const ChainItem& tube = item(test::cold_side, 2);
  const double left = tube.body.left(), scale = view.scale_px_m();
  const QPoint where = at({left + 0.1 * scale, view.chain().axis_y});
  drop(boss, where);
  const auto& rows = test::pieces_of(session, test::cold_side);
  ASSERT_EQ(rows.size(), 7U);
  const auto* added = std::get_if<build::SensorBoss>(&rows[3].shape);
  ASSERT_NE(added, nullptr);
  EXPECT_NEAR(added->position_m, 0.1, 5e-3);
}

TEST_F(Chain, ABossOnNothingRigidIsNotTaken) {
  const std::size_t boss = 9;
  const build::Build before = session.build();
  drop(boss, at(view.chain().items.front().body.center()));
  EXPECT_EQ(session.build(), before);
}

TEST_F(Chain, EmptyRunTakesItsFirstPiece) {
  Session bare(test::with_empty_run(test::full_build(), test::hot_side));
  ChainView bare_view(bare);
  test::show(bare_view, 1600, 460);
  const auto empty = std::ranges::find(bare_view.chain().items, ChainItem::Kind::empty_run, &ChainItem::kind);
  ASSERT_NE(empty, bare_view.chain().items.end());
  drop_on(bare_view, 0, bare_view.drawing_to_viewport(empty->body.center()).toPoint());

  ASSERT_EQ(test::pieces_of(bare, test::hot_side).size(), 1U);
  EXPECT_EQ(bare.selection(), Selection(PickedPiece{test::hot_side, 0}));
}

TEST_F(Chain, ZoomKeysChangeTheScaleAndFitRestoresIt) {
  const double fitted = view.scale_px_m();
  QTest::keyClick(&view, Qt::Key_Plus);
  EXPECT_NEAR(view.scale_px_m(), std::min(fitted * 1.25, highest_scale_px_m), 1e-9);
  QTest::keyClick(&view, Qt::Key_F);
  EXPECT_NEAR(view.scale_px_m(), fitted, 1e-9);
}

TEST_F(Chain, FittedScaleComesBackWhenALongPieceGoes) {
  const double fitted = view.scale_px_m();
  const build::PieceRef tube{session.option(), test::suction, 1};
  build::Piece longer = *build::find(session.build(), tube);
  std::get<build::Tube>(longer.shape).length_m += 0.6;
  ASSERT_FALSE(session.apply(build::with_piece_replaced(session.build(), tube, longer), "lengthen"));
  EXPECT_LT(view.scale_px_m(), fitted);
  session.undo();
  EXPECT_NEAR(view.scale_px_m(), fitted, 1e-6);
}

TEST_F(Chain, RightClickPicksAndAsksForTheMenu) {
  const QSignalSpy spy(&view, &ChainView::menu_requested);
  const QPoint where = middle(test::cold_side, 2);
  QContextMenuEvent event(QContextMenuEvent::Mouse, where, view.viewport()->mapToGlobal(where));
  QApplication::sendEvent(view.viewport(), &event);
  EXPECT_EQ(spy.count(), 1);
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::cold_side, 2}));
}

} // namespace
} // namespace bellmouth::ui
