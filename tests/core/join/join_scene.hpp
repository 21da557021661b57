// SPDX-License-Identifier: GPL-3.0-or-later
// A build whose joints are right and that tests take apart, with a stock to join from. Everything in it is
// invented.
#pragma once

#include "support/small_four.hpp"

#include <bellmouth/join.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bellmouth::test {

/// A build in parts that can be changed.
struct Scene {
  build::Build build;
  std::vector<build::Run> runs; ///< of the one option, in path order

  [[nodiscard]] build::Shape& shape(std::size_t run, std::size_t row) { return runs[run].pieces[row].shape; }
  template <class Kind> [[nodiscard]] Kind& piece(std::size_t run, std::size_t row) {
    return std::get<Kind>(shape(run, row));
  }
  [[nodiscard]] build::Port& port(const char* id) {
    for (auto& port : build.ports)
      if (port.id.text == id)
        return port;
    throw std::logic_error(id);
  }
  void erase(std::size_t run, std::size_t row) {
    runs[run].pieces.erase(runs[run].pieces.begin() + static_cast<long>(row));
  }
  void insert(std::size_t run, std::size_t row, build::Piece piece) {
    runs[run].pieces.insert(runs[run].pieces.begin() + static_cast<long>(row), std::move(piece));
  }
};

/// Rows of the runs of joint_scene().
enum Rows : std::size_t { suction = 0, hot = 1, cold = 2 };

[[nodiscard]] inline build::Piece hose(double bore_mm, double length_mm = 90, double engagement_mm = 40) {
  return {build::Hose{mm(bore_mm), mm(4.5), mm(length_mm), {mm(engagement_mm), mm(engagement_mm)}},
          build::Material::silicone,
          {},
          ""};
}

