// SPDX-License-Identifier: GPL-3.0-or-later
// Joint table and mass.
#include "core/list/small_work.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>

namespace bellmouth::list {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::mm;
using test::WorkOf;

constexpr Material aluminium = Material::aluminium, silicone = Material::silicone;

// Identities, over every option of every sample build: all joints in order, and one for each fitting; figures
// are those of the joints.
TEST(Joints, EachStandsInTheTable) {
  for (const Build& b : test::all_sample_builds())
    for (std::size_t option = 0; option < b.options.size(); ++option) {
      const WorkOf work(b, option);
      const std::vector<JointLine> lines = work.lists().joints;
      std::size_t at = 0;
      for (std::size_t i = 0; i < work.runs().size(); ++i)
        for (const joint::Joint& joint : work.fits()[i].joints) {
          ASSERT_LT(at, lines.size());
          const JointLine& line = lines[at++];
          EXPECT_EQ(line.run, work.runs()[i]->id);
          EXPECT_EQ(line.kind, joint.kind);
          EXPECT_EQ(line.upstream.piece.has_value(), joint.upstream.row.has_value());
          EXPECT_EQ(line.interference_m.has_value(), joint.kind == joint::Kind::hose);
          EXPECT_EQ(line.engagement_m.value_or(0), joint.engagement_m);
          EXPECT_EQ(line.gauge_Pa, std::nullopt);
          for (; at < lines.size() &&
                 (lines[at].downstream.name == "sensor" || lines[at].downstream.name == "valve");
               ++at)
            EXPECT_TRUE(is_fitting(find(b, *lines[at].upstream.piece)->shape));
        }
      EXPECT_EQ(at, lines.size());
    }
}

/// A tube of 63.5 mm between two hoses on a flow bench, with a boss and a flange on it.
Build bench(double pressure_Pa) {
  Build b;
  b.ambient = Weather{101325.0, 293.15, 0.5};
  b.demand = FixedFlow{0.05, pressure_Pa, 293.15};
  b.ports = {test::sample_port("a", {}, Mounting::body, 60.2, 63.5, 40),
             test::sample_port("b", {}, Mounting::engine, 60.2, 63.5, 40)};
  b.path = {RunId{"run"}};
  std::vector<StockItem> stock = test::sample_stock();
  for (StockItem& item : stock)
    if (item.kind == StockKind::clamp)
      item.clamp_type = ClampType::worm;
  b.stock = std::move(stock);
  b.budget = {test::euro(), std::nullopt};
  const Piece hose{Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(36)}}, silicone, {}, ""};
  b.options = {{{"only"},
                "",
                {Run{{"run"},
                     {"a"},
                     {"b"},
                     {hose,
                      {Tube{mm(63.5), mm(1.65), mm(200), {true, true}}, aluminium, {}, ""},
                      {SensorBoss{mm(60), 0, "M10x1.0"}, aluminium, {}, ""},
                      {ValveFlange{mm(120), 0, mm(25.4)}, aluminium, {}, ""},
                      hose}}}}};
  return b;
}

