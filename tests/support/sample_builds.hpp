// SPDX-License-Identifier: GPL-3.0-or-later
// Complete builds for tests. Everything in them is invented: machines, names and prices. The ports are where
// such ports could be; that the runs meet them is not promised.
#pragma once

#include "support/sample_parts.hpp"

#include <bellmouth/build.hpp>

#include <algorithm>
#include <utility>
#include <vector>

namespace bellmouth::test {

/// Weather, an engine with a displacement blower, a filter, a charge cooler and a throttle bolted to the
/// manifold; three runs with every kind of piece; two options ("small", "wide") of which the second shares
/// the suction run.
[[nodiscard]] inline build::Build sample_build() {
  using namespace build;
  Build b;
  b.title = "Blower on a small four";
  b.note = "Invented for tests.";
  b.ambient = Weather{100000.0, 298.15, 0.4};
  b.demand = sample_engine();
  b.plenum_exit_loss = 0.9;
  b.machines = {
      {{"filter"},
       "Cone filter",
       Mounting::body,
       machine::Filter{{{0.05, 120.0}, {0.1, 420.0}}, 1.2, true, false}},
      {{"blower"},
       "Two-lobe blower",
       Mounting::engine,
       machine::DisplacementBlower{0.0009, 1.3, 0.9, std::nullopt, 0.95, 233.0, 423.15}},
      {{"cooler"},
       "Front cooler",
       Mounting::body,
       machine::ChargeCooler{{{0.05, 600.0}, {0.1, 2100.0}}, 0.7, 5.0, false}},
      {{"throttle"}, "Throttle", Mounting::engine, machine::Throttle{mm(60), 0.2}},
  };
  b.ports = {
      sample_port("filter_out", "filter", Mounting::body, 73.0, 76.2, 40, Vector{700, 450, 200}, {-1, 0, 0}),
      sample_port("blower_in", "blower", Mounting::engine, 66.0, 70.0, 38, Vector{250, 250, 300}, {1, 0, 0}),
      sample_port("blower_out", "blower", Mounting::engine, 56.0, 60.0, 35, Vector{200, 200, 150},
                  {0, 0, -1}),
      sample_port("cooler_in", "cooler", Mounting::body, 60.2, 63.5, 45, Vector{850, 300, 150}, {-1, 0, 0}),
      sample_port("cooler_out", "cooler", Mounting::body, 60.2, 63.5, 45, Vector{850, -300, 150}, {-1, 0, 0}),
      sample_port("throttle_in", "throttle", Mounting::engine, 60.0, 70.0, 30, Vector{300, -150, 350},
                  {1, 0, 0}),
  };
  b.keep_outs = sample_keep_outs();
  b.clearances = ClearanceLimits{mm(12), mm(25), mm(60), mm(8)};
  b.states = {{{"wheels left"}}, {{"engine rocked"}, 1}};
  b.movement = EngineMovement{{0, 0, mm(-150)}, {1, 0, 0}, deg(2), mm(2)};
  b.photographs = {
      {"from-above.jpg", Photograph::View::above, {120, 80}, {900.5, 80}, {0, 0, 0}, {mm(800), 0, 0}}};
  b.ports.front().free_straight_m = mm(60);
  b.ports.front().survey = Survey{true, mm(1.5), "tape, twice"};
  b.path = {MachineId{"filter"}, RunId{"suction"},   MachineId{"blower"},  RunId{"hot_side"},
            MachineId{"cooler"}, RunId{"cold_side"}, MachineId{"throttle"}};
  b.stock = sample_stock();
  b.budget = {euro(), euros(900, 0)};
  b.owned = {{{"tube-63"}, 0.8}, {{"clamp-70"}, 3}};

  const Shared<Run> suction = Run{
      {"suction"},
      {"filter_out"},
      {"blower_in"},
      {
          {Hose{mm(76.2), mm(4.5), mm(75), {mm(30), mm(30)}}, Material::silicone, {}, "filter coupler"},
          {Tube{mm(76.2), mm(1.65), mm(180), {true, true}}, Material::aluminium, {}, ""},
          {SensorBoss{mm(90), deg(45), "M12x1.5"}, Material::aluminium, {"boss-m12"}, "intake temperature"},
          {HoseReducer{mm(76.2), mm(70), mm(4.5), mm(76), {mm(30), mm(30)}}, Material::silicone, {}, ""},
      }};
  const Run hot{
      {"hot_side"},
      {"blower_out"},
      {"cooler_in"},
      {
          {HumpHose{mm(60), mm(5), mm(95), mm(30), mm(72), {mm(28), mm(28)}},
           Material::silicone,
           {},
           "",
           std::nullopt,
           Give{mm(9), mm(4), deg(5)}},
          {TubeBend{mm(60), mm(1.65), deg(90), mm(90), mm(60), mm(40), 0.0, {true, false}},
           Material::aluminium,
           {},
           ""},
          {Cone{mm(60), mm(63.5), mm(1.65), mm(50), {}}, Material::aluminium, {}, ""},
          {MitredBend{mm(63.5), mm(1.65), deg(45), mm(100), 2, mm(40), mm(70), deg(180), {false, true}},
           Material::aluminium,
           {},
           ""},
          {ValveFlange{mm(20), deg(-90), mm(25.4)}, Material::aluminium, {}, "relief valve"},
          {HoseElbow{mm(63.5),
                     mm(63.5),
                     mm(4.5),
                     deg(45),
                     mm(75),
                     mm(60),
                     mm(60),
                     deg(30),
                     false,
                     {mm(32), mm(32)}},
           Material::silicone,
           {"elbow-63-45"},
           ""},
      }};
  const Run cold{
      {"cold_side"},
      {"cooler_out"},
      {"throttle_in"},
      {
          {Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, Material::silicone, {"hose-63"}, ""},
          {TubeBend{mm(63.5), mm(1.65), deg(75), mm(95), mm(80), mm(90), deg(-15), {true, false}},
           Material::aluminium,
           {"bend-63-90"},
           ""},
          {Tube{mm(63.5), mm(1.65), mm(310), {}}, Material::aluminium, {"tube-63"}, "crossover"},
          {Adapter{mm(63.5), mm(70), mm(60.2), mm(66), mm(80), {false, true}}, Material::aluminium, {}, ""},
          {SensorBoss{mm(25), 0.0, "1/8 NPT"}, Material::aluminium, {}, "manifold pressure"},
          {HoseElbow{mm(70), mm(70), mm(5), deg(60), mm(80), mm(45), mm(45), deg(10), true, {mm(30), mm(28)}},
           Material::rubber,
           {},
           ""},
      }};
  b.options = {{{"small"}, "as first held up in the bay", {suction, hot, cold}}};

  Run wide = cold;
  wide.pieces[1].shape = TubeBend{mm(70), mm(2), deg(75), mm(105), mm(80), mm(90), deg(-15), {true, false}};
  wide.pieces[1].stock = {};
  wide.pieces[2].shape = Tube{mm(70), mm(2), mm(310), {false, true}};
  wide.pieces[2].stock = {};
  wide.pieces.erase(wide.pieces.begin() + 3, wide.pieces.begin() + 5);
  wide.pieces[0] = {
      HoseReducer{mm(63.5), mm(70), mm(4.5), mm(90), {mm(32), mm(32)}}, Material::silicone, {}, ""};
  b.options.push_back({{"wide"}, "", {suction, hot, std::move(wide)}});
  return b;
}

/// An exhaust-driven compressor behind a flow meter, at an altitude of the standard atmosphere; the last run
/// ends at the manifold itself; ports not measured; no stock, no limit of money.
[[nodiscard]] inline build::Build compressor_build() {
  using namespace build;
  Build b;
  b.title = "Exhaust-driven compressor at altitude";
  b.ambient = Altitude{1500.0, 0.3};
  b.demand = sample_engine();
  b.machines = {
      {{"airbox"}, "Panel filter box", Mounting::body, machine::Filter{{{0.08, 350.0}}, 1.0, false, true}},
      {{"meter"}, "Air-flow meter", Mounting::body, machine::MeterBody{mm(72), mm(120), 0.25}},
      {{"compressor"},
       "Compressor",
       Mounting::engine,
       machine::TargetCompressor{150000.0, machine::TargetAt::manifold, 0.72, 0.97, true, 2.4, 453.15}},
  };
  const auto engine = Mounting::engine;
  b.ports = {sample_port("meter_out", "meter", Mounting::body, 72, 76.2, 40),
             sample_port("compressor_in", "compressor", engine, 60, 63.5, 30),
             sample_port("compressor_out", "compressor", engine, 47, 51, 30),
             sample_port("manifold", {}, engine, 57, 60.3, 35)};
  b.path = {MachineId{"airbox"}, MachineId{"meter"}, RunId{"intake"}, MachineId{"compressor"},
            RunId{"charge"}};
  b.budget = {euro(), std::nullopt};
  const Run intake{
      {"intake"},
      {"meter_out"},
      {"compressor_in"},
      {
          {HoseElbow{
               mm(76.2), mm(63.5), mm(4.5), deg(90), mm(80), mm(70), mm(70), 0.0, false, {mm(32), mm(30)}},
           Material::silicone,
           {},
           ""},
      }};
  const Run charge{
      {"charge"},
      {"compressor_out"},
      {"manifold"},
      {
          {HoseReducer{mm(51), mm(57), mm(4.5), mm(76), {mm(28), mm(28)}}, Material::silicone, {}, ""},
          {Tube{mm(57), mm(1.5), mm(420), {true, true}}, Material::stainless_steel, {}, ""},
          {HoseReducer{mm(57), mm(60.3), mm(4.5), mm(76), {mm(28), mm(30)}}, Material::silicone, {}, ""},
      }};
  b.options = {{{"first"}, "", {intake, charge}}};
  return b;
}

/// No blower: a bellmouth, a flow meter and a throttle.
[[nodiscard]] inline build::Build natural_build() {
  using namespace build;
  Build b;
  b.title = "Without a blower";
  b.demand = sample_engine();
  b.machines = {{{"meter"}, "Air-flow meter", Mounting::body, machine::MeterBody{mm(72), mm(120), 0.25}},
                {{"throttle"}, "Throttle", Mounting::engine, machine::Throttle{mm(60), 0.2}}};
  b.ports = {sample_port("open_end", {}, Mounting::body, 73, 76.2, 40),
             sample_port("meter_in", "meter", Mounting::body, 72, 76.2, 40),
             sample_port("meter_out", "meter", Mounting::body, 72, 76.2, 40),
             sample_port("throttle_in", "throttle", Mounting::engine, 60, 76.2, 30)};
  b.inlet = {OpenInlet::Kind::bellmouth, mm(15)};
  b.path = {RunId{"snorkel"}, MachineId{"meter"}, RunId{"duct"}, MachineId{"throttle"}};
  const Piece coupler{Hose{mm(76.2), mm(4.5), mm(75), {mm(30), mm(30)}}, Material::silicone, {}, ""};
  const Piece tube{Tube{mm(76.2), mm(1.65), mm(250), {true, true}}, Material::aluminium, {}, ""};
  b.options = {{{"only"},
                "",
                {Run{{"snorkel"}, {"open_end"}, {"meter_in"}, {tube, coupler}},
                 Run{{"duct"}, {"meter_out"}, {"throttle_in"}, {coupler, tube, coupler}}}}};
  return b;
}

/// A flow bench with a flush entry and one run of tube and bend.
[[nodiscard]] inline build::Build bench_build() {
  using namespace build;
  Build b;
  b.title = "Bench";
  b.demand = FixedFlow{0.12, 101325.0, 293.15};
  b.ports = {sample_port("bench_in", {}, Mounting::body, 60.2, 63.5, 40),
             sample_port("bench_out", {}, Mounting::body, 60.2, 63.5, 40)};
  b.inlet = {OpenInlet::Kind::flush, 0.0};
  b.path = {RunId{"specimen"}};
  b.options = {{{"only"},
                "",
                {Run{{"specimen"},
                     {"bench_in"},
                     {"bench_out"},
                     {{Tube{mm(63.5), mm(1.65), mm(500), {}}, Material::aluminium, {}, ""},
                      {TubeBend{mm(63.5), mm(1.65), deg(90), mm(95.25), 0.0, 0.0, 0.0, {}},
                       Material::aluminium,
                       {},
                       ""}}}}}};
  return b;
}

/// A compressor geared to the engine, by its map; two coolers side by side; lagged pieces in warm bay air;
/// all that can be said of filter, meter, throttle and engine; coefficients measured.
[[nodiscard]] inline build::Build geared_build() {
  using namespace build;
  const auto body = Mounting::body, engine = Mounting::engine;
  Build b;
  b.title = "Geared compressor, coolers side by side";
  b.ambient = Weather{99000.0, 293.15, 0.5};
  b.demand = full_engine();
  machine::Filter filter{{{0.06, 140.0}, {0.12, 480.0}}, 1.3, false, true};
  filter.wet_factor = 1.8;
  filter.state = machine::FilterState::wet;
  machine::ChargeCooler water{{{0.04, 700.0}, {0.08, 2300.0}}, 0.8, 8.0, true};
  water.core = machine::CoolerCore{machine::Arrangement::cross_flow_unmixed, 180.0, 0.06, 0.6, 0.3};
  water.loop = machine::CoolantLoop{0.3, 0.55, 0.5};
  machine::ChargeCooler front{{{0.04, 650.0}, {0.08, 2200.0}}, 0.7, 5.0, false};
  front.effectiveness_table = {{0.03, 0.78}, {0.06, 0.70}, {0.09, 0.63}};
  b.machines = {
      {{"filter"}, "Filter", body, filter},
      {{"meter"},
       "Air-flow meter",
       body,
       machine::MeterBody{mm(72), mm(120), 0.2, machine::Screen{mm(0.4), mm(2)}}},
      {{"compressor"},
       "Geared compressor",
       engine,
       machine::GearedCompressor{9.5, 0.9, 1100.0, 453.15, sample_compressor_map(),
                                 machine::BypassValve{mm(20), 0.1, 0.7, 1e-6, machine::BypassTo::inlet}}},
      {{"water_cooler"}, "Water cooler", engine, water},
      {{"front_cooler"}, "Front cooler", body, front},
      {{"throttle"}, "Throttle", engine, machine::Throttle{mm(60), 0.2, deg(75)}},
  };
  b.ports = {
      sample_port("meter_out", "meter", body, 72, 76.2, 40),
      sample_port("compressor_in", "compressor", engine, 60, 63.5, 30),
      sample_port("compressor_out", "compressor", engine, 47, 51, 30),
      sample_port("divide", {}, engine, 54, 57, 30),
      sample_port("left_begin", {}, engine, 48, 51, 30),
      sample_port("water_in", "water_cooler", engine, 48, 51, 30),
      sample_port("water_out", "water_cooler", engine, 48, 51, 30),
      sample_port("left_end", {}, engine, 48, 51, 30),
      sample_port("right_begin", {}, engine, 48, 51, 30),
      sample_port("front_in", "front_cooler", body, 48, 51, 30),
      sample_port("front_out", "front_cooler", body, 48, 51, 30),
      sample_port("right_end", {}, engine, 48, 51, 30),
      sample_port("join", {}, engine, 60.2, 63.5, 30),
      sample_port("throttle_in", "throttle", engine, 60, 63.5, 30),
  };
  const auto beside = [](PathStep step, const char* branch) {
    step.branch = {branch};
    return step;
  };
  b.path = {MachineId{"filter"},
            MachineId{"meter"},
            RunId{"suction"},
            MachineId{"compressor"},
            RunId{"charge"},
            beside(RunId{"left_in"}, "left"),
            beside(MachineId{"water_cooler"}, "left"),
            beside(RunId{"left_out"}, "left"),
            beside(RunId{"right_in"}, "right"),
            beside(MachineId{"front_cooler"}, "right"),
            beside(RunId{"right_out"}, "right"),
            RunId{"cold"},
            MachineId{"throttle"}};
  b.branches = {{{"left"}, 0.35, 0.4}, {{"right"}, 0.5, 0.45}};
  b.bay = BayAir{343.15, 3.0};
  b.measured = {{Coefficient::engine_volumetric_efficiency, 0.97, 0.02},
                {Coefficient::duct_losses, 1.15, 0.2}};
  b.budget = {euro(), std::nullopt};

  const Lagging wrap{mm(6), 0.05};
  const auto tube = [](double outer_mm, double length_mm, std::optional<Lagging> lagging = std::nullopt) {
    return Piece{
        Tube{mm(outer_mm), mm(1.5), mm(length_mm), {true, true}}, Material::aluminium, {}, "", lagging};
  };
  const auto hose = [](double bore_mm, double length_mm, Lining lining = Lining::smooth) {
    return Piece{
        Hose{mm(bore_mm), mm(4.5), mm(length_mm), {mm(25), mm(25)}, lining}, Material::rubber, {}, ""};
  };
  const auto reducer = [](double in_mm, double out_mm) {
    return Piece{
        HoseReducer{mm(in_mm), mm(out_mm), mm(4.5), mm(76), {mm(28), mm(28)}}, Material::silicone, {}, ""};
  };
  const Piece sensor{SensorBoss{mm(80), deg(30), "M12x1.5", Tip{mm(8), mm(20)}},
                     Material::aluminium,
                     {},
                     "intake temperature"};
  b.options = {
      {{"only"},
       "",
       {Run{{"suction"},
            {"meter_out"},
            {"compressor_in"},
            {hose(76.2, 200, Lining::corrugated), tube(76.2, 160), sensor, reducer(76.2, 63.5)}},
        Run{{"charge"}, {"compressor_out"}, {"divide"}, {reducer(51, 57), tube(57, 200, wrap), hose(57, 70)}},
        Run{{"left_in"}, {"left_begin"}, {"water_in"}, {hose(51, 70), tube(51, 120, wrap), hose(51, 70)}},
        Run{{"left_out"}, {"water_out"}, {"left_end"}, {hose(51, 150, Lining::wire)}},
        Run{{"right_in"}, {"right_begin"}, {"front_in"}, {hose(51, 70), tube(51, 350), hose(51, 70)}},
        Run{{"right_out"}, {"front_out"}, {"right_end"}, {hose(51, 70), tube(51, 300), hose(51, 70)}},
        Run{{"cold"}, {"join"}, {"throttle_in"}, {hose(63.5, 70), tube(63.5, 150), hose(63.5, 70)}}}}};
  return b;
}

/// sample_build() with another kind of blower.
[[nodiscard]] inline build::Build with_sample_blower(std::string title, build::MachineKind blower) {
  return build::with_machine(build::with_title(sample_build(), std::move(title)), {"blower"},
                             std::move(blower));
}

/// A displacement blower with internal compression, of which one delivery is known, and a valve into the
/// open.
[[nodiscard]] inline build::Build leaky_blower_build() {
  machine::DisplacementBlower blower{0.0009, 1.6, 0.94, std::nullopt, 0.95, 250.0, 423.15};
  blower.internal_volume_ratio = 1.3;
  blower.leak = machine::RatedLeak{150.0, 1.6, 0.84};
  blower.bypass = machine::BypassValve{mm(25), 0.0, 0.6, 2e-6, machine::BypassTo::open_air};
  return with_sample_blower("Blower with internal compression", std::move(blower));
}

/// A displacement blower by its map.
[[nodiscard]] inline build::Build mapped_blower_build() {
  machine::DisplacementBlower blower{0.0009, 1.6, 0.9, 0.58, 0.95, 250.0, 423.15};
  blower.map = sample_blower_map();
  return with_sample_blower("Blower by its map", std::move(blower));
}

/// compressor_build() with a map and a valve.
[[nodiscard]] inline build::Build mapped_compressor_build() {
  build::Build b = compressor_build();
  b.title = "Exhaust-driven compressor by its map";
  auto& compressor = std::get<machine::TargetCompressor>(b.machines[2].kind);
  compressor.map = sample_compressor_map();
  compressor.bypass = machine::BypassValve{mm(30), 0.0, 0.65, 0.0, machine::BypassTo::inlet};
  return b;
}

/// sample_build() with money and stock spoken of in full, two flanges, and a finding or two that are waived.
[[nodiscard]] inline build::Build bought_build() {
  using namespace build;
  Build b = sample_build();
  b.title = "Blower on a small four, partly bought";
  b.budget.tax = Tax{1900, true};
  b.budget.postage = {{"supplier A", euros(6, 90), euros(120, 0)}, {"supplier B", euros(4, 50)}};
  b.budget.spares = {{StockKind::clamp, 10}};
  b.owned.front().paid = euros(14, 20);
  b.offcuts = {{{"tube-63"}, 2, mm(140)}, {{"bend-63-90"}, 1, mm(30), deg(45), mm(60)}};
  b.thresholds = {{"kerf_mm", 1.5}, {"bend_thrust_N", 450}};
  b.waivers = {{{"no-charge-sensor", "the sensor sits in the manifold"}},
               {{"restriction", "short races only"}, MachineId{"blower"}}};
  std::vector<StockItem> stock = *b.stock;
  StockItem& hose = *std::ranges::find(stock, StockId{"hose-63"}, &StockItem::id);
  hose.pack = 2;
  hose.supplier = "supplier A";
  hose.max_gauge_Pa = 250e3;
  hose.oil_proof = hose.wire = true;
  StockItem& clamp = *std::ranges::find(stock, StockId{"clamp-70"}, &StockItem::id);
  clamp.pack = 4;
  clamp.supplier = "supplier B";
  clamp.clamp_type = ClampType::round_bolt;
  clamp.torque_Nm = 6;
  b.stock = std::move(stock);
  for (Port& port : b.ports)
    if (port.id == PortId{"throttle_in"})
      port.connection = {Connection::Kind::flange, "4 x M6 on 84"};
  Run cold = *b.options.front().runs.back();
  auto& adapter = std::get<Adapter>(cold.pieces[3].shape);
  adapter.connection_in = {Connection::Kind::thread, "G 2"};
  adapter.connection_out = {Connection::Kind::flange, "4 x M6 on 84"};
  cold.pieces.pop_back();
  cold.pieces[2].waivers = {{"long-unsupported", "the strut tower's bracket holds it"}};
  b.options.front().runs.back() = std::move(cold);
  return b;
}

/// Those that hold only what every build says.
[[nodiscard]] inline std::vector<build::Build> sample_builds() {
  return {sample_build(), compressor_build(), natural_build(), bench_build()};
}

/// Those that hold all that a build may say besides: each key of the file stands in one of them or in one of
/// sample_builds().
[[nodiscard]] inline std::vector<build::Build> further_sample_builds() {
  return {geared_build(), leaky_blower_build(), mapped_blower_build(), mapped_compressor_build(),
          bought_build()};
}

/// All of them.
[[nodiscard]] inline std::vector<build::Build> all_sample_builds() {
  std::vector<build::Build> all = sample_builds(), further = further_sample_builds();
  for (build::Build& b : further)
    all.push_back(std::move(b));
  return all;
}

} // namespace bellmouth::test
