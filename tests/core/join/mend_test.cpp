// SPDX-License-Identifier: GPL-3.0-or-later
// Every mend: a build that has the finding, and no longer has it when mended, with no stop that was not
// there.
#include "join_scene.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <ostream>
#include <set>

namespace bellmouth::join {
namespace {

using namespace build;
using test::cold;
using test::deg;
using test::hot;
using test::mm;
using test::Scene;
using test::suction;
using Stock = std::vector<StockItem>;

/// A rule, a change that breaks it, and what the step says.
struct Case {
  std::string_view rule;
  std::string says;
  std::function<void(Scene&, Stock&)> breaks;
};
void PrintTo(const Case& c, std::ostream* out) {
  *out << c.rule;
}

StockItem bend_item(double leg_mm) {
  auto item = test::item("bend-63.5-90", StockKind::tube_bend, Material::aluminium, 25);
  item.outer_diameter_m = mm(63.5);
  item.wall_m = mm(1.65);
  item.angle_rad = deg(90);
  item.radius_m = mm(95.25);
  item.leg_in_m = item.leg_out_m = mm(leg_mm);
  return item;
}
StockItem boss_item() {
  auto item = test::item("boss-m12", StockKind::sensor_boss, Material::aluminium, 6);
  item.thread = "M12x1.5";
  return item;
}
/// Sold by the metre.
StockItem metre_hose(const char* id, double bore_mm) {
  auto item = test::stock_hose(bore_mm, 100, 40);
  item.id = {id};
  item.name = id;
  item.length_m = std::nullopt;
  item.per = Per::metre;
  return item;
}
Piece boss(double position_mm) {
  return {SensorBoss{mm(position_mm), 0.0, "M12x1.5"}, Material::aluminium, {}, ""};
}
/// Nothing but one hose gives between filter and blower.
void leave_one_hose(Scene& s) {
  s.erase(suction, 2);
}

std::vector<Case> cases() {
  return {
      {"no-flexible-joint", "put in",
       [](Scene& s, Stock&) {
         s.erase(suction, 2);
         s.erase(suction, 0);
       }},
      {"no-flexible-joint", "instead of the weld",
       [](Scene& s, Stock&) {
         s.runs[suction].pieces = {test::tube(76.2, 180, {}), test::tube(76.2, 180, {})};
         for (const char* port : {"filter_out", "blower_in"})
           s.port(port).connection = {Connection::Kind::flange, "4 x M8 on 100"};
       }},
      {"no-flexible-near-blower", "port blower out", [](Scene& s, Stock&) { s.erase(hot, 0); }},
      {"plain-hose-for-movement", "hump-76.2", [](Scene& s, Stock&) { leave_one_hose(s); }},
      {"movement-beyond-hose", "hump-76.2",
       [](Scene& s, Stock&) {
         leave_one_hose(s);
         s.port("filter_out").pose = Pose{{mm(700), mm(300), mm(100)}, {-1, 0, 0}};
         s.build.movement = EngineMovement{{0, 0, 0}, {1, 0, 0}, deg(0.4), 0};
       }},
      {"wrong-joint", "tube-63.5", [](Scene& s, Stock&) { s.insert(hot, 1, test::hose(63.5)); }},
      {"bead-at-weld", "no bead on its inlet",
       [](Scene& s, Stock&) { s.piece<Tube>(cold, 2).beads.in = true; }},
      {"hose-loose", "hose-63.5-102", [](Scene& s, Stock&) { s.piece<Hose>(cold, 5).bore_m = mm(65); }},
      {"hose-tight", "hose-63.5-102", [](Scene& s, Stock&) { s.piece<Hose>(cold, 5).bore_m = mm(60); }},
      {"near-miss-size", "hose-63.5-102", [](Scene& s, Stock&) { s.piece<Hose>(hot, 0).bore_m = mm(63); }},
      {"short-engagement", "38 mm and 40 mm",
       [](Scene& s, Stock&) { s.piece<Hose>(suction, 0).engagement.in_m = mm(30); }},
      // What the bend is bought as has longer legs; or it has not, or it is longer than any.
      {"no-straight-end", "a leg of 38 mm",
       [](Scene& s, Stock& stock) {
         stock.push_back(bend_item(120));
         s.piece<TubeBend>(hot, 1).leg_in_m = mm(20);
       }},
      {"no-straight-end", "weld 48 mm of tube-63.5",
       [](Scene& s, Stock&) { s.piece<TubeBend>(hot, 1).leg_out_m = 0; }},
      {"no-straight-end", "90 mm long instead of 70 mm",
       [](Scene& s, Stock&) { s.piece<Tube>(suction, 1).length_m = mm(70); }},
      {"tube-in-hump", "42 mm and 42 mm",
       [](Scene& s, Stock&) {
         s.shape(hot, 0) = HumpHose{mm(63.5), mm(4.5), mm(120), mm(36), mm(76), {mm(44), mm(42)}};
       }},
      {"tube-ends-touch", "on its spigots",
       [](Scene& s, Stock&) { s.piece<Hose>(hot, 0).length_m = mm(83); }},
      {"tube-gap-wide", "on its spigots", [](Scene& s, Stock&) { s.piece<Hose>(hot, 0).length_m = mm(108); }},
      // 2.5 m of aluminium some 60 K warmer.
      {"growth-closes-gap", "a gap of",
       [](Scene& s, Stock&) {
         s.piece<TubeBend>(hot, 1).leg_in_m = 2.6;
         for (const std::size_t row : {0U, 2U})
           s.piece<Hose>(hot, row).length_m = mm(85);
       }},
      {"tube-without-bead", "a bead on its outlet",
       [](Scene& s, Stock&) { s.piece<TubeBend>(hot, 1).beads.out = false; }},
      // Some 40 kPa on a plain end; a worm clamp that is hardly drawn up, and beads not asked for.
      {"joint-may-part", "a bead on its",
       [](Scene& s, Stock& stock) {
         s.piece<TubeBend>(hot, 1).beads = {false, false};
         s.build.thresholds = {{"worm_torque_Nm", 0.6}, {"bead_from_gauge_Pa", 200e3}};
         for (StockItem& item : stock)
           if (item.kind == StockKind::clamp)
             item.clamp_type = ClampType::worm;
       }},
      {"no-room-for-band", "on its spigots",
       [](Scene&, Stock& stock) {
         for (StockItem& item : stock)
           if (item.kind == StockKind::clamp)
             item.band_width_m = mm(25);
       }},
      {"fitting-under-hose", "along its host",
       [](Scene& s, Stock&) { s.piece<ValveFlange>(cold, 4).position_m = mm(110); }},
      {"hose-may-flatten", "wired",
       [](Scene& s, Stock& stock) {
         std::get<machine::Filter>(s.build.machines[0].kind).rated = {{0.1, 7000.0}};
         s.piece<Hose>(suction, 0).length_m = mm(400);
         stock.push_back(metre_hose("wired", 76.2));
         stock.back().plies = std::nullopt;
         stock.back().wire = true;
       }},
      {"hose-too-hot", "hose-63.5-102",
       [](Scene& s, Stock& stock) {
         stock.push_back(test::stock_hose(63.5, 90));
         stock.back().id = {"cool"};
         stock.back().max_temperature_K = 320;
         s.runs[hot].pieces[0].stock = {"cool"};
       }},
      {"hose-over-rating", "hose-63.5-102",
       [](Scene& s, Stock& stock) {
         stock.push_back(test::stock_hose(63.5, 90));
         stock.back().id = {"weak"};
         stock.back().max_gauge_Pa = 20e3;
         s.runs[hot].pieces[0].stock = {"weak"};
       }},
      {"hose-rating-assumed", "rated",
       [](Scene&, Stock& stock) {
         stock.push_back(metre_hose("rated", 63.5));
         stock.back().max_gauge_Pa = 300e3;
       }},
      {"oil-mist-on-silicone", "lined",
       [](Scene&, Stock& stock) {
         stock.push_back(metre_hose("lined", 63.5));
         stock.back().oil_proof = true;
       }},
      {"steep-cone", "cone-63.5-70-80",
       [](Scene& s, Stock& stock) {
         s.insert(cold, 2, {Cone{mm(63.5), mm(70), mm(1.65), mm(20), {}}, Material::aluminium, {}, ""});
         s.piece<Tube>(cold, 3).outer_diameter_m = mm(70);
         s.piece<Hose>(cold, 6).bore_m = mm(70);
         s.port("throttle_in").outer_diameter_m = mm(70);
         stock.push_back(test::stock_cone(63.5, 70, 25));
         stock.push_back(test::stock_cone(63.5, 70, 80));
       }},
      {"sharp-mitre", "3 cuts instead of 1 cut",
       [](Scene& s, Stock&) {
         s.shape(hot, 1) =
             MitredBend{mm(63.5), mm(1.65), deg(90), mm(95), 1, mm(60), mm(60), 0, {true, true}};
       }},
      {"narrow-wedge", "5 cuts instead of 8 cuts",
       [](Scene& s, Stock&) {
         s.shape(hot, 1) =
             MitredBend{mm(63.5), mm(1.65), deg(90), mm(63.5), 8, mm(60), mm(60), 0, {true, true}};
       }},
      {"plastic-under-pressure", "of aluminium",
       [](Scene& s, Stock& stock) {
         stock.push_back(bend_item(120));
         s.runs[hot].pieces[1].material = Material::plastic;
       }},
      {"plastic-softens", "of aluminium",
       [](Scene& s, Stock&) {
         s.runs[suction].pieces[1].material = Material::plastic;
         s.build.bay = BayAir{335, 2};
       }},
      {"sensor-before-blower", "boss-m12",
       [](Scene& s, Stock& stock) {
         s.erase(cold, 3);
         s.insert(suction, 2, boss(90));
         stock.push_back(boss_item());
       }},
      {"no-charge-sensor", "boss-m12",
       [](Scene& s, Stock& stock) {
         s.erase(cold, 3);
         stock.push_back(boss_item());
       }},
      {"sensor-near-cooler", "along its host", [](Scene& s, Stock&) { s.insert(cold, 2, boss(70)); }},
      {"unpriced", "row 2 (tube bend): bend-63.5-90, with the sizes that it has",
       [](Scene&, Stock& stock) {
         stock.push_back(bend_item(120));
         stock.back().radius_m = mm(100);
       }},
      {"stock-does-not-serve", "row 2 (tube): tube-76.2",
       [](Scene& s, Stock&) { s.runs[suction].pieces[1].stock = {"tube-70"}; }},
      {"stock-not-chosen", "hose-63.5", [](Scene&, Stock&) {}},
      {"waiver-without-finding", "take back the waiver of hose-loose",
       [](Scene& s, Stock&) {
         s.runs[hot].pieces[0].waivers = {{"hose-loose", "it is an old one"}};
       }},
  };
}

class MendCase : public ::testing::TestWithParam<Case> {};

TEST_P(MendCase, TakesTheFindingAway) {
  const Case& c = GetParam();
  Scene scene = test::joint_scene();
  Stock stock = test::join_stock();
  c.breaks(scene, stock);
  const Build build = test::document(scene, std::move(stock));
  const Evaluation before = evaluate(build, {"only"});
  const auto stops = [](const Evaluation& evaluation) {
    return check::count(evaluation.findings, check::Severity::stop);
  };
  const auto all_before = findings(build, before, buy::purchase(build, {"only"}));
  const auto found = std::ranges::find(all_before, c.rule, &check::Finding::rule);
  ASSERT_NE(found, all_before.end());
  const auto proposal = mend(build, before, *found);
  ASSERT_TRUE(proposal.has_value()) << found->where.text << ": " << found->message;
  EXPECT_FALSE(proposal->title.empty());
  const auto wrong = build::validate(proposal->build);
  EXPECT_FALSE(wrong.has_value()) << wrong->text();
  EXPECT_NE(test::all_of(proposal->steps).find(c.says), std::string::npos) << test::all_of(proposal->steps);
  const Evaluation after = evaluate(proposal->build, {"only"});
  EXPECT_LE(stops(after), stops(before)) << test::all_of(proposal->steps);
  const auto all_after = findings(proposal->build, after, buy::purchase(proposal->build, {"only"}));
  const auto is_like = [&](const check::Finding& each) {
    return each.rule == c.rule && each.message == found->message && each.where == found->where;
  };
  EXPECT_TRUE(std::ranges::none_of(all_after, is_like)) << test::all_of(proposal->steps);
  EXPECT_LE(std::ranges::count(all_after, c.rule, &check::Finding::rule),
            std::ranges::count(all_before, c.rule, &check::Finding::rule));
}

INSTANTIATE_TEST_SUITE_P(All, MendCase, ::testing::ValuesIn(cases()), [](const auto& tried) {
  std::string name(tried.param.rule);
  std::ranges::replace(name, '-', '_');
  return name + "_" + std::to_string(tried.index);
});

TEST(Mend, IsThereForRulesThatAreThere) {
  std::set<std::string_view> known, tried;
  for (const check::Rule& rule : check::rules())
    known.insert(rule.key);
  for (const Case& c : cases())
    tried.insert(c.rule);
  for (const std::string_view key : mended_rules()) {
    EXPECT_TRUE(known.contains(key)) << key;
    EXPECT_TRUE(tried.contains(key)) << key;
  }
}

TEST(Mend, IsNothingWhereAProgramCannotChoose) {
  auto scene = test::joint_scene();
  scene.port("cooler_in").beaded = false; // a port is what it is
  const Build build = test::document(scene);
  const Evaluation evaluation = evaluate(build, {"only"});
  const auto plain =
      std::ranges::find(evaluation.findings, std::string_view("tube-without-bead"), &check::Finding::rule);
  ASSERT_NE(plain, evaluation.findings.end());
  EXPECT_FALSE(mend(build, evaluation, *plain).has_value());
  check::Finding other = *plain;
  other.rule = "compressor-surges";
  EXPECT_FALSE(mend(build, evaluation, other).has_value());
}

// Identity: whatever is offered for the demonstration builds is valid, does something, and adds no stop.
TEST(Mend, HelpsTheDemonstrationBuilds) {
  int offered = 0;
  for (const auto& file : std::filesystem::directory_iterator(BELLMOUTH_DEMO_DIR)) {
    if (file.path().extension() != ".json")
      continue;
    const auto build = build::load_build(file.path());
    ASSERT_TRUE(build.has_value());
    for (const Option& option : build->options) {
      const Evaluation before = evaluate(*build, option.id);
      for (const check::Finding& finding : before.findings) {
        const auto proposal = mend(*build, before, finding);
        if (!proposal)
          continue;
        ++offered;
        EXPECT_FALSE(build::validate(proposal->build).has_value());
        EXPECT_NE(proposal->build, *build);
        EXPECT_LE(check::count(evaluate(proposal->build, option.id).findings, check::Severity::stop),
                  check::count(before.findings, check::Severity::stop))
            << finding.rule << '\n'
            << test::all_of(proposal->steps);
      }
    }
  }
  EXPECT_GT(offered, 3);
}

} // namespace
} // namespace bellmouth::join
