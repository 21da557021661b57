// SPDX-License-Identifier: GPL-3.0-or-later
// Seams and beads.
#include "core/list/small_work.hpp"
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace bellmouth::list {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::mm;
using test::WorkOf;

constexpr Material aluminium = Material::aluminium, silicone = Material::silicone;

// Other method: adaptive quadrature and the complete elliptic integral of SciPy 1.10.1, which agree in all
// digits given.
TEST(Seams, OfMitresAreEllipses) {
  struct Row {
    double diameter_mm, cut_deg, seam_mm;
  };
  for (const Row& row : {Row{63.5, 9, 200.7363998446652}, Row{63.5, 7.5, 200.3527584482436},
                         Row{76.2, 22.5, 249.34882719242805}, Row{50.8, 45, 194.06604768260775}})
    EXPECT_TRUE(close(mitre_seam_m(mm(row.diameter_mm), deg(row.cut_deg)), mm(row.seam_mm), 1e-12));
}

// Other method: adaptive quadrature of SciPy 1.10.1.
TEST(Seams, OfFeetOnATube) {
  struct Row {
    double foot_mm, tube_mm, seam_mm;
  };
  for (const Row& row : {Row{18, 63.5, 56.84352049804091}, Row{28.7, 63.5, 91.43652878413926},
                         Row{50, 63.5, 166.0196301678301}, Row{15, 76.2, 47.2400697588199}})
    EXPECT_TRUE(close(saddle_seam_m(mm(row.foot_mm), mm(row.tube_mm)), mm(row.seam_mm), 1e-9));
}

// Identities: a square cut is a circle, a small foot nearly so; a foot as wide as the tube meets it in two
// halves of ellipses at 45 degrees.
TEST(Seams, LimitsOfTheirFormulas) {
  EXPECT_TRUE(close(mitre_seam_m(mm(60), 0), butt_seam_m(mm(60)), 1e-14));
  EXPECT_TRUE(close(saddle_seam_m(mm(1), mm(100)), butt_seam_m(mm(1)), 1e-4));
  EXPECT_TRUE(close(saddle_seam_m(mm(60), mm(60)), mitre_seam_m(mm(60), deg(45)), 1e-9));
  EXPECT_EQ(saddle_seam_m(mm(90), mm(60)), saddle_seam_m(mm(60), mm(60)));
}

/// Between two ports of 63.5 mm.
Build build_with(std::vector<Piece> pieces) {
  Build b;
  b.demand = FixedFlow{0.1, 101325.0, 293.15};
  b.ports = {test::sample_port("a", {}, Mounting::body, 60.2, 63.5, 40),
             test::sample_port("b", {}, Mounting::engine, 60.2, 63.5, 30)};
  b.path = {RunId{"run"}};
  b.stock = test::sample_stock();
  b.budget = {test::euro(), std::nullopt};
  b.options = {{{"only"}, "", {Run{{"run"}, {"a"}, {"b"}, std::move(pieces)}}}};
  return b;
}
Piece tube(Beads beads, Material material = aluminium) {
  return {Tube{mm(63.5), mm(1.65), mm(200), beads}, material, {}, ""};
}

// 5 x pi x 63.5 mm is about 1.0 m (derived; to the printed digits): the ellipses are 0.6 % longer.
TEST(Welds, OfASegmentedBend) {
  const Build b = build_with(
      {{Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, silicone, {}, ""},
       {MitredBend{mm(63.5), mm(1.65), deg(90), mm(95.3), 5, mm(40), mm(40), 0, {}}, aluminium, {}, ""},
       {Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, silicone, {}, ""}});
  const std::vector<WeldLine> welds = WorkOf(b).lists().welds;
  ASSERT_EQ(welds.size(), 1u);
  EXPECT_EQ(welds[0].kind, WeldLine::Kind::mitre);
  EXPECT_EQ(welds[0].count, 5);
  EXPECT_TRUE(close(welds[0].total_m(), 1.0, 0, 0.05));
  EXPECT_GT(welds[0].total_m(), 5 * butt_seam_m(mm(63.5)));
  EXPECT_EQ(between_text(welds[0]), "within run 2");
}

TEST(Welds, ButtsBossesAndFlangesWithBothSides) {
  const Build b = build_with({tube({}),
                              {SensorBoss{mm(60), 0, "M12x1.5"}, aluminium, {}, ""},
                              {ValveFlange{mm(120), 0, mm(25.4)}, Material::mild_steel, {}, ""},
                              tube({}, Material::mild_steel)});
  const std::vector<WeldLine> welds = WorkOf(b).lists().welds;
  ASSERT_EQ(welds.size(), 5u);
  const std::array wanted{WeldLine::Kind::butt, WeldLine::Kind::boss, WeldLine::Kind::flange,
                          WeldLine::Kind::butt, WeldLine::Kind::butt};
  for (std::size_t i = 0; i < wanted.size(); ++i)
    EXPECT_EQ(welds[i].kind, wanted[i]) << i;
  EXPECT_EQ(between_text(welds[0]), "port a and run 1");
  EXPECT_EQ(welds[0].pieces.size(), 1u);
  EXPECT_TRUE(close(welds[0].length_m, std::numbers::pi * mm(63.5), 1e-12));
  EXPECT_EQ(welds[0].other, std::nullopt);
  // A boss is at least 1.5 x its thread wide (common practice, no source found): 18 mm.
  EXPECT_TRUE(close(welds[1].diameter_m, mm(18), 1e-12));
  EXPECT_EQ(between_text(welds[1]), "run 2 on run 1");
  EXPECT_TRUE(close(welds[2].diameter_m, mm(25.4 + 3.3), 1e-12));
  EXPECT_EQ(welds[2].other, aluminium); // steel on aluminium
  EXPECT_EQ(welds[3].other, Material::mild_steel);
  EXPECT_EQ(between_text(welds[4]), "run 4 and port b");
}

TEST(Welds, TableSumsByMaterial) {
  const Build b = build_with({tube({}), tube({}, Material::mild_steel), tube({}, Material::mild_steel)});
  const auto all = tables(WorkOf(b).lists());
  const auto& table = *std::ranges::find(all, "welds", &Table::name);
  ASSERT_EQ(table.rows.size(), 4u + 3u);
  // A seam of 63.5 mm is 0.199 m long.
  EXPECT_EQ(table.rows[4][2], "aluminium");
  EXPECT_EQ(table.rows[4][6], "0.199");
  EXPECT_EQ(table.rows[5][2], "aluminium to mild steel");
  EXPECT_EQ(table.rows[6][2], "mild steel");
  EXPECT_EQ(table.rows[6][6], "0.399");
}

// Above 65 degrees Celsius no aluminium filler of the 5356 kind (reported: welding trade journals).
TEST(Welds, HotAluminiumWantsTheOtherFiller) {
  Build b = build_with({tube({}), tube({})});
  for (const double kelvin : {330.0, 345.0}) {
    b.demand = FixedFlow{0.1, 101325.0, kelvin};
    const WorkOf work(b);
    const flow::PathFlow flow = flow::Path(b, b.options[0], work.fits()).solve(0);
    ASSERT_TRUE(flow.point.usable());
    const Lists lists = work.lists(&flow);
    EXPECT_TRUE(close(lists.welds.at(1).temperature_K.value(), kelvin, 1e-9));
    const auto all = tables(lists);
    const auto& filler = std::ranges::find(all, "welds", &Table::name)->rows[1].back();
    EXPECT_EQ(filler.rfind("4043 or 5356", 0) == 0, kelvin < 338) << filler;
  }
  EXPECT_EQ(WorkOf(b).lists().welds.at(1).temperature_K, std::nullopt);
}

// Heights and widths: trade practice, see the thresholds; the rest by hand.
TEST(Beads, SayWhereAndWhetherTheClampPasses) {
  Build b = build_with(
      {{Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, silicone, {}, ""}, tube({true, true}), tube({})});
  std::vector<BeadLine> beads = WorkOf(b).lists().beads;
  ASSERT_EQ(beads.size(), 2u);
  EXPECT_TRUE(beads[0].inlet);
  EXPECT_EQ(beads[0].from_end_m, mm(7));
  EXPECT_EQ(beads[0].height_m, mm(2));
  EXPECT_EQ(beads[0].width_m, mm(5));
  EXPECT_TRUE(close(beads[0].over_bead_m.value(), mm(63.5 + 2 * 2 + 2 * 4.5), 1e-12)); // 76.5
  EXPECT_TRUE(close(beads[0].clamp_opens_m.value(), mm(76), 1e-12));
  EXPECT_EQ(beads[0].clamp_passes(), false);
  EXPECT_FALSE(beads[0].welded);
  EXPECT_FALSE(beads[1].inlet);
  EXPECT_TRUE(beads[1].welded);
  EXPECT_EQ(beads[1].clamp_passes(), std::nullopt);
  b.thresholds = {{"bead_height_mm", 1.5}};
  beads = WorkOf(b).lists().beads;
  EXPECT_EQ(beads[0].height_m, mm(1.5));
  EXPECT_EQ(beads[0].clamp_passes(), true);
}

} // namespace
} // namespace bellmouth::list
