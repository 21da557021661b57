// SPDX-License-Identifier: GPL-3.0-or-later
// Small builds for routes, and where a way or its pieces end, worked out with rotation matrices apart from
// the program's own placing. Prices are invented.
#pragma once

#include "support/random_chains.hpp"

#include <bellmouth/find.hpp>

#include <string>
#include <utility>
#include <vector>

namespace bellmouth::test {

[[nodiscard]] inline build::StockItem stock_item(const char* id, build::StockKind kind,
                                                 build::Material material, quantity::Money price) {
  build::StockItem item;
  item.id = {id};
  item.kind = kind;
  item.name = id;
  item.material = material;
  item.price = price;
  return item;
}
[[nodiscard]] inline build::StockItem tube_item(const char* id, double diameter_mm,
                                                quantity::Money per_metre) {
  auto item = stock_item(id, build::StockKind::tube, build::Material::aluminium, per_metre);
  item.outer_diameter_m = mm(diameter_mm);
  item.wall_m = mm(1.65);
  item.per = build::Per::metre;
  return item;
}
[[nodiscard]] inline build::StockItem bend_item(const char* id, double diameter_mm, double angle_deg,
                                                double radius_mm, double leg_mm, quantity::Money price) {
  auto item = stock_item(id, build::StockKind::tube_bend, build::Material::aluminium, price);
  item.outer_diameter_m = mm(diameter_mm);
  item.wall_m = mm(1.65);
  item.angle_rad = deg(angle_deg);
  item.radius_m = mm(radius_mm);
  item.leg_in_m = item.leg_out_m = mm(leg_mm);
  return item;
}
[[nodiscard]] inline build::StockItem elbow_item(const char* id, double bore_mm, double angle_deg,
                                                 double radius_mm, double leg_mm, quantity::Money price) {
  auto item = stock_item(id, build::StockKind::hose_elbow, build::Material::silicone, price);
  item.bore_m = mm(bore_mm);
  item.wall_m = mm(4.5);
  item.angle_rad = deg(angle_deg);
  item.radius_m = mm(radius_mm);
  item.leg_in_m = item.leg_out_m = mm(leg_mm);
  return item;
}
[[nodiscard]] inline build::StockItem hose_item(const char* id, double bore_mm, quantity::Money price) {
  auto item = stock_item(id, build::StockKind::hose, build::Material::silicone, price);
  item.bore_m = mm(bore_mm);
  item.wall_m = mm(4.5);
  item.length_m = mm(100);
  item.plies = 4;
  return item;
}
[[nodiscard]] inline build::StockItem reducer_item(const char* id, double small_mm, double large_mm,
                                                   quantity::Money price) {
  auto item = hose_item(id, small_mm, price);
  item.kind = build::StockKind::hose_reducer;
  item.bore_out_m = mm(large_mm);
  return item;
}
[[nodiscard]] inline build::StockItem clamp_item(const char* id, double least_mm, double most_mm,
                                                 quantity::Money price) {
  auto item = stock_item(id, build::StockKind::clamp, build::Material::stainless_steel, price);
  item.clamp_min_m = mm(least_mm);
  item.clamp_max_m = mm(most_mm);
  return item;
}

/// Tube, bends, an elbow, a hose and a clamp for 63.5 mm.
[[nodiscard]] inline std::vector<build::StockItem> route_stock() {
  return {tube_item("tube", 63.5, euros(12, 0)),
          bend_item("bend-90", 63.5, 90, 95, 100, euros(20, 0)),
          bend_item("bend-45", 63.5, 45, 95, 75, euros(15, 0)),
          elbow_item("elbow-90", 63.5, 90, 70, 90, euros(25, 0)),
          hose_item("hose", 63.5, euros(9, 0)),
          clamp_item("clamp", 64, 80, euros(1, 0))};
}

/// Where a frame goes, by rotation matrices.
class Walker {
public:
  explicit Walker(const build::Pose& port) : end_(run_end(port, {})) {}

