// SPDX-License-Identifier: GPL-3.0-or-later
// States of the bay, colours, sections, measuring, photographs. Identities.
#include "bay_sample.hpp"

#include <QComboBox>
#include <QImage>
#include <QSlider>
#include <QTemporaryDir>
#include <QToolButton>

#include <bay_states.hpp>
#include <cmath>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

using BayStates = test::Bay;
using build::Vector;

bool shows_keep_out(const BayCanvas& canvas, std::size_t index) {
  return std::ranges::any_of(canvas.bay().solids(), [&](const scene::Solid& solid) {
    return solid.part.kind == scene::Part::Kind::keep_out && solid.part.keep_out == index;
  });
}

TEST_F(BayStates, ShowWhatIsThereInThem) {
  const auto& keep_outs = session.build().keep_outs;
  const auto wheel = static_cast<std::size_t>(
      std::ranges::find(keep_outs, "wheel at lock", &build::KeepOut::name) - keep_outs.begin());
  ASSERT_LT(wheel, keep_outs.size());
  EXPECT_FALSE(shows_keep_out(canvas, wheel));
  const QImage before = canvas.grab().toImage();
  auto* chooser = view.findChild<QComboBox*>("bay_state");
  ASSERT_NE(chooser, nullptr);
  ASSERT_EQ(chooser->count(), 3);
  chooser->setCurrentIndex(1);
  emit chooser->activated(1);
  ASSERT_TRUE(session.bay_state());
  EXPECT_EQ(session.bay_state()->text, "wheels left");
  EXPECT_TRUE(shows_keep_out(canvas, wheel));
  canvas.fit_all();
  EXPECT_GT(difference(before, canvas.grab().toImage()), 500);
  session.show_bay_state(std::nullopt);
  EXPECT_FALSE(shows_keep_out(canvas, wheel));
  EXPECT_EQ(chooser->currentIndex(), 0);
}

// What the editor tells is the clearance of the state that is looked at.
TEST_F(BayStates, TellHowNearAPieceComes) {
  const build::RunId run = session.evaluation().runs.front().id;
  const auto told = [&](std::optional<std::size_t> row) {
    const std::vector<Fact> facts = clearance_facts(session, run, row);
    EXPECT_EQ(facts.size(), 2U);
    return facts.empty() ? QString() : facts[0].value;
  };
  const auto at_rest = clearances_in(session.build(), session.evaluation(), std::nullopt).front();
  ASSERT_TRUE(at_rest.nearest[1]);
  EXPECT_EQ(told(1), QString("%1, %2 wanted")
                         .arg(show_length(at_rest.nearest[1]->distance_m),
                              show_length(at_rest.nearest[1]->required_m)));
  EXPECT_EQ(told(std::nullopt),
            QString("%1, %2 wanted")
                .arg(show_length(at_rest.closest()->distance_m), show_length(at_rest.closest()->required_m)));
  session.show_bay_state(build::StateId{"engine rocked"});
  const auto rocked =
      clearances_in(session.build(), session.evaluation(), build::StateId{"engine rocked"}).front();
  EXPECT_EQ(told(1),
            QString("%1, %2 wanted")
                .arg(show_length(rocked.nearest[1]->distance_m), show_length(rocked.nearest[1]->required_m)));
  EXPECT_TRUE(clearance_facts(session, {"no such run"}).empty());
}

TEST_F(BayStates, AreNotOfferedWhereThereAreNone) {
  Session plain(bellmouth::test::bench_build());
  BayView other(plain);
  test::show(other, 800, 400);
  EXPECT_FALSE(other.findChild<QComboBox*>("bay_state")->isVisible());
}

TEST_F(BayStates, ColoursGoFromTheLeastToTheMost) {
  canvas.set_colouring(BayColouring::velocity);
  ASSERT_TRUE(canvas.bay().legend());
  const scene::ValueScale scale = canvas.bay().legend()->scale;
  double least = 1e9, most = 0;
  for (const RunResult& run : session.evaluation().runs) {
    const auto& pieces = test::pieces_of(session, run.id);
    for (std::size_t row = 0; row < pieces.size(); ++row)
      if (!build::is_fitting(pieces[row].shape))
        for (const auto& section : {run.flow.rows[row].inlet, run.flow.rows[row].outlet}) {
          least = std::min(least, section.station.velocity_m_s);
          most = std::max(most, section.station.velocity_m_s);
        }
  }
  EXPECT_LE(scale.low, least + 1e-9);
  EXPECT_GE(scale.high, most - 1e-9);
  const QImage by_velocity = canvas.grab().toImage();
  canvas.set_colouring(BayColouring::nothing);
  EXPECT_FALSE(canvas.bay().legend());
  EXPECT_GT(difference(by_velocity, canvas.grab().toImage()), 500);
}

TEST_F(BayStates, ASectionTakesAwayWhatLiesBeyond) {
  canvas.grab();
  auto* chooser = view.findChild<QComboBox*>("bay_section");
  chooser->setCurrentIndex(1);
  emit chooser->activated(1);
  ASSERT_TRUE(canvas.section());
  EXPECT_EQ(canvas.section()->axis, 0U);
  auto* slider = view.findChild<QSlider*>("bay_section_place");
  EXPECT_TRUE(slider->isVisible());
  const QImage half = canvas.grab().toImage();
  slider->setValue(slider->maximum());
  const QImage whole = canvas.grab().toImage();
  EXPECT_GT(difference(half, whole), 500);
}

