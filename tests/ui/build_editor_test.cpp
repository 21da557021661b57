// SPDX-License-Identifier: GPL-3.0-or-later
// The fields of the build as a whole. Identities of the contract.
#include "editor_fixture.hpp"
#include "support/sample_builds.hpp"

#include <QPushButton>

#include <fact_list.hpp>

namespace bellmouth::ui {
namespace {

class BuildFields : public test::EditorFixture {};

TEST_F(BuildFields, AirOfTheBay) {
  EXPECT_TRUE(shown("build_bay_note"));
  EXPECT_FALSE(shown("build_bay_temperature"));
  click("build_bay");
  ASSERT_TRUE(session.build().bay);
  EXPECT_FALSE(shown("build_bay_note"));
  type("build_bay_temperature_line", "75 C");
  type("build_bay_speed_line", "3.5 m/s");
  EXPECT_NEAR(session.build().bay->temperature_K, 348.15, 1e-9);
  EXPECT_DOUBLE_EQ(session.build().bay->speed_m_s, 3.5);
  type("build_bay_speed_line", "-1");
  EXPECT_FALSE(complaint_of("build_bay_speed").isEmpty());
  const double warm_K = session.evaluation().path.point.manifold_temperature_K;
  click("build_bay");
  EXPECT_FALSE(session.build().bay);
  EXPECT_NE(session.evaluation().path.point.manifold_temperature_K, warm_K);
  click("build_bay");
  EXPECT_DOUBLE_EQ(session.build().bay->speed_m_s, 3.5) << "comes back as it was";
}

TEST_F(BuildFields, MoreOfTheEngine) {
  type("build_pulsation_factor_line", "1.4");
  type("build_lost_in_scavenging_line", "12 %");
  type("build_work_per_air_line", "950");
  EXPECT_DOUBLE_EQ(engine().pulsation_factor, 1.4);
  EXPECT_DOUBLE_EQ(engine().lost_in_scavenging, 0.12);
  EXPECT_EQ(engine().work_per_air_J_kg, 950e3);
  EXPECT_EQ(find<QLineEdit>("build_work_per_air_line")->text(), "950 kJ/kg");
  type("build_work_per_air_line", "1050 kJ/kg");
  EXPECT_EQ(engine().work_per_air_J_kg, 1050e3);
  type("build_work_per_air_line", "50 %");
  EXPECT_EQ(complaint_of("build_work_per_air"), "found 50 %; accepted: a number in kJ/kg");
  type("build_work_per_air_line", "");
  EXPECT_FALSE(engine().work_per_air_J_kg) << "the rule of the trade";
  EXPECT_TRUE(find<QLineEdit>("build_work_per_air_line")->placeholderText().contains("980 kJ/kg"));
  type("build_pulsation_factor_line", "0.9");
  EXPECT_FALSE(complaint_of("build_pulsation_factor").isEmpty());
}

TEST_F(BuildFields, EfficiencyOutOfAFile) {
  file_to_open = file_with("engine.csv", "speed_rpm,volumetric_efficiency\n1200,0.7\n4800,0.92\n");
  click("build_efficiency_read");
  const std::vector<machine::EfficiencyPoint> points{{20, 0.7}, {80, 0.92}};
  EXPECT_EQ(engine().efficiency, points);
  file_to_save = folder.filePath("out.csv");
  click("build_efficiency_write");
  EXPECT_EQ(content_of(file_to_save), "speed_rpm,volumetric_efficiency\n1200,0.7\n4800,0.92\n");
  file_to_open = file_with("bad.csv", "speed_rpm,efficiency\n1200,0.7\n");
  click("build_efficiency_read");
  EXPECT_TRUE(find<QLabel>("build_efficiency_file_error")->text().startsWith("bad.csv:1"));
  EXPECT_EQ(engine().efficiency, points);
}

TEST_F(BuildFields, EngineAndBenchComeBack) {
  build::Build build = bellmouth::test::natural_build();
  start_with(build);
  const build::Demand engine_before = session.build().demand;
  choose("build_demand", 1);
  type("build_mass_flow_line", "0.08 kg/s");
  EXPECT_FALSE(shown("build_displacement"));
  const build::Demand bench = session.build().demand;
  choose("build_demand", 0);
  EXPECT_EQ(session.build().demand, engine_before);
  choose("build_demand", 1);
  EXPECT_EQ(session.build().demand, bench);
}

TEST_F(BuildFields, WeatherAndLipComeBack) {
  type("build_pressure_line", "98 kPa");
  const build::Ambient weather = session.build().ambient;
  choose("build_ambient", 1);
  type("build_altitude_line", "1500 m");
  choose("build_ambient", 0);
  EXPECT_EQ(session.build().ambient, weather);
  type("build_lip_radius_line", "15 mm");
  choose("build_inlet", 1);
  EXPECT_EQ(session.build().inlet.lip_radius_m, 0);
  choose("build_inlet", 0);
  EXPECT_DOUBLE_EQ(session.build().inlet.lip_radius_m, 0.015);
}

TEST_F(BuildFields, ListsWhatWasMeasuredAndForgetsIt) {
  EXPECT_FALSE(shown("measured"));
  start_with(bellmouth::test::geared_build());
  ASSERT_TRUE(shown("measured"));
  const auto* list = find<FactList>("measured_list");
  EXPECT_EQ(list->value("Engine's volumetric efficiency"), "× 0.970, ± 2.0 %, measured");
  EXPECT_EQ(list->value("Losses of the ducting"), "× 1.150, ± 20.0 %, measured");
  click("forget_measured");
  EXPECT_TRUE(session.build().measured.empty());
  EXPECT_FALSE(shown("measured"));
  session.undo();
  EXPECT_TRUE(shown("measured"));
}

} // namespace
} // namespace bellmouth::ui