  void go(double length_m) { step({length_m, 0, 0}); }
  void turn(double angle_rad, double radius_m, double clocking_rad) {
    end_.axes = product(end_.axes, about_x(clocking_rad));
    step({radius_m * std::sin(angle_rad), radius_m * (1 - std::cos(angle_rad)), 0});
    end_.axes = product(end_.axes, about_z(angle_rad));
  }
  [[nodiscard]] const RunEnd& end() const { return end_; }
  /// The port that is met here.
  [[nodiscard]] build::Pose port() const {
    const build::Vector u = end_.direction();
    return {end_.position_m, {-u[0], -u[1], -u[2]}};
  }

private:
  void step(const build::Vector& by) {
    const build::Vector world = product(end_.axes, by);
    for (std::size_t k = 0; k < 3; ++k)
      end_.position_m[k] += world[k];
  }
  RunEnd end_;
};
[[nodiscard]] inline Walker walked(const build::Pose& port, const way::Problem& problem,
                                   const way::Way& way) {
  Walker walker(port);
  for (std::size_t i = 0; i < way.straights_m.size(); ++i) {
    walker.go(way.straights_m[i]);
    if (i < way.turns.size())
      walker.turn(way.turns[i].angle_rad, problem.bends[way.turns[i].bend].radius_m,
                  way.turns[i].clocking_rad);
  }
  return walker;
}
/// Along the pieces of a run whose hoses all go over spigots by their engagement.
[[nodiscard]] inline Walker walked(const build::Pose& port, const build::Run& run) {
  Walker walker(port);
  for (const build::Piece& piece : run.pieces)
    std::visit(
        [&](const auto& shape) {
          double in_m = 0, out_m = 0;
          if constexpr (requires { shape.engagement; }) {
            in_m = shape.engagement.in_m;
            out_m = shape.engagement.out_m;
          }
          if constexpr (requires { shape.leg_in_m; }) {
            walker.go(shape.leg_in_m - in_m);
            walker.turn(shape.angle_rad, shape.radius_m, shape.clocking_rad);
            walker.go(shape.leg_out_m - out_m);
          } else if constexpr (requires { shape.length_m; }) {
            walker.go(shape.length_m - in_m - out_m);
          }
        },
        piece.shape);
  return walker;
}

inline const build::Pose route_start{{0, 0, 0}, {1, 0, 0}};

/// A build with one run of a tube from the start to another port, and the stock.
[[nodiscard]] inline build::Build route_build(const build::Pose& to) {
  build::Build b = one_run(route_start, to, {coupler(100, 40, 40), straight(300), coupler(100, 40, 40)});
  b.stock = route_stock();
  b.ports[0].beaded = b.ports[1].beaded = true;
  return b;
}
[[nodiscard]] inline find::Ask route_ask(const build::Build& build) {
  return find::usual(build, {"only"}, {"run"});
}
/// A way of the build's stock as its answer, with the end port put where it ends.
struct Posed {
  build::Build build;
  find::Question question;
  way::Answer answer;
};
[[nodiscard]] inline Posed posed(const way::Way& way, find::Ask ask = {},
                                 std::vector<build::StockItem> stock = route_stock()) {
  Posed result;
  result.build = route_build({{0.8, 0, 0.4}, {-1, 0, 0}});
  result.build.stock = std::move(stock);
  if (ask.run.text.empty())
    ask = route_ask(result.build);
  const auto first = find::question(result.build, ask);
  result.build.ports[1].pose = walked(route_start, first.value().problem, way).port();
  result.question = find::question(result.build, ask).value();
  result.answer.way = way;
  result.answer.figures = way::figures(result.question.problem, way);
  return result;
}
[[nodiscard]] inline std::size_t bend_named(const find::Question& question, const std::string& id) {
  return static_cast<std::size_t>(std::ranges::find(question.bends, build::StockId{id}) -
                                  question.bends.begin());
}

} // namespace bellmouth::test