/// Filter, displacement blower, charge cooler and throttle on a small four, with joints as they should be:
/// suction: hose, tube, hose. hot: hose, bend, hose. cold: hose, bend, tube with boss and valve flange, hose.
[[nodiscard]] inline Scene joint_scene() {
  using namespace build;
  Scene s;
  Build& b = s.build;
  b.title = "Joints as they should be";
  b.ambient = Weather{100000.0, 293.15, 0.4};
  b.demand = sample_engine();
  b.machines = small_four_machines();
  const auto body = Mounting::body, engine = Mounting::engine;
  b.ports = {
      sample_port("filter_out", "filter", body, 72.9, 76.2, 45),
      sample_port("blower_in", "blower", engine, 72.9, 76.2, 45),
      sample_port("blower_out", "blower", engine, 60.2, 63.5, 45),
      sample_port("cooler_in", "cooler", body, 60.2, 63.5, 45),
      sample_port("cooler_out", "cooler", body, 60.2, 63.5, 45),
      sample_port("throttle_in", "throttle", engine, 60.2, 63.5, 45),
  };
  b.path = {MachineId{"filter"}, RunId{"suction"},   MachineId{"blower"},  RunId{"hot_side"},
            MachineId{"cooler"}, RunId{"cold_side"}, MachineId{"throttle"}};
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

[[nodiscard]] inline build::StockItem item(std::string id, build::StockKind kind, build::Material material,
                                           double price_euros) {
  build::StockItem made;
  made.id = {id};
  made.kind = kind;
  made.name = std::move(id);
  made.material = material;
  made.price = euros(0, static_cast<std::int64_t>(price_euros * 100));
  return made;
}
[[nodiscard]] inline build::StockItem stock_tube(double outer_mm, double price_euros = 20) {
  auto made =
      item(fmt::format("tube-{}", outer_mm), build::StockKind::tube, build::Material::aluminium, price_euros);
  made.outer_diameter_m = mm(outer_mm);
  made.wall_m = mm(1.65);
  made.per = build::Per::metre;
  return made;
}
[[nodiscard]] inline build::StockItem stock_hose(double bore_mm, double length_mm, double price_euros = 10) {
  auto made = item(fmt::format("hose-{}-{}", bore_mm, length_mm), build::StockKind::hose,
                   build::Material::silicone, price_euros);
  made.bore_m = mm(bore_mm);
  made.wall_m = mm(4.5);
  made.length_m = mm(length_mm);
  made.plies = 4;
  made.max_temperature_K = 503.15;
  return made;
}
[[nodiscard]] inline build::StockItem stock_hump(double bore_mm, double length_mm = 120,
                                                 double price_euros = 20) {
  auto made = stock_hose(bore_mm, length_mm, price_euros);
  made.kind = build::StockKind::hump_hose;
  made.id = {fmt::format("hump-{}", bore_mm)};
  made.name = made.id.text;
  return made;
}
[[nodiscard]] inline build::StockItem stock_reducer(double in_mm, double out_mm, double price_euros = 15) {
  auto made = stock_hose(in_mm, 102, price_euros);
  made.kind = build::StockKind::hose_reducer;
  made.id = {fmt::format("reducer-{}-{}", in_mm, out_mm)};
  made.name = made.id.text;
  made.bore_out_m = mm(out_mm);
  return made;
}
[[nodiscard]] inline build::StockItem stock_cone(double in_mm, double out_mm, double length_mm = 80,
                                                 double price_euros = 16) {
  auto made = item(fmt::format("cone-{}-{}-{}", in_mm, out_mm, length_mm), build::StockKind::cone,
                   build::Material::aluminium, price_euros);
  made.outer_diameter_m = mm(std::max(in_mm, out_mm));
  made.bore_m = mm(in_mm - 3.3);
  made.bore_out_m = mm(out_mm - 3.3);
  made.wall_m = mm(1.65);
  made.length_m = mm(length_mm);
  return made;
}

[[nodiscard]] inline build::StockItem stock_clamp(double from_mm, double to_mm) {
  auto made = item(fmt::format("clamp-{}-{}", from_mm, to_mm), build::StockKind::clamp,
                   build::Material::stainless_steel, 3);
  made.clamp_min_m = mm(from_mm);
  made.clamp_max_m = mm(to_mm);
  return made;
}

/// Clamps for all that the scene can come to, tubes, hoses and reducers in some sizes.
[[nodiscard]] inline std::vector<build::StockItem> join_stock() {
  std::vector<build::StockItem> stock;
  for (double from_mm = 40; from_mm < 120; from_mm += 6)
    stock.push_back(stock_clamp(from_mm, from_mm + 14));
  for (const double size_mm : {57.0, 60.0, 63.5, 70.0, 76.2})
    stock.push_back(stock_tube(size_mm));
  for (const double size_mm : {57.0, 60.0, 63.5, 70.0, 76.2}) {
    stock.push_back(stock_hose(size_mm, 76, 8));
    stock.push_back(stock_hose(size_mm, 102, 11));
    stock.push_back(stock_hump(size_mm));
  }
  stock.push_back(stock_reducer(57, 60));
  stock.push_back(stock_reducer(60, 63.5));
  stock.push_back(stock_reducer(63.5, 70));
  stock.push_back(stock_reducer(70, 76.2));
  return stock;
}

/// The scene as a document.
[[nodiscard]] inline build::Build document(const Scene& scene,
                                           std::vector<build::StockItem> stock = join_stock()) {
  build::Build build = scene.build;
  build.budget.currency = euro();
  build.stock = std::move(stock);
  build.options = {{{"only"}, "", {}}};
  for (const auto& run : scene.runs)
    build.options[0].runs.emplace_back(run);
  return build;
}

[[nodiscard]] inline const build::Run& run_of(const build::Build& build, const char* id) {
  return *build.options.front().find(build::RunId{id});
}
[[nodiscard]] inline std::string all_of(const std::vector<std::string>& lines) {
  return fmt::format("{}", fmt::join(lines, "\n"));
}
[[nodiscard]] inline std::vector<check::Finding> findings_of(const build::Build& build) {
  return evaluate(build, build.options.front().id).findings;
}
[[nodiscard]] inline std::size_t count_of(const build::Build& build, std::string_view rule) {
  return static_cast<std::size_t>(std::ranges::count(findings_of(build), rule, &check::Finding::rule));
}

} // namespace bellmouth::test
