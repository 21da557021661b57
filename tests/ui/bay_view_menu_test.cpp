// SPDX-License-Identifier: GPL-3.0-or-later
// The right button in the bay, and pieces dropped from the tray. Identities: what the build says afterwards.
#include "bay_sample.hpp"

#include <QDropEvent>
#include <QMenu>
#include <QMimeData>

#include <new_piece.hpp>
#include <tray.hpp>

namespace bellmouth::ui {
namespace {

class BayMenu : public test::Bay {
protected:
  /// Opens the menu on a piece.
  QMenu* menu_on(const build::RunId& run, std::size_t row,
                 scene::StandardView side = scene::StandardView::above) {
    session.select(PickedPiece{run, row});
    canvas.look_from(side);
    canvas.fit_selection();
    canvas.grab();
    click(seen(middle_of(run, row)), Qt::RightButton);
    EXPECT_EQ(session.selection(), Selection(PickedPiece{run, row}));
    auto* menu = canvas.findChild<QMenu*>("bay_menu");
    EXPECT_NE(menu, nullptr);
    return menu;
  }
  static void trigger(QMenu* menu, const QString& name) {
    auto* action = menu->findChild<QAction*>(name);
    ASSERT_NE(action, nullptr) << name.toStdString();
    ASSERT_TRUE(action->isEnabled()) << name.toStdString();
    action->trigger();
    menu->close();
  }
  std::size_t count(const build::RunId& run) const { return test::pieces_of(session, run).size(); }
};

TEST_F(BayMenu, SplitsATubeWhereItWasClicked) {
  QMenu* menu = menu_on(test::suction, 1);
  ASSERT_NE(menu, nullptr);
  trigger(menu, "split_here");
  ASSERT_EQ(count(test::suction), 5U);
  const auto& pieces = test::pieces_of(session, test::suction);
  const auto& first = std::get<build::Tube>(pieces[1].shape);
  EXPECT_NEAR(first.length_m, 0.090, 5.1e-3) << "clicked in the middle";
  double whole_m = first.length_m;
  for (std::size_t row = 2; row < pieces.size(); ++row)
    if (const auto* tube = std::get_if<build::Tube>(&pieces[row].shape))
      whole_m += tube->length_m;
  EXPECT_NEAR(whole_m, 0.180, 1e-12);
  EXPECT_EQ(session.undo_text(), "Split tube");
}

TEST_F(BayMenu, OffersToSplitTubesOnly) {
  QMenu* menu = menu_on(test::hot_side, 1, scene::StandardView::left);
  ASSERT_NE(menu, nullptr);
  ASSERT_NE(menu->findChild<QAction*>("split_here"), nullptr);
  EXPECT_FALSE(menu->findChild<QAction*>("split_here")->isEnabled());
  menu->close();
}

TEST_F(BayMenu, TurnsAPieceRound) {
  QMenu* menu = menu_on(test::suction, 3);
  ASSERT_NE(menu, nullptr);
  trigger(menu, "turn_round");
  const auto& reducer = std::get<build::HoseReducer>(test::pieces_of(session, test::suction)[3].shape);
  EXPECT_NEAR(reducer.bore_in_m, 0.070, 1e-12);
  EXPECT_NEAR(reducer.bore_out_m, 0.0762, 1e-12);
}

TEST_F(BayMenu, RemovesAPieceWithItsFittings) {
  QMenu* menu = menu_on(test::suction, 1);
  ASSERT_NE(menu, nullptr);
  trigger(menu, "remove");
  EXPECT_EQ(count(test::suction), 2U);
}

TEST_F(BayMenu, ContinuesWithWhatFitsFirst) {
  QMenu* menu = menu_on(test::suction, 3); // ends in a hose end
  ASSERT_NE(menu, nullptr);
  auto* first = menu->findChild<QAction*>("continue_0");
  ASSERT_NE(first, nullptr);
  EXPECT_EQ(first->text(), "Tube");
  trigger(menu, "continue_0");
  ASSERT_EQ(count(test::suction), 5U);
  EXPECT_TRUE(std::holds_alternative<build::Tube>(test::pieces_of(session, test::suction)[4].shape));
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 4}));
}

