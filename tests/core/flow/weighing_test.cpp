// SPDX-License-Identifier: GPL-3.0-or-later
// What things cost the engine, and how far the results can be trusted: against builds made ideal by hand,
// against drawing at random, and the slopes that steer the solver against differences.
#include "../../../core/flow/compile.hpp"
#include "../../../core/flow/march.hpp"
#include "../../../core/flow/varied.hpp"
#include "short_paths.hpp"
#include "support/close.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <random>

namespace bellmouth::test {
namespace {

using namespace build;

/// A throttled, filtered engine with a blower, built so that each machine's drop can be taken away by hand.
Build plain_chain(double filter_Pa, double cooler_Pa) {
  machine::Filter filter;
  filter.rated = {{0.1, filter_Pa}};
  machine::ChargeCooler cooler{};
  cooler.rated = {{0.1, cooler_Pa}};
  cooler.effectiveness = 0.6;
  auto blower = plain_blower();
  blower.leak = machine::RatedLeak{100, 1.6, 0.8};
  return bolted({filter, blower, cooler});
}

// Identity: a cost is the difference to the same build without that drop.
TEST(Costs, AreThoseOfTheBuildWithoutIt) {
  const auto path = path_of(plain_chain(3000, 5000));
  const auto point = path.operating_point(70);
  ASSERT_TRUE(point.usable());
  const auto costs = path.costs(point);
  constexpr double nothing = 1e-9;
  const auto no_filter = path_of(plain_chain(nothing, 5000)).operating_point(70);
  const auto no_drop = path_of(plain_chain(3000, nothing)).operating_point(70);
  EXPECT_TRUE(close(costs.machines[0].air_kg_s, no_filter.mass_flow_kg_s - point.mass_flow_kg_s, 1e-6));
  EXPECT_TRUE(close(costs.machines[0].power_W, no_filter.crank_power_W - point.crank_power_W, 1e-6));
  EXPECT_TRUE(close(costs.machines[2].power_W, no_drop.crank_power_W - point.crank_power_W, 1e-6));
  EXPECT_TRUE(
      close(costs.machines[2].pressure_Pa, no_drop.manifold_pressure_Pa - point.manifold_pressure_Pa, 1e-6));
  EXPECT_EQ(costs.machines[1].power_W, 0); // the blower itself
}

// Identity: without loss there would be more air, and more power; the pieces of a run add up to it nearly,
// since each is a small part.
TEST(Costs, ArePositiveAndAddUp) {
  for (const auto& sample : {sample_build(), natural_build()}) {
    const auto path = path_of(sample);
    const auto point = path.operating_point(60);
    ASSERT_TRUE(point.usable());
    const auto costs = path.costs(point);
    double runs = 0;
    for (const auto& run : costs.runs) {
      EXPECT_GT(run.whole.power_W, 0);
      double rows = 0;
      for (const auto& row : run.rows) {
        EXPECT_GE(row.power_W, -1e-6);
        EXPECT_GE(row.air_kg_s, -1e-12);
        rows += row.power_W;
      }
      EXPECT_TRUE(close(rows, run.whole.power_W, 0.05)) << sample.title;
      runs += run.whole.power_W;
    }
    EXPECT_TRUE(close(runs, costs.ducting.power_W, 0.05)) << sample.title;
  }
}

/// A two-piece normal deviation in half widths of 1.96 standard deviations.
std::vector<double> drawn(std::mt19937_64& random, std::size_t count) {
  std::normal_distribution<double> normal(0, 1 / 1.959964);
  std::vector<double> deviations(count);
  for (double& deviation : deviations)
    deviation = normal(random);
  return deviations;
}

/// The ends of the middle 95 %.
std::pair<double, double> ends(std::vector<double> values) {
  std::ranges::sort(values);
  const auto at = [&](double share) {
    return values[static_cast<std::size_t>(share * (static_cast<double>(values.size()) - 1))];
  };
  return {at(0.025), at(0.975)};
}

// Other method: 4000 builds with every source of doubt drawn at random (Monte Carlo). Tolerance: the quantile
// of 4000 draws is known to 5 % of the half width (two standard errors), the rest is curvature.
TEST(Bands, AgreeWithDrawingAtRandom) {
  std::vector<std::pair<Build, double>> cases{{sample_build(), 60}, {compressor_build(), 70}};
  const auto demo = load_build(std::string(BELLMOUTH_DEMO_DIR) + "/1-hill-road-hatchback.json");
  ASSERT_TRUE(demo.has_value());
  cases.emplace_back(*demo, 80);
  for (const auto& [sample, at] : cases) {
    const auto path = path_of(sample);
    const auto point = path.operating_point(at);
    ASSERT_TRUE(point.usable()) << sample.title;
    const auto bands = path.bands(point);
    std::mt19937_64 random(4711);
    std::vector<double> pressure, power, run;
    for (int i = 0; i < 4000; ++i) {
      const auto result = path.deviated(point, drawn(random, path.doubts()));
      ASSERT_TRUE(result.point.usable());
      pressure.push_back(result.point.manifold_pressure_Pa);
      power.push_back(result.point.crank_power_W);
      run.push_back(result.run_drops_Pa.back());
    }
    const auto agrees = [&](const flow::Banded& band, std::vector<double> values, const char* what) {
      const auto [low, high] = ends(std::move(values));
      const double half = std::max(0.5 * (band.high - band.low), 1e-6 * std::abs(band.value));
      EXPECT_LT(std::abs(low - band.low), 0.12 * half) << sample.title << ", " << what << " low end";
      EXPECT_LT(std::abs(high - band.high), 0.12 * half) << sample.title << ", " << what << " high end";
      std::cout << sample.title << ", " << what << ": " << band.low << " to " << band.high << ", drawn "
                << low << " to " << high << '\n';
    };
    agrees(bands.manifold_pressure_Pa, pressure, "manifold pressure");
    agrees(bands.crank_power_W, power, "crank power");
    agrees(bands.run_drops_Pa.back(), run, "drop of the last run");
  }
}

// Identity: a measured coefficient brings its own band, in the report and in the results.
TEST(Bands, OfWhatWasMeasuredAreTheMeasurements) {
  Build b = sample_build();
  b.measured = {{Coefficient::duct_losses, 1.1, 0.03}};
  const auto result = solved(b, 60);
  for (const auto& run : result.runs) {
    EXPECT_TRUE(close(run.drop_high_Pa, 1.03 * run.drop_Pa, 1e-9));
    EXPECT_TRUE(close(run.drop_low_Pa, 0.97 * run.drop_Pa, 1e-9));
  }
  b.measured[0].band = 0; // known for certain
  const auto certain = solved(b, 60);
  EXPECT_TRUE(close(certain.runs[0].drop_high_Pa, certain.runs[0].drop_Pa, 1e-12));
}

/// Slopes of the march against central differences.
template <std::size_t N>
void compare_slopes(const Build& build, const std::vector<double>& at, double tolerance) {
  const auto& option = build.options.front();
  std::vector<joint::RunFit> fits;
  for (const auto& step : build.path)
    if (const auto* run = std::get_if<RunId>(&step))
      fits.push_back(joint::fit(build, *option.find(*run)));
  const auto path = flow::compile(build, option, fits);
  const auto variation = flow::as_it_is(*path);
  ASSERT_EQ(path->unknowns, at.size());
  flow::Unknowns unknowns{};
  std::ranges::copy(at, unknowns.begin());
  const auto middle = flow::march<N>(*path, variation, 60, unknowns, nullptr);
  ASSERT_EQ(middle.ended, flow::Ended::passed);
  for (std::size_t j = 0; j < at.size(); ++j) {
    constexpr double step = 1e-5;
    auto less = unknowns, more = unknowns;
    less[j] -= step;
    more[j] += step;
    const auto low = flow::march<N>(*path, variation, 60, less, nullptr);
    const auto high = flow::march<N>(*path, variation, 60, more, nullptr);
    const auto same = [&](const flow::Sloped<N>& value, double below, double above, const char* what) {
      EXPECT_TRUE(close(value.by[j], (above - below) / (2 * step), tolerance,
                        tolerance * 1e-2 * std::abs(value.value)))
          << build.title << ": " << what << " by unknown " << j;
    };
    same(middle.pressure, low.pressure.value, high.pressure.value, "pressure");
    same(middle.temperature, low.temperature.value, high.temperature.value, "temperature");
    same(middle.flow, low.flow.value, high.flow.value, "flow");
    for (std::size_t k = 0; k < middle.residual_count; ++k)
      same(middle.residuals[k], low.residuals[k].value, high.residuals[k].value, "residual");
  }
}

// Other method: central differences. With friction the slope of the friction factor is a rule of thumb, so
// that some per cent remain of its share; heat capacities that change with temperature leave some parts in a
// thousand.
TEST(Slopes, AreThoseOfTheMarch) {
  compare_slopes<2>(sample_build(), {std::log(0.09), std::log(1.4)}, 0.02);
  compare_slopes<2>(compressor_build(), {std::log(0.1), std::log(1.8)}, 0.02);
  compare_slopes<flow::most_unknowns>(sample_build(), {std::log(0.09), std::log(1.4)}, 0.02);
  // No friction, a single gas state: nothing is left but rounding.
  Build plain = bolted({machine::MeterBody{0.05, 0.1, 0.8}, machine::Throttle{0.05, 0.2, deg(40)}});
  plain.inlet = {OpenInlet::Kind::flush, 0};
  plain.plenum_exit_loss = 1;
  compare_slopes<2>(plain, {std::log(0.03), std::log(0.4)}, 1e-6);
  compare_slopes<2>(plain, {std::log(0.03), std::log(1.4)}, 1e-6); // the plate is sonic
}

TEST(Slopes, AreThoseOfTheMarchWithBranches) {
  Build b = bench_of_branches({{0.06, 1.2}, {0.045, 0.7}, {0.05, 0.3}}, 0.1);
  compare_slopes<flow::most_unknowns>(b, {-0.4, 0.2}, 0.08); // all is friction
  b.demand = sample_engine();
  b.inlet = {OpenInlet::Kind::bellmouth, 0.02};
  compare_slopes<flow::most_unknowns>(b, {std::log(0.08), -0.4, 0.2}, 0.08);
}

} // namespace
} // namespace bellmouth::test
