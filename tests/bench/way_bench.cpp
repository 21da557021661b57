// SPDX-License-Identifier: GPL-3.0-or-later
// The bars of finding ways, by class and by whether bends may be cut: on the published examples and on
// problems of the same make. Every answer is checked apart from the program.
//
//   BELLMOUTH_ROUTE_PROBLEMS  made problems of each class and mode (5)
//   BELLMOUTH_ROUTE_SECONDS   time for each problem (2); a problem without a way goes on to 5 s
//
// Counters: found_%, of all problems; first_ms, first95_ms: time to the first way, median and 95th of a
// hundred; near_ms: until a way was there that costs no more than 1 % over the best, median; not_above_%:
// problems whose cost is not above that of the known answer; worst: the greatest cost in known ones; faults:
// answers that break a rule; peak_MB: most memory so far.
#include "support/route_examples.hpp"

#include <bellmouth/way/find.hpp>

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

namespace bellmouth {
namespace {

using test::RouteExample;

double from_environment(const char* name, double otherwise) {
  const char* text = std::getenv(name);
  if (text == nullptr)
    return otherwise;
  char* end = nullptr;
  const double value = std::strtod(text, &end);
  if (end == text || *end != 0 || !(value > 0))
    throw std::runtime_error(std::string(name) + ": found " + text + "; accepted: a number above 0");
  return value;
}

/// Most memory that the process has had [MB] since the last call of forget_peak().
double peak_MB() {
  std::ifstream status("/proc/self/status");
  for (std::string word; status >> word;)
    if (word == "VmHWM:") {
      double kB = 0;
      status >> kB;
      return kB / 1024;
    }
  return std::numeric_limits<double>::quiet_NaN();
}
void forget_peak() {
  std::ofstream("/proc/self/clear_refs") << 5;
}

/// At `share` of the way through the values, which may be empty.
double at(std::vector<double> values, double share) {
  if (values.empty())
    return std::numeric_limits<double>::quiet_NaN();
  const auto nth = values.begin() + static_cast<std::ptrdiff_t>(
                                        std::ceil(share * static_cast<double>(values.size() - 1) - 1e-9));
  std::nth_element(values.begin(), nth, values.end());
  return *nth;
}

/// What solving many problems came to.
class Tally {
public:
  void solve(const RouteExample& example, double seconds, unsigned threads) {
    struct Better {
      double at_s, cost;
    };
    std::vector<Better> history;
    const auto begun = std::chrono::steady_clock::now();
    const auto now_s = [&] {
      return std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    };
    way::Effort effort;
    effort.seconds = std::max(seconds, longest_s);
    effort.threads = threads;
    const way::Found found = way::find(example.question, effort, [&](const way::Found& so_far) {
      const double t = now_s();
      if (!so_far.answers.empty()) {
        const double cost = so_far.answers.front().figures.cost;
        if (history.empty() || cost < history.back().cost)
          history.push_back({t, cost});
      }
      return history.empty() || t < seconds;
    });
    ++problems_;
    if (found.answers.empty())
      return;
    ++found_;
    first_ms_.push_back(1e3 * found.first_s.value());
    const double best = found.answers.front().figures.cost;
    near_ms_.push_back(1e3 * seconds);
    for (auto better = history.rbegin(); better != history.rend() && better->cost <= 1.01 * best; ++better)
      near_ms_.back() = 1e3 * better->at_s;
    const double ratio = best / example.known.at("cost").get<double>();
    not_above_ += ratio <= 1 + 1e-6 ? 1 : 0;
    worst_ = std::max(worst_, ratio);
    faults_ += static_cast<double>(faulty(example, found));
  }

