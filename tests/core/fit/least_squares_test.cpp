// SPDX-License-Identifier: GPL-3.0-or-later
// The search and the spread of its answer, against certified values, closed forms and another method.
#include "support/close.hpp"
#include "support/root.hpp"

#include <bellmouth/fit/least_squares.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace bellmouth::test {
namespace {

constexpr double plain = std::numeric_limits<double>::infinity();
using Span = std::span<const double>;

// Published value: NIST Statistical Reference Datasets, nonlinear regression, "Misra1a" (Misra, D., NIST
// 1978, dental research in monomolecular adsorption), y = b1 (1 - exp(-b2 x)); certified values, their
// standard deviations, the residual sum of squares and both starting points.
TEST(LeastSquares, FindsTheCertifiedValuesOfMisra1a) {
  constexpr std::array<double, 14> x{77.6,  114.9, 141.1, 190.8, 239.9, 289.0, 332.8,
                                     378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};
  constexpr std::array<double, 14> y{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02,
                                     44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};
  // The unknowns are logarithms, as in a fit of factors.
  const fit::Residuals residuals = [&](Span ln_b, std::span<double> out) {
    for (std::size_t i = 0; i < x.size(); ++i)
      out[i] = std::exp(ln_b[0]) * -std::expm1(-std::exp(ln_b[1]) * x[i]) - y[i];
    return true;
  };
  for (const auto& [b1, b2] : {std::pair{500.0, 0.0001}, std::pair{250.0, 0.0005}}) {
    fit::SearchOptions options;
    options.knee = plain;
    const auto found = fit::search(residuals, x.size(), {{std::log(b1)}, {std::log(b2)}}, options);
    ASSERT_EQ(found.stop, fit::SearchStop::converged);
    EXPECT_TRUE(close(std::exp(found.at[0]), 2.3894212918E+02, 1e-6));
    EXPECT_TRUE(close(std::exp(found.at[1]), 5.5015643181E-04, 1e-6));
    EXPECT_TRUE(close(2 * found.final_cost, 1.2455138894E-01, 1e-8));
    const auto spread = fit::spread(found.residuals, found.slopes, plain);
    EXPECT_EQ(spread.degrees_of_freedom, 12U);
    EXPECT_TRUE(close(std::sqrt(spread.variance), 1.0187876330E-01, 1e-6));
    EXPECT_TRUE(close(spread.standard_errors[0] * std::exp(found.at[0]), 2.7070075241E+00, 1e-5));
    EXPECT_TRUE(close(spread.standard_errors[1] * std::exp(found.at[1]), 7.2668688436E-06, 1e-5));
  }
}

constexpr std::array<double, 6> abscissae{0, 1, 2, 3, 4, 5}, ordinates{1.1, 2.9, 5.2, 7.1, 8.7, 11.3};
const fit::Residuals line = [](Span at, std::span<double> out) {
  for (std::size_t i = 0; i < abscissae.size(); ++i)
    out[i] = at[0] + at[1] * abscissae[i] - ordinates[i];
  return true;
};

// Closed form: the regression line, its standard errors and the correlation of its coefficients.
TEST(LeastSquares, DrawsTheRegressionLine) {
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  const auto n = static_cast<double>(abscissae.size());
  for (std::size_t i = 0; i < abscissae.size(); ++i) {
    sx += abscissae[i];
    sy += ordinates[i];
    sxx += abscissae[i] * abscissae[i];
    sxy += abscissae[i] * ordinates[i];
  }
  const double determinant = n * sxx - sx * sx;
  const double slope = (n * sxy - sx * sy) / determinant, intercept = (sy - slope * sx) / n;
  double squares = 0;
  for (std::size_t i = 0; i < abscissae.size(); ++i)
    squares += std::pow(intercept + slope * abscissae[i] - ordinates[i], 2);
  const double variance = squares / (n - 2);

  fit::SearchOptions options;
  options.knee = plain;
  const auto found = fit::search(line, abscissae.size(), {{5}, {-3}}, options);
  ASSERT_EQ(found.stop, fit::SearchStop::converged);
  EXPECT_TRUE(close(found.at[0], intercept, 1e-9));
  EXPECT_TRUE(close(found.at[1], slope, 1e-9));
  const auto spread = fit::spread(found.residuals, found.slopes, plain);
  EXPECT_TRUE(close(spread.variance, variance, 1e-9));
  EXPECT_TRUE(close(spread.standard_errors[0], std::sqrt(variance * sxx / determinant), 1e-8));
  EXPECT_TRUE(close(spread.standard_errors[1], std::sqrt(variance * n / determinant), 1e-8));
  EXPECT_TRUE(close(spread.correlation(0, 1), -sx / std::sqrt(n * sxx), 1e-8));
  EXPECT_TRUE(spread.inseparable.empty());
}

// Other method: Huber's estimate of a location is where the clipped residuals balance, found by halving.
TEST(LeastSquares, BalancesTheClippedResiduals) {
  constexpr std::array<double, 8> data{-0.4, 0.1, 0.3, -0.2, 0.6, 0.0, 9.0, 14.0};
  constexpr double knee = 1.345;
  const auto balance = [&](double at) {
    double sum = 0;
    for (const double value : data)
      sum += std::clamp(at - value, -knee, knee);
    return sum;
  };
  const fit::Residuals residuals = [&](Span at, std::span<double> out) {
    for (std::size_t i = 0; i < data.size(); ++i)
      out[i] = at[0] - data[i];
    return true;
  };
  const auto found = fit::search(residuals, data.size(), {{3}});
  ASSERT_EQ(found.stop, fit::SearchStop::converged);
  EXPECT_TRUE(close(found.at[0], root(balance, -5, 15), 1e-5));
}

// Identity: at a bound the answer is the bound.
TEST(LeastSquares, StaysWithinItsBounds) {
  fit::SearchOptions options;
  options.knee = plain;
  const auto found = fit::search(line, abscissae.size(), {{0.5, 0, 0.8}, {0, -10, 1.5}}, options);
  EXPECT_EQ(found.stop, fit::SearchStop::converged);
  EXPECT_EQ(found.at[1], 1.5);
  EXPECT_EQ(found.at[0], 0.8);
}

// Closed form: two parameters that go together, the better point beyond the bound of one: the other is the
// mean of what is left, found although every step along both runs into the bound.
TEST(LeastSquares, FindsTheRestWhereAParameterIsAtItsBound) {
  const fit::Residuals residuals = [](Span at, std::span<double> out) {
    out[0] = 100 * (at[0] + at[1] - 1);
    out[1] = 0.1 * (at[0] + 5);
    out[2] = 0.1 * (at[1] - 6.5);
    return true;
  };
  fit::SearchOptions options;
  options.knee = plain;
  const auto found = fit::search(residuals, 3, {{0.5, -1, 2}, {0.5, -10, 10}}, options);
  EXPECT_EQ(found.stop, fit::SearchStop::converged);
  EXPECT_EQ(found.at[0], -1);
  EXPECT_TRUE(close(found.at[1], (1e4 * 2 + 0.01 * 6.5) / (1e4 + 0.01), 1e-5));
}

TEST(LeastSquares, SaysThatABetterPointHasNoAnswer) {
  const fit::Residuals residuals = [](Span at, std::span<double> out) {
    out[0] = at[0] - 2;
    out[1] = at[0] - 2.2;
    return at[0] < 1;
  };
  const auto found = fit::search(residuals, 2, {{0}});
  EXPECT_EQ(found.stop, fit::SearchStop::blocked);
  EXPECT_LT(found.at[0], 1);
  EXPECT_EQ(fit::search(residuals, 2, {{3}}).stop, fit::SearchStop::blocked);
}

TEST(LeastSquares, StopsWhenAskedTo) {
  fit::SearchOptions options;
  options.on_iteration = [](int iteration, double) { return iteration < 1; };
  EXPECT_EQ(fit::search(line, abscissae.size(), {{5}, {-3}}, options).stop, fit::SearchStop::cancelled);
  options.on_iteration = nullptr;
  options.most_iterations = 1;
  options.knee = 0.01;
  EXPECT_EQ(fit::search(line, abscissae.size(), {{50}, {-30}}, options).stop,
            fit::SearchStop::iteration_limit);
}

fit::Matrix columns(const std::vector<std::vector<double>>& columns) {
  fit::Matrix matrix(columns.front().size(), columns.size());
  for (std::size_t j = 0; j < columns.size(); ++j)
    for (std::size_t i = 0; i < matrix.rows; ++i)
      matrix(i, j) = columns[j][i];
  return matrix;
}

// Identity: what depends on one sum alone cannot be told apart; what nothing depends on is not known at all.
TEST(LeastSquares, NamesWhatCannotBeToldApart) {
  const std::vector<double> a{1, 2, 3, 4, 5, 6}, b{1, -1, 1, -1, 1, -1}, c{2, 0, 5, 1, 0, 3};
  std::vector<double> sum(6), like_a(6);
  for (std::size_t i = 0; i < 6; ++i) {
    sum[i] = a[i] + b[i];
    like_a[i] = 3 * a[i] + 0.1 * b[i];
  }
  const std::vector<double> residuals(6, 0.5);
  using Sets = std::vector<std::vector<std::size_t>>;
  EXPECT_EQ(fit::spread(residuals, columns({a, b, c}), plain).inseparable, Sets{});
  EXPECT_EQ(fit::spread(residuals, columns({a, c, like_a}), plain).inseparable, (Sets{{0, 2}}));
  const auto three = fit::spread(residuals, columns({a, c, b, sum}), plain);
  EXPECT_EQ(three.inseparable, (Sets{{0, 2, 3}}));
  EXPECT_FALSE(std::isfinite(three.standard_errors[0]));
  EXPECT_TRUE(std::isfinite(three.standard_errors[1]));
  const auto unseen = fit::spread(residuals, columns({a, std::vector<double>(6, 0.0)}), plain);
  EXPECT_EQ(unseen.inseparable, Sets{});
  EXPECT_TRUE(std::isfinite(unseen.standard_errors[0]));
  EXPECT_FALSE(std::isfinite(unseen.standard_errors[1]));
}

// Published value: Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, table 26.10 (A = 0.95), to
// its printed digits.
TEST(LeastSquares, KnowsStudentsT) {
  struct Printed {
    std::size_t degrees;
    double t;
  };
  for (const auto& [degrees, t] : {Printed{1, 12.706},
                                   {2, 4.303},
                                   {3, 3.182},
                                   {4, 2.776},
                                   {5, 2.571},
                                   {6, 2.447},
                                   {7, 2.365},
                                   {8, 2.306},
                                   {9, 2.262},
                                   {10, 2.228},
                                   {15, 2.131},
                                   {20, 2.086},
                                   {30, 2.042},
                                   {40, 2.021},
                                   {60, 2.000},
                                   {120, 1.980}})
    EXPECT_TRUE(close(fit::student_quantile(degrees), t, 0, 0.0005001)) << degrees;
  EXPECT_TRUE(close(fit::student_quantile(0), 1.960, 0, 0.0005)); // the table's last row, infinity
  // Identity: the closed form and the series meet.
  EXPECT_TRUE(close(fit::student_quantile(200), fit::student_quantile(201), 1e-4));
  EXPECT_LT(fit::student_quantile(201), fit::student_quantile(200));
}

} // namespace
} // namespace bellmouth::test
