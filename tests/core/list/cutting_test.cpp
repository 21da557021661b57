// SPDX-License-Identifier: GPL-3.0-or-later
// Cut list, fittings, changes of bore. Figures worked by hand from the sizes (closed form) unless a source is
// named.
#include "core/list/small_work.hpp"
#include "support/close.hpp"
#include "support/reference.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/list/text.hpp>

#include <gtest/gtest.h>

#include <numbers>

namespace bellmouth::list {
namespace {

using namespace build;
using test::close;
using test::deg;
using test::mm;
using test::WorkOf;

constexpr Material aluminium = Material::aluminium, silicone = Material::silicone;

/// One run between two ports of these bores and outside diameters.
Build build_with(std::vector<Piece> pieces, double outer_in_mm = 63.5, double outer_out_mm = 63.5,
                 double wall_mm = 1.65) {
  Build b;
  b.demand = FixedFlow{0.1, 101325.0, 293.15};
  b.ports = {test::sample_port("a", {}, Mounting::body, outer_in_mm - 2 * wall_mm, outer_in_mm, 40),
             test::sample_port("b", {}, Mounting::engine, outer_out_mm - 2 * wall_mm, outer_out_mm, 30)};
  b.path = {RunId{"run"}};
  b.budget = {test::euro(), std::nullopt};
  b.options = {{{"only"}, "", {Run{{"run"}, {"a"}, {"b"}, std::move(pieces)}}}};
  return b;
}

Piece tube(double outer_mm, double wall_mm, double length_mm, Beads beads = {}) {
  return {Tube{mm(outer_mm), mm(wall_mm), mm(length_mm), beads}, aluminium, {}, ""};
}
Piece hose(double bore_mm, double in_mm, double out_mm) {
  return {Hose{mm(bore_mm), mm(4.5), mm(80), {mm(in_mm), mm(out_mm)}}, silicone, {}, ""};
}

TEST(Cuts, CountWhatTheHosesCover) {
  const Build b = build_with(
      {hose(63.5, 30, 34), tube(63.5, 1.65, 310, {true, false}), tube(63.5, 1.65, 90), hose(63.5, 28, 36)});
  const std::vector<CutLine> cuts = WorkOf(b).lists().cuts;
  ASSERT_EQ(cuts.size(), 4u);
  struct Wanted {
    double cut, centreline, in, out;
    const char* ends;
  };
  const Wanted wanted[] = {{80, 16, 30, 34, "hose / hose"},
                           {310, 310, 34, 0, "bead / weld"},
                           {90, 90, 0, 28, "weld / plain"},
                           {80, 16, 28, 36, "hose / hose"}};
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_TRUE(close(cuts[i].cut_length_m, mm(wanted[i].cut), 1e-12)) << i;
    EXPECT_TRUE(close(cuts[i].centreline_length_m, mm(wanted[i].centreline), 1e-12)) << i;
    EXPECT_EQ(cuts[i].engagement_in_m, mm(wanted[i].in)) << i;
    EXPECT_EQ(cuts[i].engagement_out_m, mm(wanted[i].out)) << i;
    EXPECT_EQ(ends_text(cuts[i]), wanted[i].ends) << i;
    EXPECT_EQ(cuts[i].piece.row, i);
  }
  EXPECT_EQ(size_text(cuts[1].shape), "63.5 x 1.65");
  EXPECT_EQ(size_text(cuts[0].shape), "bore 63.5, wall 4.5");
}

TEST(Cuts, ABeadUnderAWeldIsSaid) {
  const Build b = build_with({tube(63.5, 1.65, 310, {true, false})});
  EXPECT_EQ(ends_text(WorkOf(b).lists().cuts.front()), "bead, weld / weld");
}

TEST(Cuts, BendsSayAngleRadiusAndClocking) {
  const Build b = build_with({{TubeBend{mm(63.5), mm(2), deg(75), mm(95.25), mm(80), mm(0), deg(-15), {}},
                               aluminium,
                               {},
                               "over the fan"}});
  const CutLine cut = WorkOf(b).lists().cuts.front();
  EXPECT_EQ(cut.title, "over the fan");
  EXPECT_EQ(size_text(cut.shape), "63.5 x 2, 75 deg, R 95.25");
  EXPECT_EQ(note_text(cut), "75 deg, centre-line radius 95.3, clocking -15 deg");
  // Arc length = radius x angle.
  EXPECT_TRUE(close(cut.cut_length_m, mm(80 + 95.25 * 75 * std::numbers::pi / 180), 1e-12));
}

// n joints take n - 1 full wedges and two ends cut on one side (fabricators' guides; "joints" and "pieces"
// are mixed up in many).
TEST(Cuts, MitredBendsTellJointsFromPieces) {
  const auto note = [](int joints) {
    const Build b =
        build_with({{MitredBend{mm(63.5), mm(2), deg(90), mm(95.3), joints, mm(40), mm(40), deg(30), {}},
                     aluminium,
                     {},
                     ""}});
    return note_text(WorkOf(b).lists().cuts.front());
  };
  const std::string turn = "90 deg, centre-line radius 95.3, clocking 30 deg, ";
  EXPECT_EQ(note(5), turn + "5 joints, 6 pieces: 4 full wedges and 2 ends cut on one side");
  EXPECT_EQ(note(2), turn + "2 joints, 3 pieces: 1 full wedge and 2 ends cut on one side");
  EXPECT_EQ(note(1), turn + "1 joint, 2 pieces: 2 ends cut on one side");
}

TEST(Cuts, FlangesAndThreadsAreNoPlainEnds) {
  Adapter adapter{mm(63.5), mm(70), mm(60.2), mm(66), mm(80), {}};
  adapter.connection_in = {Connection::Kind::thread, "G 2"};
  adapter.connection_out = {Connection::Kind::flange, "4 x M8 on 80"};
  Build b = build_with({{adapter, aluminium, {}, ""}}, 63.5, 70);
  b.ports[0].connection = adapter.connection_in;
  b.ports[1].connection = adapter.connection_out;
  EXPECT_EQ(ends_text(WorkOf(b).lists().cuts.front()), "thread / flange");
}

/// A stock item of silicone.
StockItem silicone_item(StockKind kind, const char* id) {
  StockItem item;
  item.id = {id};
  item.kind = kind;
  item.material = silicone;
  item.wall_m = mm(4.5);
  item.price = test::euros(10, 0);
  return item;
}

// By hand: what is bought less what is used.
TEST(Cuts, HosesSayWhatComesOff) {
  StockItem straight = silicone_item(StockKind::hose, "hose"),
            reducer = silicone_item(StockKind::hose_reducer, "reducer");
  straight.bore_m = mm(63.5);
  straight.length_m = mm(102);
  reducer.bore_m = mm(63.5);
  reducer.bore_out_m = mm(76.2);
  reducer.length_m = mm(90);
  StockItem elbow = silicone_item(StockKind::hose_elbow, "elbow");
  elbow.bore_m = mm(63.5);
  elbow.bore_out_m = mm(76.2);
  elbow.angle_rad = deg(90);
  elbow.radius_m = mm(75);
  elbow.leg_in_m = mm(100);
  elbow.leg_out_m = mm(120);
  const auto elbow_of = [](double bore_in, double bore_out, double leg_in, double leg_out) {
    return Piece{HoseElbow{mm(bore_in),
                           mm(bore_out),
                           mm(4.5),
                           deg(90),
                           mm(75),
                           mm(leg_in),
                           mm(leg_out),
                           0,
                           false,
                           {mm(32), mm(32)}},
                 silicone,
                 {"elbow"},
                 ""};
  };
  Build b = build_with(
      {{Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, silicone, {"hose"}, ""},
       tube(63.5, 1.65, 90),
       elbow_of(63.5, 76.2, 60, 115),
       tube(76.2, 1.65, 90),
       elbow_of(76.2, 63.5, 120, 60), // lies the other way round
       tube(63.5, 1.65, 90),
       {HoseReducer{mm(63.5), mm(76.2), mm(4.5), mm(90), {mm(32), mm(32)}}, silicone, {"reducer"}, ""}},
      63.5, 76.2);
  b.stock = std::vector{straight, reducer, elbow};
  const std::vector<CutLine> cuts = WorkOf(b).lists().cuts;
  EXPECT_TRUE(close(cuts[0].trim_out_m.value(), mm(22), 1e-9));
  EXPECT_EQ(note_text(cuts[0]), "cut down by 22");
  EXPECT_TRUE(close(cuts[2].trim_in_m.value(), mm(40), 1e-9));
  EXPECT_TRUE(close(cuts[2].trim_out_m.value(), mm(5), 1e-9));
  EXPECT_EQ(note_text(cuts[2]),
            "90 deg, centre-line radius 75, clocking 0 deg, leg in cut down by 40, leg out cut down by 5");
  EXPECT_EQ(cuts[4].trim_in_m.value(), 0);
  EXPECT_TRUE(close(cuts[4].trim_out_m.value(), mm(40), 1e-9));
  EXPECT_EQ(note_text(cuts[6]), ""); // used as it is
  EXPECT_EQ(cuts[1].trim_in_m, std::nullopt);
  b.stock = std::vector<StockItem>{};
  EXPECT_EQ(WorkOf(b).lists().cuts[0].trim_out_m, std::nullopt);
}

// Tap drills: the reference table of threads (workshop tables read; some recalled, as its rows say).
TEST(Fittings, BossesNameTheirTapDrill) {
  for (const test::Row& row : test::reference("threads.csv")) {
    const Build b =
        build_with({tube(63.5, 1.65, 310),
                    {SensorBoss{mm(120), deg(45), row.text("designation")}, aluminium, {}, "sensor"}});
    const std::vector<FittingLine> fittings = WorkOf(b).lists().fittings;
    ASSERT_EQ(fittings.size(), 1u);
    EXPECT_EQ(fittings[0].title, "sensor");
    EXPECT_EQ(fittings[0].piece.row, 1u);
    EXPECT_EQ(fittings[0].host.row, 0u);
    EXPECT_EQ(fittings[0].position_m, mm(120));
    EXPECT_TRUE(close(fittings[0].clocking_rad, deg(45), 1e-12));
    EXPECT_TRUE(close(fittings[0].from_outlet_m, mm(190), 1e-12));
    // An eighth of the way round: pi x 63.5 / 8.
    EXPECT_TRUE(close(fittings[0].round_m, mm(std::numbers::pi * 63.5 / 8), 1e-12));
    EXPECT_TRUE(close(fittings[0].hole_m.value(), mm(row.number("major_d_mm")), 1e-3));
    const std::string drill = row.has("tap_drill_mm") ? "tap drill " + row.text("tap_drill_mm")
                                                      : std::string("tap drill as the reamer asks");
    EXPECT_EQ(fittings[0].size, row.text("designation") + ", " + drill);
  }
}

TEST(Fittings, FlangesAndUnknownThreads) {
  const Build b = build_with({tube(63.5, 1.65, 310),
                              {ValveFlange{mm(150), deg(-90), mm(25.4)}, aluminium, {}, ""},
                              {SensorBoss{mm(50), 0, "M11x7"}, aluminium, {}, ""}});
  const std::vector<FittingLine> fittings = WorkOf(b).lists().fittings;
  ASSERT_EQ(fittings.size(), 2u);
  EXPECT_EQ(fittings[0].size, "bore 25.4");
  EXPECT_EQ(fittings[0].hole_m, mm(25.4));
  EXPECT_EQ(fittings[1].hole_m, std::nullopt);
  EXPECT_EQ(fittings[1].size, "M11x7, tap drill not known");
  EXPECT_EQ(fittings[1].host.row, 0u);
}

TEST(Reducers, EveryChangeOfBoreIsListed) {
  struct Case {
    const char* what;
    std::vector<Piece> pieces;
    double outer_in, outer_out;
    const char* title;
    std::size_t row;
    double bore_in, bore_out, length, angle_deg;
  };
  const std::vector<Case> cases{
      // 2 atan(1.75 / 50)
      {"cone",
       {{Cone{mm(60), mm(63.5), mm(1.65), mm(50), {}}, aluminium, {}, ""}},
       60,
       63.5,
       "cone",
       0,
       56.7,
       60.2,
       50,
       4.0090681},
      // between the spigots 76 - 2 x 30 = 16; 2 atan(3.1 / 16)
      {"hose reducer",
       {{HoseReducer{mm(76.2), mm(70), mm(4.5), mm(76), {mm(30), mm(30)}}, silicone, {}, "step down"}},
       76.2,
       70,
       "step down",
       0,
       76.2,
       70,
       16,
       21.9303934},
      // 2 atan(2.9 / 80)
      {"adapter",
       {{Adapter{mm(63.5), mm(70), mm(60.2), mm(66), mm(80), {}}, aluminium, {}, ""}},
       63.5,
       70,
       "adapter",
       0,
       60.2,
       66,
       80,
       4.1521259},
      // 60 + 60 + pi/2 x 80 - 2 x 32 = 181.664; 2 atan(6.35 / 181.664)
      {"elbow of two bores",
       {{HoseElbow{mm(76.2), mm(63.5), mm(4.5), deg(90), mm(80), mm(60), mm(60), 0, false, {mm(32), mm(32)}},
         silicone,
         {},
         ""}},
       76.2,
       63.5,
       "hose elbow",
       0,
       76.2,
       63.5,
       181.66371,
       4.0038832},
      {"weld of two walls",
       {tube(63.5, 1.65, 90), tube(63.5, 2, 90), hose(63.5, 32, 32), tube(63.5, 2, 50)},
       63.5,
       63.5,
       "step at a weld",
       1,
       60.2,
       59.5,
       0,
       180},
      {"hose between two walls",
       {tube(63.5, 1.65, 90), hose(63.5, 32, 32), tube(63.5, 3, 90)},
       63.5,
       63.5,
       "step inside a hose",
       1,
       60.2,
       57.5,
       0,
       180},
  };
  for (const Case& c : cases) {
    SCOPED_TRACE(c.what);
    Build b = build_with(c.pieces, c.outer_in, c.outer_out);
    b.ports[0].bore_m = bore_in_m(c.pieces.front().shape); // no change of bore at the ports
    b.ports[1].bore_m = bore_out_m(c.pieces.back().shape);
    const std::vector<ReducerLine> found = WorkOf(b).lists().reducers;
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].title, c.title);
    EXPECT_EQ(found[0].piece.row, c.row);
    EXPECT_TRUE(close(found[0].bore_in_m, mm(c.bore_in), 1e-12));
    EXPECT_TRUE(close(found[0].bore_out_m, mm(c.bore_out), 1e-12));
    EXPECT_TRUE(close(found[0].length_m, mm(c.length), 1e-7));
    EXPECT_TRUE(close(found[0].included_angle_rad, deg(c.angle_deg), 1e-7));
  }
}

