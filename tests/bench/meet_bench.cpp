// SPDX-License-Identifier: GPL-3.0-or-later
// The bar: a run put out of place meets its port again in under 1 ms, the median on one core, and 99.9 % of
// all do. The median is taken from the times of single problems, each taken once.
#include "support/random_chains.hpp"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <vector>

namespace bellmouth {
namespace {

void meeting_of_random_runs(benchmark::State& state) {
  test::Disturber disturber(20260);
  const route::Wanted wanted{.keep_clear = false, .help = false};
  std::vector<double> times_us;
  double met = 0, iterations = 0;
  for (auto _ : state) {
    const test::Disturbed problem = disturber.next();
    const auto begun = std::chrono::steady_clock::now();
    const route::Met found = route::meet(problem.build, {"only"}, {"run"}, problem.freedoms, wanted);
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - begun;
    state.SetIterationTime(taken.count());
    times_us.push_back(taken.count() * 1e6);
    met += found.met();
    iterations += found.iterations;
  }
  const auto at = [&](double share) {
    const auto nth =
        times_us.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(times_us.size() - 1));
    std::nth_element(times_us.begin(), nth, times_us.end());
    return *nth;
  };
  const auto problems = static_cast<double>(times_us.size());
  state.counters["median_us"] = at(0.5);
  state.counters["p99_us"] = at(0.99);
  state.counters["met_percent"] = 100 * met / problems;
  state.counters["iterations"] = iterations / problems;
}
BENCHMARK(meeting_of_random_runs)->UseManualTime()->Iterations(20000)->Unit(benchmark::kMicrosecond);

} // namespace
} // namespace bellmouth