  void report(benchmark::State& state) const {
    const auto all = static_cast<double>(problems_);
    state.counters["found_%"] = 100 * static_cast<double>(found_) / all;
    state.counters["first_ms"] = at(first_ms_, 0.5);
    state.counters["first95_ms"] = at(first_ms_, 0.95);
    state.counters["near_ms"] = at(near_ms_, 0.5);
    state.counters["not_above_%"] = 100 * static_cast<double>(not_above_) / all;
    state.counters["worst"] = worst_;
    state.counters["faults"] = faults_;
    state.counters["peak_MB"] = peak_MB();
  }

private:
  static constexpr double longest_s = 5;

  static std::size_t faulty(const RouteExample& example, const way::Found& found) {
    std::size_t faults = 0;
    for (const auto& json : test::answers_json(example, found))
      faults += test::check_route(example.problem, json).faults.empty() ? 0 : 1;
    return faults;
  }

  std::size_t problems_ = 0, found_ = 0, not_above_ = 0;
  std::vector<double> first_ms_, near_ms_;
  double worst_ = 0, faults_ = 0;
};

double seconds_a_problem() {
  return from_environment("BELLMOUTH_ROUTE_SECONDS", 2);
}
const char* const classes[] = {"open", "cluttered", "narrow"};

std::vector<RouteExample> of_class(std::vector<RouteExample> examples, const std::string& class_name,
                                   bool cut) {
  std::erase_if(examples, [&](const RouteExample& example) {
    return example.question.class_name != class_name || example.question.rules.bends_may_be_cut != cut;
  });
  return examples;
}

void solve_all(benchmark::State& state, const std::vector<RouteExample>& examples) {
  forget_peak();
  Tally tally;
  for (auto _ : state)
    for (const RouteExample& example : examples)
      tally.solve(example, seconds_a_problem(), 1);
  tally.report(state);
  state.SetLabel(std::string(classes[state.range(0)]) + (state.range(1) != 0 ? ", cut" : ", stock angles"));
}

/// Arguments: class (0 open, 1 cluttered, 2 narrow), whether bends may be cut.
void published_routes(benchmark::State& state) {
  solve_all(state, of_class(test::route_examples(), classes[state.range(0)], state.range(1) != 0));
}
void made_routes(benchmark::State& state) {
  std::vector<RouteExample> made;
  const auto count = static_cast<std::uint64_t>(from_environment("BELLMOUTH_ROUTE_PROBLEMS", 5));
  for (std::uint64_t i = 0; i < count; ++i)
    made.push_back(test::made_route(classes[state.range(0)], state.range(1) != 0, i));
  solve_all(state, made);
}
/// The published examples on two threads, half a second each: `processors` is the processor time over the
/// time that passed.
void published_routes_on_two_threads(benchmark::State& state) {
  const auto examples = test::route_examples();
  forget_peak();
  double processor_s = 0, passed_s = 0;
  for (auto _ : state)
    for (const RouteExample& example : examples) {
      way::Effort effort;
      effort.seconds = 0.5;
      effort.threads = 2;
      const std::clock_t cpu = std::clock();
      const auto begun = std::chrono::steady_clock::now();
      benchmark::DoNotOptimize(way::find(example.question, effort));
      passed_s += std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
      processor_s += static_cast<double>(std::clock() - cpu) / CLOCKS_PER_SEC;
    }
  state.counters["processors"] = processor_s / passed_s;
  state.counters["peak_MB"] = peak_MB();
}

void each_class_and_mode(benchmark::internal::Benchmark* benchmark) {
  benchmark->ArgNames({"class", "cut"})->Iterations(1)->Unit(benchmark::kSecond);
  for (const int number : {0, 1, 2})
    for (const int cut : {1, 0})
      benchmark->Args({number, cut});
}
BENCHMARK(published_routes)->Apply(each_class_and_mode);
BENCHMARK(made_routes)->Apply(each_class_and_mode);
BENCHMARK(published_routes_on_two_threads)->Iterations(1)->Unit(benchmark::kSecond)->MeasureProcessCPUTime();

} // namespace
} // namespace bellmouth
