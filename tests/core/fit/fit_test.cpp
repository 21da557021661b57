// SPDX-License-Identifier: GPL-3.0-or-later
// Fits of whole builds to simulated logs: what was put in comes out.
#include "simulated.hpp"
#include "support/close.hpp"

#include <cmath>
#include <iostream>
#include <limits>

namespace bellmouth::test {
namespace {

using build::Coefficient;

const std::vector<build::Measured> truth{{Coefficient::engine_volumetric_efficiency, 0.94, 0},
                                         {Coefficient::blower_volumetric_efficiency, 1.05, 0},
                                         {Coefficient::blower_adiabatic_efficiency, 0.9, 0},
                                         {Coefficient::filter_drop, 1.9, 0},
                                         {Coefficient::cooler_drop, 1.4, 0},
                                         {Coefficient::cooler_effectiveness, 0.85, 0},
                                         {Coefficient::duct_losses, 1.3, 0}};

// Identity: without noise the factors come back.
TEST(Fit, FindsWhatMadeTheLog) {
  const auto build = sample_build();
  const auto log = simulated(empty_log(build, telling_columns(), speeds_rpm(12)), build_with(truth), 1, 0);
  fit::Options options;
  options.free.assign(fit::all_coefficients.begin(), fit::all_coefficients.end());
  const auto found = fit_of(build, log, options);
  ASSERT_EQ(found.stop, fit::Stop::converged);
  for (const auto& wanted : truth)
    EXPECT_TRUE(close(fitted(found, wanted.coefficient).factor, wanted.factor, 1e-4))
        << fit::name(wanted.coefficient);
  EXPECT_LT(found.final_cost, 1e-6);
  EXPECT_GT(found.initial_cost, 1000);
  for (const auto& channel : found.channel_reports) {
    EXPECT_EQ(channel.readings, 12U);
    EXPECT_LT(channel.rms, 1e-3 * channel.sigma_rms);
    EXPECT_GT(channel.rms_before, 0.1 * channel.sigma_rms);
  }
}

// Identity: the truth lies in 95 % intervals 19 times in 20. Over 40 logs of 7 coefficients 266 of 280 are
// expected; those of one log go together, so that the share may be off by twice what independent ones would
// give.
TEST(Fit, StatesIntervalsThatHold) {
  const auto build = sample_build();
  const auto with_truth = build_with(truth);
  const auto blank = empty_log(build, telling_columns(), speeds_rpm(10));
  fit::Options options;
  options.free.assign(fit::all_coefficients.begin(), fit::all_coefficients.end());
  int held = 0, all = 0;
  for (unsigned start = 1; start <= 40; ++start) {
    const auto found = fit_of(build, simulated(blank, with_truth, start), options);
    ASSERT_EQ(found.stop, fit::Stop::converged) << start;
    for (const auto& wanted : truth) {
      const auto& one = fitted(found, wanted.coefficient);
      held += one.low <= wanted.factor && wanted.factor <= one.high;
      ++all;
    }
  }
  const double share = static_cast<double>(held) / all;
  RecordProperty("share_within", std::to_string(share));
  std::cout << held << " of " << all << " intervals hold the truth\n";
  EXPECT_GT(share, 0.90);
  EXPECT_LT(share, 0.99);
}

// Identity: intervals follow the scatter that is there and not the one that was assumed.
TEST(Fit, ScalesIntervalsWithTheScatter) {
  const auto build = sample_build();
  const auto blank = empty_log(build, telling_columns(), speeds_rpm(20));
  const auto found = fit_of(build, simulated(blank, build_with(truth), 3, 1));
  const auto wild = fit_of(build, simulated(blank, build_with(truth), 3, 4));
  const auto tame = fit_of(build, simulated(blank, build_with(truth), 3, 0.1));
  EXPECT_TRUE(close(found.scatter, 1, 0.15));
  EXPECT_GT(wild.scatter, 3);
  EXPECT_TRUE(close(tame.scatter, 0.1, 0.15));
  const auto band = [](const fit::Fit& fit) { return fitted(fit, Coefficient::cooler_effectiveness).band; };
  EXPECT_GT(band(wild), 2.5 * band(found));
  EXPECT_TRUE(close(band(tame), 0.1 * band(found), 0.2));
}

// Identity: readings that are far off move a robust fit no further than their bounded pull, and plain least
// squares much further.
TEST(Fit, IsNotMovedByOutliers) {
  const auto build = sample_build();
  const auto clean = simulated(
      empty_log(build, {"mass_flow_g_s", "manifold_pressure_kPa", "manifold_temperature_C"}, speeds_rpm(20)),
      build_with({truth[0], truth[1]}), 5);
  auto spoiled = clean;
  for (const std::size_t row : {4U, 11U, 17U})
    *spoiled.rows[row].readings[1] += 60e3;
  fit::Options options;
  options.free = {Coefficient::engine_volumetric_efficiency, Coefficient::blower_volumetric_efficiency};
  const auto factor = [](const fit::Fit& fit) {
    return fitted(fit, Coefficient::engine_volumetric_efficiency).factor;
  };
  const auto before = fit_of(build, clean, options);
  const auto after = fit_of(build, spoiled, options);
  ASSERT_TRUE(before.usable() && after.usable());
  EXPECT_LT(std::abs(factor(after) / factor(before) - 1), 0.01);
  EXPECT_EQ(after.channel_reports[1].outliers, 3U);
  for (const std::size_t row : {4U, 11U, 17U}) {
    EXPECT_TRUE(after.rows[row].readings[1]->outlier());
    EXPECT_LT(after.rows[row].readings[1]->weight, 0.02);
  }
  options.knee = std::numeric_limits<double>::infinity();
  EXPECT_GT(std::abs(factor(fit_of(build, spoiled, options)) / factor(before) - 1), 0.03);
}

TEST(Fit, NamesAPairThatTheLogCannotTellApart) {
  const auto build = sample_build();
  const auto log = simulated(empty_log(build, {"mass_flow_g_s", "blower_inlet_pressure_Pa"}, speeds_rpm(20)),
                             build_with(truth), 2);
  fit::Options options;
  options.free = {Coefficient::filter_drop, Coefficient::duct_losses};
  const auto found = fit_of(build, log, options);
  using Sets = std::vector<std::vector<Coefficient>>;
  EXPECT_EQ(found.inseparable, (Sets{{Coefficient::filter_drop, Coefficient::duct_losses}}));
  EXPECT_LT(found.correlation(0, 1), -0.95);
  const auto said = fit::remarks(found);
  ASSERT_FALSE(said.empty());
  EXPECT_EQ(said.front(),
            "The filter drop and the duct losses cannot be told apart by this log: only what they do "
            "together is measured.");
}

TEST(Fit, ChoosesWhatTheLogCanTell) {
  const auto build = sample_build();
  const auto columns = std::vector<std::string>{"blower_inlet_pressure_Pa", "cooler_inlet_temperature_C",
                                                "cooler_outlet_temperature_C"};
  const auto found =
      fit_of(build, simulated(empty_log(build, columns, speeds_rpm(20)), build_with(truth), 2));
  ASSERT_TRUE(found.usable());
  EXPECT_TRUE(found.inseparable.empty());
  EXPECT_EQ(found.coefficients.size() + found.held.size(), fit::all_coefficients.size());
  EXPECT_GE(found.held.size(), 2U);
  const auto effectiveness = fitted(found, Coefficient::cooler_effectiveness);
  EXPECT_LE(effectiveness.low, 0.85);
  EXPECT_GE(effectiveness.high, 0.85);
  for (const auto& held : found.held)
    EXPECT_EQ(held.factor, 1);
}

TEST(Fit, SaysWhenThereIsTooLittle) {
  const auto build = sample_build();
  fit::Options options;
  options.free = {Coefficient::filter_drop, Coefficient::duct_losses};
  const auto one = simulated(empty_log(build, {"manifold_pressure_kPa"}, {3000}), build, 1);
  const auto few = fit_of(build, one, options);
  EXPECT_EQ(few.stop, fit::Stop::too_few_data);
  EXPECT_FALSE(few.build.has_value());
  // No reading at all.
  const auto none = fit_of(build, empty_log(build, {"manifold_pressure_kPa"}, {3000, 4000}));
  EXPECT_EQ(none.stop, fit::Stop::nothing_to_fit);
  EXPECT_EQ(none.held.size(), 7U);
}

// A coefficient that no reading depends on is not kept as measured.
TEST(Fit, KeepsNothingThatIsNotDetermined) {
  const auto build = sample_build();
  fit::Options options;
  options.free = {Coefficient::engine_volumetric_efficiency, Coefficient::cooler_effectiveness};
  const auto log = simulated(empty_log(build, {"pressure_kPa behind filter"}, speeds_rpm(6)), build, 1);
  const auto found = fit_of(build, log, options);
  EXPECT_FALSE(fitted(found, Coefficient::cooler_effectiveness).determined());
  EXPECT_FALSE(found.build.has_value());
}

/// The sample with a throttle through which little gets.
build::Build strangled(double bore_m) {
  build::Build build = sample_build();
  for (build::Machine& machine : build.machines)
    if (auto* throttle = std::get_if<machine::Throttle>(&machine.kind))
      throttle->bore_m = bore_m;
  return build;
}

TEST(Fit, SaysWhichRowsTheBuildDoesNotReach) {
  const auto build = strangled(2e-3);
  auto log = empty_log(build, {"manifold_pressure_kPa"}, speeds_rpm(4));
  for (auto& row : log.rows)
    row.readings[0] = 90e3;
  const auto found = fit_of(build, log);
  EXPECT_EQ(found.stop, fit::Stop::no_operating_point);
  EXPECT_FALSE(found.build.has_value());
  ASSERT_EQ(found.rows.size(), 4U);
  for (const auto& row : found.rows) {
    EXPECT_NE(row.stop, flow::Stop::converged);
    EXPECT_TRUE(row.trouble.starts_with(flow::text(row.stop))) << row.trouble;
    EXPECT_FALSE(row.readings[0].has_value());
  }
}

TEST(Fit, LeavesOutRowsWithoutAnOperatingPointAndSaysSo) {
  // A bore with which low speeds pass and high ones choke.
  std::optional<build::Build> build;
  fit::Log log;
  for (double bore_m = 0.034; bore_m > 0.01 && !build; bore_m -= 0.001) {
    const auto candidate = strangled(bore_m);
    log = empty_log(candidate, {"manifold_pressure_kPa", "mass_flow_g_s"}, speeds_rpm(10));
    const auto predicted = fit::predict(candidate, small_option, log);
    if (predicted[3] && !predicted[9])
      build = candidate;
  }
  ASSERT_TRUE(build.has_value());
  log = simulated(log, *build, 4);
  std::size_t without = 0;
  for (auto& row : log.rows)
    if (!row.readings[0]) {
      row.readings = {110e3, 0.2};
      ++without;
    }
  fit::Options options;
  options.free = {Coefficient::engine_volumetric_efficiency};
  const auto found = fit_of(*build, log, options);
  EXPECT_TRUE(found.usable());
  EXPECT_TRUE(close(found.coefficients[0].factor, 1, 0.05));
  EXPECT_EQ(found.readings, 2 * (10 - without));
  EXPECT_EQ(std::ranges::count_if(found.rows, [](const auto& row) { return !row.trouble.empty(); }), without);
  const auto said = fit::remarks(found);
  EXPECT_TRUE(std::ranges::any_of(
      said, [](const auto& text) { return text.find("without an operating point") != std::string::npos; }));
}

// Closed form: where nothing is lost the engine's air is its volumetric efficiency times a known flow, and
// the factor is a weighted mean: f = sum(a m / s^2) / sum(a^2 / s^2), its error 1 / sqrt(sum(a^2 / s^2)).
TEST(Fit, IsAWeightedMeanWhereTheModelIsLinear) {
  auto build = natural_build();
  build.path = {build::RunId{"snorkel"}};
  build.plenum_exit_loss = 0;
  for (auto& port : build.ports)
    port.bore_m = 0.9;
  build.options[0].runs = {
      build::Run{{"snorkel"},
                 {"open_end"},
                 {"meter_in"},
                 {{build::Tube{0.904, 0.002, 0.05, {}}, build::Material::aluminium, {}, ""}}}};
  const build::OptionId only{"only"};
  auto log = empty_log(build, {"mass_flow_kg_s"}, speeds_rpm(9), only);
  const auto flows = fit::predict(build, only, log);
  log = simulated(log, build, 7, 1, only);
  double am = 0, aa = 0;
  for (std::size_t i = 0; i < log.rows.size(); ++i) {
    const double reading = *log.rows[i].readings[0] * 1.1, sigma = log.channels[0].sigma.of(reading);
    log.rows[i].readings[0] = reading;
    const double a = (*flows[i])[0];
    am += a * reading / (sigma * sigma);
    aa += a * a / (sigma * sigma);
  }
  fit::Options options;
  options.free = {Coefficient::engine_volumetric_efficiency};
  options.knee = std::numeric_limits<double>::infinity();
  const auto found = fit_of(build, log, options, only);
  ASSERT_TRUE(found.usable());
  const auto& factor = found.coefficients[0];
  EXPECT_TRUE(close(factor.factor, am / aa, 1e-6));
  EXPECT_TRUE(close(factor.standard_error, found.scatter / std::sqrt(aa) / factor.factor, 1e-5));
  EXPECT_TRUE(
      close(factor.high, factor.factor * std::exp(fit::student_quantile(8) * factor.standard_error), 1e-12));
}

// Identity: the fitted build can be kept, holds what was found, and fits where it stands.
TEST(Fit, MarksTheBuild) {
  auto build = sample_build();
  build.measured = {{Coefficient::filter_drop, 1.2, 0.1}, {Coefficient::duct_losses, 1.3, 0.2}};
  const auto log = simulated(empty_log(build, telling_columns(), speeds_rpm(12)), build_with(truth), 9);
  fit::Options options;
  options.free = {Coefficient::filter_drop, Coefficient::cooler_effectiveness, Coefficient::cooler_drop,
                  Coefficient::engine_volumetric_efficiency, Coefficient::blower_volumetric_efficiency};
  const auto copy = build;
  const auto found = fit_of(build, log, options);
  EXPECT_EQ(build, copy);
  ASSERT_TRUE(found.build.has_value());
  EXPECT_EQ(fitted(found, Coefficient::filter_drop).start, 1.2);
  EXPECT_EQ(found.build->measured.size(), 6U);
  EXPECT_EQ(*found.build->find(Coefficient::duct_losses), build.measured[1]);
  for (const auto& one : found.coefficients) {
    EXPECT_EQ(found.build->find(one.coefficient)->factor, one.factor);
    EXPECT_EQ(found.build->find(one.coefficient)->band, one.band);
  }
  const auto kept = build::read_build(build::write_build(*found.build));
  ASSERT_TRUE(kept.has_value()) << kept.error().text();
  const auto again = fit_of(*kept, log, options);
  for (const auto& one : again.coefficients) {
    EXPECT_TRUE(close(one.factor, fitted(found, one.coefficient).factor, 1e-5));
    EXPECT_TRUE(close(one.start, fitted(found, one.coefficient).factor, 1e-9)); // as the file rounds it
  }
}

TEST(Fit, TellsOfItsProgressAndStopsWhenAskedTo) {
  const auto build = sample_build();
  const auto log = simulated(empty_log(build, telling_columns(), speeds_rpm(8)), build_with(truth), 1);
  std::vector<fit::Progress> heard;
  fit::Options options;
  options.on_progress = [&](const fit::Progress& progress) {
    heard.push_back(progress);
    return true;
  };
  ASSERT_TRUE(fit_of(build, log, options).usable());
  ASSERT_GE(heard.size(), 3U);
  EXPECT_LT(heard.back().cost, heard.front().cost);

  options.on_progress = [](const fit::Progress& progress) { return progress.iteration < 1; };
  const auto ended = fit_of(build, log, options);
  EXPECT_EQ(ended.stop, fit::Stop::cancelled);
  EXPECT_FALSE(ended.build.has_value());

  std::stop_source source;
  options.cancel = source.get_token();
  options.on_progress = [&](const fit::Progress&) {
    source.request_stop();
    return true;
  };
  EXPECT_EQ(fit_of(build, log, options).stop, fit::Stop::cancelled);
  EXPECT_EQ(fit_of(build, log, options).stop, fit::Stop::cancelled); // from the beginning
}

TEST(Fit, RefusesOptionsThatMakeNoSense) {
  const auto natural = natural_build();
  const build::OptionId only{"only"};
  auto log = empty_log(natural, {"manifold_pressure_kPa"}, {3000}, only);
  const auto complaint = [&](const fit::Options& options) {
    const auto found = fit::fit(natural, only, log, options);
    return found ? std::string() : found.error().text();
  };
  EXPECT_EQ(
      complaint({.free = {Coefficient::cooler_drop}}),
      "free: found cooler drop; accepted: what the build has: engine volumetric efficiency, duct losses");
  EXPECT_EQ(complaint({.free = {Coefficient::duct_losses, Coefficient::duct_losses}}),
            "free: found duct losses twice; accepted: each coefficient once");
  EXPECT_EQ(complaint({.free = {}, .knee = 0}), "knee: found 0; accepted: more than 0");
  EXPECT_EQ(complaint({.free = {}, .most_iterations = 0}), "most_iterations: found 0; accepted: at least 1");
  log.channels[0].sigma = {0, 0};
  EXPECT_EQ(complaint({}),
            "sigma of manifold_pressure_kPa: found 0 and 0 of the reading; accepted: no less than 0 "
            "each, one of them more");
}

TEST(Fit, SaysNothingOnTheErrorStream) {
  const auto build = strangled(0.03);
  auto log = empty_log(build, telling_columns(), speeds_rpm(8));
  for (auto& row : log.rows)
    for (std::size_t c = 0; c < log.channels.size(); ++c)
      row.readings[c] = log.channels[c].dimension == quantity::Dimension::pressure ? 300e3 : 0.9e3;
  ::testing::internal::CaptureStderr();
  const auto found = fit_of(build, log);
  EXPECT_EQ(::testing::internal::GetCapturedStderr(), "");
  EXPECT_NE(found.stop, fit::Stop::not_run);
}

} // namespace
} // namespace bellmouth::test
