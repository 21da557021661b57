// SPDX-License-Identifier: GPL-3.0-or-later
// Fitting a build to measurements: which factors on its own figures make the model say what a log says.
//
// Model: at every row of the log the operating point of the path is found at that engine speed and weather;
// each reading y gives a residual r = (prediction - y) / sigma. Unknowns: ln(factor) of each freed
// coefficient, so that factors stay positive and doubling counts as much as halving. Huber's loss keeps
// single bad readings from pulling (least_squares.hpp). Intervals: linear theory at the answer, 95 %,
// Student's t; the variance of the residuals comes from their own scatter, so that sigmas need only be right
// against each other. What a log of a wrong model says (a leak, a slipping belt) ends up in the factors: look
// at the residuals.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/fit/least_squares.hpp>
#include <bellmouth/fit/log.hpp>
#include <bellmouth/flow.hpp>

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::fit {

/// All coefficients, in the order of the document.
inline constexpr std::array<build::Coefficient, 7> all_coefficients{
    build::Coefficient::engine_volumetric_efficiency,
    build::Coefficient::blower_volumetric_efficiency,
    build::Coefficient::blower_adiabatic_efficiency,
    build::Coefficient::filter_drop,
    build::Coefficient::cooler_drop,
    build::Coefficient::cooler_effectiveness,
    build::Coefficient::duct_losses};
/// "filter drop".
[[nodiscard]] std::string_view name(build::Coefficient coefficient);
/// Those that the build has: no cooler, no cooler drop.
[[nodiscard]] std::vector<build::Coefficient> coefficients_of(const build::Build& build,
                                                              const build::OptionId& option);

/// Bounds of a factor and of a band, those of the document.
inline constexpr double least_factor = 0.05, greatest_factor = 20, widest_band = 5;
/// Coefficients with bands up to this count as told apart, however much their errors go together.
inline constexpr double close_band = 0.1;

struct Progress {
  int iteration = 0;
  double cost = 0; ///< sum of the losses, one standard deviation being half a unit
};

struct Options {
  /// The coefficients to fit. Empty: as many as the log can tell, chosen at the present factors by what the
  /// readings say of each beyond those already chosen; the rest is held and named in Fit::held.
  std::vector<build::Coefficient> free = {};
  double knee = usual_knee;  ///< of Huber's loss [sigma], above 0; infinity: plain least squares
  int most_iterations = 100; ///< at least 1
  /// Hears of every iteration, on the thread that fits; false ends the fit.
  std::function<bool(const Progress&)> on_progress = nullptr;
  std::stop_token cancel = {}; ///< looked at before every row
};

/// Why a fit ended.
enum class Stop {
  not_run,
  converged,
  iteration_limit,
  blocked,            ///< a better fit lies where a row has no operating point
  too_few_data,       ///< fewer readings than freed coefficients
  no_operating_point, ///< no row has one at the present factors
  nothing_to_fit,     ///< the readings say nothing of any coefficient
  cancelled
};
[[nodiscard]] std::string_view text(Stop stop);

enum class Bound { none, least, greatest };

/// A freed coefficient.
struct Fitted {
  build::Coefficient coefficient{};
  double start = 1;             ///< factor before
  double factor = 1;            ///< on the build's own figure
  double standard_error = 0;    ///< of ln(factor): relative; infinite where the log says nothing of it
  double low = 1, high = 1;     ///< 95 % interval
  double band = 0;              ///< high / factor - 1: what the build keeps
  Bound at_bound = Bound::none; ///< the factor would go further; its interval then means little
  /// Whether the log fixes it at all: its band is one that a build can keep.
  [[nodiscard]] bool determined() const { return band <= widest_band; }
};

/// A coefficient of the build that was left as it is because the log cannot tell it.
struct Held {
  build::Coefficient coefficient{};
  double factor = 1;
  /// The freed coefficient that does the same to these readings; unset: hardly any reading depends on it.
  std::optional<build::Coefficient> mistaken_for;
};

struct ChannelReport {
  std::size_t readings = 0;         ///< in rows with an operating point
  double sigma_rms = 0;             ///< what was taken for the standard deviation, root mean square [SI]
  double rms_before = 0, rms = 0;   ///< of prediction less reading [SI]
  double bias_before = 0, bias = 0; ///< its mean [SI]
  std::size_t outliers = 0;
};

/// One reading against the fitted model [SI], pressures absolute.
struct Reading {
  double measured = 0, predicted_before = 0, predicted = 0;
  double sigma = 0;
  double weight = 1; ///< what it counted by in the fit, 1 at most
  [[nodiscard]] double residual() const { return predicted - measured; }
  /// Further off than twice the knee of the loss.
  [[nodiscard]] bool outlier() const { return weight < 0.5; }
};

struct RowReport {
  std::size_t number = 0; ///< as in the log
  double engine_speed_rev_s = 0;
  double ambient_pressure_Pa = 0;        ///< of the row, or of the build
  flow::Stop stop = flow::Stop::not_run; ///< of the operating point at the fitted factors
  std::string trouble;                   ///< why there is none, in words; empty: there is one
  std::vector<std::optional<Reading>>
      readings; ///< one per channel; none where not measured or no operating point
};

struct Fit {
  Stop stop = Stop::not_run;
  int iterations = 0;
  double initial_cost = 0, final_cost = 0; ///< sum of the losses
  std::vector<Fitted> coefficients;
  std::vector<Held> held;
  Matrix correlation; ///< of the coefficients, in their order
  /// Sets that this log cannot tell apart: see Spread::inseparable; one of the set has a band beyond
  /// `close_band`.
  std::vector<std::vector<build::Coefficient>> inseparable;
  std::size_t readings = 0; ///< used
  std::size_t degrees_of_freedom = 0;
  double scatter = 1; ///< standard deviation of the residuals over the sigmas; intervals are scaled with it
  std::vector<Channel> channels; ///< those of the log
  std::vector<ChannelReport> channel_reports;
  std::vector<RowReport> rows;
  /// The build with the fitted factors marked as measured; unset where there is no answer, or where a freed
  /// coefficient is not determined.
  std::optional<build::Build> build;

  /// Whether the values may be used.
  [[nodiscard]] bool usable() const { return stop == Stop::converged; }
};

/// Fits an option of a build to a log that was read for it (an assertion). Pure: the arguments are only read,
/// and may be copies that a worker thread owns. Errors: a coefficient that the build does not have or that is
/// named twice, a knee, limit or sigma out of range. A fit without an answer is no error: see Fit::stop.
[[nodiscard]] Result<Fit> fit(const build::Build& build, const build::OptionId& option, const Log& log,
                              const Options& options = {});

/// What the model predicts for the channels of a log at the build's present factors, row by row; nothing
/// where a row has no operating point. For overlays, and for making logs.
[[nodiscard]] std::vector<std::optional<std::vector<double>>>
predict(const build::Build& build, const build::OptionId& option, const Log& log);

/// What has to be said of a fit in plain sentences: what cannot be told apart, what was held, bounds, rows
/// without an operating point, outliers, readings that scatter more than was assumed.
[[nodiscard]] std::vector<std::string> remarks(const Fit& fit);

} // namespace bellmouth::fit