// Closed form: p x pi/4 x OD^2 on a spigot; worked for 63.5 mm at 1.0 bar: 317 N. Little is lost in 360 mm,
// so that the static pressure is that of the bench less a small dynamic pressure.
TEST(Joints, SayPressureAndForce) {
  const Build b = bench(201325.0);
  const WorkOf work(b);
  const flow::PathFlow flow = flow::Path(b, b.options[0], work.fits()).solve(0);
  ASSERT_TRUE(flow.point.usable());
  const std::vector<JointLine> lines = work.lists(&flow).joints;
  ASSERT_EQ(lines.size(), 6u);
  for (const std::size_t i : {0u, 1u, 4u, 5u}) {
    EXPECT_EQ(lines[i].kind, joint::Kind::hose);
    EXPECT_TRUE(close(lines[i].gauge_Pa.value(), 100e3, 0.01)) << i;
    EXPECT_TRUE(close(lines[i].parting_force_N.value(), 317, 0.01)) << i;
    EXPECT_TRUE(close(lines[i].parting_force_N.value(),
                      *lines[i].gauge_Pa * std::numbers::pi / 4 * mm(63.5) * mm(63.5), 1e-12));
    EXPECT_LT(lines[i].held_low_N.value(), lines[i].held_high_N.value());
    EXPECT_TRUE(close(lines[i].gap_m.value(), mm(12), 1e-9)); // 80 - 32 - 36
    EXPECT_EQ(lines[i].clamp, StockId{"clamp-70"});
    EXPECT_TRUE(lines[i].torque_Nm);
  }
  EXPECT_EQ(lines[0].upstream.name, "port a");
  EXPECT_EQ(lines[1].pieces().size(), 2u);
  EXPECT_EQ(lines[2].kind, joint::Kind::thread);
  EXPECT_EQ(lines[2].size, "M10x1.0");
  // 7.1 to 8 N m for an air sensor's M10 thread (reported: a sensor maker's installation note).
  EXPECT_GE(lines[2].torque_Nm.value(), 7.1);
  EXPECT_LE(lines[2].torque_Nm.value(), 8.0);
  EXPECT_EQ(lines[3].kind, joint::Kind::flange);
  EXPECT_TRUE(close(lines[3].parting_force_N.value(),
                    *lines[3].gauge_Pa * std::numbers::pi / 4 * mm(25.4) * mm(25.4), 1e-12));
}

TEST(Joints, AClampOfUnsaidTypeHoldsNobodyKnowsWhat) {
  Build b = bench(201325.0);
  b.stock = test::sample_stock();
  const WorkOf work(b);
  const flow::PathFlow flow = flow::Path(b, b.options[0], work.fits()).solve(0);
  const JointLine line = work.lists(&flow).joints.at(0);
  EXPECT_TRUE(line.clamp && line.parting_force_N);
  EXPECT_FALSE(line.held_low_N || line.held_high_N || line.torque_Nm);
}

// No joint holds more than its hose: one that is rated for 20 kPa gives way at 4 x 20 kPa on the spigot (a
// burst pressure of 3 to 4 times the working pressure is usual for rubber hose), 253 N on 63.5 mm.
TEST(Joints, HoldNoMoreThanTheHoseIsRatedFor) {
  Build b = bench(201325.0);
  std::vector<StockItem> stock = *b.stock;
  for (StockItem& item : stock)
    if (item.id == StockId{"hose-63"})
      item.max_gauge_Pa = 20e3;
  b.stock = std::move(stock);
  build::Run run = *b.options[0].runs[0];
  run.pieces[0].stock = {"hose-63"};
  b.options[0].runs = {run};
  const WorkOf work(b);
  const flow::PathFlow flow = flow::Path(b, b.options[0], work.fits()).solve(0);
  const std::vector<JointLine> lines = work.lists(&flow).joints;
  EXPECT_TRUE(close(lines[0].held_high_N.value(), 253.4, 1e-3));
  EXPECT_GT(lines[5].held_high_N.value(), lines[0].held_high_N.value()); // this hose names no item
}

TEST(Joints, SuctionPartsNothing) {
  const Build b = bench(95000.0);
  const WorkOf work(b);
  const flow::PathFlow flow = flow::Path(b, b.options[0], work.fits()).solve(0);
  const std::vector<JointLine> lines = work.lists(&flow).joints;
  for (const JointLine& line : lines)
    EXPECT_LT(line.gauge_Pa.value(), 0);
  EXPECT_EQ(lines[0].parting_force_N, 0.0);
  EXPECT_EQ(lines[3].parting_force_N, 0.0);
}

TEST(Joints, FlangesAndThreadsSayTheirSize) {
  Build b = bench(201325.0);
  Adapter adapter{mm(63.5), mm(70), mm(60.2), mm(66), mm(80), {}};
  adapter.connection_in = {Connection::Kind::thread, "G 2"};
  adapter.connection_out = {Connection::Kind::flange, "4 x M8 on 80"};
  b.ports[0].connection = adapter.connection_in;
  b.ports[1].connection = adapter.connection_out;
  build::Run run = *b.options[0].runs[0];
  run.pieces = {{adapter, aluminium, {}, ""}};
  b.options[0].runs = {run};
  const WorkOf work(b);
  const flow::PathFlow flow = flow::Path(b, b.options[0], work.fits()).solve(0);
  const std::vector<JointLine> lines = work.lists(&flow).joints;
  ASSERT_EQ(lines.size(), 2u);
  EXPECT_EQ(lines[0].size, "G 2");
  EXPECT_EQ(lines[1].size, "4 x M8 on 80");
  EXPECT_GT(lines[1].parting_force_N.value(), 0);
}

