// SPDX-License-Identifier: GPL-3.0-or-later
// Routes in the view of the bay: drawn translucently, and asked for there. Identities: the picture with and
// without, what is asked for.
#include "bay_sample.hpp"

#include <QMenu>
#include <QPushButton>
#include <QSignalSpy>

namespace bellmouth::ui {
namespace {

class BayRoutes : public test::Bay {
protected:
  /// The cold side of the option "wide", while "small" is shown.
  std::shared_ptr<const RouteGhost> ghost() const {
    return std::make_shared<const RouteGhost>(
        RouteGhost{session.build(), evaluate(session.build(), {"wide"}), test::cold_side});
  }
  QImage picture() {
    QTest::qWait(0);
    return canvas.grab().toImage();
  }
  QMenu* menu_at(QPointF point) {
    click(point, Qt::RightButton);
    auto* menu = canvas.findChild<QMenu*>("bay_menu");
    EXPECT_NE(menu, nullptr);
    return menu;
  }
  static void trigger(QMenu* menu, const QString& name) {
    auto* action = menu->findChild<QAction*>(name);
    ASSERT_NE(action, nullptr) << name.toStdString();
    action->trigger();
    menu->close();
  }
  std::optional<build::RunId> asked;
  void SetUp() override {
    test::Bay::SetUp();
    QObject::connect(&view, &BayView::routes_requested, &view,
                     [this](const build::RunId& run) { asked = run; });
  }
};

TEST_F(BayRoutes, AreDrawnAndLeaveNothingBehind) {
  const QImage before = picture();
  canvas.show_ghost(ghost());
  const auto items = canvas.bay().scene().items.size();
  EXPECT_GT(items, canvas.bay().solids().size());
  const QImage with = picture();
  EXPECT_GT(difference(before, with), 200);
  canvas.show_ghost(nullptr);
  EXPECT_EQ(canvas.bay().scene().items.size(), canvas.bay().solids().size());
  EXPECT_EQ(difference(before, picture()), 0);
}

TEST_F(BayRoutes, StayWhileThePictureIsTurnedAndTheBuildIsEdited) {
  canvas.show_ghost(ghost());
  const auto items = canvas.bay().scene().items.size();
  canvas.look_from(scene::StandardView::above);
  ASSERT_FALSE(session.apply(build::with_title(session.build(), "Another"), "Title"));
  EXPECT_EQ(canvas.bay().scene().items.size(), items);
  EXPECT_NE(canvas.bay().ghost(), nullptr);
}

TEST_F(BayRoutes, TheirRunIsFainterMeanwhile) {
  canvas.show_ghost(ghost());
  for (std::size_t i = 0; i < canvas.bay().solids().size(); ++i) {
    const scene::Part& part = canvas.bay().solids()[i].part;
    if (part.kind == scene::Part::Kind::piece) {
      EXPECT_EQ(canvas.bay().scene().items[i].opacity < 1, part.run == test::cold_side);
    }
  }
}

TEST_F(BayRoutes, AreAskedForOnAPort) {
  canvas.look_from(scene::StandardView::above);
  session.select(PickedPort{{"throttle_in"}});
  canvas.fit_selection();
  canvas.grab();
  // The spigot lies behind its face.
  const build::Pose& pose = *session.build().find(build::PortId{"throttle_in"})->pose;
  QMenu* menu = menu_at(seen(build::plus(pose.position_m, -0.015, pose.direction)));
  ASSERT_NE(menu, nullptr);
  auto* action = menu->findChild<QAction*>("find_routes_to");
  ASSERT_NE(action, nullptr);
  EXPECT_EQ(action->text(), "Find routes from here to cooler out");
  trigger(menu, "find_routes_to");
  EXPECT_EQ(asked, test::cold_side);
}

TEST_F(BayRoutes, AreAskedForOnAPieceAndMayPassAPoint) {
  canvas.look_from(scene::StandardView::above);
  session.select(PickedPiece{test::suction, 1});
  canvas.fit_selection();
  canvas.grab();
  std::optional<build::Vector> point;
  QObject::connect(&view, &BayView::pass_requested, &view, [&](const build::Vector& at) { point = at; });
  const build::Vector middle = middle_of(test::suction, 1);
  QMenu* menu = menu_at(seen(middle));
  ASSERT_NE(menu, nullptr);
  menu->findChild<QAction*>("pass_here")->trigger();
  ASSERT_TRUE(point);
  EXPECT_NEAR((*point)[0], middle[0], 0.01);
  EXPECT_NEAR((*point)[1], middle[1], 0.01);
  trigger(menu, "find_routes_for");
  EXPECT_EQ(asked, test::suction);
}

TEST_F(BayRoutes, AreOfferedForARunWithoutPieces) {
  auto* button = view.findChild<QPushButton*>("bay_find_routes");
  ASSERT_NE(button, nullptr);
  EXPECT_FALSE(button->isVisible());
  ASSERT_FALSE(session.apply(test::with_empty_run(session.build(), test::hot_side), "Empty"));
  ASSERT_TRUE(button->isVisible());
  QTest::mouseClick(button, Qt::LeftButton);
  EXPECT_EQ(asked, test::hot_side);
}

} // namespace
} // namespace bellmouth::ui
