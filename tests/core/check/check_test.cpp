// SPDX-License-Identifier: GPL-3.0-or-later
// Order, places and words of the findings as a whole.
#include "scene.hpp"

#include <bellmouth/check.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

namespace bellmouth::check {
namespace {

using test::cold;
using test::find;
using test::findings;
using test::hot;
using test::mm;
using test::suction;

/// Something of every severity at both ends of the path, and something without a place.
test::Scene crowded() {
  auto s = test::clean_scene();
  s.piece<build::Hose>(cold, 5).bore_m = mm(65);                          // stop, last run
  s.piece<build::Hose>(suction, 2).bore_m = mm(80);                       // stop, first run
  s.piece<build::Tube>(suction, 1).length_m = mm(700);                    // note, first run
  s.piece<build::TubeBend>(hot, 1).radius_m = mm(80);                     // note, second run
  s.piece<build::Hose>(hot, 0).length_m = mm(100);                        // caution, second run
  s.machine<machine::DisplacementBlower>("blower").max_speed_rev_s = 100; // stop, at the blower
  return s;
}

TEST(Check, PutsStopsFirstThenGoesAlongThePath) {
  std::vector<std::string_view> order;
  for (const auto& finding : findings(crowded()))
    order.push_back(finding.rule);
  // The joint on both sides of a loose hose is loose.
  EXPECT_EQ(order,
            (std::vector<std::string_view>{"hose-loose", "hose-loose", "blower-overspeed", "hose-loose",
                                           "hose-loose", "tube-gap-wide", "long-unsupported", "tight-bend"}));
}

TEST(Check, SaysTheSameTwice) {
  const test::Stage stage(crowded());
  EXPECT_EQ(stage.findings(), stage.findings());
  EXPECT_EQ(findings(crowded()), stage.findings());
}

TEST(Check, PointsAtThePieceTheMachineOrBoth) {
  auto s = test::clean_scene();
  s.piece<build::Hose>(cold, 5).bore_m = mm(65);
  s.runs[cold].pieces[5].label = "throttle coupler";
  s.piece<build::Tube>(suction, 1).length_m = mm(700);
  s.machine<machine::Filter>("filter").cold_feed = false;
  const auto all = findings(s);
  const auto* tube_joint = find(all, "hose-loose");
  ASSERT_NE(tube_joint, nullptr);
  EXPECT_EQ(tube_joint->where.text, "cold side, row 3 (tube) to row 6 (throttle coupler)");
  EXPECT_EQ(tube_joint->where.piece, (build::PieceRef{{"only"}, {"cold_side"}, 5}));
  EXPECT_FALSE(tube_joint->where.machine);
  const auto& port_joint = *std::find_if(all.begin(), all.end(),
                                         [](const Finding& f) { return f.where.machine && f.where.piece; });
  EXPECT_EQ(port_joint.where.text, "cold side, row 6 (throttle coupler) to port throttle in");
  EXPECT_EQ(port_joint.where.machine, build::MachineId{"throttle"});
  EXPECT_EQ(find(all, "long-unsupported")->where.text, "suction, row 2 (tube)");
  EXPECT_EQ(find(all, "hot-feed")->where.text, "Cone filter");
  EXPECT_EQ(find(all, "hot-feed")->where.machine, build::MachineId{"filter"});
}

TEST(Check, SaysOfAStreamThatDoesNotFlowOnlyThatItDoesNot) {
  auto s = test::clean_scene();
  s.after_flow = [](flow::PathFlow& flow) {
    flow = {};
    flow.point.stop = flow::Stop::no_agreement;
  };
  const auto all = findings(s);
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].rule, "no-operating-point");
  EXPECT_EQ(all[0].severity, Severity::stop);

  s.piece<build::Hose>(cold, 5).bore_m = mm(65); // what needs no stream is still said
  EXPECT_NE(find(findings(s), "hose-loose"), nullptr);
}

TEST(Check, NamesThePieceThatChokes) {
  auto s = test::clean_scene();
  s.piece<build::Tube>(suction, 1).wall_m = mm(32.1); // a bore of 12 mm
  const auto all = findings(s);
  const auto* found = find(all, "no-operating-point");
  ASSERT_NE(found, nullptr);
  ASSERT_TRUE(found->where.piece);
  EXPECT_EQ(found->where.piece->run, build::RunId{"suction"});
}

TEST(Check, WorksWithOtherLimits) {
  auto s = test::clean_scene();
  s.limits.velocity_before_blower_m_s = 10;
  EXPECT_NE(find(findings(s), "fast-before-blower"), nullptr);
  s.limits = trade::defaults();
  EXPECT_EQ(find(findings(s), "fast-before-blower"), nullptr);
}

TEST(Check, SaysOfEachRangeOnceWithItsBand) {
  auto s = test::clean_scene();
  s.after_flow = [](flow::PathFlow& flow) {
    const auto leave = [](flow::PieceFlow& piece, std::string_view range) {
      piece.outside_range = true;
      piece.range = range;
      piece.drop_Pa = 100;
      piece.drop_low_Pa = 50;
      piece.drop_high_Pa = 220;
    };
    leave(flow.runs[suction].rows[0], "short gaps");
    leave(flow.runs[hot].rows[0], "short gaps");
    leave(flow.runs[hot].rows[1], "easy bends");
    leave(flow.runs[cold].rows[0], "short gaps");
  };
  const auto all = findings(s);
  ASSERT_EQ(all.size(), 2U);
  EXPECT_EQ(all[0].where.text, "suction, row 1 (hose)");
  EXPECT_NE(all[0].message.find("3 pieces, this the first, were"), std::string::npos) << all[0].message;
  EXPECT_NE(all[0].message.find("short gaps"), std::string::npos) << all[0].message;
  EXPECT_NE(all[0].reason.find(
                "0.3 kPa, is an extrapolation; its band is wider for it and goes from 0.15 kPa to 0.66 kPa"),
            std::string::npos)
      << all[0].reason;
  EXPECT_NE(all[1].message.find("easy bends"), std::string::npos) << all[1].message;
}