TEST(Reducers, OneBoreIsNoLine) {
  for (const double wall_mm : {1.65, 1.5, 1.85}) {
    const Build b = build_with({tube(63.5, 1.65, 90), hose(63.5, 32, 32), tube(63.5, wall_mm, 90)});
    EXPECT_TRUE(WorkOf(b).lists().reducers.empty()) << wall_mm;
  }
}

TEST(Reducers, PortsCountToo) {
  Build b = build_with({hose(63.5, 32, 32)});
  b.ports[1].bore_m = mm(56);
  ASSERT_EQ(WorkOf(b).lists().reducers.size(), 1u);
  EXPECT_EQ(WorkOf(b).lists().reducers[0].bore_out_m, mm(56));
  b = build_with({});
  b.ports[1].bore_m = mm(56);
  EXPECT_EQ(WorkOf(b).lists().reducers.size(), 1u); // bolted port to port
}

TEST(Reducers, TubesThatTouchInAReducerMakeAStep) {
  const Build b = build_with(
      {{HoseReducer{mm(76.2), mm(70), mm(4.5), mm(60), {mm(30), mm(30)}}, silicone, {}, ""}}, 76.2, 70);
  const ReducerLine found = WorkOf(b).lists().reducers.at(0);
  EXPECT_EQ(found.length_m, 0);
  EXPECT_TRUE(close(found.included_angle_rad, deg(180), 1e-12));
}

