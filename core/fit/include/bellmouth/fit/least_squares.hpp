// SPDX-License-Identifier: GPL-3.0-or-later
// Robust nonlinear least squares on any residuals, and how far its answer can be trusted. Knows nothing of
// air.
#pragma once

#include <cstddef>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <vector>

namespace bellmouth::fit {

struct Matrix {
  std::size_t rows = 0, columns = 0;
  std::vector<double> values; ///< row by row

  Matrix() = default;
  Matrix(std::size_t of_rows, std::size_t of_columns)
      : rows(of_rows), columns(of_columns), values(of_rows * of_columns) {}
  [[nodiscard]] double& operator()(std::size_t row, std::size_t column) {
    return values[row * columns + column];
  }
  [[nodiscard]] double operator()(std::size_t row, std::size_t column) const {
    return values[row * columns + column];
  }
  friend bool operator==(const Matrix&, const Matrix&) = default;
};

/// Works out the residuals r at the parameters x, each over its own standard deviation. False where the model
/// has no answer.
using Residuals = std::function<bool(std::span<const double> at, std::span<double> residuals)>;

struct Parameter {
  double start = 0;
  double lowest = -std::numeric_limits<double>::infinity();
  double highest = std::numeric_limits<double>::infinity();
};

/// Huber's loss (Annals of Mathematical Statistics 35, 1964, p. 73): a residual counts r^2 / 2 up to the knee
/// and knee |r| - knee^2 / 2 beyond it, so that no single one can pull harder than the knee. At 1.345 the
/// answer is 95 % as efficient as plain least squares where all errors are normal (Huber & Ronchetti, Robust
/// Statistics, 2nd ed. 2009, section 4.5). At infinity it is plain least squares.
inline constexpr double usual_knee = 1.345;
/// knee / |r|, at most 1: what a residual counts by, against plain least squares.
[[nodiscard]] double weight(double residual, double knee);

struct SearchOptions {
  double knee = usual_knee;
  int most_iterations = 100;
  double step = 1e-4; ///< half width of the central differences that the slopes are taken from
  /// Hears of every iteration and its cost; false ends the search.
  std::function<bool(int iteration, double cost)> on_iteration = nullptr;
};

enum class SearchStop {
  not_run,
  converged,
  iteration_limit,
  blocked, ///< a better point lies where the model has no answer, or there is none at the start
  cancelled
};

struct Search {
  SearchStop stop = SearchStop::not_run;
  int iterations = 0;
  double initial_cost = 0, final_cost = 0; ///< sum of the losses
  std::vector<double> at;                  ///< the best point found
  std::vector<double> residuals;           ///< there
  Matrix slopes;                           ///< d residuals / d parameters there
};

/// The residuals and their slopes by central differences, one-sided where one side has no answer; nothing
/// where the model has none at the point itself or on either side of it.
struct Linear {
  std::vector<double> residuals;
  Matrix slopes;
};
[[nodiscard]] std::optional<Linear> linearise(const Residuals& residuals, std::size_t count,
                                              std::span<const double> at, double step);

/// Finds the parameters within their bounds that make the sum of losses of `count` residuals least
/// (Levenberg-Marquardt of the Ceres solver). Deterministic. Converged means that one more Gauss-Newton step
/// would gain less than 1e-6 of a unit of cost, with one standard deviation being half a unit.
[[nodiscard]] Search search(const Residuals& residuals, std::size_t count,
                            const std::vector<Parameter>& parameters, const SearchOptions& options = {});

/// How well residuals determine parameters.
struct Spread {
  std::size_t degrees_of_freedom = 0; ///< residuals less parameters
  /// Variance of a residual of standard deviation one, from the scatter of the residuals: of M-estimates
  /// [sum psi^2 / (m - n)] / [mean psi']^2, psi the slope of the loss (Huber & Ronchetti 2009, eq. 7.81
  /// without its small-sample factor). With plain least squares it is the usual residual variance. 1 where no
  /// degree of freedom is left: then the stated standard deviations are taken at their word.
  double variance = 1;
  double quantile = 0;                 ///< half width of a 95 % interval in standard errors (Student)
  std::vector<double> standard_errors; ///< infinite where the residuals say nothing of the parameter
  Matrix correlation;
  /// Sets of parameters that the residuals cannot tell apart: pairs correlated beyond
  /// `inseparable_correlation`, and near dependencies of several: condition index of the scaled slopes from
  /// 30 on, with more than half of the variance of each (Belsley, Kuh & Welsch, Regression Diagnostics, 1980,
  /// section 3.2).
  std::vector<std::vector<std::size_t>> inseparable;
};
inline constexpr double inseparable_correlation = 0.95;

/// From residuals and slopes at the answer, through the singular values of the slopes: the covariance is
/// variance x (J^T J)^-1. There must be at least one parameter.
[[nodiscard]] Spread spread(const std::vector<double>& residuals, const Matrix& slopes, double knee);

/// The value that Student's t exceeds in size 1 time in 20, from its integral in closed form (Abramowitz &
/// Stegun 1964, 26.7.3 to 26.7.5). 0 degrees of freedom stand for a known variance: 1.96.
[[nodiscard]] double student_quantile(std::size_t degrees_of_freedom);

} // namespace bellmouth::fit
