// SPDX-License-Identifier: GPL-3.0-or-later
// The model as the fit sees it: factors in, readings out.
#pragma once

#include <bellmouth/fit.hpp>

#include <span>

namespace bellmouth::fit {

/// What the model says of a row.
struct Prediction {
  flow::Stop stop = flow::Stop::not_run;
  std::string trouble;        ///< why there is no operating point
  std::vector<double> values; ///< one per channel [SI]; empty where there is no operating point
};

/// The factor that a build has for a coefficient.
[[nodiscard]] double present_factor(const build::Build& build, build::Coefficient coefficient);

class Predictor {
public:
  /// `build` and `log` must outlive it.
  Predictor(const build::Build& build, const build::Option& option, const Log& log,
            std::vector<build::Coefficient> coefficients, std::stop_token cancel);

  [[nodiscard]] const std::vector<build::Coefficient>& coefficients() const { return coefficients_; }
  /// ln(factor) of each coefficient as the build has it.
  [[nodiscard]] std::vector<double> start() const;
  /// The build with other factors.
  [[nodiscard]] build::Build with_factors(std::span<const double> ln_factors) const;

  /// The rows of the log, in order. Cancelled: the remaining ones are not run.
  [[nodiscard]] std::vector<Prediction> rows(std::span<const double> ln_factors) const;
  /// The residuals of the chosen rows, channel by channel, unmeasured ones left out. False as soon as one of
  /// them has no operating point, or when cancelled.
  [[nodiscard]] bool residuals(const std::vector<std::size_t>& chosen, std::span<const double> ln_factors,
                               std::span<double> out) const;
  /// How many residuals those rows have.
  [[nodiscard]] std::size_t count(const std::vector<std::size_t>& chosen) const;

private:
  /// A channel's place as an index into what the path reports.
  struct Tap {
    Place::Kind kind;
    std::size_t index; ///< of the run or machine in path order
    std::size_t row;
    quantity::Dimension dimension;
  };

  [[nodiscard]] std::vector<std::optional<flow::Path>> paths(std::span<const double> ln_factors) const;
  [[nodiscard]] Prediction row(const flow::Path& path, std::size_t row) const;
  [[nodiscard]] static double read(const Tap& tap, const flow::PathFlow& flow);

  const build::Build& build_;
  const build::Option& option_;
  const Log& log_;
  std::vector<build::Coefficient> coefficients_;
  std::stop_token cancel_;
  std::vector<joint::RunFit> fits_;
  std::vector<Tap> taps_;
  std::vector<std::optional<build::Weather>> weathers_; ///< that occur
  std::vector<std::size_t> weather_of_row_;
};

} // namespace bellmouth::fit
