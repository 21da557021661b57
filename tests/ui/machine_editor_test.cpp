// SPDX-License-Identifier: GPL-3.0-or-later
// The fields of every kind of machine. Identities of the contract: what is typed or chosen stands in the
// build, what a choice takes away comes back, what is refused is said and changes nothing.
#include "editor_fixture.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/machine/tables_csv.hpp>

#include <QFormLayout>
#include <QTableView>

#include <fact_list.hpp>
#include <map_chart.hpp>
#include <numbers>

namespace bellmouth::ui {
namespace {

using machine::ChargeCooler;
using machine::DisplacementBlower;
using machine::Filter;
using machine::GearedCompressor;
using machine::MeterBody;
using machine::TargetCompressor;
using machine::Throttle;

class MachineFields : public test::EditorFixture {
protected:
  void pick(const char* id) { pick_machine(id); }
};

TEST_F(MachineFields, FilterByItsState) {
  pick("filter");
  choose("machine_state", 2);
  type("machine_wet_factor_line", "1.8");
  EXPECT_EQ(machine<Filter>("filter").state, machine::FilterState::wet);
  EXPECT_DOUBLE_EQ(machine<Filter>("filter").wet_factor, 1.8);
  const double wet_Pa = session.evaluation().path.machines.front().drop_Pa;
  choose("machine_state", 0);
  EXPECT_LT(session.evaluation().path.machines.front().drop_Pa, wet_Pa);
  type("machine_wet_factor_line", "0.5");
  EXPECT_FALSE(complaint_of("machine_wet_factor").isEmpty());
  EXPECT_DOUBLE_EQ(machine<Filter>("filter").wet_factor, 1.8);
}

TEST_F(MachineFields, ScreenOfAMeterBody) {
  start_with(bellmouth::test::geared_build());
  pick("meter");
  type("machine_wire_line", "0.5 mm");
  type("machine_pitch_line", "2.5 mm");
  EXPECT_EQ(machine<MeterBody>("meter").screen, (machine::Screen{0.5e-3, 2.5e-3}));
  type("machine_pitch_line", "0.5 mm");
  EXPECT_TRUE(complaint_of("machine_pitch").contains("at least 1.1 times")) << "says what is accepted";
  click("machine_screen");
  EXPECT_FALSE(machine<MeterBody>("meter").screen);
  EXPECT_FALSE(shown("machine_wire"));
  click("machine_screen");
  EXPECT_EQ(machine<MeterBody>("meter").screen, (machine::Screen{0.5e-3, 2.5e-3})) << "comes back";
  session.undo();
  EXPECT_FALSE(machine<MeterBody>("meter").screen) << "a step of its own";
}

TEST_F(MachineFields, ThrottleAtAnAngle) {
  pick("throttle");
  EXPECT_FALSE(shown("machine_opening"));
  const double open_Pa = session.evaluation().path.machines.back().drop_Pa;
  choose("machine_plate", 1);
  EXPECT_DOUBLE_EQ(*machine<Throttle>("throttle").opening_rad, std::numbers::pi / 2);
  type("machine_opening_line", "45");
  EXPECT_NEAR(*machine<Throttle>("throttle").opening_rad, std::numbers::pi / 4, 1e-12);
  EXPECT_GT(session.evaluation().path.machines.back().drop_Pa, open_Pa);
  choose("machine_plate", 0);
  EXPECT_FALSE(machine<Throttle>("throttle").opening_rad);
  choose("machine_plate", 1);
  EXPECT_NEAR(*machine<Throttle>("throttle").opening_rad, std::numbers::pi / 4, 1e-12);
  type("machine_opening_line", "0.5");
  EXPECT_TRUE(complaint_of("machine_opening").contains("accepted"));
}

TEST_F(MachineFields, BlowerByItsInternalCompression) {
  pick("blower");
  EXPECT_TRUE(shown("machine_adiabatic_efficiency"));
  EXPECT_FALSE(shown("machine_internal_volume_ratio"));
  const double stated = *machine<DisplacementBlower>("blower").adiabatic_efficiency;
  choose("machine_known_by", 0);
  EXPECT_FALSE(machine<DisplacementBlower>("blower").adiabatic_efficiency);
  EXPECT_FALSE(shown("machine_adiabatic_efficiency"));
  type("machine_internal_volume_ratio_line", "1.3");
  EXPECT_DOUBLE_EQ(machine<DisplacementBlower>("blower").internal_volume_ratio, 1.3);
  choose("machine_known_by", 1);
  EXPECT_EQ(machine<DisplacementBlower>("blower").adiabatic_efficiency, stated);
  EXPECT_DOUBLE_EQ(machine<DisplacementBlower>("blower").internal_volume_ratio, 1.3) << "kept";
}

TEST_F(MachineFields, BlowerByOneMeasuredDelivery) {
  pick("blower");
  const double before = session.evaluation().path.point.blower_pressure_ratio;
  click("machine_leak");
  EXPECT_NEAR(session.evaluation().path.point.blower_pressure_ratio, before, 0.002) << "starts next to tight";
  type("machine_leak_speed_line", "9000 rpm");
  type("machine_leak_ratio_line", "1.6");
  type("machine_leak_efficiency_line", "0.7");
  EXPECT_EQ(machine<DisplacementBlower>("blower").leak, (machine::RatedLeak{150, 1.6, 0.7}));
  type("machine_leak_efficiency_line", "0.9"); // above that without a pressure rise
  EXPECT_TRUE(complaint_of("machine_leak_efficiency").contains("below that without pressure"));
  EXPECT_DOUBLE_EQ(machine<DisplacementBlower>("blower").leak->volumetric_efficiency, 0.7);
}

TEST_F(MachineFields, BypassValve) {
  pick("blower");
  const double shut_ratio = session.evaluation().path.point.blower_pressure_ratio;
  click("machine_bypass");
  EXPECT_DOUBLE_EQ(session.evaluation().path.point.blower_pressure_ratio, shut_ratio)
      << "shut and tight at first";
  type("machine_bypass_bore_line", "20 mm");
  type("machine_bypass_opening_line", "50 %");
  type("machine_bypass_discharge_line", "0.8");
  type("machine_bypass_leak_line", "2 mm2");
  choose("machine_bypass_to", 1);
  EXPECT_EQ(machine<DisplacementBlower>("blower").bypass,
            (machine::BypassValve{0.020, 0.5, 0.8, 2e-6, machine::BypassTo::open_air}));
  EXPECT_LT(session.evaluation().path.point.blower_pressure_ratio, shut_ratio);
  click("machine_bypass");
  EXPECT_FALSE(machine<DisplacementBlower>("blower").bypass);
}

TEST_F(MachineFields, BlowerByAMapOutOfAFile) {
  const auto map = std::get<DisplacementBlower>(
                       bellmouth::test::mapped_blower_build().find(build::MachineId{"blower"})->kind)
                       .map;
  pick("blower");
  choose("machine_known_by", 2);
  EXPECT_TRUE(machine<DisplacementBlower>("blower").map.empty()) << "none was read yet";
  EXPECT_TRUE(shown("machine_map"));
  EXPECT_FALSE(find<QToolButton>("machine_map_write")->isEnabled());
  EXPECT_FALSE(session.can_undo());
  file_to_open = file_with("blower.csv", QByteArray::fromStdString(machine::write_csv(map)));
  click("machine_map_read");
  EXPECT_EQ(machine<DisplacementBlower>("blower").map, map);
  EXPECT_EQ(session.undo_text(), "Change map of Blower");
  EXPECT_FALSE(shown("machine_volumetric_efficiency")) << "the map says it";
  EXPECT_TRUE(find<QLabel>("machine_map_summary")->text().contains(QString::number(map.size())));
  choose("machine_known_by", 1);
  EXPECT_TRUE(machine<DisplacementBlower>("blower").map.empty());
  choose("machine_known_by", 2);
  EXPECT_EQ(machine<DisplacementBlower>("blower").map, map) << "comes back";
  session.undo();
  EXPECT_TRUE(machine<DisplacementBlower>("blower").map.empty());
}

TEST_F(MachineFields, ABadFileIsSaidWithRowAndColumn) {
  pick("blower");
  choose("machine_known_by", 2);
  file_to_open =
      file_with("blower.csv", "speed_rpm,pressure_ratio,volumetric_efficiency,adiabatic_efficiency\n"
                              "6000,1.2,0.9,0.6\n"
                              "6000,1.4,0.9,much\n");
  click("machine_map_read");
  const QString said = find<QLabel>("machine_map_file_error")->text();
  EXPECT_TRUE(said.startsWith("blower.csv:3:14 (row 2, adiabatic_efficiency): found")) << said.toStdString();
  EXPECT_TRUE(said.contains("much"));
  EXPECT_FALSE(session.can_undo());
  file_to_open = folder.filePath("none.csv");
  click("machine_map_read");
  EXPECT_TRUE(find<QLabel>("machine_map_file_error")->text().startsWith("none.csv: found"));
  file_to_open.clear(); // thought better of it
  click("machine_map_read");
  EXPECT_FALSE(session.can_undo());
}

TEST_F(MachineFields, CompressorWithAMap) {
  start_with(new_build({.blower = Recipe::Blower::compressor}, test::sample_stock()));
  const machine::CompressorMap map = bellmouth::test::sample_compressor_map();
  pick("blower");
  click("machine_with_map");
  EXPECT_FALSE(machine<TargetCompressor>("blower").map);
  EXPECT_TRUE(shown("machine_map"));
  EXPECT_FALSE(shown("machine_map_temperature"));
  file_to_open = file_with("compressor.csv", QByteArray::fromStdString(machine::write_csv(map.points)));
  click("machine_map_read");
  ASSERT_TRUE(machine<TargetCompressor>("blower").map);
  EXPECT_EQ(machine<TargetCompressor>("blower").map->points, map.points);
  type("machine_map_temperature_line", "25 C");
  type("machine_map_pressure_line", "100 kPa");
  EXPECT_NEAR(machine<TargetCompressor>("blower").map->reference_temperature_K, 298.15, 1e-9);
  EXPECT_NEAR(machine<TargetCompressor>("blower").map->reference_pressure_Pa, 100e3, 1e-6);
  EXPECT_FALSE(shown("machine_adiabatic_efficiency")) << "the map says it";
  click("machine_map_read");
  EXPECT_NEAR(machine<TargetCompressor>("blower").map->reference_temperature_K, 298.15, 1e-9)
      << "a new map keeps the reference";
  click("machine_with_map");
  EXPECT_FALSE(machine<TargetCompressor>("blower").map);
  EXPECT_TRUE(shown("machine_adiabatic_efficiency"));
  click("machine_with_map");
  EXPECT_NEAR(machine<TargetCompressor>("blower").map->reference_temperature_K, 298.15, 1e-9);
}

TEST_F(MachineFields, GearedCompressorByItsMap) {
  start_with(bellmouth::test::geared_build());
  pick("compressor");
  type("machine_drive_ratio_line", "10");
  type("machine_max_speed_line", "70000 rpm");
  EXPECT_DOUBLE_EQ(machine<GearedCompressor>("compressor").drive_ratio, 10);
  EXPECT_NEAR(machine<GearedCompressor>("compressor").max_speed_rev_s, 70000 / 60.0, 1e-9);
  file_to_save = folder.filePath("out.csv");
  click("machine_map_write");
  const auto written = machine::read_compressor_map_csv(content_of(file_to_save).toStdString());
  ASSERT_TRUE(written) << written.error().text();
  EXPECT_EQ(*written, machine<GearedCompressor>("compressor").map.points);
  EXPECT_FALSE(shown("machine_map_table"));
  click("machine_map_points");
  auto* table = find<QTableView>("machine_map_table");
  EXPECT_TRUE(table->isVisible());
  EXPECT_EQ(table->model()->rowCount(), static_cast<int>(written->size()));
}

TEST_F(MachineFields, CoolerByATable) {
  pick("cooler");
  const double stated = machine<ChargeCooler>("cooler").effectiveness;
  const double before_K = session.evaluation().path.point.manifold_temperature_K;
  choose("machine_known_by", 1);
  ASSERT_EQ(machine<ChargeCooler>("cooler").effectiveness_table.size(), 1U);
  EXPECT_DOUBLE_EQ(machine<ChargeCooler>("cooler").effectiveness_table.front().effectiveness, stated);
  EXPECT_NEAR(session.evaluation().path.point.manifold_temperature_K, before_K, 1e-6) << "starts as it was";
  EXPECT_FALSE(shown("machine_effectiveness"));
  file_to_open =
      file_with("effectiveness.csv", "charge_flow_kg_s,effectiveness\n0.05,0.8\n0.10,0.7\n0.15,0.6\n");
  click("machine_effectiveness_table_read");
  const std::vector<machine::EffectivenessPoint> table{{0.05, 0.8}, {0.10, 0.7}, {0.15, 0.6}};
  EXPECT_EQ(machine<ChargeCooler>("cooler").effectiveness_table, table);
  choose("machine_known_by", 0);
  EXPECT_TRUE(machine<ChargeCooler>("cooler").effectiveness_table.empty());
  choose("machine_known_by", 1);
  EXPECT_EQ(machine<ChargeCooler>("cooler").effectiveness_table, table) << "comes back";
}

TEST_F(MachineFields, CoolerByItsCoreAndWater) {
  pick("cooler");
  choose("machine_known_by", 2);
  ASSERT_TRUE(machine<ChargeCooler>("cooler").core);
  EXPECT_FALSE(shown("machine_loop")) << "cooled by air";
  choose("machine_arrangement", 0);
  type("machine_conductance_line", "220 W/K");
  type("machine_rated_flow_line", "0.12");
  type("machine_charge_side_line", "60");
  type("machine_coolant_flow_line", "0.4");
  const machine::CoolerCore core{machine::Arrangement::counterflow, 220, 0.12, 0.6, 0.4};
  EXPECT_EQ(machine<ChargeCooler>("cooler").core, core);
  click("machine_air_to_water");
  click("machine_loop");
  EXPECT_FALSE(shown("machine_coolant_flow")) << "it is that of the circuit";
  type("machine_water_flow_line", "0.25");
  type("machine_front_effectiveness_line", "0.6");
  type("machine_front_air_line", "0.7");
  const machine::CoolantLoop loop{0.25, 0.6, 0.7};
  EXPECT_EQ(machine<ChargeCooler>("cooler").loop, loop);
  click("machine_air_to_water");
  EXPECT_FALSE(machine<ChargeCooler>("cooler").loop) << "no water, no circuit";
  click("machine_air_to_water");
  EXPECT_EQ(machine<ChargeCooler>("cooler").loop, loop);
  choose("machine_known_by", 0);
  EXPECT_FALSE(machine<ChargeCooler>("cooler").core);
  EXPECT_FALSE(machine<ChargeCooler>("cooler").loop);
  choose("machine_known_by", 2);
  EXPECT_EQ(machine<ChargeCooler>("cooler").core, core);
  EXPECT_EQ(machine<ChargeCooler>("cooler").loop, loop);
}

TEST_F(MachineFields, ACoreStartsNearWhatWasStated) {
  pick("cooler");
  const double before_K = session.evaluation().path.point.manifold_temperature_K;
  choose("machine_known_by", 2);
  EXPECT_NEAR(session.evaluation().path.point.manifold_temperature_K, before_K, 8);
}

TEST_F(MachineFields, ARefusedChoiceGoesBackAndSaysWhy) {
  // A bench cannot turn a displacement blower.
  choose("build_demand", 1);
  EXPECT_TRUE(complaint_of("build_demand").contains("engine to turn it"));
  EXPECT_EQ(find<QComboBox>("build_demand")->currentIndex(), 0);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(MachineFields, WhatIsKeptAsideDoesNotGoIntoAnotherBuild) {
  pick("blower");
  click("machine_bypass");
  type("machine_bypass_bore_line", "33 mm");
  click("machine_bypass");
  start_with(test::sample_build());
  pick("blower");
  click("machine_bypass");
  EXPECT_NE(machine<DisplacementBlower>("blower").bypass->bore_m, 0.033);
}

/// Every field of every machine of a build, one step up: it changes the build or complains at that field.
void expect_fields_write(Session& session, Inspector& inspector) {
  for (const build::Machine& machine : build::Build(session.build()).machines) {
    session.select(PickedMachine{machine.id});
    for (auto* edit : inspector.findChildren<QuantityEdit*>()) {
      if (!edit->isVisible() || !edit->value())
        continue;
      const build::Build before = session.build();
      QTest::keyClick(edit->line(), Qt::Key_Return);
      EXPECT_EQ(session.build(), before) << "showing it changes nothing";
      QTest::keyClick(edit->line(), Qt::Key_Up);
      const bool changed = session.build() != before;
      EXPECT_NE(changed, !edit->error().isEmpty())
          << machine.id.text << ", " << edit->objectName().toStdString() << ": "
          << edit->error().toStdString();
      if (changed)
        session.undo();
    }
  }
}

TEST_F(MachineFields, EveryFieldOfEveryMachineWrites) {
  for (const build::Build& build : bellmouth::test::all_sample_builds()) {
    start_with(build);
    expect_fields_write(session, inspector);
  }
}

TEST_F(MachineFields, ALongComplaintIsBroken) {
  inspector.resize(300, 700);
  pick("blower");
  choose("machine_known_by", 2);
  file_to_open =
      file_with("other.csv", "corrected_speed_rpm,corrected_flow_kg_s,pressure_ratio,adiabatic_efficiency\n"
                             "40000,0.05,1.3,0.7\n");
  click("machine_map_read");
  QTest::qWait(0);
  EXPECT_TRUE(find<QLabel>("machine_map_file_error")->text().startsWith("other.csv:1"));
  EXPECT_LE(inspector.widget()->width(), inspector.viewport()->width());
}

TEST_F(MachineFields, EveryFieldHasATipAndRoom) {
  inspector.resize(300, 700); // the least that the window gives it
  for (const build::Build& build : bellmouth::test::all_sample_builds()) {
    start_with(build);
    std::vector<Selection> selections{std::monostate{}};
    for (const build::Machine& machine : build.machines)
      selections.emplace_back(PickedMachine{machine.id});
    for (const Selection& selection : selections) {
      session.select(selection);
      QTest::qWait(0); // old forms go, new ones are laid out
      EXPECT_LE(inspector.widget()->width(), inspector.viewport()->width()) << build.title;
      for (const auto* form : inspector.findChildren<QFormLayout*>())
        for (int row = 0; row < form->rowCount(); ++row) {
          const auto* label = form->itemAt(row, QFormLayout::LabelRole);
          if (label == nullptr || label->widget() == nullptr || !label->widget()->isVisible())
            continue;
          const auto& words = *static_cast<QLabel*>(label->widget());
          const std::string where = build.title + ": " + words.text().toStdString();
          EXPECT_FALSE(words.toolTip().isEmpty()) << where;
          EXPECT_GE(words.height(), words.fontMetrics().height()) << where;
          EXPECT_GE(words.width(), words.fontMetrics().horizontalAdvance(words.text())) << where;
          const auto* field = form->itemAt(row, QFormLayout::FieldRole);
          ASSERT_NE(field, nullptr) << where;
          EXPECT_GE(field->geometry().height(), 12) << where;
          EXPECT_LE(field->geometry().right(), form->parentWidget()->width()) << where;
        }
    }
  }
}

} // namespace
} // namespace bellmouth::ui
