// SPDX-License-Identifier: GPL-3.0-or-later
// The bay from above and from the side. Identities: projections, arcs, what a click picks.
#include "view_sample.hpp"

#include <QApplication>
#include <QTest>
#include <QWheelEvent>
#include <gtest/gtest.h>

#include <bay_plan.hpp>
#include <keep_out_outline.hpp>

namespace bellmouth::ui {
namespace {

TEST(BayDrawing, ProjectsWithForwardToTheRight) {
  const BayPane above{BaySide::above, QRectF(0, 0, 200, 100), {1, 2, 3}, 100};
  EXPECT_EQ(above.project({1, 2, 3}), QPointF(100, 50));
  EXPECT_EQ(above.project({1.5, 2.25, 9}), QPointF(150, 25)) << "x right, y up";
  const BayPane side{BaySide::side, QRectF(0, 0, 200, 100), {1, 2, 3}, 100};
  EXPECT_EQ(side.project({1.5, 9, 3.25}), QPointF(150, 25)) << "x right, z up";
}

TEST(BayDrawing, CentrelinesJoinAndEndWhereTheFramesSay) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  const auto pieces = placed_pieces(build, evaluation);
  EXPECT_EQ(pieces.size(), 13U) << "fittings have no centreline of their own";
  const auto near = [](const build::Vector& a, const build::Vector& b) {
    return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) < 1e-9;
  };
  for (std::size_t i = 1; i < pieces.size(); ++i)
    if (pieces[i].picked.run == pieces[i - 1].picked.run) {
      EXPECT_TRUE(near(pieces[i - 1].centreline_m.back(), pieces[i].centreline_m.front())) << i;
    }
  for (const RunResult& run : evaluation.runs) {
    const auto last = std::ranges::find_if(
        pieces.rbegin(), pieces.rend(), [&](const PlacedPiece& piece) { return piece.picked.run == run.id; });
    ASSERT_NE(last, pieces.rend());
    EXPECT_TRUE(near(last->centreline_m.back(), run.frames.back().position_m));
  }
}

// Closed form: the chords of an arc sampled every 0.06 rad stray from it by r (1 - cos 0.03) at most.
TEST(BayDrawing, ArcsAreSampledFinely) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  for (const PlacedPiece& piece : placed_pieces(build, evaluation)) {
    double length_m = 0;
    for (std::size_t i = 1; i < piece.centreline_m.size(); ++i) {
      const auto &a = piece.centreline_m[i - 1], &b = piece.centreline_m[i];
      length_m += std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
    }
    const RunResult& run = *std::ranges::find(evaluation.runs, piece.picked.run, &RunResult::id);
    const build::Shape& shape =
        build.find(build::OptionId{"small"})->find(piece.picked.run)->pieces[piece.picked.row].shape;
    const auto& fit = run.fit.rows[piece.picked.row];
    const double track_m = bay::track(shape, fit.cover_in_m, fit.cover_out_m).length_m();
    EXPECT_NEAR(length_m, track_m, 2e-4 * track_m);
  }
}

TEST(BayDrawing, OutlinesOfKeepOutsHaveTheirSize) {
  build::KeepOut ball{"ball", build::KeepOutClass::hot, {}, build::Sphere{{1, 1, 1}, 0.25}};
  double far = 0;
  for (const build::Vector& point : outline_points(ball))
    far = std::max(far, std::hypot(point[0] - 1, point[1] - 1, point[2] - 1));
  EXPECT_NEAR(far, 0.25, 1e-12);
  build::KeepOut pipe{"pipe", build::KeepOutClass::fixed, {}, build::Cylinder{{0, 0, 0}, {0, 0, 2}, 0.1}};
  for (const build::Vector& point : outline_points(pipe))
    EXPECT_NEAR(std::hypot(point[0], point[1]), 0.1, 1e-12);
}

TEST(BayDrawing, SaysHowEachRunEnds) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  const QStringList lines = meeting_lines(evaluation);
  ASSERT_EQ(static_cast<std::size_t>(lines.size()), evaluation.runs.size());
  EXPECT_TRUE(lines[0].startsWith("suction ends ")) << lines[0].toStdString();
  const build::Build unmeasured = bellmouth::test::compressor_build();
  for (const QString& line : meeting_lines(evaluate(unmeasured, unmeasured.options.front().id)))
    EXPECT_TRUE(line.endsWith("a port is not measured yet"));
}