TEST_F(BayMenu, SwapsForAnotherKindInPlace) {
  QMenu* menu = menu_on(test::cold_side, 2);
  ASSERT_NE(menu, nullptr);
  auto* swap = menu->findChild<QMenu*>("swap_for");
  ASSERT_NE(swap, nullptr);
  const auto actions = swap->actions();
  QAction* bend = nullptr;
  for (QAction* action : actions)
    if (action->text() == "Tube bend")
      bend = action;
  ASSERT_NE(bend, nullptr);
  bend->trigger();
  menu->close();
  EXPECT_EQ(count(test::cold_side), 6U);
  EXPECT_TRUE(std::holds_alternative<build::TubeBend>(test::pieces_of(session, test::cold_side)[2].shape));
}

TEST(BayOffers, WhatFitsHasJointsThatHold) {
  const build::Build build = test::full_build();
  const build::PieceRef end{{"small"}, test::suction, 4};
  bool unfit = false;
  for (const BayOffer& offer : offers_to_continue(build, end)) {
    EXPECT_FALSE(build::validate(offer.next));
    EXPECT_FALSE(unfit && offer.fits) << "what fits stands first";
    unfit = unfit || !offer.fits;
    const build::Run& run = *offer.next.find(build::OptionId{"small"})->find(test::suction);
    if (build::is_fitting(run.pieces[offer.row].shape))
      continue;
    const joint::RunFit fit = joint::fit(offer.next, run);
    const auto joint = std::ranges::find_if(
        fit.joints, [&](const joint::Joint& each) { return each.downstream.row == offer.row; });
    ASSERT_NE(joint, fit.joints.end());
    if (offer.fits) {
      EXPECT_NE(joint->kind, joint::Kind::wrong) << offer.text.toStdString();
    }
  }
  EXPECT_TRUE(unfit) << "a hose does not go on a hose";
}

TEST(BayOffers, StockToSwapForIsOfTheSameKindAndFits) {
  const build::Build build = test::full_build();
  const build::PieceRef bend{{"small"}, test::cold_side, 1};
  for (const BayOffer& offer : offers_to_swap(build, bend)) {
    EXPECT_FALSE(build::validate(offer.next));
    EXPECT_NE(offer.next, build);
  }
}

class BayDrop : public test::Bay {
protected:
  /// Drops a kind at a point of the view.
  void drop(std::size_t shape_index, QPointF at) {
    QMimeData data;
    data.setData(piece_mime_type, QByteArray::number(static_cast<qulonglong>(shape_index)));
    QDragEnterEvent enter(at.toPoint(), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&canvas, &enter);
    QDragMoveEvent move(at.toPoint(), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&canvas, &move);
    canvas.grab();
    QDropEvent event(at, Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&canvas, &event);
  }
};

TEST_F(BayDrop, APieceGoesBetweenTwoOthers) {
  canvas.look_from(scene::StandardView::above);
  const RunResult& run = *find_run(session.evaluation(), test::suction);
  drop(build::Shape(build::TubeBend{}).index(), seen(run.frames[1].position_m) + QPointF(2, 3));
  ASSERT_EQ(test::pieces_of(session, test::suction).size(), 5U);
  EXPECT_TRUE(std::holds_alternative<build::TubeBend>(test::pieces_of(session, test::suction)[1].shape));
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 1}));
}

TEST_F(BayDrop, APieceGoesOnAnOpenEnd) {
  canvas.look_from(scene::StandardView::above);
  const RunResult& run = *find_run(session.evaluation(), test::cold_side);
  drop(0, seen(run.frames.back().position_m));
  ASSERT_EQ(test::pieces_of(session, test::cold_side).size(), 7U);
  EXPECT_TRUE(std::holds_alternative<build::Tube>(test::pieces_of(session, test::cold_side)[6].shape));
}

TEST_F(BayDrop, AFittingGoesOnTheRigidPieceBelow) {
  canvas.look_from(scene::StandardView::above);
  drop(build::Shape(build::SensorBoss{}).index(), seen(middle_of(test::suction, 1)));
  ASSERT_EQ(test::pieces_of(session, test::suction).size(), 5U);
  const auto& boss = std::get<build::SensorBoss>(test::pieces_of(session, test::suction)[3].shape);
  EXPECT_NEAR(boss.position_m, 0.090, 5.1e-3);
}

} // namespace
} // namespace bellmouth::ui
