// SPDX-License-Identifier: GPL-3.0-or-later
// Edits of whole parts. Identities of the contract.
#include "sample.hpp"

#include <gtest/gtest.h>

#include <part_edits.hpp>

namespace bellmouth::ui {
namespace {

TEST(PartEdits, PortsGoWhereTheirMachineIsMounted) {
  const build::Build build = test::sample_build();
  build::Machine blower = *build.find(build::MachineId{"blower"});
  blower.mounting = build::Mounting::body;
  const build::Build next = with_machine_replaced(build, blower);
  for (const build::Port& port : next.ports) {
    if (port.machine == blower.id)
      EXPECT_EQ(port.mounting, build::Mounting::body);
    else
      EXPECT_EQ(port, *build.find(port.id));
  }
}

TEST(PartEdits, BoughtTubeKeepsItsLengthAndBeads) {
  const build::Build build = test::sample_build();
  const build::Piece tube{
      build::Tube{63.5e-3, 1.6e-3, 0.412, {true, false}}, build::Material::mild_steel, {}, "long"};
  const build::Piece next = bought_as(tube, *build.find(build::StockId{"tube-76"}));
  const auto& shape = std::get<build::Tube>(next.shape);
  EXPECT_DOUBLE_EQ(shape.outer_diameter_m, 76e-3);
  EXPECT_DOUBLE_EQ(shape.wall_m, 1.6e-3);
  EXPECT_DOUBLE_EQ(shape.length_m, 0.412);
  EXPECT_EQ(shape.beads, (build::Beads{true, false}));
  EXPECT_EQ(next.material, build::Material::aluminium);
  EXPECT_EQ(next.stock.text, "tube-76");
  EXPECT_EQ(next.label, "long");
}

TEST(PartEdits, WhatStockDoesNotStateStays) {
  const build::Build build = test::sample_build();
  const build::Lagging wrap{5e-3, 0.04};
  build::Piece hose{build::Hose{63.5e-3, 5e-3, 0.090, {0.03, 0.03}, build::Lining::corrugated},
                    build::Material::rubber,
                    {},
                    {},
                    wrap};
  const build::Piece next = bought_as(hose, *build.find(build::StockId{"hose-76"}));
  EXPECT_DOUBLE_EQ(std::get<build::Hose>(next.shape).bore_m, 76e-3);
  EXPECT_EQ(std::get<build::Hose>(next.shape).lining, build::Lining::corrugated);
  EXPECT_EQ(next.lagging, wrap);
  build::StockItem boss;
  boss.id = {"boss"};
  boss.kind = build::StockKind::sensor_boss;
  boss.material = build::Material::aluminium;
  boss.thread = "M14x1.5";
  boss.price = {500, {{'E', 'U', 'R'}}};
  const build::Tip tip{6e-3, 15e-3};
  const build::Piece sensor{build::SensorBoss{0.1, 0, "M12x1.5", tip}, build::Material::aluminium, {}, {}};
  const auto bought = std::get<build::SensorBoss>(bought_as(sensor, boss).shape);
  EXPECT_EQ(bought.thread, "M14x1.5");
  EXPECT_EQ(bought.tip, tip);
}

TEST(PartEdits, BoughtBendIsCutDownButNeverStretched) {
  build::StockItem item;
  item.id = {"bend"};
  item.kind = build::StockKind::tube_bend;
  item.material = build::Material::aluminium;
  item.outer_diameter_m = 63.5e-3;
  item.wall_m = 1.6e-3;
  item.angle_rad = 1.0;
  item.radius_m = 95e-3;
  item.leg_in_m = item.leg_out_m = 0.100;
  item.price = {1000, {{'E', 'U', 'R'}}};
  const auto bend = [](double angle_rad, double leg_m) {
    return build::Piece{build::TubeBend{60e-3, 2e-3, angle_rad, 80e-3, leg_m, leg_m, 0.5, {}},
                        build::Material::aluminium,
                        {},
                        {}};
  };
  const auto shorter = std::get<build::TubeBend>(bought_as(bend(0.7, 0.04), item).shape);
  EXPECT_DOUBLE_EQ(shorter.angle_rad, 0.7);
  EXPECT_DOUBLE_EQ(shorter.leg_in_m, 0.04);
  EXPECT_DOUBLE_EQ(shorter.radius_m, 95e-3);
  EXPECT_DOUBLE_EQ(shorter.clocking_rad, 0.5);
  const auto longer = std::get<build::TubeBend>(bought_as(bend(1.4, 0.2), item).shape);
  EXPECT_DOUBLE_EQ(longer.angle_rad, 1.0);
  EXPECT_DOUBLE_EQ(longer.leg_out_m, 0.100);
}

} // namespace
} // namespace bellmouth::ui