/// Wall volume of one piece between the ports of the bench [mm3].
double volume_mm3(Shape shape) {
  Build b = bench(101325.0);
  Run run = *b.options[0].runs[0];
  run.pieces = {{std::move(shape), aluminium, {}, ""}};
  b.options[0].runs = {run};
  return WorkOf(b).lists().masses.at(0).volume_m3 * 1e9;
}

constexpr double pi = std::numbers::pi;

TEST(Mass, VolumesOfTheWalls) {
  // Closed form: mean circumference x wall x length; a bend's length is that of its centreline (Pappus).
  EXPECT_TRUE(close(volume_mm3(Tube{mm(63.5), mm(1.65), mm(310), {}}), pi * 61.85 * 1.65 * 310, 1e-12));
  EXPECT_TRUE(close(volume_mm3(TubeBend{mm(63.5), mm(1.65), deg(90), mm(95), mm(60), mm(40), 0, {}}),
                    pi * 61.85 * 1.65 * (60 + 40 + 95 * pi / 2), 1e-12));
  // Two mitres of 22.5 degrees: 2 x 2 x 100 x tan(11.25 deg) of polygon.
  EXPECT_TRUE(close(volume_mm3(MitredBend{mm(63.5), mm(1.65), deg(45), mm(100), 2, mm(40), mm(70), 0, {}}),
                    pi * 61.85 * 1.65 * (110 + 4 * 100 * 0.19891236737965801), 1e-12));
  EXPECT_TRUE(
      close(volume_mm3(Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}), pi * 68 * 4.5 * 80, 1e-12));
  // Rings of 65 mm over 65 mm and of 77 mm mean diameter over 30 mm of hump.
  EXPECT_TRUE(close(volume_mm3(HumpHose{mm(60), mm(5), mm(95), mm(30), mm(72), {mm(28), mm(28)}}),
                    pi * 5 * (65 * 65 + 77 * 30), 1e-12));
  // Other method: adaptive quadrature of the ring's area along the taper (SciPy 1.10.1).
  EXPECT_TRUE(close(volume_mm3(Cone{mm(60), mm(63.5), mm(1.65), mm(50), {}}), 15576.80177466161, 1e-12));
  EXPECT_TRUE(
      close(volume_mm3(Adapter{mm(63.5), mm(70), mm(60.2), mm(66), mm(80), {}}), 29824.395697589294, 1e-12));
}

// By hand: 63.5 x 1.65 x 310 mm of aluminium at 2700 kg/m3 (a handbook figure, from memory) is 0.268 kg.
TEST(Mass, DensityTimesVolume) {
  const std::vector<MassLine> lines = WorkOf(test::sample_build()).lists().masses;
  const auto crossover = std::ranges::find(lines, "crossover", &MassLine::title);
  ASSERT_NE(crossover, lines.end());
  EXPECT_TRUE(close(crossover->mass_kg, 0.268, 0, 0.0005));
  for (const MassLine& line : lines)
    EXPECT_TRUE(close(line.mass_kg, line.volume_m3 * density_kg_m3(line.material), 1e-12));
}

// Identity: what the materials weigh, what the runs weigh, and the whole are one.
TEST(Mass, SumsAgree) {
  const Lists lists = WorkOf(test::sample_build()).lists();
  const auto all = tables(lists);
  const Table& table = *std::ranges::find(all, "mass", &Table::name);
  double whole_kg = 0, listed_kg = 0;
  for (const MassLine& line : lists.masses)
    whole_kg += line.mass_kg;
  for (std::size_t row = lists.masses.size(); row < table.rows.size(); ++row)
    listed_kg += std::stod(table.rows[row].back());
  EXPECT_TRUE(close(std::stod(table.rows.back().back()), whole_kg, 0, 0.0005));
  EXPECT_TRUE(close(listed_kg, 3 * whole_kg, 0, 0.004));
}

} // namespace
} // namespace bellmouth::list
