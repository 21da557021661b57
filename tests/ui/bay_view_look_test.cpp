// SPDX-License-Identifier: GPL-3.0-or-later
// Looking round the bay and picking in it. Identities: what is clicked is what is picked, what lies under the
// pointer stays there.
#include "bay_sample.hpp"

#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QToolButton>
#include <QWheelEvent>

#include <cmath>

namespace bellmouth::ui {
namespace {

using BayLook = test::Bay;
using build::Vector;

TEST_F(BayLook, ClickPicksThePieceSeenThere) {
  canvas.look_from(scene::StandardView::above);
  canvas.grab();
  click(seen(middle_of(test::suction, 1)));
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 1}));
  click(seen(middle_of(test::cold_side, 1)));
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::cold_side, 1}));
  click({3, 3});
  EXPECT_EQ(session.selection(), Selection());
}

TEST_F(BayLook, PlanesWithoutBoundsAreGroundBehindWhatIsPicked) {
  build::Build bonnet_only = test::full_build();
  std::erase_if(bonnet_only.keep_outs, [](const build::KeepOut& keep_out) {
    return !std::holds_alternative<build::HalfSpace>(keep_out.shape);
  });
  ASSERT_FALSE(session.apply(bonnet_only, "With the bonnet"));
  canvas.look_from(scene::StandardView::below);
  canvas.set_perspective(false);
  canvas.grab();
  // Two pixels beside the hose's outline, before the bonnet.
  const Vector middle = middle_of(test::suction, 0);
  const QPointF outline = seen({middle[0], middle[1] + 0.0762 / 2 + 0.0045, middle[2]});
  const double out = outline.y() > seen(middle).y() ? 2 : -2;
  click(outline + QPointF(0, out));
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 0}));
  click({3, 3});
  EXPECT_EQ(session.selection(), Selection()) << "the bonnet is not picked";
}

TEST_F(BayLook, DoubleClickAsksForTheFields) {
  canvas.look_from(scene::StandardView::above);
  canvas.grab();
  QSignalSpy asked(&view, &BayView::edit_requested);
  QTest::mouseDClick(&canvas, Qt::LeftButton, {}, seen(middle_of(test::suction, 1)).toPoint());
  EXPECT_EQ(asked.count(), 1);
}

TEST_F(BayLook, FitsAllPortsIntoThePicture) {
  for (const QSize size : {QSize(500, 300), QSize(1280, 620), QSize(1900, 900)}) {
    test::show(view, size.width(), size.height());
    for (const auto side : {scene::StandardView::slanted, scene::StandardView::front,
                            scene::StandardView::left, scene::StandardView::above})
      for (const bool perspective : {true, false}) {
        canvas.set_perspective(perspective);
        canvas.look_from(side);
        canvas.fit_all();
        for (const build::Port& port : session.build().ports)
          if (port.pose) {
            EXPECT_TRUE(QRectF(canvas.rect()).contains(seen(port.pose->position_m))) << port.id.text;
          }
      }
  }
}

TEST_F(BayLook, KeysLookFromTheSixSides) {
  const std::pair<Qt::Key, Vector> sides[] = {{Qt::Key_1, {-1, 0, 0}}, {Qt::Key_2, {1, 0, 0}},
                                              {Qt::Key_3, {0, -1, 0}}, {Qt::Key_4, {0, 1, 0}},
                                              {Qt::Key_5, {0, 0, -1}}, {Qt::Key_6, {0, 0, 1}}};
  for (const auto& [key, into] : sides) {
    QTest::keyClick(&canvas, key);
    const Vector forward = canvas.lookout().camera.forward();
    for (std::size_t axis = 0; axis < 3; ++axis)
      EXPECT_NEAR(forward[axis], into[axis], 1e-12) << "key " << key;
  }
  QTest::mouseClick(view.findChild<QToolButton*>("bay_rear"), Qt::LeftButton);
  EXPECT_NEAR(canvas.lookout().camera.forward()[0], 1, 1e-12);
}

TEST_F(BayLook, WheelKeepsWhatIsUnderThePointer) {
  canvas.set_perspective(false);
  const Vector point = session.build().ports.front().pose->position_m;
  const QPointF at = seen(point);
  const double before = canvas.lookout().camera.distance_m;
  QWheelEvent wheel(at, canvas.mapToGlobal(at), {}, QPoint(0, 120), Qt::NoButton, Qt::NoModifier,
                    Qt::NoScrollPhase, false);
  QApplication::sendEvent(&canvas, &wheel);
  EXPECT_LT(canvas.lookout().camera.distance_m, before);
  EXPECT_NEAR(seen(point).x(), at.x(), 1e-6);
  EXPECT_NEAR(seen(point).y(), at.y(), 1e-6);
  QTest::keyClick(&canvas, Qt::Key_F);
  EXPECT_NEAR(canvas.lookout().camera.distance_m, before, 1e-9);
}

