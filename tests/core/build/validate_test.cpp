// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <functional>
#include <limits>

namespace bellmouth::build {
namespace {

using test::deg;
using test::mm;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

TEST(Validate, SampleBuildsAreInOrder) {
  for (const Build& build : test::all_sample_builds())
    EXPECT_EQ(validate(build), std::nullopt) << validate(build)->text();
}

struct PieceCase {
  Shape shape;
  std::string key, accepted; ///< no key: in order
};

TEST(Validate, PiecesHaveSensibleSizes) {
  const Engagement ends{mm(30), mm(30)};
  const std::vector<PieceCase> cases{
      {Tube{mm(60), mm(2), mm(300), {}}, "", ""},
      {Tube{mm(0), mm(2), mm(300), {}}, ".outer_diameter_mm", "above 0 mm and not above 1000 mm"},
      {Tube{mm(1001), mm(2), mm(300), {}}, ".outer_diameter_mm", "above 0 mm and not above 1000 mm"},
      {Tube{nan, mm(2), mm(300), {}}, ".outer_diameter_mm", "above 0 mm"},
      {Tube{mm(60), mm(-1), mm(300), {}}, ".wall_mm", "above 0 mm and not above 50 mm"},
      {Tube{mm(60), mm(30), mm(300), {}}, ".wall_mm", "a wall below half the outside diameter"},
      {Tube{mm(60), mm(2), infinity, {}}, ".length_mm", "not above 20000 mm"},
      {Tube{mm(60), mm(2), 20.001, {}}, ".length_mm", "not above 20000 mm"},
      {TubeBend{mm(60), mm(2), deg(359), mm(30), 0, 0, deg(-360), {}}, "", ""},
      {TubeBend{mm(60), mm(2), deg(360), mm(90), 0, 0, 0, {}}, ".angle_deg", "above 0 deg and below 360 deg"},
      {TubeBend{mm(60), mm(2), 0, mm(90), 0, 0, 0, {}}, ".angle_deg", "above 0 deg"},
      {TubeBend{mm(60), mm(2), deg(90), mm(29), 0, 0, 0, {}}, ".radius_mm", "at least half the diameter"},
      {TubeBend{mm(60), mm(2), deg(90), mm(90), mm(-1), 0, 0, {}}, ".leg_in_mm", "not below 0 mm"},
      {TubeBend{mm(60), mm(2), deg(90), mm(90), 0, 0, deg(361), {}}, ".clocking_deg", "not above 360 deg"},
      {MitredBend{mm(60), mm(2), deg(90), mm(90), 1, 0, 0, 0, {}}, "", ""},
      {MitredBend{mm(60), mm(2), deg(90), mm(90), 0, 0, 0, 0, {}}, ".joints", "a whole number from 1 to 20"},
      {MitredBend{mm(60), mm(2), deg(180), mm(90), 1, 0, 0, 0, {}}, ".joints", "at most 120 deg each"},
      {MitredBend{mm(60), mm(2), deg(180), mm(90), 2, 0, 0, 0, {}}, "", ""},
      {Cone{mm(60), mm(60), mm(2), mm(80), {}}, "", ""},
      {Cone{mm(60), mm(40), mm(20), mm(80), {}}, ".wall_mm",
       "a wall below half the smaller outside diameter"},
      {Adapter{mm(60), mm(70), mm(60), mm(66), mm(80), {}}, ".bore_in_mm",
       "a bore below the outside diameter"},
      {Adapter{mm(60), mm(70), mm(56), mm(71), mm(80), {}}, ".bore_out_mm",
       "a bore below the outside diameter"},
      {Hose{mm(60), mm(5), mm(60), ends}, "", ""},
      {Hose{mm(60), mm(5), mm(59), ends}, ".engagement_out_mm", "fit into the length together"},
      {HumpHose{mm(60), mm(5), mm(100), mm(40), mm(75), ends}, "", ""},
      {HumpHose{mm(60), mm(5), mm(100), mm(100), mm(75), ends}, ".hump_length_mm",
       "a hump shorter than the hose"},
      {HumpHose{mm(60), mm(5), mm(100), mm(40), mm(59), ends}, ".hump_bore_mm", "not below that of the hose"},
      {HumpHose{mm(60), mm(5), mm(100), mm(42), mm(75), ends}, ".engagement_in_mm", "ends before the hump"},
      {HumpHose{mm(60), mm(5), mm(100), mm(40), mm(75), {mm(30), mm(31)}}, ".engagement_out_mm",
       "ends before the hump"},
      {HoseElbow{mm(60), mm(70), mm(5), deg(45), mm(35), mm(30), mm(30), 0, false, ends}, "", ""},
      {HoseElbow{mm(60), mm(70), mm(5), deg(45), mm(34), mm(30), mm(30), 0, false, ends}, ".radius_mm",
       "half the diameter"},
      {HoseElbow{mm(60), mm(70), mm(5), deg(45), mm(35), mm(29), mm(30), 0, false, ends}, ".engagement_in_mm",
       "not above the leg"},
      {HoseElbow{mm(60), mm(70), mm(5), deg(45), mm(35), mm(30), mm(29), 0, false, ends},
       ".engagement_out_mm", "not above the leg"},
      {HoseReducer{mm(60), mm(70), mm(5), mm(50), ends}, ".engagement_out_mm",
       "fit into the length together"},
      {HoseReducer{mm(60), mm(70), mm(51), mm(80), ends}, ".wall_mm", "not above 50 mm"},
      {SensorBoss{mm(-1), 0, "M12x1.5"}, ".position_mm", "not below 0 mm"},
      {SensorBoss{mm(1), 0, ""}, ".thread", "text of 1 to 40 characters"},
      {SensorBoss{mm(1), 0, "M12\n"}, ".thread", "without control characters"},
      {SensorBoss{mm(1), 0, "M\xFF"}, ".thread", "text of 1 to 40 characters"},
      {ValveFlange{mm(1), 0, 0}, ".bore_mm", "above 0 mm"},
  };
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const PieceCase& c = cases[i];
    SCOPED_TRACE(testing::Message() << i << " " << kind_key(c.shape) << c.key);
    const auto error = validate(Piece{c.shape, Material::aluminium, {}, ""}, "row 3");
    ASSERT_EQ(error.has_value(), !c.key.empty()) << error->text();
    if (!error)
      continue;
    EXPECT_EQ(error->place.path, "row 3" + c.key);
    EXPECT_NE(error->accepted.find(c.accepted), std::string::npos) << error->accepted;
    EXPECT_FALSE(error->found.empty());
  }
}

TEST(Validate, SaysWhatIsThere) {
  const auto error = validate(Piece{Tube{mm(60), nan, mm(300), {}}, Material::aluminium, {}, ""}, "$");
  ASSERT_TRUE(error.has_value());
  EXPECT_EQ(error->found, "not a number");
  EXPECT_EQ(validate(Piece{Tube{mm(60), mm(51), mm(300), {}}, Material::aluminium, {}, ""}, "$")->found,
            "51");
}

struct BuildCase {
  std::string path, accepted;
  std::function<void(Build&)> spoil;
};

/// Changes a run of the first option.
void change_run(Build& build, std::size_t index, const std::function<void(build::Run&)>& change) {
  auto run = *build.options[0].runs[index];
  change(run);
  build.options[0].runs[index] = run;
}

TEST(Validate, BuildsHangTogether) {
  const std::vector<BuildCase> cases{
      {"$.title", "text of 0 to 200 characters", [](Build& b) { b.title = std::string(201, 'x'); }},
      {"$.title", "text of 0 to 200 characters", [](Build& b) { b.title = "\xC3"; }},
      {"$.ambient.temperature_K", "not below 200 K",
       [](Build& b) {
         b.ambient = Weather{1e5, 100, 0};
       }},
      {"$.ambient.relative_humidity", "at most 0.3 kg of vapour",
       [](Build& b) {
         b.ambient = Weather{2e4, 339, 1};
       }},
      {"$.ambient.altitude_m", "not above 11000 m",
       [](Build& b) {
         b.ambient = Altitude{11001, 0};
       }},
      {"$.demand.mass_flow_kg_s", "not below 1e-06 kg/s",
       [](Build& b) {
         b.demand = FixedFlow{0, 1e5, 300};
       }},
      {"$.demand.inlet_total_pressure_Pa", "not below 10000 Pa",
       [](Build& b) {
         b.demand = FixedFlow{1, 9e3, 300};
       }},
      {"$.plenum_exit_loss", "not above 1", [](Build& b) { b.plenum_exit_loss = 1.01; }},
      {"$.machines[1].id", "an id that no entry before has", [](Build& b) { b.machines[1].id = {"filter"}; }},
      {"$.machines[0].rated", "a list [...] of 1 to 200 entries",
       [](Build& b) { std::get<machine::Filter>(b.machines[0].kind).rated.clear(); }},
      {"$.machines[0].rated[1].drop_Pa", "above 0 Pa",
       [](Build& b) { std::get<machine::Filter>(b.machines[0].kind).rated[1].drop_Pa = 0; }},
      {"$.machines[1].volumetric_efficiency", "not above 1.2",
       [](Build& b) {
         std::get<machine::DisplacementBlower>(b.machines[1].kind).volumetric_efficiency = 1.3;
       }},
      {"$.machines[1].adiabatic_efficiency", "not below 0.01",
       [](Build& b) { std::get<machine::DisplacementBlower>(b.machines[1].kind).adiabatic_efficiency = 0; }},
      {"$.machines[2].effectiveness", "not above 1",
       [](Build& b) { std::get<machine::ChargeCooler>(b.machines[2].kind).effectiveness = 1.5; }},
      {"$.machines[4].id", "a machine that stands on the path",
       [](Build& b) {
         b.machines.push_back({{"spare"}, "", Mounting::body, machine::Throttle{mm(60), 0}});
       }},
      {"$.ports[0].machine", "the id of a machine", [](Build& b) { b.ports[0].machine = {"none"}; }},
      {"$.ports[1].id", "an id that no entry before has", [](Build& b) { b.ports[1].id = b.ports[0].id; }},
      {"$.ports[0].pose.direction", "of length 1",
       [](Build& b) {
         b.ports[0].pose->direction = {1, 1e-2, 0};
       }},
      {"$.ports[0].pose.position_mm", "three numbers",
       [](Build& b) { b.ports[0].pose->position_m[1] = nan; }},
      {"$.keep_outs[0].axes", "at right angles",
       [](Build& b) {
         std::get<Box>(b.keep_outs[0].shape).axes[1] = {1, 0, 0};
       }},
      {"$.keep_outs[0].half_size_mm", "above 0 mm",
       [](Build& b) { std::get<Box>(b.keep_outs[0].shape).half_size_m[2] = 0; }},
      {"$.keep_outs[1].to_mm", "another point",
       [](Build& b) {
         auto& c = std::get<Cylinder>(b.keep_outs[1].shape);
         c.to_m = c.from_m;
       }},
      {"$.keep_outs[2].radius_mm", "above 0 mm",
       [](Build& b) { std::get<Sphere>(b.keep_outs[2].shape).radius_m = 0; }},
      {"$.keep_outs[3].normal", "of length 1",
       [](Build& b) {
         std::get<HalfSpace>(b.keep_outs[3].shape).normal = {0, 0, 0.9};
       }},
      {"$.inlet.lip_radius_mm", "0 unless the inlet is a bellmouth",
       [](Build& b) {
         b.inlet = {OpenInlet::Kind::flush, mm(5)};
       }},
      {"$.path", "a list [...] of 1 to 100 entries", [](Build& b) { b.path.clear(); }},
      {"$.path[2].machine", "the id of a machine", [](Build& b) { b.path[2] = MachineId{"none"}; }},
      {"$.path[7].machine", "each machine and each run once",
       [](Build& b) { b.path.push_back(MachineId{"filter"}); }},
      {"$.path[2].run", "a machine between two runs", [](Build& b) { b.path[2] = RunId{"extra"}; }},
      {"$.path[7].machine", "one blower or none",
       [](Build& b) {
         auto second = b.machines[1];
         second.id = {"second"};
         b.machines.push_back(second);
         b.path.push_back(MachineId{"second"});
       }},
      {"$.options", "a list [...] of 1 to 100 entries", [](Build& b) { b.options.clear(); }},
      {"$.options[1].id", "an id that no entry before has",
       [](Build& b) { b.options[1].id = b.options[0].id; }},
      {"$.options[0].runs", "every run that the path names", [](Build& b) { b.options[0].runs.pop_back(); }},
      {"$.options[0].runs[3].id", "an id that no entry before has",
       [](Build& b) { b.options[0].runs.push_back(b.options[0].runs[0]); }},
      {"$.options[0].runs[0].id", "the id of a run on the path",
       [](Build& b) { change_run(b, 0, [](auto& run) { run.id = {"other"}; }); }},
      {"$.options[0].runs[0].from", "the id of a port",
       [](Build& b) { change_run(b, 0, [](auto& run) { run.from = {"none"}; }); }},
      {"$.options[0].runs[0].to", "a port of the machine \"blower\"",
       [](Build& b) { change_run(b, 0, [](auto& run) { run.to = {"cooler_in"}; }); }},
      {"$.options[0].runs[1].pieces[0].stock", "the id of an item",
       [](Build& b) { change_run(b, 1, [](auto& run) { run.pieces[0].stock = {"none"}; }); }},
      {"$.options[0].runs[0].pieces[0]", "a rigid piece before every fitting",
       [](Build& b) {
         change_run(b, 0, [](auto& run) { run.pieces.erase(run.pieces.begin(), run.pieces.begin() + 2); });
       }},
      {"$.options[0].runs[0].pieces[1]", "fittings on rigid pieces only",
       [](Build& b) { change_run(b, 0, [](auto& run) { run.pieces.erase(run.pieces.begin() + 1); }); }},
      {"$.options[0].runs[0].pieces[2].position_mm", "a position within the 180 mm of the tube",
       [](Build& b) {
         change_run(b, 0,
                    [](auto& run) { std::get<SensorBoss>(run.pieces[2].shape).position_m = mm(180.1); });
       }},
      {"$.options[0].runs[1].pieces[4].bore_mm", "a hole not above the bore of the mitred bend",
       [](Build& b) {
         change_run(b, 1, [](auto& run) { std::get<ValveFlange>(run.pieces[4].shape).bore_m = mm(61); });
       }},
      {"$.budget.limit", "an amount of EUR",
       [](Build& b) {
         b.budget.limit = quantity::Money{100, {{'G', 'B', 'P'}}};
       }},
      {"$.budget.limit", "an amount of EUR", [](Build& b) { b.budget.limit->minor = -1; }},
      {"$.budget.currency", "ISO 4217",
       [](Build& b) {
         b.budget.currency.code = {'e', 'u', 'r'};
       }},
      {"$.stock[0].price", "an amount of GBP",
       [](Build& b) {
         b.budget = {{{'G', 'B', 'P'}}, std::nullopt};
       }},
      {"$.stock[1].id", "an id that no entry before has",
       [](Build& b) {
         auto stock = *b.stock;
         stock[1].id = stock[0].id;
         b.stock = stock;
       }},
      {"$.owned[0].stock", "the id of an item", [](Build& b) { b.owned[0].stock = {"none"}; }},
      {"$.owned[1].stock", "each stock item once", [](Build& b) { b.owned[1] = b.owned[0]; }},
      {"$.owned[0].quantity", "above 0", [](Build& b) { b.owned[0].quantity = -1; }},
  };
  for (std::size_t i = 0; i < cases.size(); ++i) {
    SCOPED_TRACE(testing::Message() << i << " " << cases[i].path);
    Build build = test::sample_build();
    cases[i].spoil(build);
    const auto error = validate(build);
    ASSERT_TRUE(error.has_value());
    EXPECT_EQ(error->place.path, cases[i].path);
    EXPECT_NE(error->accepted.find(cases[i].accepted), std::string::npos) << error->accepted;
    EXPECT_FALSE(error->found.empty());
  }
}

TEST(Validate, EnginesRunBetweenIdleAndTheirLimit) {
  const std::vector<std::pair<std::string, std::function<void(machine::Engine&)>>> cases{
      {"$.demand.displacement_m3", [](auto& e) { e.displacement_m3 = 0; }},
      {"$.demand.strokes", [](auto& e) { e.strokes = 3; }},
      {"$.demand.cylinders", [](auto& e) { e.cylinders = 17; }},
      {"$.demand.efficiency", [](auto& e) { e.efficiency.clear(); }},
      {"$.demand.efficiency", [](auto& e) { std::swap(e.efficiency[0], e.efficiency[1]); }},
      {"$.demand.efficiency", [](auto& e) { e.efficiency[1].speed_rev_s = e.efficiency[0].speed_rev_s; }},
      {"$.demand.efficiency[2].volumetric_efficiency",
       [](auto& e) { e.efficiency[2].volumetric_efficiency = 1.21; }},
      {"$.demand.idle_speed_rpm", [](auto& e) { e.idle_speed_rev_s = 0; }},
      {"$.demand.max_speed_rpm", [](auto& e) { e.max_speed_rev_s = e.idle_speed_rev_s; }},
      {"$.demand.working_speed_rpm", [](auto& e) { e.working_speed_rev_s = e.max_speed_rev_s + 1; }},
  };
  for (const auto& [path, spoil] : cases) {
    auto engine = test::sample_engine();
    spoil(engine);
    const auto error = validate(with_demand(test::sample_build(), engine));
    ASSERT_TRUE(error.has_value()) << path;
    EXPECT_EQ(error->place.path, path);
  }
}

TEST(Validate, EndsOfThePathBelongToNoMachine) {
  Build build = test::natural_build();
  build.inlet.lip_radius_m = 0;
  EXPECT_EQ(validate(build)->place.path, "$.inlet.lip_radius_mm");
  build = test::natural_build();
  change_run(build, 0, [](auto& run) { run.from = {"meter_out"}; });
  ASSERT_TRUE(validate(build).has_value());
  EXPECT_EQ(validate(build)->place.path, "$.options[0].runs[0].from");
  EXPECT_EQ(validate(build)->accepted, "a port without a machine, since the path begins or ends there");
  build = test::bench_build();
  change_run(build, 0, [](auto& run) { run.to = run.from; });
  EXPECT_EQ(validate(build)->accepted, "another port than the run comes from");
}

/// natural_build() with a filter beside the snorkel and the meter, in a branch of its own that comes first.
Build twin_inlet_build() {
  Build build = test::natural_build();
  build.machines.push_back({{"filter"}, "", Mounting::body, machine::Filter{{{0.1, 400}}}});
  build.path.insert(build.path.begin(), MachineId{"filter"});
  build.path[0].branch = {"box"};
  build.path[1].branch = build.path[2].branch = {"horn"};
  build.branches = {{{"box"}, 0, 0.5}, {{"horn"}, 0, 0.5}};
  return build;
}

TEST(Validate, RunsWherePathsJoinMeetNoMachine) {
  Build build = twin_inlet_build();
  const auto error = validate(build);
  ASSERT_TRUE(error.has_value());
  EXPECT_EQ(error->place.path, "$.options[0].runs[1].from");
  EXPECT_EQ(error->accepted,
            "a port without a machine, since runs meet there where the path divides or joins");
  build.ports.push_back(test::sample_port("join", {}, Mounting::body, 73, 76.2, 40));
  change_run(build, 1, [](auto& run) { run.from = {"join"}; });
  EXPECT_EQ(validate(build), std::nullopt) << validate(build)->text();
}

TEST(Validate, TheBellmouthCountsInEveryBranchThatBeginsThePath) {
  Build build = twin_inlet_build();
  build.inlet.lip_radius_m = 0;
  EXPECT_EQ(validate(build)->place.path, "$.inlet.lip_radius_mm");
  // Amid the path a run that begins a branch is not in the open.
  Build amid = test::geared_build();
  amid.inlet = {OpenInlet::Kind::bellmouth, 0};
  EXPECT_EQ(validate(amid), std::nullopt) << validate(amid)->text();
}

TEST(Validate, ThresholdsThatGoTogetherKeepTheirOrder) {
  Build b = test::sample_build();
  b.thresholds = {{"clamp_span_low", 0.9}};
  auto error = validate(b);
  ASSERT_TRUE(error);
  EXPECT_EQ(error->place.path, "$.thresholds[0].value");
  EXPECT_EQ(error->found, "0.9");
  EXPECT_EQ(error->accepted, "a number not above 0.75, which \"clamp_span_high\" is");
  b.thresholds = {{"kerf_mm", 1}, {"loose_stop_mm", 0.2}};
  error = validate(b);
  ASSERT_TRUE(error);
  EXPECT_EQ(error->place.path, "$.thresholds[1].value");
  EXPECT_EQ(error->accepted, "a number not below 0.5, which \"loose_caution_mm\" is");
  b.thresholds = {{"clamp_span_low", 0.9}, {"clamp_span_high", 0.95}};
  EXPECT_FALSE(validate(b));
}

} // namespace
} // namespace bellmouth::build