TEST_F(BayStates, MeasuresBetweenTwoPoints) {
  canvas.look_from(scene::StandardView::above);
  canvas.set_perspective(false);
  canvas.grab();
  QTest::keyClick(&canvas, Qt::Key_M);
  ASSERT_TRUE(canvas.measuring());
  EXPECT_TRUE(view.findChild<QToolButton*>("bay_measure")->isChecked());
  const Vector first = middle_of(test::suction, 1), second = middle_of(test::cold_side, 1);
  click(seen(first));
  click(seen(second));
  ASSERT_EQ(canvas.measured().size(), 2U);
  const Vector from = canvas.measured()[0], to = canvas.measured()[1];
  // Seen from above the tube's upper side lies half its diameter above the centreline (closed form).
  const BayLookout lookout = canvas.lookout();
  const double pixel_m = 1 / lookout.camera.px_per_m(first, lookout.viewport);
  EXPECT_NEAR(from[0], first[0], pixel_m);
  EXPECT_NEAR(from[1], first[1], pixel_m);
  EXPECT_NEAR(from[2], first[2] + 0.0762 / 2, 1e-3);
  EXPECT_NEAR(to[0], second[0], pixel_m);
  EXPECT_NEAR(to[1], second[1], pixel_m);
  QTest::keyClick(&canvas, Qt::Key_Escape);
  EXPECT_FALSE(canvas.measuring());
  EXPECT_TRUE(canvas.measured().empty());
  EXPECT_EQ(distance_words({0, 0, 0}, {0.3, -0.4, 0}),
            QString("500.0 mm: 300.0 mm forward, 400.0 mm right, 0.0 mm up"));
}

TEST(BayPhotograph, LiesWhereItsTwoPointsSay) {
  build::Photograph photograph;
  photograph.view = build::Photograph::View::above;
  photograph.first_px = {120, 80};
  photograph.second_px = {900, 140};
  photograph.first_m = {0.1, 0.2, 0};
  photograph.second_m = {0.9, 0.15, 0};
  BayLookout lookout;
  lookout.viewport = QSizeF(800, 600);
  lookout.camera = lookout.camera.seen_from(scene::StandardView::above);
  EXPECT_FALSE(photograph_transform(photograph, lookout)) << "in perspective";
  lookout.camera.perspective = false;
  const auto transform = photograph_transform(photograph, lookout);
  ASSERT_TRUE(transform);
  const auto expect_at = [&](const std::array<double, 2>& px, const Vector& point) {
    const QPointF at = transform->map(QPointF(px[0], px[1]));
    const QPointF wanted = lookout.camera.project(point, lookout.viewport).pixel;
    EXPECT_NEAR(at.x(), wanted.x(), 1e-6);
    EXPECT_NEAR(at.y(), wanted.y(), 1e-6);
  };
  expect_at(photograph.first_px, photograph.first_m);
  expect_at(photograph.second_px, photograph.second_m);
  lookout.camera = lookout.camera.seen_from(scene::StandardView::left);
  EXPECT_FALSE(photograph_transform(photograph, lookout)) << "from another side";
}

TEST(BayPhotograph, IsSeenWhereNothingElseIs) {
  QTemporaryDir folder;
  QImage red(1000, 600, QImage::Format_RGB32);
  red.fill(qRgb(200, 20, 20));
  ASSERT_TRUE(red.save(folder.filePath("from-above.png")));
  build::Build build = test::full_build();
  build.photographs = {
      {"from-above.png", build::Photograph::View::above, {0, 0}, {1000, 0}, {0, 0.9, 0}, {1.0, 0.9, 0}}};
  const QString file = folder.filePath("build.json");
  ASSERT_TRUE(build::save_build(file.toStdString(), build));
  Session session(build, file);
  BayView view(session);
  test::show(view, 1000, 640);
  view.canvas().look_from(scene::StandardView::above);
  const QRgb red_ink = qRgb(200, 20, 20);
  const auto reds = [&] {
    const QImage image = view.canvas().grab().toImage();
    int count = 0;
    for (int y = 0; y < image.height(); ++y)
      for (int x = 0; x < image.width(); ++x)
        count += image.pixel(x, y) == red_ink;
    return count;
  };
  EXPECT_EQ(reds(), 0) << "not in perspective";
  view.canvas().set_perspective(false);
  EXPECT_GT(reds(), 10'000);
  view.canvas().set_photographs_shown(false);
  EXPECT_EQ(reds(), 0);
}

TEST_F(BayStates, ThePictureComesToRest) {
  canvas.repaint();
  QTRY_VERIFY_WITH_TIMEOUT(canvas.drawn_at_rest(), 5000);
  QTest::keyClick(&canvas, Qt::Key_Left);
  canvas.repaint();
  EXPECT_FALSE(canvas.drawn_at_rest());
}

TEST_F(BayStates, EverythingThatTakesTheFocusHasAName) {
  for (const auto* widget : view.findChildren<QWidget*>())
    if (widget->focusPolicy() != Qt::NoFocus) {
      EXPECT_FALSE(widget->accessibleName().isEmpty()) << widget->objectName().toStdString();
    }
}

} // namespace
} // namespace bellmouth::ui
