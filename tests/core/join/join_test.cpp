// SPDX-License-Identifier: GPL-3.0-or-later
// What is put in at each kind of joint. Lengths are worked beside the case from the trade's figures (38 mm of
// engagement, 8 mm of gap, one and a half times the engagement at most), which are the program's own
// defaults.
#include "join_scene.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

namespace bellmouth::join {
namespace {

using test::cold;
using test::count_of;
using test::document;
using test::hot;
using test::mm;
using test::run_of;
using test::suction;

Proposal joined(const test::Scene& scene, std::vector<build::StockItem> stock = test::join_stock()) {
  const build::Build build = document(scene, std::move(stock));
  EXPECT_FALSE(build::validate(build).has_value());
  Proposal proposal = join(build, {"only"});
  const auto wrong = build::validate(proposal.build);
  EXPECT_FALSE(wrong.has_value()) << wrong->text();
  EXPECT_TRUE(join(proposal.build, {"only"}).steps.empty()) << test::all_of(proposal.steps);
  return proposal;
}
template <class Kind> const Kind* kind_at(const build::Run& run, std::size_t row) {
  return row < run.pieces.size() ? std::get_if<Kind>(&run.pieces[row].shape) : nullptr;
}
bool says(const std::vector<std::string>& lines, const std::string& part) {
  return test::all_of(lines).find(part) != std::string::npos;
}

TEST(Join, LeavesAloneWhatIsRight) {
  const Proposal proposal = joined(test::joint_scene());
  EXPECT_FALSE(proposal.does_something()) << test::all_of(proposal.steps);
  EXPECT_TRUE(proposal.open.empty()) << test::all_of(proposal.open);
  EXPECT_EQ(proposal.build, document(test::joint_scene()));
}

// A tube of 76.2 against its port: 38 + 8 + 38 = 84 mm are needed, the hose of 102 mm stays whole: 18 mm
// more, shared by two ends that are straight for 45 mm and more.
TEST(Join, PutsAHoseBetweenAPortAndATube) {
  auto scene = test::joint_scene();
  scene.erase(suction, 0);
  const Proposal proposal = joined(scene);
  const auto& run = run_of(proposal.build, "suction");
  ASSERT_EQ(run.pieces.size(), 3U) << test::all_of(proposal.steps);
  const auto* hose = kind_at<build::Hose>(run, 0);
  ASSERT_NE(hose, nullptr);
  EXPECT_EQ(run.pieces[0].stock.text, "hose-76.2-102");
  EXPECT_TRUE(test::close(hose->length_m, mm(102), 1e-12));
  EXPECT_GE(hose->engagement.in_m, mm(38));
  EXPECT_LE(hose->engagement.in_m, mm(45));
  EXPECT_GE(hose->engagement.out_m, mm(38));
  const double gap_m = hose->length_m - hose->engagement.in_m - hose->engagement.out_m;
  EXPECT_GE(gap_m, mm(5));
  EXPECT_LE(gap_m, mm(20));
  EXPECT_TRUE(
      says(proposal.steps, "suction, between port filter out and row 1 (tube): put in hose-76.2-102"));
  EXPECT_TRUE(says(proposal.steps, "longer along its centreline"));
  EXPECT_TRUE(proposal.open.empty()) << test::all_of(proposal.open);
}

TEST(Join, CutsHoseByTheMetreToWhatIsNeeded) {
  auto scene = test::joint_scene();
  scene.erase(suction, 0);
  auto stock = test::join_stock();
  std::erase_if(stock, [](const auto& each) { return each.id.text.starts_with("hose-76.2"); });
  auto metre = test::stock_hose(76.2, 1000, 40);
  metre.id = {"by-the-metre"};
  metre.length_m = std::nullopt;
  metre.per = build::Per::metre;
  stock.push_back(metre);
  const Proposal proposal = joined(scene, stock);
  const auto* hose = kind_at<build::Hose>(run_of(proposal.build, "suction"), 0);
  ASSERT_NE(hose, nullptr);
  EXPECT_TRUE(test::close(hose->length_m, mm(84), 1e-12));
}

TEST(Join, TakesAHumpWhereOneHoseAloneHasToTakeMovement) {
  auto scene = test::joint_scene();
  scene.erase(hot, 2);
  scene.erase(hot, 0); // bend from the blower's port straight into the cooler's: two hoses are wanted
  EXPECT_EQ(count_of(joined(scene).build, "plain-hose-for-movement"), 0U);

  scene = test::joint_scene();
  scene.runs[hot].pieces.clear(); // port to port
  const Proposal proposal = joined(scene);
  const auto& run = run_of(proposal.build, "hot_side");
  ASSERT_EQ(run.pieces.size(), 1U);
  EXPECT_NE(kind_at<build::HumpHose>(run, 0), nullptr) << test::all_of(proposal.steps);
  EXPECT_EQ(count_of(proposal.build, "tube-in-hump"), 0U);
}

TEST(Join, PutsAReducerBetweenTwoSizes) {
  auto scene = test::joint_scene();
  scene.piece<build::TubeBend>(cold, 1).outer_diameter_m = mm(70);
  scene.piece<build::TubeBend>(cold, 1).beads.out = false;
  scene.piece<build::Hose>(cold, 0).bore_m = mm(70); // on the cooler's port of 63.5
  const Proposal proposal = joined(scene);
  EXPECT_EQ(count_of(proposal.build, "wrong-joint"), 0U) << test::all_of(proposal.steps);
  EXPECT_EQ(count_of(proposal.build, "hose-loose"), 0U) << test::all_of(proposal.steps);
  const auto& run = run_of(proposal.build, "cold_side");
  ASSERT_GE(run.pieces.size(), 3U);
  EXPECT_NE(kind_at<build::HoseReducer>(run, 0), nullptr); // in the place of the hose
  EXPECT_NE(kind_at<build::HoseReducer>(run, 2), nullptr); // between bend and tube
}

// 57 to 76.2 mm in the steps of the stock: four reducers with three tubes between them are more than six
// pieces; with a step from 57 to 70 two reducers and a tube do.
TEST(Join, ChainsReducersWhereOneDoesNotLeadThere) {
  auto scene = test::joint_scene();
  scene.port("filter_out").outer_diameter_m = mm(57);
  scene.port("filter_out").bore_m = mm(53);
  scene.piece<build::Hose>(suction, 0).bore_m = mm(57);
  auto stock = test::join_stock();
  const Proposal open = joined(scene, stock);
  EXPECT_EQ(count_of(open.build, "hose-tight"), 1U);
  EXPECT_TRUE(says(open.open, "hose bore 57 mm on a spigot of 76.2 mm")) << test::all_of(open.open);

  stock.push_back(test::stock_reducer(57, 70));
  const Proposal proposal = joined(scene, stock);
  const auto& run = run_of(proposal.build, "suction");
  ASSERT_EQ(run.pieces.size(), 5U) << test::all_of(proposal.steps);
  EXPECT_EQ(run.pieces[0].stock.text, "reducer-57-70");
  EXPECT_EQ(run.pieces[1].stock.text, "tube-70");
  EXPECT_EQ(run.pieces[2].stock.text, "reducer-70-76.2");
  const auto* tube = kind_at<build::Tube>(run, 1);
  ASSERT_NE(tube, nullptr);
  EXPECT_GE(tube->length_m, std::get<build::HoseReducer>(run.pieces[0].shape).engagement.out_m +
                                std::get<build::HoseReducer>(run.pieces[2].shape).engagement.in_m);
}

TEST(Join, WeldsAConeWhereThatIsCheaper) {
  auto scene = test::joint_scene();
  scene.piece<build::Tube>(cold, 2).outer_diameter_m = mm(70);
  scene.piece<build::Hose>(cold, 5).bore_m = mm(70);
  scene.port("throttle_in").outer_diameter_m = mm(70);
  auto stock = test::join_stock();
  stock.push_back(test::stock_cone(63.5, 70));
  const Proposal proposal = joined(scene, stock);
  const auto& run = run_of(proposal.build, "cold_side");
  ASSERT_NE(kind_at<build::Cone>(run, 2), nullptr) << test::all_of(proposal.steps);
  EXPECT_EQ(count_of(proposal.build, "wrong-joint"), 0U);
}

TEST(Join, PutsATubeBetweenTwoHoseEnds) {
  auto scene = test::joint_scene();
  scene.insert(hot, 1, test::hose(63.5));
  const Proposal proposal = joined(scene);
  const auto* tube = kind_at<build::Tube>(run_of(proposal.build, "hot_side"), 1);
  ASSERT_NE(tube, nullptr) << test::all_of(proposal.steps);
  EXPECT_GE(tube->length_m, mm(80)); // 40 mm of engagement in each
  EXPECT_EQ(count_of(proposal.build, "wrong-joint"), 0U);
  EXPECT_EQ(count_of(proposal.build, "no-straight-end"), 0U);

  scene = test::joint_scene();
  scene.insert(hot, 1, test::hose(60)); // and then on the bend of 63.5
  const Proposal other = joined(scene);
  for (const char* rule : {"wrong-joint", "hose-tight", "hose-loose"})
    EXPECT_EQ(count_of(other.build, rule), 0U) << test::all_of(other.steps);
}

TEST(Join, ReplacesHosesOfTheWrongBore) {
  for (const double bore_mm : {65.0, 60.0}) {
    auto scene = test::joint_scene();
    scene.piece<build::Hose>(cold, 5).bore_m = mm(bore_mm);
    scene.runs[cold].pieces[5].label = "last hose";
    const Proposal proposal = joined(scene);
    const auto& piece = run_of(proposal.build, "cold_side").pieces[5];
    EXPECT_TRUE(test::close(build::bore_in_m(piece.shape), mm(63.5), 1e-12)) << test::all_of(proposal.steps);
    EXPECT_EQ(piece.label, "last hose");
    EXPECT_TRUE(says(proposal.steps, "row 6 (last hose): replace it by hose-63.5-102"));
  }
}

// Closed form: 40 kPa of boost at the working speed ask for a bead (30 kPa are the limit).
TEST(Join, RollsBeadsWherePressureAsksForThem) {
  auto scene = test::joint_scene();
  scene.piece<build::TubeBend>(hot, 1).beads = {false, false};
  scene.port("cooler_in").beaded = false;
  const build::Build before = document(scene);
  ASSERT_GE(count_of(before, "tube-without-bead"), 2U);
  const Proposal proposal = joined(scene);
  const auto* bend = kind_at<build::TubeBend>(run_of(proposal.build, "hot_side"), 1);
  ASSERT_NE(bend, nullptr);
  EXPECT_TRUE(bend->beads.in && bend->beads.out);
  EXPECT_EQ(count_of(proposal.build, "tube-without-bead"), 1U); // the port's
  EXPECT_TRUE(says(proposal.open, "a plain end of 63.5 mm under")) << test::all_of(proposal.open);
  // Ahead of the blower there is no pressure.
  scene = test::joint_scene();
  scene.piece<build::Tube>(suction, 1).beads = {false, false};
  EXPECT_FALSE(joined(scene).does_something());
}

TEST(Join, SaysWherePressuresAreNotKnown) {
  auto scene = test::joint_scene();
  scene.piece<build::TubeBend>(hot, 1).beads = {false, false};
  scene.port("filter_out").bore_m = scene.port("blower_in").bore_m = mm(5); // it chokes
  for (const std::size_t row : {0U, 2U})
    scene.piece<build::Hose>(suction, row).bore_m = mm(76.2);
  scene.piece<build::Tube>(suction, 1).wall_m = mm(36);
  const Proposal proposal = joined(scene);
  EXPECT_FALSE(proposal.does_something()) << test::all_of(proposal.steps);
  EXPECT_TRUE(says(proposal.open, "there is no operating point")) << test::all_of(proposal.open);
}

TEST(Join, PrefersTheExactSizeToOneEasilyMistaken) {
  auto scene = test::joint_scene();
  scene.erase(hot, 0);
  auto stock = test::join_stock();
  stock.push_back(test::stock_hose(63, 102, 5)); // cheaper than that of 63.5
  EXPECT_EQ(run_of(joined(scene, stock).build, "hot_side").pieces[0].stock.text, "hose-63.5-102");
}

TEST(Join, TakesBeadsOffWelds) {
  auto scene = test::joint_scene();
  scene.piece<build::Tube>(cold, 2).beads.in = true;
  const Proposal proposal = joined(scene);
  EXPECT_EQ(proposal.steps.size(), 1U);
  EXPECT_FALSE(kind_at<build::Tube>(run_of(proposal.build, "cold_side"), 2)->beads.in);
  EXPECT_TRUE(kind_at<build::Tube>(run_of(proposal.build, "cold_side"), 2)->beads.out);
  // Both beaded: a hose was meant.
  scene.piece<build::TubeBend>(cold, 1).beads.out = true;
  EXPECT_NE(kind_at<build::Hose>(run_of(joined(scene).build, "cold_side"), 2), nullptr);
}

TEST(Join, SetsEngagements) {
  auto scene = test::joint_scene();
  scene.piece<build::Hose>(suction, 0).engagement = {mm(20), mm(40)}; // leaves a gap of 30 mm
  scene.piece<build::Hose>(hot, 0).engagement = {mm(43), mm(43)};     // of 90 mm
  scene.piece<build::Hose>(cold, 0).length_m = mm(70);                // too short for both
  scene.piece<build::Hose>(cold, 0).engagement = {mm(31), mm(31)};
  const Proposal proposal = joined(scene);
  for (const char* rule : {"short-engagement", "tube-ends-touch", "tube-gap-wide", "no-straight-end"})
    EXPECT_EQ(count_of(proposal.build, rule), 0U) << rule << '\n' << test::all_of(proposal.steps);
  // Only what was short is lengthened where that is enough.
  const auto& first = std::get<build::Hose>(run_of(proposal.build, "suction").pieces[0].shape);
  EXPECT_TRUE(test::close(first.engagement.in_m, mm(38), 1e-12));
  EXPECT_TRUE(test::close(first.engagement.out_m, mm(40), 1e-12));
  EXPECT_TRUE(test::close(first.length_m, mm(90), 1e-12));
}

TEST(Join, SaysWhyAnEngagementStaysShort) {
  auto scene = test::joint_scene();
  scene.piece<build::TubeBend>(hot, 1).leg_in_m = mm(30);
  const Proposal proposal = joined(scene);
  EXPECT_EQ(count_of(proposal.build, "short-engagement"), 1U);
  EXPECT_EQ(count_of(proposal.build, "no-straight-end"), 0U); // 30 mm of engagement on 30 mm
  EXPECT_TRUE(says(proposal.open, "the spigot goes 30 mm in, 38 mm are wanted: a hose can use 30 mm"))
      << test::all_of(proposal.open);
}

TEST(Join, LeavesFlangesAndThreadsThatDoNotMatchOpen) {
  auto scene = test::joint_scene();
  scene.port("throttle_in").connection = {build::Connection::Kind::flange, "4 x M8 on 80"};
  const Proposal proposal = joined(scene);
  EXPECT_FALSE(proposal.does_something());
  EXPECT_TRUE(says(proposal.open, "a hose end does not go with a flange 4 x M8 on 80"))
      << test::all_of(proposal.open);
}

TEST(Join, NamesTheClampThatIsMissing) {
  auto stock = test::join_stock();
  std::erase_if(stock, [](const auto& each) {
    return each.kind == build::StockKind::clamp && *each.clamp_min_m < mm(80) && *each.clamp_max_m > mm(60);
  });
  const Proposal proposal = joined(test::joint_scene(), stock);
  // 63.5 + 2 x 4.5 = 72.5 mm at eight joints; 85.2 mm has its clamp.
  EXPECT_EQ(proposal.open.size(), 2U) << test::all_of(proposal.open);
  EXPECT_TRUE(says(proposal.open, "no clamp in stock goes round 72.5 mm; one of about 62 to 82 mm is wanted"))
      << test::all_of(proposal.open);
  EXPECT_TRUE(says(proposal.open, "(4 of them)")) << test::all_of(proposal.open);
}

TEST(Join, TakesWhatIsOwnedFirstThenWhatIsCheap) {
  auto scene = test::joint_scene();
  scene.erase(suction, 0);
  auto stock = test::join_stock();
  auto other = test::stock_hose(76.2, 102, 30);
  other.id = {"owned-hose"};
  stock.push_back(other);
  build::Build build = document(scene, stock);
  EXPECT_EQ(run_of(join(build, {"only"}).build, "suction").pieces[0].stock.text, "hose-76.2-102");
  build.owned = {{{"owned-hose"}, 1}};
  EXPECT_EQ(run_of(join(build, {"only"}).build, "suction").pieces[0].stock.text, "owned-hose");
  // Used elsewhere already.
  auto run = run_of(build, "suction");
  run.pieces[1] = stock::piece_of(other);
  run.pieces[1].stock = other.id;
  build.options[0].runs[0] = run;
  EXPECT_EQ(run_of(join(build, {"only"}).build, "suction").pieces[2].stock.text, "owned-hose");
  EXPECT_NE(run_of(join(build, {"only"}).build, "suction").pieces[0].stock.text, "owned-hose");
}

TEST(Join, TakesHoseThatStandsTheHeat) {
  auto scene = test::joint_scene();
  scene.erase(hot, 0);
  auto stock = test::join_stock();
  for (auto& each : stock)
    if (each.kind == build::StockKind::hose)
      each.max_temperature_K = 330;
  auto dear = test::stock_hose(63.5, 102, 60);
  dear.id = {"aramid"};
  stock.push_back(dear);
  EXPECT_EQ(run_of(joined(scene, stock).build, "hot_side").pieces[0].stock.text, "aramid");
}

TEST(Join, WorksOnTheRunThatIsNamed) {
  auto scene = test::joint_scene();
  scene.piece<build::Tube>(cold, 2).beads.in = true;
  scene.erase(suction, 0);
  const build::Build build = document(scene);
  const Proposal one = join(build, {"only"}, build::RunId{"cold_side"});
  EXPECT_EQ(one.title, "Join cold side");
  EXPECT_EQ(one.steps.size(), 1U);
  EXPECT_EQ(run_of(one.build, "suction"), run_of(build, "suction"));
  EXPECT_GT(join(build, {"only"}).steps.size(), 1U);
}

} // namespace
} // namespace bellmouth::join
