// SPDX-License-Identifier: GPL-3.0-or-later
// Logs made by the model itself, with noise.
#pragma once

#include "support/sample_builds.hpp"

#include <bellmouth/fit.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

namespace bellmouth::test {

inline const build::OptionId small_option{"small"};

/// The sample build with factors that somebody has measured.
[[nodiscard]] inline build::Build build_with(const std::vector<build::Measured>& measured) {
  build::Build build = sample_build();
  build.measured = measured;
  return build;
}

/// A log without readings: those columns, those speeds.
[[nodiscard]] inline fit::Log empty_log(const build::Build& build, const std::vector<std::string>& columns,
                                        const std::vector<double>& speeds_rpm,
                                        const build::OptionId& option = small_option) {
  std::string text = "engine_speed_rpm", blanks;
  for (const auto& column : columns) {
    text.append(",").append(column);
    blanks.append(",");
  }
  for (const double speed : speeds_rpm)
    text.append("\n").append(std::to_string(speed)).append(blanks);
  const auto log = fit::read_log(text, build, option, "simulated.csv");
  EXPECT_TRUE(log.has_value()) << (log ? "" : log.error().text());
  return log.value_or(fit::Log{});
}

[[nodiscard]] inline std::vector<double> speeds_rpm(int count, double from = 1200, double to = 6000) {
  std::vector<double> speeds;
  for (int i = 0; i < count; ++i)
    speeds.push_back(from + (to - from) * i / std::max(1, count - 1));
  return speeds;
}

/// Fills a log with what `truth` would read, each off by a normal error of the channel's sigma times `noise`.
/// Rows without an operating point stay empty.
[[nodiscard]] inline fit::Log simulated(fit::Log log, const build::Build& truth, unsigned start,
                                        double noise = 1, const build::OptionId& option = small_option) {
  std::mt19937 random(start);
  std::normal_distribution<double> normal;
  const auto predicted = fit::predict(truth, option, log);
  for (std::size_t row = 0; row < log.rows.size(); ++row)
    for (std::size_t c = 0; c < log.channels.size() && predicted[row]; ++c) {
      const double value = (*predicted[row])[c];
      log.rows[row].readings[c] = value + noise * log.channels[c].sigma.of(value) * normal(random);
    }
  return log;
}

/// Columns that tell all seven coefficients of the sample build.
[[nodiscard]] inline std::vector<std::string> telling_columns() {
  return {"mass_flow_g_s",
          "pressure_kPa behind filter",
          "blower_inlet_pressure_kPa",
          "blower_outlet_pressure_kPa",
          "blower_outlet_temperature_C",
          "cooler_inlet_pressure_kPa",
          "cooler_outlet_pressure_kPa",
          "cooler_outlet_temperature_C",
          "pressure_kPa at manifold pressure",
          "manifold_pressure_kPa"};
}

[[nodiscard]] inline const fit::Fitted& fitted(const fit::Fit& fit, build::Coefficient coefficient) {
  const auto found = std::ranges::find(fit.coefficients, coefficient, &fit::Fitted::coefficient);
  EXPECT_NE(found, fit.coefficients.end()) << fit::name(coefficient);
  return *found;
}

[[nodiscard]] inline fit::Fit fit_of(const build::Build& build, const fit::Log& log,
                                     const fit::Options& options = {},
                                     const build::OptionId& option = small_option) {
  const auto found = fit::fit(build, option, log, options);
  EXPECT_TRUE(found.has_value()) << (found ? "" : found.error().text());
  return found.value_or(fit::Fit{});
}

} // namespace bellmouth::test
