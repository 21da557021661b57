// SPDX-License-Identifier: GPL-3.0-or-later
// The bar: joining an option of 40 pieces takes under 10 ms.
#include "core/join/damage.hpp"

#include <bellmouth/join.hpp>

#include <benchmark/benchmark.h>

#include <filesystem>
#include <stdexcept>

namespace bellmouth {
namespace {

/// A demonstration build whose runs are repeated until they have some 40 pieces in all, then spoilt.
build::Build spoilt(std::uint64_t seed) {
  const auto build = build::load_build(std::filesystem::path(BELLMOUTH_DEMO_DIR) / "2-family-estate.json");
  if (!build)
    throw std::runtime_error(build.error().text());
  build::Build longer = *build;
  std::size_t pieces = 0;
  for (const auto& run : longer.options.front().runs)
    pieces += run->pieces.size();
  for (auto& shared : longer.options.front().runs) {
    build::Run run = *shared;
    const std::vector<build::Piece> once = run.pieces;
    while (pieces < 40 && !once.empty()) {
      run.pieces.insert(run.pieces.end(), once.begin(), once.end());
      pieces += once.size();
    }
    shared = run;
  }
  return test::Damage(seed)(longer);
}

void joining_of_40_pieces(benchmark::State& state) {
  std::vector<build::Build> builds;
  for (std::uint64_t seed = 1; seed <= 16; ++seed)
    builds.push_back(spoilt(seed));
  std::size_t at = 0, steps = 0;
  for (auto _ : state) {
    const build::Build& build = builds[at++ % builds.size()];
    steps += join::join(build, build.options.front().id).steps.size();
  }
  state.counters["steps"] = static_cast<double>(steps) / static_cast<double>(at);
}
BENCHMARK(joining_of_40_pieces)->Unit(benchmark::kMillisecond);

} // namespace
} // namespace bellmouth