TEST(BayDrawing, LabelsAreClearOfEachOther) {
  const QRectF pane(0, 0, 200, 100), first(10, 10, 60, 12), second(10, 30, 60, 12), outside(190, 10, 60, 12);
  const std::vector<BayLabel> labels{{"a", {first}}, {"b", {outside, first, second}}, {"c", {first, second}}};
  const auto boxes = place_bay_labels(labels, pane, {});
  EXPECT_EQ(boxes, (std::vector<QRectF>{first, second, QRectF()}));
  EXPECT_TRUE(place_bay_labels(labels, pane, {pane})[0].isNull());
}

TEST(BayDrawing, AKeepOutIsNamedUnderThePointer) {
  build::Build build = test::full_build();
  build.keep_outs = {{"ball", build::KeepOutClass::hot, {}, build::Sphere{{0, 0, 0}, 0.1}}};
  const BayPane pane{BaySide::above, QRectF(0, 0, 400, 400), {}, 500};
  EXPECT_TRUE(keep_out_at(build, pane, pane.project({0.09, 0, 0})).contains("ball"));
  EXPECT_TRUE(keep_out_at(build, pane, pane.project({0.11, 0, 0})).isEmpty());
}

TEST(BayPlan, ClickPicksThePieceSeenThere) {
  Session session(test::full_build());
  BayPlan plan(session);
  test::show(plan, 1200, 520);
  const auto pieces = placed_pieces(session.build(), session.evaluation());
  const auto tube = std::ranges::find(pieces, PickedPiece{test::suction, 1}, &PlacedPiece::picked);
  ASSERT_NE(tube, pieces.end());
  const build::Vector &a = tube->centreline_m.front(), &b = tube->centreline_m.back();
  const build::Vector middle{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2};
  QTest::mouseClick(&plan, Qt::LeftButton, {}, plan.panes()[0].project(middle).toPoint());
  EXPECT_EQ(session.selection(), Selection(PickedPiece{test::suction, 1}));
}

TEST(BayPlan, FitsAllPortsIntoBothPanes) {
  Session session(test::full_build());
  BayPlan plan(session);
  for (const QSize size : {QSize(700, 300), QSize(1280, 520), QSize(1900, 900)}) {
    test::show(plan, size.width(), size.height());
    for (const BayPane& pane : plan.panes())
      for (const build::Port& port : session.build().ports)
        if (port.pose) {
          EXPECT_TRUE(pane.box.contains(pane.project(port.pose->position_m))) << port.id.text;
        }
  }
}

TEST(BayPlan, WheelKeepsWhatIsUnderThePointer) {
  Session session(test::full_build());
  BayPlan plan(session);
  test::show(plan, 1200, 520);
  const BayPane before = plan.panes()[1];
  const build::Vector point = session.build().ports.front().pose->position_m;
  const QPointF at = before.project(point);
  QWheelEvent wheel(at, plan.mapToGlobal(at), {}, QPoint(0, 120), Qt::NoButton, Qt::NoModifier,
                    Qt::NoScrollPhase, false);
  QApplication::sendEvent(&plan, &wheel);
  const BayPane after = plan.panes()[1];
  EXPECT_GT(after.scale_px_m, before.scale_px_m);
  EXPECT_NEAR(after.project(point).x(), at.x(), 1e-6);
  EXPECT_NEAR(after.project(point).y(), at.y(), 1e-6);
  QTest::keyClick(&plan, Qt::Key_F);
  EXPECT_NEAR(plan.panes()[1].scale_px_m, before.scale_px_m, 1e-9);
}

TEST(BayPlan, SaysThatPortsAreNotMeasured) {
  Session session(bellmouth::test::compressor_build());
  BayPlan plan(session);
  test::show(plan, 800, 300);
  EXPECT_EQ(plan.accessibleDescription(), "Ports are not measured yet");
}

} // namespace
} // namespace bellmouth::ui