TEST(Check, TellsTwinBlowersApart) {
  // Filter, suction and blower twice, side by side: the second suction is before its own blower, not behind
  // the first.
  auto s = test::clean_scene();
  auto& b = s.build;
  for (const std::size_t machine : {0U, 1U}) {
    b.machines.push_back(b.machines[machine]);
    b.machines.back().id.text += "_right";
  }
  for (const char* const id : {"filter_out", "blower_in"}) {
    b.ports.push_back(s.port(id));
    b.ports.back().id.text += "_right";
    b.ports.back().machine->text += "_right";
    b.ports.back().pose->position_m[1] -= 0.3; // beside the other
  }
  s.runs.push_back(s.runs[suction]);
  s.runs.back().id = {"suction_right"};
  s.runs.back().from = {"filter_out_right"};
  s.runs.back().to = {"blower_in_right"};
  std::swap(s.runs[1], s.runs[3]);
  std::swap(s.runs[2], s.runs[3]);
  const auto beside = [](build::PathStep step, const char* branch) {
    step.branch = {branch};
    return step;
  };
  using build::MachineId, build::RunId;
  b.path = {beside(MachineId{"filter"}, "left"),
            beside(RunId{"suction"}, "left"),
            beside(MachineId{"blower"}, "left"),
            beside(MachineId{"filter_right"}, "right"),
            beside(RunId{"suction_right"}, "right"),
            beside(MachineId{"blower_right"}, "right"),
            RunId{"hot_side"},
            MachineId{"cooler"},
            RunId{"cold_side"},
            MachineId{"throttle"}};
  b.branches = {{{"left"}, 0, 0.3}, {{"right"}, 0, 0.3}};
  for (auto& machine : b.machines)
    if (auto* blower = std::get_if<machine::DisplacementBlower>(&machine.kind))
      blower->swept_volume_m3_rev /= 2;
  s.after_flow = [](flow::PathFlow& flow) {
    flow.runs[1].peak_velocity_m_s = 45;
    flow.runs[2].peak_velocity_m_s = 85;
  };
  const auto all = findings(s);
  ASSERT_EQ(all.size(), 1U) << all.at(0).rule << all.at(1).rule;
  EXPECT_EQ(all[0].rule, "fast-before-blower");
  EXPECT_TRUE(all[0].where.text.starts_with("suction right")) << all[0].where.text;
}

// Closed form: balls 5 and 6 mm off the tube. Those that are there in every state are told once, at rest.
TEST(Check, SaysOfEachNeighbourOnceForAllStates) {
  auto s = test::clean_scene();
  const auto stand = [&](const char* name, double gap_mm, std::vector<build::StateId> states) {
    build::KeepOut ball;
    ball.name = name;
    ball.shape = build::Sphere{{mm(600), mm(450), mm(200 + 76.2 / 2 + gap_mm + 20)}, mm(20)};
    ball.states = std::move(states);
    s.build.keep_outs.push_back(ball);
  };
  s.build.states = {{{"shut"}, 0}, {{"open"}, 0}};
  stand("bracket", 5, {});
  stand("pipe", 6, {});
  stand("stay", 5, {{"open"}});
  std::vector<std::string> told;
  for (const auto& finding : findings(s))
    if (finding.rule == "too-near")
      told.push_back(finding.message.substr(0, finding.message.find(',')) +
                     (finding.message.find("in state open") != std::string::npos ? ", open" : ""));
  std::ranges::sort(told);
  EXPECT_EQ(told,
            (std::vector<std::string>{"5.0 mm from bracket", "5.0 mm from stay, open", "6.0 mm from pipe"}));
}

TEST(Check, HasNothingToAskOfAFlowBench) {
  // No engine, no blower: no sensors, valves, restriction or boost to speak of.
  test::Scene s;
  s.build.ambient = build::Weather{101325.0, 293.15, 0.0};
  s.build.demand = build::FixedFlow{0.08, 101325.0, 293.15};
  s.build.ports = {
      test::sample_port("bench_in", {}, build::Mounting::body, 72.9, 76.2, 45, build::Vector{0, 0, 0}),
      test::sample_port("bench_out", {}, build::Mounting::body, 72.9, 76.2, 45, build::Vector{0, 0, 0})};
  s.build.path = {build::RunId{"specimen"}};
  s.runs = {{{"specimen"}, {"bench_in"}, {"bench_out"}, {test::tube(76.2, 400, {})}}};
  for (const auto& finding : findings(s))
    ADD_FAILURE() << finding.rule << ": " << finding.message;
}

TEST(Words, AreThoseOfTheTrade) {
  EXPECT_EQ(text(Severity::stop), "stop");
  EXPECT_EQ(text(Severity::caution), "caution");
  EXPECT_EQ(text(Severity::note), "note");
  EXPECT_EQ(text(Source::memory), "from memory");
}

} // namespace
} // namespace bellmouth::check
