// SPDX-License-Identifier: GPL-3.0-or-later
// A build with nothing to complain of, and the way from a build to its findings. Everything in it is
// invented.
#pragma once

#include "support/small_four.hpp"

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/clearance.hpp>
#include <bellmouth/check.hpp>
#include <bellmouth/flow.hpp>
#include <bellmouth/joint.hpp>

#include <algorithm>
#include <functional>
#include <string_view>
#include <vector>

namespace bellmouth::test {

/// A build in parts that can be changed, with what else the checks are told.
struct Scene {
  build::Build build;
  std::vector<build::Run> runs; ///< of the one option, in path order
  list::Lists lists;
  check::Limits limits;
  double engine_speed_rev_s = 90;
  bool to_ports_follow = true; ///< the ports that runs lead to are put where the runs end
  std::function<void(flow::PathFlow&)> after_flow = [](flow::PathFlow&) {};

  [[nodiscard]] build::Shape& shape(std::size_t run, std::size_t row) { return runs[run].pieces[row].shape; }
  template <class Kind> [[nodiscard]] Kind& piece(std::size_t run, std::size_t row) {
    return std::get<Kind>(shape(run, row));
  }
  template <class Kind> [[nodiscard]] Kind& machine(const char* id) {
    for (auto& machine : build.machines)
      if (machine.id.text == id)
        return std::get<Kind>(machine.kind);
    throw std::logic_error(id);
  }
  [[nodiscard]] build::Port& port(const char* id) {
    for (auto& port : build.ports)
      if (port.id.text == id)
        return port;
    throw std::logic_error(id);
  }
  /// Changes every item of the stock.
  void each_item(const std::function<void(build::StockItem&)>& change) {
    auto items = *build.stock;
    for (auto& item : items)
      change(item);
    build.stock = std::move(items);
  }
  void erase(std::size_t run, std::size_t row) {
    runs[run].pieces.erase(runs[run].pieces.begin() + static_cast<long>(row));
  }
  void insert(std::size_t run, std::size_t row, build::Piece piece) {
    runs[run].pieces.insert(runs[run].pieces.begin() + static_cast<long>(row), std::move(piece));
  }
};

/// Rows of the runs of clean_scene().
enum Rows : std::size_t { suction = 0, hot = 1, cold = 2 };

[[nodiscard]] inline build::StockItem clamp(const char* id, double from_mm, double to_mm) {
  build::StockItem item;
  item.id = {id};
  item.kind = build::StockKind::clamp;
  item.name = id;
  item.clamp_min_m = mm(from_mm);
  item.clamp_max_m = mm(to_mm);
  item.price = euros(3, 0);
  item.clamp_type = build::ClampType::constant_tension;
  return item;
}

/// Four plies with a data sheet, lined.
[[nodiscard]] inline build::StockItem hose_item(const char* id, double bore_mm) {
  build::StockItem item;
  item.id = {id};
  item.kind = build::StockKind::hose;
  item.name = id;
  item.material = build::Material::silicone;
  item.bore_m = mm(bore_mm);
  item.wall_m = mm(4.5);
  item.max_gauge_Pa = 300e3;
  item.oil_proof = true;
  item.plies = 4;
  item.price = euros(9, 0);
  return item;
}

[[nodiscard]] inline build::Piece hose(double bore_mm, double length_mm = 90, double engagement_mm = 40) {
  return {build::Hose{mm(bore_mm), mm(4.5), mm(length_mm), {mm(engagement_mm), mm(engagement_mm)}},
          build::Material::silicone,
          {bore_mm > 70 ? "hose-76" : "hose-63"},
          ""};
}

/// Filter, displacement blower, charge cooler and throttle on a small four:
/// suction: hose, tube, hose. hot: hose, bend, hose. cold: hose, bend, tube with boss and valve flange, hose.
[[nodiscard]] inline Scene clean_scene() {
  using namespace build;
  Scene s;
  Build& b = s.build;
  b.title = "Nothing to complain of";
  b.ambient = Weather{100000.0, 293.15, 0.4};
  b.demand = sample_engine();
  b.machines = small_four_machines();
  const auto body = Mounting::body, engine = Mounting::engine;
  b.ports = {
      sample_port("filter_out", "filter", body, 72.9, 76.2, 45, Vector{700, 450, 200}, {-1, 0, 0}),
      sample_port("blower_in", "blower", engine, 72.9, 76.2, 45, Vector{0, 0, 0}, {1, 0, 0}),
      sample_port("blower_out", "blower", engine, 60.2, 63.5, 45, Vector{200, 200, 150}, {0, 0, -1}),
      sample_port("cooler_in", "cooler", body, 60.2, 63.5, 45, Vector{0, 0, 0}, {1, 0, 0}),
      sample_port("cooler_out", "cooler", body, 60.2, 63.5, 45, Vector{850, -300, 150}, {-1, 0, 0}),
      sample_port("throttle_in", "throttle", engine, 60.2, 63.5, 45, Vector{0, 0, 0}, {1, 0, 0}),
  };
  b.path = {MachineId{"filter"}, RunId{"suction"},   MachineId{"blower"},  RunId{"hot_side"},
            MachineId{"cooler"}, RunId{"cold_side"}, MachineId{"throttle"}};
  b.stock = std::vector{clamp("clamp-72", 68, 77), clamp("clamp-85", 80, 90), hose_item("hose-63", 63.5),
                        hose_item("hose-76", 76.2)};
  s.runs = {
      {{"suction"}, {"filter_out"}, {"blower_in"}, {hose(76.2), tube(76.2, 180, {true, true}), hose(76.2)}},
      {{"hot_side"}, {"blower_out"}, {"cooler_in"}, {hose(63.5), bend(63.5, 90, {true, true}), hose(63.5)}},
      {{"cold_side"},
       {"cooler_out"},
       {"throttle_in"},
       {hose(63.5),
        bend(63.5, 90, {true, false}),
        tube(63.5, 140, {false, true}),
        {SensorBoss{mm(30), 0.0, "M12x1.5"}, Material::aluminium, {}, ""},
        {ValveFlange{mm(70), 0.0, mm(25.4)}, Material::aluminium, {}, ""},
        hose(63.5)}},
  };
  return s;
}

/// The scene with an exhaust-driven compressor that holds a manifold pressure.
[[nodiscard]] inline Scene compressor_scene() {
  Scene s = clean_scene();
  auto& compressor = s.build.machines[1].kind.emplace<machine::TargetCompressor>();
  compressor.target_pressure_Pa = 150000.0;
  compressor.target_at = machine::TargetAt::manifold;
  compressor.adiabatic_efficiency = 0.72;
  compressor.mechanical_efficiency = 0.97;
  compressor.driven_by_exhaust = true;
  compressor.max_pressure_ratio = 2.4;
  compressor.max_outlet_temperature_K = 453.15;
  return s;
}

/// Makes the blower of clean_scene() a compressor geared to the engine, with its map's flows multiplied.
inline machine::GearedCompressor& geared(Scene& s, double flow_factor = 1) {
  auto& compressor = s.build.machines[1].kind.emplace<machine::GearedCompressor>();
  compressor.drive_ratio = 9.6;
  compressor.mechanical_efficiency = 0.95;
  compressor.max_speed_rev_s = 1200;
  compressor.max_outlet_temperature_K = 453.15;
  compressor.map = sample_compressor_map();
  for (auto& point : compressor.map.points)
    point.corrected_flow_kg_s *= flow_factor;
  return compressor;
}

/// The facts of a scene, standing on their own.
class Stage {
public:
  explicit Stage(const Scene& scene) : build_(scene.build), lists_(scene.lists), limits_(scene.limits) {
    build_.options = {{{"only"}, "", {}}};
    for (const auto& run : scene.runs)
      build_.options[0].runs.emplace_back(run);
    for (const auto& run : build_.options[0].runs) {
      runs_.push_back(&*run);
      fits_.push_back(joint::fit(build_, *run));
      const auto tracks = joint::tracks(*run, fits_.back());
      const auto frames = bay::place(build_.find(run->from)->pose, tracks);
      auto& to = std::ranges::find(build_.ports, run->to, &build::Port::id)->pose;
      if (to && !frames.empty() && scene.to_ports_follow) {
        const auto& end = frames.back();
        to = {end.position_m, {-end.direction[0], -end.direction[1], -end.direction[2]}};
      }
      meetings_.push_back(bay::meeting(frames, to));
      rooms_.push_back(bay::room(build_, *run, tracks, frames));
    }
    clearances_.push_back(bay::clearances(build_, rooms_));
    for (const auto& state : build_.states)
      clearances_.push_back(bay::clearances(build_, rooms_, state.id, bay::Wanted::tight));
    flow_ = flow::Path(build_, build_.options[0], fits_).solve(scene.engine_speed_rev_s);
    scene.after_flow(flow_);
  }

  [[nodiscard]] std::vector<check::Finding> findings() const { return check::check(facts(), limits_); }
  [[nodiscard]] check::Facts facts() const {
    return {build_, build_.options[0], runs_, fits_, flow_, meetings_, lists_, rooms_, clearances_};
  }
  [[nodiscard]] const flow::PathFlow& flow() const { return flow_; }

private:
  build::Build build_;
  list::Lists lists_;
  check::Limits limits_;
  std::vector<const build::Run*> runs_;
  std::vector<joint::RunFit> fits_;
  std::vector<std::optional<bay::Meeting>> meetings_;
  std::vector<bay::RunRoom> rooms_;
  std::vector<std::vector<bay::RunClearance>> clearances_;
  flow::PathFlow flow_;
};

[[nodiscard]] inline std::vector<check::Finding> findings(const Scene& scene) {
  return Stage(scene).findings();
}
[[nodiscard]] inline const check::Finding* find(const std::vector<check::Finding>& all,
                                                std::string_view rule) {
  for (const auto& finding : all)
    if (finding.rule == rule)
      return &finding;
  return nullptr;
}

} // namespace bellmouth::test
