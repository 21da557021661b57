// SPDX-License-Identifier: GPL-3.0-or-later
// Property over builds drawn at random with a fixed start: each converges, and then engine and path agree, or
// the reason is one that a person understands. The full grid runs where BELLMOUTH_FULL_GRID is set
// (`tests/run
// --full`), a small part of it every day.
#include "bench_runs.hpp"
#include "random_builds.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <random>

namespace bellmouth::test {
namespace {

constexpr int daily_builds = 3000, all_builds = 120000;

std::vector<joint::RunFit> fits_of(const build::Build& b) {
  std::vector<joint::RunFit> fits;
  for (const auto& step : b.path)
    if (const auto* run = std::get_if<build::RunId>(&step))
      fits.push_back(joint::fit(b, *b.options.front().find(*run)));
  return fits;
}

/// Whether all that a result says is finite.
bool finite(const flow::PathFlow& flow) {
  double sum = flow.point.mass_flow_kg_s + flow.point.manifold_pressure_Pa +
               flow.point.manifold_temperature_K + flow.point.drive_power_W + flow.point.crank_power_W +
               flow.point.blower_pressure_ratio;
  for (const auto& run : flow.runs) {
    sum += run.drop_Pa + run.drop_low_Pa + run.drop_high_Pa + run.volume_m3 + run.peak_mach + run.heat_W;
    for (const auto& row : run.rows)
      sum += row.drop_Pa + row.drop_low_Pa + row.drop_high_Pa + row.loss_coefficient +
             row.inlet.station.static_pressure_Pa + row.outlet.station.velocity_m_s + row.outlet.reynolds;
  }
  for (const auto& m : flow.machines)
    sum += m.drop_Pa + m.drop_low_Pa + m.drop_high_Pa + m.shaft_power_W + m.adiabatic_efficiency +
           m.volumetric_efficiency + m.bypass_kg_s + m.heat_W + m.effectiveness + m.water_in_K +
           m.water_out_K + m.outlet.density_kg_m3 + m.outlet.static_pressure_Pa;
  for (const auto& at : flow.profile)
    sum += at.distance_m + at.static_pressure_Pa + at.velocity_m_s + at.mach;
  return std::isfinite(sum);
}

struct Tally {
  std::array<int, 9> stops{};
  double marches = 0;
  int most_marches = 0,
      long_ways = 0; ///< long: more than Newton's method alone needs, though a flow was found
};

void check(const RandomBuilds::Drawn& drawn, int number, Tally& tally) {
  const build::Build& b = drawn.build;
  const auto invalid = build::validate(b);
  ASSERT_FALSE(invalid.has_value()) << "build " << number << ": " << invalid->text();
  const flow::Path path(b, b.options.front(), fits_of(b));
  const auto result = path.solve(drawn.engine_speed_rev_s);
  const auto& point = result.point;
  ++tally.stops.at(static_cast<std::size_t>(point.stop));
  tally.marches += point.iterations;
  tally.most_marches = std::max(tally.most_marches, point.iterations);
  if (point.stop == flow::Stop::no_agreement)
    std::cout << "build " << number << ": no agreement\n";
  tally.long_ways += point.usable() && point.iterations > 150;
  EXPECT_TRUE(finite(result)) << "build " << number;
  EXPECT_NE(point.stop, flow::Stop::not_run) << "build " << number;
  if (point.usable()) {
    EXPECT_LT(point.residual, 1e-8) << "build " << number;
    EXPECT_GT(point.mass_flow_kg_s, 0) << "build " << number;
    if (const auto* engine = std::get_if<machine::Engine>(&b.demand)) {
      const auto* filling = b.find(build::Coefficient::engine_volumetric_efficiency);
      const auto ambient = ambient_air(b.ambient);
      const double taken = (filling != nullptr ? filling->factor : 1.0) *
                           engine->mass_flow_kg_s(drawn.engine_speed_rev_s,
                                                  ambient.air.density_kg_m3(point.manifold_pressure_Pa,
                                                                            point.manifold_temperature_K));
      EXPECT_TRUE(close(taken, point.mass_flow_kg_s, 2e-8)) << "build " << number;
    }
  } else if (point.stop == flow::Stop::chokes) {
    EXPECT_FALSE(point.choke_where.empty()) << "build " << number;
    EXPECT_GT(point.max_mass_flow_kg_s, 0) << "build " << number;
  }
}

TEST(AnyBuild, ConvergesOrSaysWhyNot) {
  const bool full = std::getenv("BELLMOUTH_FULL_GRID") != nullptr;
  const int builds = full ? all_builds : daily_builds;
  std::mt19937_64 random(20250214);
  RandomBuilds source(random);
  Tally tally;
  for (int i = 0; i < builds && !HasFatalFailure(); ++i)
    check(source.next(), i, tally);
  for (std::size_t stop = 0; stop < tally.stops.size(); ++stop)
    std::cout << tally.stops[stop] << " of " << builds << ": " << text(static_cast<flow::Stop>(stop)) << '\n';
  std::cout << "marches: " << tally.marches / builds << " in the mean, " << tally.most_marches
            << " at most; above 150, and a flow found, in " << tally.long_ways << '\n';
  // Known, 18 of 120 000: a geared compressor whose bypass valve stands far open ahead of a plate that is
  // nearly shut, where the air goes round many times; and a valve to the open air that is just about to open
  // on one of several blowers side by side, where the flow jumps to and fro.
  EXPECT_LE(tally.stops[static_cast<std::size_t>(flow::Stop::no_agreement)], builds / 5000);
  // Most builds that are drawn work: the property is not met by builds that all choke.
  const int usable = tally.stops[static_cast<std::size_t>(flow::Stop::converged)] +
                     tally.stops[static_cast<std::size_t>(flow::Stop::fixed_flow)];
  EXPECT_GT(usable, builds * 6 / 10);
}

} // namespace
} // namespace bellmouth::test
