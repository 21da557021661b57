// SPDX-License-Identifier: GPL-3.0-or-later
// The maps of blowers as curves. Identities: curves go through the points of the map, the working point is
// what the flow solver says.
#include "support/sample_builds.hpp"
#include "view_sample.hpp"

#include <bellmouth/machine/maps.hpp>

#include <QLocale>
#include <gtest/gtest.h>

#include <map_chart.hpp>
#include <map_picture.hpp>
#include <theme.hpp>

namespace bellmouth::ui {
namespace {

const MapCurve* curve_named(const MapPicture& picture, const QString& name) {
  const auto found = std::ranges::find(picture.curves, name, &MapCurve::name);
  return found == picture.curves.end() ? nullptr : &*found;
}
const MapCurve& curve_of(const MapPicture& picture, MapCurve::Kind kind) {
  return *std::ranges::find(picture.curves, kind, &MapCurve::kind);
}

TEST(MapPicture, LinesOfSpeedEndOnSurgeAndChoke) {
  const machine::CompressorMap map = bellmouth::test::sample_compressor_map();
  const MapPicture picture = picture_of(map, std::nullopt, nullptr);
  const QList<QPointF>&surge = curve_of(picture, MapCurve::Kind::surge).points,
        &choke = curve_of(picture, MapCurve::Kind::choke).points;
  qsizetype line = 0;
  for (std::size_t i = 0; i < map.points.size(); ++i) {
    const auto& point = map.points[i];
    const bool first = i == 0 || map.points[i - 1].corrected_speed_rev_s != point.corrected_speed_rev_s;
    const bool last =
        i + 1 == map.points.size() || map.points[i + 1].corrected_speed_rev_s != point.corrected_speed_rev_s;
    if (first) {
      EXPECT_NEAR(surge.at(line).x(), point.corrected_flow_kg_s, 1e-12);
      EXPECT_NEAR(surge.at(line).y(), point.pressure_ratio, 1e-9);
    }
    if (last) {
      EXPECT_NEAR(choke.at(line).x(), point.corrected_flow_kg_s, 1e-12);
      EXPECT_NEAR(choke.at(line).y(), point.pressure_ratio, 1e-9);
      ++line;
    }
  }
  EXPECT_EQ(surge.size(), line);
  EXPECT_EQ(static_cast<std::size_t>(picture.points.rows.size()), map.points.size());
  EXPECT_FALSE(picture.working_point);
}

TEST(MapPicture, WorkingPointIsTheSolvers) {
  // The compressor of this build has a valve that is shut: what is drawn goes through it once.
  Session session(bellmouth::test::mapped_compressor_build());
  const auto& path = session.evaluation().path;
  ASSERT_TRUE(path.point.usable());
  const auto& compressor = std::get<machine::TargetCompressor>(session.build().machines[2].kind);
  ASSERT_EQ(compressor.bypass->effective_area_m2(), 0);
  const flow::MachineFlow* flow = nullptr;
  for (const flow::MachineFlow& each : path.machines)
    if (each.shaft_power_W > 0)
      flow = &each;
  ASSERT_NE(flow, nullptr);
  const MapPicture picture = picture_of(*compressor.map, compressor.bypass, flow);
  ASSERT_TRUE(picture.working_point);
  const machine::PreparedCompressorMap prepared(*compressor.map);
  const auto reading =
      prepared.at(prepared.corrected_speed_rev_s(flow->speed_rev_s, flow->inlet.total_temperature_K),
                  picture.working_point->x());
  EXPECT_NEAR(reading.margin_to_surge, flow->on_map->margin_to_surge, 1e-6);
  EXPECT_NEAR(picture.working_point->y(), reading.pressure_ratio, 1e-6);
  EXPECT_TRUE(picture.working_words.contains("surge"));
}

TEST(MapPicture, EfficienciesGoThroughTheirPoints) {
  const build::Build build = bellmouth::test::mapped_blower_build();
  const auto& blower = std::get<machine::DisplacementBlower>(build.find(build::MachineId{"blower"})->kind);
  const MapPicture picture = picture_of(blower.map, nullptr);
  const auto& point = blower.map.front();
  const MapCurve* curve =
      curve_named(picture, QLocale().toString(std::round(60 * point.speed_rev_s), 'f', 0));
  ASSERT_NE(curve, nullptr);
  EXPECT_NEAR(curve->points.front().x(), point.pressure_ratio, 1e-12);
  EXPECT_NEAR(curve->points.front().y(), point.adiabatic_efficiency, 1e-9);
}

TEST(MapChart, ShowsTheWorkingPointWithinThePlot) {
  MapPicture picture = picture_of(bellmouth::test::sample_compressor_map(), std::nullopt, nullptr);
  MapChart chart;
  test::show(chart, 330, 210);
  chart.show_picture(picture);
  EXPECT_FALSE(chart.working_place());
  picture.working_point = QPointF(0.3, 2.0); // right of the whole map: the axes make room
  chart.show_picture(picture);
  QCoreApplication::processEvents();
  const auto place = chart.working_place();
  ASSERT_TRUE(place);
  EXPECT_TRUE(QRectF(chart.rect()).contains(*place));
  const QColor seen = chart.grab().toImage().pixelColor(place->toPoint());
  EXPECT_EQ(seen.rgb(), theme().temperature.rgb());
}

} // namespace
} // namespace bellmouth::ui
