// SPDX-License-Identifier: GPL-3.0-or-later
// Which ends meet how. Lengths are worked by hand from the sizes (closed form).
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/joint.hpp>

#include <gtest/gtest.h>

#include <set>

namespace bellmouth::joint {
namespace {

using namespace build;
using test::close;
using test::mm;

/// A build with one run between two ports; a port's bore is 3.3 mm less than its outside diameter.
Build build_with(std::vector<Piece> pieces, double from_outer_mm = 63.5, double to_outer_mm = 63.5) {
  Build b;
  b.demand = FixedFlow{0.1, 101325.0, 293.15};
  b.ports = {test::sample_port("a", {}, Mounting::body, from_outer_mm - 3.3, from_outer_mm, 40),
             test::sample_port("b", {}, Mounting::engine, to_outer_mm - 3.3, to_outer_mm, 30)};
  b.path = {RunId{"run"}};
  b.stock = test::sample_stock();
  b.options = {{{"only"}, "", {Run{{"run"}, {"a"}, {"b"}, std::move(pieces)}}}};
  return b;
}
RunFit fit_of(const Build& b) {
  return fit(b, *b.options.front().runs.front());
}

Piece tube(double outer_mm, double length_mm = 200, Beads beads = {}) {
  return {Tube{mm(outer_mm), mm(1.65), mm(length_mm), beads}, Material::stainless_steel, {}, ""};
}
Piece hose(double bore_mm, double in_mm = 30, double out_mm = 34) {
  return {Hose{mm(bore_mm), mm(5), mm(76), {mm(in_mm), mm(out_mm)}}, Material::silicone, {}, ""};
}
Piece boss() {
  return {SensorBoss{mm(20), 0, "M12x1.5"}, Material::aluminium, {}, ""};
}

TEST(Joint, KindFollowsFromTheTwoEnds) {
  constexpr Kind h = Kind::hose, w = Kind::weld, x = Kind::wrong;
  struct Case {
    const char* what;
    std::vector<Piece> pieces;
    std::vector<Kind> wanted;
    double from_mm = 63.5, to_mm = 63.5;
  };
  const std::vector<Case> cases{
      {"no piece, ports of one size", {}, {w}},
      {"no piece, ports of two sizes", {}, {x}, 63.5, 70},
      {"one hose", {hose(63.5)}, {h, h}},
      {"one tube", {tube(63.5)}, {w, w}},
      {"hose, tube, hose", {hose(63.5), tube(63.5), hose(63.5)}, {h, h, h, h}},
      {"two hoses end to end", {hose(63.5), hose(63.5)}, {h, x, h}},
      {"tubes 0.3 mm apart", {tube(63.5), tube(63.8)}, {w, w, w}, 63.5, 63.8},
      {"tubes 0.4 mm apart", {tube(63.5), tube(63.9)}, {w, x, w}, 63.5, 63.9},
      {"a boss takes no part", {tube(63.5), boss(), tube(63.5)}, {w, w, w}},
      {"a hose of another size is still a joint; whether it holds is for the checks", {hose(80)}, {h, h}},
  };
  for (const Case& c : cases) {
    const Build b = build_with(c.pieces, c.from_mm, c.to_mm);
    std::vector<Kind> found;
    for (const Joint& joint : fit_of(b).joints) {
      found.push_back(joint.kind);
      EXPECT_EQ(clamps_needed(joint), joint.kind == h ? 1 : 0) << c.what;
    }
    EXPECT_EQ(found, c.wanted) << c.what;
  }
}

// Trade practice: flange on flange, thread in thread, each of one size; a hose on neither.
TEST(Joint, KindFollowsFromTheConnections) {
  using Form = Connection::Kind;
  const Connection spigot{}, flange{Form::flange, "4 x M8 on 80"}, other_flange{Form::flange, "2-bolt 65"},
      thread{Form::thread, "G 2"}, other_thread{Form::thread, "M60x2"};
  const auto adapter = [](const Connection& in) {
    return Piece{
        Adapter{mm(63.5), mm(63.5), mm(60.2), mm(60.2), mm(60), {}, in, {}}, Material::aluminium, {}, ""};
  };
  struct Case {
    Connection port, piece;
    Kind wanted;
  };
  for (const Case& c : {Case{flange, flange, Kind::flange}, Case{thread, thread, Kind::thread},
                        Case{spigot, spigot, Kind::weld}, Case{flange, other_flange, Kind::wrong},
                        Case{thread, other_thread, Kind::wrong}, Case{flange, thread, Kind::wrong},
                        Case{flange, spigot, Kind::wrong}, Case{spigot, thread, Kind::wrong}}) {
    Build b = build_with({adapter(c.piece)});
    b.ports[0].connection = c.port;
    const Joint joint = fit_of(b).joints[0];
    EXPECT_EQ(joint.kind, c.wanted) << c.port.size << " on " << c.piece.size;
    EXPECT_EQ(joint.clamp, nullptr);
    EXPECT_EQ(clamps_needed(joint), 0);
  }
  // A flange of another diameter than the tube inside it: the bolts decide, not the outside.
  Build wide = build_with({adapter(flange)}, 70);
  wide.ports[0].connection = flange;
  EXPECT_EQ(fit_of(wide).joints[0].kind, Kind::flange);
  Build hosed = build_with({hose(63.5)});
  hosed.ports[0].connection = flange;
  EXPECT_EQ(fit_of(hosed).joints[0].kind, Kind::wrong);
  EXPECT_EQ(text(Kind::flange), "flange");
  EXPECT_EQ(text(Kind::wrong), "wrong");
}

TEST(Joint, HosesCoverWhatTheyAreSlippedOver) {
  const Build b = build_with({hose(63.5, 30, 34), tube(63.5, 200), boss(), hose(63.5, 28, 26)});
  const RunFit found = fit_of(b);
  ASSERT_EQ(found.rows.size(), 4u);
  EXPECT_EQ(found.rows[0].cover_in_m, mm(30));
  EXPECT_EQ(found.rows[0].cover_out_m, mm(34));
  EXPECT_TRUE(close(found.rows[0].centreline_length_m, mm(76 - 30 - 34), 1e-12));
  EXPECT_EQ(found.rows[1].cover_in_m, 0);
  EXPECT_EQ(found.rows[1].cover_out_m, 0);
  EXPECT_EQ(found.rows[1].centreline_length_m, mm(200));
  EXPECT_EQ(found.rows[2].centreline_length_m, 0);
  EXPECT_TRUE(close(found.rows[3].centreline_length_m, mm(76 - 28 - 26), 1e-12));
  ASSERT_EQ(found.joints.size(), 4u);
  const double wanted[] = {mm(30), mm(34), mm(28), mm(26)};
  for (std::size_t i = 0; i < 4; ++i)
    EXPECT_EQ(found.joints[i].engagement_m, wanted[i]) << i;
}

TEST(Joint, AHoseEndAtAWrongJointCoversNothing) {
  const Build b = build_with({hose(63.5, 30, 34), hose(63.5, 28, 26)});
  const RunFit found = fit_of(b);
  EXPECT_EQ(found.rows[0].cover_in_m, mm(30));
  EXPECT_EQ(found.rows[0].cover_out_m, 0);
  EXPECT_EQ(found.rows[1].cover_in_m, 0);
  EXPECT_EQ(found.rows[1].cover_out_m, mm(26));
  EXPECT_EQ(found.joints[1].engagement_m, 0);
  EXPECT_EQ(found.joints[1].clamp, nullptr);
}

TEST(Joint, FittingsSitOnTheLastPieceThatIsNone) {
  const Build b = build_with({hose(63.5), tube(63.5), boss(), boss(), hose(63.5)});
  const RunFit found = fit_of(b);
  EXPECT_EQ(found.rows[0].host, std::nullopt);
  EXPECT_EQ(found.rows[2].host, 1u);
  EXPECT_EQ(found.rows[3].host, 1u);
  EXPECT_EQ(found.joints.size(), 4u);
}

TEST(Joint, SidesSayWhatMeets) {
  const Build b = build_with({hose(63), tube(63.5, 200, {true, false})}, 60);
  const RunFit found = fit_of(b);
  const Joint& on_port = found.joints[0];
  EXPECT_EQ(on_port.upstream.row, std::nullopt);
  EXPECT_EQ(on_port.upstream.land_m, mm(40));
  EXPECT_TRUE(on_port.upstream.beaded);
  EXPECT_EQ(&on_port.spigot(), &on_port.upstream);
  EXPECT_EQ(&on_port.hose(), &on_port.downstream);
  EXPECT_TRUE(close(on_port.interference_m, mm(-3), 1e-9)); // 60 in 63: loose
  const Joint& on_tube = found.joints[1];
  EXPECT_EQ(on_tube.upstream.row, 0u);
  EXPECT_EQ(on_tube.downstream.row, 1u);
  EXPECT_EQ(&on_tube.spigot(), &on_tube.downstream);
  EXPECT_EQ(&on_tube.hose(), &on_tube.upstream);
  EXPECT_TRUE(on_tube.spigot().beaded);
  EXPECT_EQ(on_tube.spigot().material, Material::stainless_steel);
  EXPECT_TRUE(close(on_tube.spigot().bore_m, mm(60.2), 1e-12));
  EXPECT_TRUE(close(on_tube.interference_m, mm(0.5), 1e-9)); // 63.5 stretches 63
  EXPECT_FALSE(found.joints[2].upstream.beaded);             // the other end of the tube
}

// Published rule (guides of clamp makers): a clamp is sized by the hose's outside diameter on the tube, tube
// outside diameter + 2 x wall.
TEST(Joint, ClampGoesRoundHoseOnTube) {
  const Build b = build_with({hose(63.5)}, 63.5, 76.2);
  const RunFit found = fit_of(b);
  EXPECT_TRUE(close(found.joints[0].installed_diameter_m, mm(73.5), 1e-9));
  ASSERT_NE(found.joints[0].clamp, nullptr); // the sample stock's only clamp, 68 to 76
  EXPECT_EQ(found.joints[0].clamp->id.text, "clamp-70");
  EXPECT_EQ(found.joints[0].clamp, stock::clamp_for(b, mm(73.5)));
  EXPECT_TRUE(close(found.joints[1].installed_diameter_m, mm(86.2), 1e-9));
  EXPECT_EQ(found.joints[1].clamp, nullptr);
}

// Published values, recalled: inch worm clamps open to (number + 8) / 16 in, and no. 40, 48 and 56 are sold
// as 52 to 76, 65 to 89 and 78 to 102 mm (SAE J1508); DIN 3017-1 has 50 to 70, 60 to 80 and 70 to 90 mm. A
// hose of 4.5 mm on 63.5 mm measures 72.5 mm, which lies in the middle half of no. 48 and of 60 to 80 mm.
TEST(Joint, ClampWorksInTheMiddleOfItsRange) {
  const auto clamp = [](const char* id, double from_mm, double to_mm) {
    StockItem item;
    item.id = {id};
    item.kind = StockKind::clamp;
    item.clamp_min_m = mm(from_mm);
    item.clamp_max_m = mm(to_mm);
    item.price = test::euros(3, 0);
    return item;
  };
  const std::vector<StockItem> inch{clamp("40", 52, 76), clamp("48", 65, 89), clamp("56", 78, 102)};
  for (const StockItem& item : inch)
    EXPECT_NEAR(*item.clamp_max_m, (std::stod(item.id.text) + 8) / 16 * 0.0254, mm(0.5)) << item.id.text;
  Build b = build_with({hose(63.5), tube(63.5), hose(63.5)});
  b.stock = inch;
  EXPECT_EQ(stock::clamp_for(b, mm(72.5))->id.text, "48");
  EXPECT_EQ(stock::clamp_for(b, mm(64))->id.text, "40");
  EXPECT_EQ(stock::clamp_for(b, mm(101))->id.text,
            "56"); // at the end of its range, for want of a better one
  EXPECT_EQ(stock::clamp_for(b, mm(103)), nullptr);
  b.stock = std::vector{clamp("50-70", 50, 70), clamp("60-80", 60, 80), clamp("70-90", 70, 90)};
  EXPECT_EQ(stock::clamp_for(b, mm(72.5))->id.text, "60-80");
  // The hoses of this build have walls of 5 mm.
  const Joint joint = fit_of(b).joints[1];
  EXPECT_TRUE(close(joint.installed_diameter_m, mm(73.5), 1e-12));
  EXPECT_EQ(joint.clamp->id.text, "60-80");
}

// Identities, over every run of every sample build and every kind of piece in them.
TEST(Joint, EveryRunAddsUp) {
  std::set<std::size_t> kinds_seen;
  for (const Build& b : test::all_sample_builds())
    for (const Option& option : b.options)
      for (const auto& run : option.runs) {
        const RunFit found = fit(b, *run);
        ASSERT_EQ(found.rows.size(), run->pieces.size());
        std::size_t solid = 0;
        double full_m = 0, engaged_m = 0, centreline_m = 0;
        for (std::size_t i = 0; i < run->pieces.size(); ++i) {
          const Shape& shape = run->pieces[i].shape;
          kinds_seen.insert(shape.index());
          solid += is_fitting(shape) ? 0 : 1;
          EXPECT_EQ(found.rows[i].host.has_value(), is_fitting(shape));
          full_m += full_length_m(shape);
          centreline_m += found.rows[i].centreline_length_m;
        }
        ASSERT_EQ(found.joints.size(), solid + 1);
        for (const Joint& joint : found.joints)
          engaged_m += joint.engagement_m;
        EXPECT_TRUE(close(centreline_m, full_m - engaged_m, 1e-12)) << run->id.text;
        EXPECT_EQ(found.joints.front().upstream.row, std::nullopt);
        EXPECT_EQ(found.joints.back().downstream.row, std::nullopt);
        for (std::size_t j = 1; j < found.joints.size(); ++j)
          EXPECT_EQ(found.joints[j].upstream.row, found.joints[j - 1].downstream.row);
      }
  EXPECT_EQ(kinds_seen.size(), std::variant_size_v<Shape>);
}

// Identity: the joints of an option are those of its runs, in the order of the path and not of the option.
TEST(Joint, FindsAllRunsOfAnOptionInPathOrder) {
  auto build = test::sample_build();
  std::swap(build.options[0].runs[0], build.options[0].runs[2]);
  const auto found = fits(build, build.options[0]);
  ASSERT_EQ(found.size(), 3U);
  const char* const order[] = {"suction", "hot_side", "cold_side"};
  for (std::size_t i = 0; i < 3; ++i) {
    const auto wanted = fit(build, *build.options[0].find(RunId{order[i]}));
    ASSERT_EQ(found[i].rows.size(), wanted.rows.size()) << order[i];
    ASSERT_EQ(found[i].joints.size(), wanted.joints.size()) << order[i];
    for (std::size_t row = 0; row < wanted.rows.size(); ++row)
      EXPECT_EQ(found[i].rows[row].centreline_length_m, wanted.rows[row].centreline_length_m) << order[i];
  }
}

} // namespace
} // namespace bellmouth::joint
