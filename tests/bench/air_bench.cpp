// SPDX-License-Identifier: GPL-3.0-or-later
// What the march asks for again and again. Each round depends on the one before, as in the march: these are
// times until the answer is there.
#include <bellmouth/air/running_state.hpp>

#include <benchmark/benchmark.h>

namespace bellmouth::air {
namespace {

constexpr double gamma = 1.4;

/// A hair, as the state says it, so that the next round has to wait for this one.
double hair(const RunningState& state) {
  return 1e-6 * (state.mach_squared() + state.pressure_ratio());
}

/// From one mass-flow function to another that is 1 % higher, and back. Argument: Mach number in hundredths.
void moving_a_state(benchmark::State& rounds) {
  const double phi = mass_flow_function(static_cast<double>(rounds.range(0)) / 100, gamma);
  RunningState state(gamma);
  bool passes = state.set(phi);
  double change = 1.01;
  for (auto _ : rounds) {
    passes &= state.move(phi * change + hair(state));
    change = 2.01 - change;
    benchmark::DoNotOptimize(passes);
  }
}
BENCHMARK(moving_a_state)->Arg(20)->Arg(30)->Arg(40)->Arg(60)->Arg(80);

/// The same by the function that needs no known state.
void full_solution(benchmark::State& rounds) {
  const double phi = mass_flow_function(static_cast<double>(rounds.range(0)) / 100, gamma);
  const SubsonicStates states(gamma);
  double next = phi;
  for (auto _ : rounds) {
    const auto state = states.at(next);
    next = phi + 1e-6 * (state->mach + state->pressure_ratio);
    benchmark::DoNotOptimize(next);
  }
}
BENCHMARK(full_solution)->Arg(20)->Arg(60);

/// A duct of friction length 0.1, again and again from the same Mach number.
void short_duct(benchmark::State& rounds) {
  const double phi = mass_flow_function(static_cast<double>(rounds.range(0)) / 100, gamma);
  RunningState start(gamma);
  bool passes = start.set(phi);
  double friction_length = 0.1;
  for (auto _ : rounds) {
    RunningState state = start;
    passes &= state.duct(friction_length);
    friction_length = 0.1 + hair(state);
    benchmark::DoNotOptimize(passes);
  }
}
BENCHMARK(short_duct)->Arg(10)->Arg(20)->Arg(30)->Arg(50)->Arg(70);

/// The same by the functions that it stands for.
void duct_by_full_solution(benchmark::State& rounds) {
  const double mach = static_cast<double>(rounds.range(0)) / 100;
  double friction_length = 0.1;
  for (auto _ : rounds) {
    const auto outlet = fanno_outlet_mach(mach, friction_length, gamma);
    friction_length =
        0.1 + 1e-6 * (mass_flow_function(*outlet, gamma) + pressure_ratio(*outlet, gamma) + *outlet);
    benchmark::DoNotOptimize(friction_length);
  }
}
BENCHMARK(duct_by_full_solution)->Arg(20);

void preparing_a_gamma(benchmark::State& rounds) {
  double next = gamma;
  for (auto _ : rounds) {
    const RunningState state(next);
    next = gamma + 1e-6 * state.greatest();
    benchmark::DoNotOptimize(next);
    benchmark::DoNotOptimize(state);
  }
}
BENCHMARK(preparing_a_gamma);

void viscosity(benchmark::State& rounds) {
  const Mixture air(0.01);
  double temperature_K = 350;
  for (auto _ : rounds) {
    temperature_K = 350 + air.viscosity_Pa_s(temperature_K);
    benchmark::DoNotOptimize(temperature_K);
  }
}
BENCHMARK(viscosity);

void mixing_air(benchmark::State& rounds) {
  double humidity_ratio = 0.01;
  for (auto _ : rounds) {
    const Mixture air(humidity_ratio);
    humidity_ratio = 0.01 + 1e-9 * air.gas_constant_J_kgK();
    benchmark::DoNotOptimize(air);
  }
}
BENCHMARK(mixing_air);

} // namespace
} // namespace bellmouth::air
