// SPDX-License-Identifier: GPL-3.0-or-later
// The march and the operating point. Bars: an operating point of three runs and forty pieces under 20
// microseconds, a march over twenty pieces at least 15 times faster than python3-fluids with fixed density
// (see march_against_fluids.py, which reads `march_over_twenty_pieces`).
#include "core/flow/bench_runs.hpp"

#include <bellmouth/evaluate.hpp>

#include <benchmark/benchmark.h>

namespace bellmouth {
namespace {

using namespace build;
using test::deg;
using test::mm;

Piece tube(double od_mm, double length_mm) {
  return {Tube{mm(od_mm), mm(1.5), mm(length_mm), {}}, Material::aluminium, {}, ""};
}
Piece bend(double od_mm, double angle_deg, double clocking_deg) {
  return {
      TubeBend{mm(od_mm), mm(1.5), deg(angle_deg), mm(1.5 * od_mm), mm(30), mm(30), deg(clocking_deg), {}},
      Material::aluminium,
      {},
      ""};
}
Piece cone(double from_mm, double to_mm) {
  return {build::Cone{mm(from_mm), mm(to_mm), mm(1.5), mm(60), {}}, Material::aluminium, {}, ""};
}
Piece hose(double bore_mm) {
  return {Hose{mm(bore_mm), mm(4.5), mm(70), {mm(30), mm(30)}}, Material::silicone, {}, ""};
}

/// Hose, then bends, tubes and cones in turn, then hose.
std::vector<Piece> chain(std::size_t pieces, double od_mm) {
  std::vector<Piece> out{hose(od_mm)};
  for (int turn = 0; out.size() + 4 < pieces; ++turn) {
    out.push_back(bend(od_mm, 45 + 15 * (turn % 4), 90.0 * turn));
    out.push_back(tube(od_mm, 120 + 10 * turn));
    out.push_back(cone(od_mm, od_mm + 6));
    out.push_back(cone(od_mm + 6, od_mm));
  }
  while (out.size() + 1 < pieces)
    out.push_back(tube(od_mm, 80));
  out.push_back(hose(od_mm));
  return out;
}

/// Three runs of forty pieces between filter, blower, cooler and throttle.
Build forty_pieces() {
  Build b = test::sample_build();
  Option option = b.options.front();
  const std::array<std::size_t, 3> pieces{12, 13, 15};
  const std::array<double, 3> diameters_mm{70, 60, 63.5};
  for (std::size_t i = 0; i < option.runs.size(); ++i) {
    Run run = *option.runs[i];
    run.pieces = chain(pieces[i], diameters_mm[i]);
    option.runs[i] = std::move(run);
  }
  b.options = {std::move(option)};
  return b;
}

flow::Path path_of(const Build& build) {
  const Option& option = build.options.front();
  std::vector<joint::RunFit> fits;
  for (const auto& step : build.path)
    if (const auto* run = std::get_if<RunId>(&step))
      fits.push_back(joint::fit(build, *option.find(*run)));
  return flow::Path(build, option, fits);
}

void operating_point_of_forty_pieces(benchmark::State& state) {
  const Build build = forty_pieces();
  const flow::Path path = path_of(build);
  const double speed = std::get<machine::Engine>(build.demand).working_speed_rev_s;
  flow::OperatingPoint point;
  for (auto _ : state)
    benchmark::DoNotOptimize(point = path.operating_point(speed));
  state.counters["marches"] = point.iterations;
  state.counters["usable"] = point.usable();
}
BENCHMARK(operating_point_of_forty_pieces)->Unit(benchmark::kMicrosecond);

void march_over_twenty_pieces(benchmark::State& state) {
  std::vector<Piece> pieces;
  for (int turn = 0; turn < 5; ++turn) {
    pieces.push_back(tube(63, 150));
    pieces.push_back(bend(63, 90, 0));
    pieces.push_back(cone(63, 70));
    pieces.push_back(cone(70, 63));
  }
  const Build build = test::bench_of(std::move(pieces), 0.1, 0.06, 0.06);
  const flow::Path path = path_of(build);
  flow::OperatingPoint point;
  for (auto _ : state)
    benchmark::DoNotOptimize(point = path.operating_point(0));
  state.counters["usable"] = point.usable();
}
BENCHMARK(march_over_twenty_pieces)->Unit(benchmark::kMicrosecond);

void weighing_forty_pieces(benchmark::State& state) {
  const Build build = forty_pieces();
  const Evaluation evaluation = evaluate(build, build.options.front().id);
  for (auto _ : state)
    benchmark::DoNotOptimize(weigh(build, evaluation));
}
BENCHMARK(weighing_forty_pieces)->Unit(benchmark::kMicrosecond);

void sweep_of_forty_pieces(benchmark::State& state) {
  const Build build = forty_pieces();
  std::vector<double> speeds;
  for (int i = 0; i < 100; ++i)
    speeds.push_back(20 + 0.8 * i);
  for (auto _ : state)
    benchmark::DoNotOptimize(sweep(build, build.options.front().id, speeds));
}
BENCHMARK(sweep_of_forty_pieces)->Unit(benchmark::kMillisecond);

} // namespace
} // namespace bellmouth
