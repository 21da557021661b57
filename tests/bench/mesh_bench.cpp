// SPDX-License-Identifier: GPL-3.0-or-later
// A scan of 200 000 triangles: reading it, making it ready, and asking for distances while a piece is
// dragged.
#include <bellmouth/mesh.hpp>

#include <benchmark/benchmark.h>

#include <cmath>
#include <cstring>
#include <string>

namespace bellmouth::mesh {
namespace {

/// 600 mm square, 316 x 316 squares of two triangles: 199 712 of them. Bumps of `bump` mm.
Surface sheet(double bump, double level) {
  constexpr std::uint32_t squares = 316;
  constexpr double size = 600;
  Surface surface;
  for (std::uint32_t j = 0; j <= squares; ++j)
    for (std::uint32_t i = 0; i <= squares; ++i) {
      const double x = size * i / squares, y = size * j / squares;
      surface.points.push_back({x, y, level + bump * std::sin(x / 23) * std::cos(y / 31)});
    }
  for (std::uint32_t j = 0; j < squares; ++j)
    for (std::uint32_t i = 0; i < squares; ++i) {
      const std::uint32_t a = j * (squares + 1) + i, c = a + squares + 1;
      surface.triangles.push_back({a, a + 1, c + 1});
      surface.triangles.push_back({a, c + 1, c});
    }
  return surface;
}

std::string binary_stl(const Surface& surface) {
  std::string bytes(84 + 50 * surface.triangles.size(), '\0');
  const auto count = static_cast<std::uint32_t>(surface.triangles.size());
  std::memcpy(&bytes[80], &count, 4);
  for (std::size_t i = 0; i < surface.triangles.size(); ++i)
    for (std::size_t j = 0; j < 3; ++j)
      for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto x = static_cast<float>(surface.points[surface.triangles[i][j]][axis]);
        std::memcpy(&bytes[84 + 50 * i + 12 + 12 * j + 4 * axis], &x, 4);
      }
  return bytes;
}

void reading_a_binary_stl(benchmark::State& rounds) {
  const std::string bytes = binary_stl(sheet(20, 0));
  for (auto _ : rounds)
    benchmark::DoNotOptimize(read(bytes, "sheet.stl"));
}
BENCHMARK(reading_a_binary_stl)->Unit(benchmark::kMillisecond);

void building_a_tree(benchmark::State& rounds) {
  const Surface surface = sheet(20, 0);
  for (auto _ : rounds)
    benchmark::DoNotOptimize(Tree(surface));
}
BENCHMARK(building_a_tree)->Unit(benchmark::kMillisecond);

void thinning(benchmark::State& rounds) {
  const Surface surface = sheet(20, 0);
  for (auto _ : rounds)
    benchmark::DoNotOptimize(thinned(surface, display_triangles));
}
BENCHMARK(thinning)->Unit(benchmark::kMillisecond);

void making_a_scan_ready(benchmark::State& rounds) {
  const Surface surface = sheet(20, 0);
  for (auto _ : rounds)
    benchmark::DoNotOptimize(make_scan(surface));
}
BENCHMARK(making_a_scan_ready)->Unit(benchmark::kMillisecond);

/// Over all places and up to 200 mm above the sheet.
void point_above_a_sheet(benchmark::State& rounds) {
  const Tree tree(sheet(20, 0));
  double x = 0.1, y = 0.2, z = 0.3;
  for (auto _ : rounds) {
    x = std::fmod(x + 0.618034, 1);
    y = std::fmod(y + 0.754878, 1);
    z = std::fmod(z + 0.569840, 1);
    benchmark::DoNotOptimize(tree.nearest({600 * x, 600 * y, 200 * z}));
  }
}
BENCHMARK(point_above_a_sheet);

/// The worst case for leaving boxes out: a tube of 300 mm parallel to a flat wall. Arguments: degrees from
/// the sheet's rows; whether the wall's height is no float, so that the boxes are a little too large; whether
/// the tube is a reducer.
void tube_parallel_to_a_wall(benchmark::State& rounds) {
  const Tree tree(sheet(0, rounds.range(1) != 0 ? 0.1 : 0));
  const double angle = static_cast<double>(rounds.range(0)) * 3.14159265358979 / 180;
  const double taper = rounds.range(2) != 0 ? 10 : 0;
  const Point from{150.3, 120.7, 60.1};
  const Point to{from[0] + 300 * std::cos(angle), from[1] + 300 * std::sin(angle), from[2]};
  for (auto _ : rounds)
    benchmark::DoNotOptimize(tree.nearest(from, to, 30 - taper, 30 + taper));
}
BENCHMARK(tube_parallel_to_a_wall)->ArgsProduct({{0, 37, 45}, {0, 1}, {0, 1}})->Unit(benchmark::kMicrosecond);

/// The usual: a tube of 150 mm some way above the bumps. Argument: cut-off in mm, 0 for none.
void tube_above_a_bumpy_sheet(benchmark::State& rounds) {
  const Tree tree(sheet(20, 0));
  const double cutoff =
      rounds.range(0) == 0 ? std::numeric_limits<double>::infinity() : static_cast<double>(rounds.range(0));
  double x = 0.1, y = 0.2, z = 0.3;
  for (auto _ : rounds) {
    x = std::fmod(x + 0.618034, 1);
    y = std::fmod(y + 0.754878, 1);
    z = std::fmod(z + 0.569840, 1);
    const Point from{450 * x, 450 * y, 60 + 100 * z};
    const Point to{from[0] + 120, from[1] + 80, from[2] + 40 * (x - 0.5)};
    benchmark::DoNotOptimize(tree.nearest(from, to, 30, 30, cutoff));
  }
}
BENCHMARK(tube_above_a_bumpy_sheet)->Arg(0)->Arg(50)->Unit(benchmark::kMicrosecond);

void ray_onto_a_sheet(benchmark::State& rounds) {
  const Tree tree(sheet(20, 0));
  double x = 0.1, y = 0.2;
  for (auto _ : rounds) {
    x = std::fmod(x + 0.618034, 1);
    y = std::fmod(y + 0.754878, 1);
    benchmark::DoNotOptimize(tree.hit({600 * x, 600 * y, 500}, {x - 0.5, y - 0.5, -1}));
  }
}
BENCHMARK(ray_onto_a_sheet);

} // namespace
} // namespace bellmouth::mesh
