// SPDX-License-Identifier: GPL-3.0-or-later
// The bars: one evaluation under 100 microseconds, an operating point under 20, a sweep of 100 speeds under 2
// ms.
#include "support/sample_builds.hpp"

#include <bellmouth/evaluate.hpp>

#include <benchmark/benchmark.h>

#include <algorithm>
#include <filesystem>
#include <stdexcept>

namespace bellmouth {
namespace {

build::Build first_demo() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(BELLMOUTH_DEMO_DIR))
    if (entry.path().extension() == ".json")
      files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  auto build = build::load_build(files.at(0));
  if (!build)
    throw std::runtime_error(build.error().text());
  return *build;
}

void evaluation_of_the_first_demo(benchmark::State& state) {
  const auto build = first_demo();
  std::size_t pieces = 0;
  for (const auto& run : build.options.front().runs)
    pieces += run->pieces.size();
  for (auto _ : state)
    benchmark::DoNotOptimize(evaluate(build, build.options.front().id));
  state.counters["pieces"] = static_cast<double>(pieces);
}
BENCHMARK(evaluation_of_the_first_demo)->Unit(benchmark::kMicrosecond);

void operating_point_of_the_first_demo(benchmark::State& state) {
  const auto build = first_demo();
  const auto& option = build.options.front();
  const flow::Path path(build, option, joint::fits(build, option));
  const double speed = std::get<machine::Engine>(build.demand).working_speed_rev_s;
  int marches = 0;
  for (auto _ : state) {
    const auto point = path.operating_point(speed);
    marches = point.iterations;
    benchmark::DoNotOptimize(point);
  }
  state.counters["marches"] = marches;
}
BENCHMARK(operating_point_of_the_first_demo)->Unit(benchmark::kMicrosecond);

void compiling_the_first_demo(benchmark::State& state) {
  const auto build = first_demo();
  const auto& option = build.options.front();
  const auto fits = joint::fits(build, option);
  for (auto _ : state)
    benchmark::DoNotOptimize(flow::Path(build, option, fits));
}
BENCHMARK(compiling_the_first_demo)->Unit(benchmark::kMicrosecond);

void joints_of_the_first_demo(benchmark::State& state) {
  const auto build = first_demo();
  for (auto _ : state)
    benchmark::DoNotOptimize(joint::fits(build, build.options.front()));
}
BENCHMARK(joints_of_the_first_demo)->Unit(benchmark::kMicrosecond);

void sweep_of_a_hundred_speeds(benchmark::State& state) {
  const auto build = first_demo();
  std::vector<double> speeds;
  for (int i = 0; i < 100; ++i)
    speeds.push_back(20 + 0.85 * i);
  for (auto _ : state)
    benchmark::DoNotOptimize(sweep(build, build.options.front().id, speeds));
}
BENCHMARK(sweep_of_a_hundred_speeds)->Unit(benchmark::kMillisecond);

void reading_the_first_demo(benchmark::State& state) {
  const auto text = build::write_build(first_demo());
  for (auto _ : state)
    benchmark::DoNotOptimize(build::read_build(text));
  state.counters["bytes"] = static_cast<double>(text.size());
}
BENCHMARK(reading_the_first_demo)->Unit(benchmark::kMicrosecond);

} // namespace
} // namespace bellmouth
