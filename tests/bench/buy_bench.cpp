// SPDX-License-Identifier: GPL-3.0-or-later
// The bar: a buying plan is proven in under 1 s for up to 40 pieces and 60 offers, in a few milliseconds for
// an ordinary option. Each question is planned once; the time is that of one plan.
#include "support/random_questions.hpp"

#include <bellmouth/buy/plan.hpp>

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <limits>
#include <vector>

namespace bellmouth {
namespace {

constexpr int questions = 30;

void planning(benchmark::State& state, test::Likes likes, buy::Aim aim) {
  std::uint64_t number = 0;
  std::vector<double> times_ms;
  double proven = 0;
  double furthest = 0; // from bound to plan, where it is not proven
  for (auto _ : state) {
    buy::Question question = test::random_question(++number, likes);
    question.aim = aim;
    const auto begun = std::chrono::steady_clock::now();
    const buy::Plan plan = buy::plan(question);
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - begun;
    state.SetIterationTime(taken.count());
    times_ms.push_back(taken.count() * 1e3);
    proven += plan.proven ? 1 : 0;
    if (aim == buy::Aim::money)
      furthest = std::max(furthest, 1 - plan.bound / std::max(1.0, static_cast<double>(plan.goods_minor +
                                                                                       plan.postage_minor)));
  }
  std::ranges::sort(times_ms);
  state.counters["median_ms"] = times_ms[times_ms.size() / 2];
  state.counters["worst_ms"] = times_ms.back();
  state.counters["proven_percent"] = 100 * proven / static_cast<double>(times_ms.size());
  state.counters["furthest_percent"] = 100 * furthest;
}

const test::Likes ordinary{.needs = 12, .offers = 20, .families = 4};
const test::Likes large{.needs = 40, .offers = 60, .families = 8};
const test::Likes large_without_postage{.needs = 40, .offers = 60, .families = 8, .postage = false};
/// All of one section: the hardest there can be.
const test::Likes one_section{.needs = 40, .offers = 60, .families = 1, .postage = false};

BENCHMARK_CAPTURE(planning, ordinary, ordinary, buy::Aim::money)->UseManualTime()->Iterations(questions);
BENCHMARK_CAPTURE(planning, large, large, buy::Aim::money)->UseManualTime()->Iterations(questions);
BENCHMARK_CAPTURE(planning, large_fewest_suppliers, large, buy::Aim::suppliers)
    ->UseManualTime()
    ->Iterations(questions);
BENCHMARK_CAPTURE(planning, large_fewest_offcuts, large, buy::Aim::offcuts)
    ->UseManualTime()
    ->Iterations(questions);
BENCHMARK_CAPTURE(planning, large_without_postage, large_without_postage, buy::Aim::money)
    ->UseManualTime()
    ->Iterations(questions);
BENCHMARK_CAPTURE(planning, one_section, one_section, buy::Aim::money)
    ->UseManualTime()
    ->Iterations(questions);

} // namespace
} // namespace bellmouth