TEST_F(BayLook, DraggingTurnsAndWithShiftShifts) {
  canvas.grab();
  const scene::Camera before = canvas.lookout().camera;
  QTest::mousePress(&canvas, Qt::MiddleButton, {}, QPoint(500, 300));
  QTest::mouseMove(&canvas, QPoint(560, 330));
  QTest::mouseRelease(&canvas, Qt::MiddleButton, {}, QPoint(560, 330));
  const scene::Camera turned = canvas.lookout().camera;
  EXPECT_NE(turned.yaw_rad, before.yaw_rad);
  EXPECT_NE(turned.pitch_rad, before.pitch_rad);
  QTest::keyClick(&canvas, Qt::Key_Left, Qt::ShiftModifier);
  EXPECT_EQ(canvas.lookout().camera.yaw_rad, turned.yaw_rad);
  EXPECT_NE(canvas.lookout().camera.target_m, turned.target_m);
}

TEST_F(BayLook, FitsWhatIsPicked) {
  session.select(PickedPiece{test::suction, 1});
  const double before = canvas.lookout().camera.distance_m;
  QTest::keyClick(&canvas, Qt::Key_F, Qt::ShiftModifier);
  EXPECT_LT(canvas.lookout().camera.distance_m, before);
  EXPECT_TRUE(QRectF(canvas.rect()).contains(seen(middle_of(test::suction, 1))));
}

TEST_F(BayLook, PageKeysGoFromPieceToPiece) {
  QTest::keyClick(&canvas, Qt::Key_PageDown);
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 0}));
  QTest::keyClick(&canvas, Qt::Key_PageDown);
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 1}));
  QTest::keyClick(&canvas, Qt::Key_PageUp);
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 0}));
}

TEST(BayWithoutPorts, SaysWhatToDoNext) {
  Session session(bellmouth::test::compressor_build());
  BayView view(session);
  test::show(view, 800, 400);
  EXPECT_EQ(view.canvas().accessibleDescription(), "Ports are not measured yet");
  auto* words = view.findChild<QLabel*>("bay_empty_words");
  ASSERT_NE(words, nullptr);
  EXPECT_TRUE(words->isVisible());
  QSignalSpy asked(&view, &BayView::measure_ports_requested);
  QTest::mouseClick(view.findChild<QPushButton*>("measure_ports"), Qt::LeftButton);
  EXPECT_EQ(asked.count(), 1);
}

TEST(BayWords, SayHowEachRunEnds) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  const QStringList lines = meeting_lines(evaluation);
  ASSERT_EQ(static_cast<std::size_t>(lines.size()), evaluation.runs.size());
  EXPECT_TRUE(lines[0].startsWith("suction ")) << lines[0].toStdString();
  const build::Build unmeasured = bellmouth::test::compressor_build();
  for (const QString& line : meeting_lines(evaluate(unmeasured, unmeasured.options.front().id)))
    EXPECT_TRUE(line.endsWith("a port is not measured yet"));
}

TEST(BayWords, SayHowFarARunIsOff) {
  RunResult run;
  EXPECT_EQ(gap_words(run), QString());
  run.meeting = bay::Meeting{12.3e-3, 4.2 * M_PI / 180};
  EXPECT_EQ(gap_words(run), QString("12.3 mm and 4.2° off"));
  run.meeting = bay::Meeting{25.3e-3, 0.01 * M_PI / 180};
  EXPECT_EQ(gap_words(run), QString("25.3 mm off")) << "straight enough";
  run.meeting = bay::Meeting{0.2e-3, 0.1 * M_PI / 180};
  EXPECT_EQ(gap_words(run), QString()) << "it meets";
}

TEST(BayWords, LabelsAreClearOfEachOther) {
  const QRectF pane(0, 0, 200, 100), first(10, 10, 60, 12), second(10, 30, 60, 12), outside(190, 10, 60, 12);
  const std::vector<BayLabel> labels{{"a", {first}}, {"b", {outside, first, second}}, {"c", {first, second}}};
  const auto boxes = place_bay_labels(labels, pane, {});
  EXPECT_EQ(boxes, (std::vector<QRectF>{first, second, QRectF()}));
  EXPECT_TRUE(place_bay_labels(labels, pane, {pane})[0].isNull());
}

} // namespace
} // namespace bellmouth::ui
