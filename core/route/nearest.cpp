// SPDX-License-Identifier: GPL-3.0-or-later
#include "nearest.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::route {
namespace {

/// Price of a miss against distance.
constexpr double full_price = 1e8;
/// Where the search at the full price takes more steps than this, as it does where the conditions cannot be
/// kept, the price is raised by and by.
constexpr int few_steps = 8, most_steps = 40;
constexpr double first_price = 100, price_rise = 100;
/// Part of the promised gain that a step must bring.
constexpr double armijo = 1e-4;
constexpr double rounding = 1e-15;

double sum_of(std::span<const double> a, std::span<const double> b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i)
    sum += a[i] * b[i];
  return sum;
}

/// Solves M s = r in place by Cholesky's method; M is symmetric and positive, n x n.
void solve(std::vector<double>& m, std::span<double> r) {
  const std::size_t n = r.size();
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t k = 0; k < j; ++k)
      for (std::size_t i = j; i < n; ++i)
        m[i * n + j] -= m[i * n + k] * m[j * n + k];
    // Rounding can leave nothing of a row that depends on others.
    const double root = std::sqrt(std::max(m[j * n + j], 0.5 / full_price));
    m[j * n + j] = root;
    for (std::size_t i = j + 1; i < n; ++i)
      m[i * n + j] /= root;
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k)
      r[i] -= m[i * n + k] * r[k];
    r[i] /= m[i * n + i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k)
      r[i] -= m[k * n + i] * r[k];
    r[i] /= m[i * n + i];
  }
}

} // namespace

double Conditions::missed(std::size_t i, std::span<const double> x) const {
  const double short_by = b[i] - sum_of(row(i), x);
  return i < equations ? short_by : std::max(short_by, 0.0);
}

double Conditions::missed(std::span<const double> x) const {
  double squares = 0;
  for (std::size_t i = 0; i < size(); ++i) {
    const double each = missed(i, x);
    squares += each * each;
  }
  return std::sqrt(squares);
}

void Nearest::place(const Conditions& conditions, std::span<const double> centre, std::span<const double> low,
                    std::span<const double> high, const std::vector<double>& y) {
  std::ranges::copy(centre, pull_.begin());
  for (std::size_t i = 0; i < y.size(); ++i) {
    const auto row = conditions.row(i);
    for (std::size_t k = 0; k < row.size(); ++k)
      pull_[k] += y[i] * row[k];
  }
  for (std::size_t k = 0; k < pull_.size(); ++k) {
    x_[k] = std::clamp(pull_[k], low[k], high[k]);
    loose_[k] = pull_[k] > low[k] && pull_[k] < high[k] ? 1.0 : 0.0;
  }
}

double Nearest::dual(const Conditions& conditions, std::span<const double> centre,
                     const std::vector<double>& y) const {
  double value = sum_of(conditions.b, y) - sum_of(y, y) / (2 * price_);
  for (std::size_t k = 0; k < x_.size(); ++k) {
    const double moved = x_[k] - centre[k], force = pull_[k] - centre[k];
    value -= force * x_[k] - moved * moved / 2;
  }
  return value;
}

/// Newton's step on the rows that are not at rest on y = 0; false when there is nothing left to gain.
bool Nearest::step(const Conditions& conditions) {
  const std::size_t m = conditions.size();
  active_.clear();
  for (std::size_t i = 0; i < m; ++i) {
    slope_[i] = conditions.b[i] - sum_of(conditions.row(i), x_) - y_[i] / price_;
    if (i < conditions.equations || y_[i] > 0 || slope_[i] > 0)
      active_.push_back(i);
  }
  const std::size_t n = active_.size();
  matrix_.assign(n * n, 0.0);
  step_.resize(n);
  double steepest = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const auto a = conditions.row(active_[i]);
    step_[i] = slope_[active_[i]];
    steepest = std::max(steepest, std::abs(step_[i]));
    for (std::size_t j = 0; j <= i; ++j) {
      const auto b = conditions.row(active_[j]);
      double sum = i == j ? 1 / price_ : 0.0;
      for (std::size_t k = 0; k < a.size(); ++k)
        sum += loose_[k] * a[k] * b[k];
      matrix_[i * n + j] = sum;
    }
  }
  steepest_ = steepest;
  if (steepest < 1e-13)
    return false;
  solve(matrix_, step_);
  return true;
}

/// The slope of the dual along the step at the trial.
double Nearest::sloping(const Conditions& conditions) const {
  double slope = 0;
  for (std::size_t i = 0; i < active_.size(); ++i) {
    const std::size_t row = active_[i];
    slope += step_[i] * (conditions.b[row] - sum_of(conditions.row(row), x_) - trial_[row] / price_);
  }
  return slope;
}

/// Newton's method at one price; false when it has not come to its end.
bool Nearest::climb(const Conditions& conditions, std::span<const double> centre, std::span<const double> low,
                    std::span<const double> high, int steps) {
  place(conditions, centre, low, high, y_);
  double value = dual(conditions, centre, y_);
  for (; steps > 0; --steps) {
    if (!step(conditions))
      return true;
    bool taken = false;
    for (double stride = 1; stride > 1e-14 && !taken;) {
      trial_ = y_;
      double promised = 0;
      for (std::size_t i = 0; i < active_.size(); ++i) {
        double& y = trial_[active_[i]];
        y += stride * step_[i];
        if (active_[i] >= conditions.equations)
          y = std::max(y, 0.0);
        promised += slope_[active_[i]] * (y - y_[active_[i]]);
      }
      place(conditions, centre, low, high, trial_);
      const double reached = dual(conditions, centre, trial_);
      taken = reached + rounding * std::abs(value) > value + armijo * promised;
      if (taken) {
        value = reached;
        break;
      }
      // Where the slope along the step would come to nothing if it fell evenly.
      const double slope = sloping(conditions);
      stride *= slope < 0 ? std::clamp(promised / (promised - stride * slope), 0.02, 0.6) : 0.5;
    }
    if (!taken)
      break;
    y_.swap(trial_);
  }
  place(conditions, centre, low, high, y_);
  return steepest_ < 1e-10;
}

const std::vector<double>& Nearest::find(const Conditions& conditions, std::span<const double> centre,
                                         std::span<const double> low, std::span<const double> high) {
  const std::size_t m = conditions.size(), n = conditions.unknowns;
  if (y_.size() != m)
    y_.assign(m, 0.0);
  trial_.resize(m);
  slope_.resize(m);
  x_.resize(n);
  pull_.resize(n);
  loose_.resize(n);
  price_ = full_price;
  if (climb(conditions, centre, low, high, few_steps))
    return x_;
  y_.assign(m, 0.0);
  for (price_ = first_price; price_ < 2 * full_price; price_ *= price_rise)
    climb(conditions, centre, low, high, most_steps);
  return x_;
}

} // namespace bellmouth::route
