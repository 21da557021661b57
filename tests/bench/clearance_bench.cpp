// SPDX-License-Identifier: GPL-3.0-or-later
// The bars: 30 pieces against 20 keep-outs and a scan of 200 000 triangles under 1 ms; what an evaluation of
// 22 pieces and some keep-outs gains by it under 25 microseconds.
#include "core/bay/bay_scene.hpp"

#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>

namespace bellmouth::bay {
namespace {

using test::Dice;
using test::Scene;

/// A run of tubes and bends through a bay of about a metre.
void add_run(Scene& scene, Dice& dice, const build::Pose& start, int pieces) {
  std::vector<build::Piece> chain;
  for (int i = 0; i < pieces; ++i) {
    if (i % 3 != 2)
      chain.push_back(test::tube(0.06, dice.between(0.03, 0.12)));
    else
      chain.push_back(test::bend(0.06, std::numbers::pi / 2, 0.07, dice.between(0, 6.28)));
  }
  scene.add(start, std::move(chain));
}
void add_keep_outs(Scene& scene, Dice& dice, int count) {
  for (int i = 0; i < count; ++i) {
    const auto centre = dice.point(0.6);
    if (i % 4 == 3)
      scene.stand(build::Cylinder{centre, test::plus(centre, 0.3, dice.direction()), 0.05});
    else
      scene.stand(build::Box{centre,
                             {dice.between(0.02, 0.15), dice.between(0.02, 0.15), dice.between(0.02, 0.15)},
                             dice.axes()});
  }
}
/// A hilly floor of 2 x 316 x 316 triangles, a metre below.
build::Scan hills() {
  constexpr std::uint32_t side = 317;
  mesh::Surface surface;
  for (std::uint32_t i = 0; i < side; ++i)
    for (std::uint32_t k = 0; k < side; ++k) {
      const double x = -1000 + 2000.0 * i / (side - 1), y = -1000 + 2000.0 * k / (side - 1);
      surface.points.push_back({x, y, -250 + 60 * std::sin(x / 90) * std::cos(y / 70)});
    }
  for (std::uint32_t i = 0; i + 1 < side; ++i)
    for (std::uint32_t k = 0; k + 1 < side; ++k) {
      const std::uint32_t a = i * side + k;
      surface.triangles.push_back({a, a + side, a + 1});
      surface.triangles.push_back({a + 1, a + side, a + side + 1});
    }
  build::Scan scan;
  scan.loaded = mesh::make_scan(std::move(surface));
  return scan;
}

void look(benchmark::State& state, const Scene& scene) {
  const auto rooms = scene.rooms();
  for (auto _ : state)
    benchmark::DoNotOptimize(clearances(scene.build, rooms));
}

void placing_of_30_pieces(benchmark::State& state) {
  Dice dice(1);
  Scene scene;
  add_run(scene, dice, {{0, 0, 0}, {1, 0, 0}}, 30);
  const auto& pieces = scene.runs.front().pieces;
  for (auto _ : state) {
    std::vector<Track> tracks;
    tracks.reserve(pieces.size());
    for (const auto& piece : pieces)
      tracks.push_back(track(piece.shape, 0, 0));
    benchmark::DoNotOptimize(place(scene.build.ports.front().pose, tracks));
  }
}
BENCHMARK(placing_of_30_pieces)->Unit(benchmark::kMicrosecond);

void clearance_of_22_pieces_in_3_runs_to_10_keep_outs(benchmark::State& state) {
  Dice dice(2);
  Scene scene;
  add_run(scene, dice, {{-0.4, 0.2, 0}, {1, 0, 0}}, 7);
  add_run(scene, dice, {{0.3, -0.3, 0.2}, {0, 1, 0}}, 8);
  add_run(scene, dice, {{0.1, 0.4, -0.2}, {0, 0, 1}}, 7);
  add_keep_outs(scene, dice, 8);
  scene.stand(build::HalfSpace{{0, 0, 0.9}, {0, 0, 1}});
  scene.stand(build::HalfSpace{{0, 0, -0.7}, {0, 0, -1}});
  look(state, scene);
}
BENCHMARK(clearance_of_22_pieces_in_3_runs_to_10_keep_outs)->Unit(benchmark::kMicrosecond);

void clearance_of_30_pieces_to_20_keep_outs(benchmark::State& state) {
  Dice dice(3);
  Scene scene;
  add_run(scene, dice, {{0, 0, 0}, {1, 0, 0}}, 30);
  add_keep_outs(scene, dice, 20);
  if (state.range(0) != 0)
    scene.stand(hills());
  look(state, scene);
}
BENCHMARK(clearance_of_30_pieces_to_20_keep_outs)
    ->ArgName("with a scan of 200 000 triangles")
    ->Arg(0)
    ->Arg(1)
    ->Unit(benchmark::kMicrosecond);

/// The normal case in a bay, and the worst for anything that searches: nothing along the tube is nearest.
void tube_beside_a_wall(benchmark::State& state) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {test::tube(0.06, 0.3)});
  scene.stand(build::Box{{0.15, 0, -0.16}, {0.5, 0.5, 0.1}});
  look(state, scene);
}
BENCHMARK(tube_beside_a_wall)->Unit(benchmark::kMicrosecond);

void bend_beside_a_wall(benchmark::State& state) {
  Scene scene;
  scene.add({{0, 0, 0}, {1, 0, 0}}, {test::bend(0.06, std::numbers::pi / 2, 0.1, std::numbers::pi / 2)});
  scene.stand(build::Box{{0.15, 0, -0.16}, {0.5, 0.5, 0.1}});
  look(state, scene);
}
BENCHMARK(bend_beside_a_wall)->Unit(benchmark::kMicrosecond);

void bends_beside_each_other(benchmark::State& state) {
  Scene scene;
  for (const double z : {0.0, 0.08})
    scene.add({{0, 0, z}, {1, 0, 0}}, {test::bend(0.06, std::numbers::pi / 2, 0.1, std::numbers::pi / 2)});
  look(state, scene);
}
BENCHMARK(bends_beside_each_other)->Unit(benchmark::kMicrosecond);

} // namespace
} // namespace bellmouth::bay