// Identities, over every option of every sample build: a run is as long as its cuts less what hoses cover.
TEST(Cuts, AddUpToTheRun) {
  for (const Build& b : test::all_sample_builds())
    for (std::size_t option = 0; option < b.options.size(); ++option) {
      const WorkOf work(b, option);
      const Lists lists = work.lists();
      double centreline_m = 0, listed_m = 0, hose_cover_m = 0;
      for (const joint::RunFit& fit : work.fits())
        for (const joint::Row& row : fit.rows)
          centreline_m += row.centreline_length_m;
      for (const CutLine& cut : lists.cuts) {
        const bool flexible = is_flexible(find(b, cut.piece)->shape);
        listed_m += cut.cut_length_m;
        hose_cover_m += flexible ? cut.engagement_in_m + cut.engagement_out_m : 0.0;
        EXPECT_TRUE(close(cut.centreline_length_m,
                          cut.cut_length_m - (flexible ? cut.engagement_in_m + cut.engagement_out_m : 0.0),
                          1e-12));
      }
      EXPECT_TRUE(close(listed_m - hose_cover_m, centreline_m, 1e-12));
      std::size_t pieces = 0;
      for (const auto* run : work.runs())
        pieces += run->pieces.size();
      EXPECT_EQ(lists.cuts.size() + lists.fittings.size(), pieces);
    }
}

} // namespace
} // namespace bellmouth::list
