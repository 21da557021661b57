// SPDX-License-Identifier: GPL-3.0-or-later
// The plot along the path. Identities with the profile it is drawn from.
#include "view_sample.hpp"

#include <QLabel>
#include <QTest>
#include <gtest/gtest.h>

#include <path_chart.hpp>
#include <strip_chart.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

class Chart : public testing::Test {
protected:
  Chart() { test::show(view, 1200, 520); }
  [[nodiscard]] StripChart* strip(const char* name) const { return view.findChild<StripChart*>(name); }
  /// The pixel of a place on the axis in a strip.
  [[nodiscard]] static QPoint at(const StripChart& strip, double x, double end_x) {
    const QRectF plot = strip.chart()->plotArea();
    return QPointF(plot.left() + x / end_x * plot.width(), plot.center().y()).toPoint();
  }
  Session session{test::full_build()};
  PathChart view{session};
};

TEST_F(Chart, SpansFollowEachOtherAndRunsAreToScale) {
  const auto& spans = view.spans().spans();
  ASSERT_EQ(spans.size(), session.build().path.size());
  double x = 0, distance_m = 0;
  std::size_t run = 0;
  for (const PathSpan& span : spans) {
    EXPECT_NEAR(span.from_x, x, 1e-12);
    EXPECT_NEAR(span.from_m, distance_m, 1e-12);
    if (span.machine) {
      EXPECT_GT(span.to_x, span.from_x) << "a band, to be seen";
      EXPECT_DOUBLE_EQ(span.to_m, span.from_m);
    } else {
      EXPECT_NEAR(span.to_x - span.from_x, span.to_m - span.from_m, 1e-12) << "to scale";
      // A mitred bend's polygon is longer than the stream's way by a share of a millimetre or two.
      EXPECT_NEAR(span.to_x - span.from_x, session.evaluation().runs[run++].length_m, 2e-3);
    }
    x = span.to_x;
    distance_m = span.to_m;
  }
}

TEST_F(Chart, StateAtTheEndsIsThatOfTheProfile) {
  const auto& profile = session.evaluation().path.profile;
  EXPECT_DOUBLE_EQ(view.spans().state_at(0)->total_pressure_Pa, profile.front().total_pressure_Pa);
  EXPECT_DOUBLE_EQ(view.spans().state_at(view.spans().end_x())->total_pressure_Pa,
                   profile.back().total_pressure_Pa);
  EXPECT_FALSE(view.spans().state_at(-0.1));
  EXPECT_FALSE(view.spans().state_at(view.spans().end_x() + 0.1));
  EXPECT_TRUE(
      view.read_out(view.spans().end_x()).contains(show_pressure_abs(profile.back().total_pressure_Pa)));
}

TEST_F(Chart, CurvesHoldTheProfileAndTheRival) {
  const auto series = strip("chart_pressure")->chart()->series();
  ASSERT_EQ(series.size(), 3);
  const auto* total = qobject_cast<QLineSeries*>(series[2]);
  const auto& states = view.spans().states();
  ASSERT_EQ(total->count(), static_cast<int>(states.size()));
  for (int i = 0; i < total->count(); ++i)
    EXPECT_DOUBLE_EQ(total->at(i).y(), in_shown_unit(quantity::Dimension::pressure,
                                                     states[static_cast<std::size_t>(i)].total_pressure_Pa));
  for (const flow::PathPoint& end : session.evaluation().path.profile)
    EXPECT_TRUE(std::ranges::any_of(states, [&](const flow::PathPoint& state) {
      return state.step == end.step && state.distance_m == end.distance_m &&
             state.velocity_m_s == end.velocity_m_s;
    }));
  EXPECT_GT(qobject_cast<QLineSeries*>(series[0])->count(),
            static_cast<int>(session.rival_evaluation()->path.profile.size()));
  session.compare_with(std::nullopt);
  EXPECT_EQ(qobject_cast<QLineSeries*>(series[0])->count(), 0);
}

/// Closed form: at a constant bore only the density changes the velocity, and a short piece loses little.
TEST_F(Chart, VelocityIsLevelWhereTheBoreIsConstant) {
  int level = 0;
  for (const RunResult& run : session.evaluation().runs) {
    const auto& pieces = test::pieces_of(session, run.id);
    for (std::size_t row = 0; row < pieces.size(); ++row) {
      const build::Shape& shape = pieces[row].shape;
      if (build::is_fitting(shape) || build::bore_in_m(shape) != build::bore_out_m(shape))
        continue;
      const PathPart* part = view.spans().part_of(PickedPiece{run.id, row});
      ASSERT_NE(part, nullptr);
      const double length = part->to_x - part->from_x,
                   first = view.spans().state_at(part->from_x + 0.01 * length)->velocity_m_s,
                   last = view.spans().state_at(part->to_x - 0.01 * length)->velocity_m_s;
      EXPECT_NEAR(last, first, 0.02 * first) << run.id.text << " row " << row + 1;
      ++level;
    }
  }
  EXPECT_GT(level, 6);
}

TEST_F(Chart, EditsKeepTheCurvesAndReplaceTheirPoints) {
  const auto before = strip("chart_velocity")->chart()->series();
  const QPointF first = qobject_cast<QLineSeries*>(before[1])->at(3);
  session.set_engine_speed(session.engine_speed_rev_s() * 0.7);
  EXPECT_EQ(strip("chart_velocity")->chart()->series(), before);
  EXPECT_NE(qobject_cast<QLineSeries*>(before[1])->at(3), first);
}

TEST_F(Chart, AClickPicksThePieceOrMachineUnderIt) {
  for (const Selection& wanted :
       {Selection(PickedPiece{test::cold_side, 2}), Selection(PickedMachine{{"cooler"}})}) {
    const PathPart* part = view.spans().part_of(wanted);
    ASSERT_NE(part, nullptr);
    StripChart* chart = strip("chart_temperature");
    QTest::mouseClick(chart->viewport(), Qt::LeftButton, {},
                      at(*chart, (part->from_x + part->to_x) / 2, view.spans().end_x()));
    EXPECT_EQ(session.selection(), wanted);
  }
}

TEST_F(Chart, ValueAxisHasRoundTicksRoundTheCurve) {
  for (const char* name : {"chart_pressure", "chart_velocity", "chart_temperature"}) {
    const auto axes = strip(name)->chart()->axes(Qt::Vertical);
    ASSERT_EQ(axes.size(), 1);
    const auto* axis = qobject_cast<QValueAxis*>(axes[0]);
    const double step = strip(name)->grid_step();
    const double mantissa = step / std::pow(10, std::floor(std::log10(step) + 1e-9));
    for (const double end : {axis->min() / step, axis->max() / step})
      EXPECT_NEAR(end, std::round(end), 1e-6);
    EXPECT_TRUE(std::abs(mantissa - 1) < 1e-6 || std::abs(mantissa - 2) < 1e-6 ||
                std::abs(mantissa - 5) < 1e-6)
        << mantissa;
    for (auto* series : strip(name)->chart()->series())
      for (const QPointF& point : qobject_cast<QLineSeries*>(series)->points()) {
        EXPECT_GE(point.y(), axis->min());
        EXPECT_LE(point.y(), axis->max());
      }
  }
}

} // namespace
} // namespace bellmouth::ui
