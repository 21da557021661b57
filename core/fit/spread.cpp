// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/fit/least_squares.hpp>

#include <Eigen/Dense>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

namespace bellmouth::fit {
namespace {

using Eigen::Index;

/// Singular values below this share of the largest are rounding.
constexpr double rank_tolerance = 1e-8;
/// A parameter takes part in a direction when this much of it points there.
constexpr double takes_part = 1e-3;
constexpr double strong_condition_index = 30, strong_share = 0.5;

/// Sets that grow together.
class Sets {
public:
  explicit Sets(std::size_t count) : of_(count) { std::iota(of_.begin(), of_.end(), std::size_t{0}); }
  void join(std::size_t a, std::size_t b) {
    const std::size_t from = of_[b], to = of_[a];
    std::ranges::replace(of_, from, to);
  }
  [[nodiscard]] std::vector<std::vector<std::size_t>> several() const {
    std::vector<std::vector<std::size_t>> found;
    for (std::size_t set = 0; set < of_.size(); ++set) {
      std::vector<std::size_t> members;
      for (std::size_t i = 0; i < of_.size(); ++i)
        if (of_[i] == set)
          members.push_back(i);
      if (members.size() > 1)
        found.push_back(std::move(members));
    }
    return found;
  }

private:
  std::vector<std::size_t> of_;
};

double variance_of(const std::vector<double>& residuals, std::size_t degrees, double knee) {
  if (degrees == 0)
    return 1;
  double squares = 0, within = 0;
  for (const double r : residuals) {
    const double pull = r * weight(r, knee);
    squares += pull * pull;
    within += std::abs(r) <= knee ? 1 : 0;
  }
  const double slope = within / static_cast<double>(residuals.size());
  if (slope == 0)
    return std::numeric_limits<double>::infinity();
  return squares / static_cast<double>(degrees) / (slope * slope);
}

} // namespace

Spread spread(const std::vector<double>& residuals, const Matrix& slopes, double knee) {
  assert(slopes.columns > 0 && slopes.rows == residuals.size());
  const std::size_t count = slopes.columns;
  const auto n = static_cast<Index>(count);
  Spread out;
  out.degrees_of_freedom = slopes.rows > count ? slopes.rows - count : 0;
  out.variance = variance_of(residuals, out.degrees_of_freedom, knee);
  out.quantile = student_quantile(out.degrees_of_freedom);
  out.correlation = Matrix(count, count);

  // Columns scaled to unit length, so that the singular values speak of directions and not of units.
  using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  Eigen::MatrixXd scaled =
      Eigen::Map<const RowMajor>(slopes.values.data(), static_cast<Index>(slopes.rows), n);
  const Eigen::VectorXd lengths = scaled.colwise().norm();
  const double shortest = rank_tolerance * lengths.maxCoeff();
  for (Index j = 0; j < n; ++j)
    if (lengths(j) > 0)
      scaled.col(j) /= lengths(j);
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(scaled, Eigen::ComputeFullV);
  const Eigen::MatrixXd& v = svd.matrixV();
  Eigen::VectorXd s = Eigen::VectorXd::Zero(n); // fewer rows than columns leave directions without a value
  s.head(svd.singularValues().size()) = svd.singularValues();
  const double largest = s(0) > 0 ? s(0) : 1, least = rank_tolerance * largest;

  Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(n, n), shares(n, n);
  std::vector<bool> open(count, false);
  for (Index k = 0; k < n; ++k) {
    const double value = std::max(s(k), least);
    covariance += v.col(k) * v.col(k).transpose() / (value * value);
    for (Index j = 0; j < n; ++j) {
      shares(j, k) = v(j, k) * v(j, k) / (value * value);
      if (s(k) <= least && std::abs(v(j, k)) > takes_part)
        open[static_cast<std::size_t>(j)] = true;
    }
  }
  Sets sets(count);
  for (std::size_t j = 0; j < count; ++j) {
    const auto column = static_cast<Index>(j);
    const bool says_nothing = open[j] || lengths(column) <= shortest;
    out.standard_errors.push_back(says_nothing ? std::numeric_limits<double>::infinity()
                                               : std::sqrt(out.variance * covariance(column, column)) /
                                                     lengths(column));
    for (std::size_t i = 0; i < count; ++i) {
      const auto row = static_cast<Index>(i);
      out.correlation(i, j) =
          i == j ? 1 : covariance(row, column) / std::sqrt(covariance(row, row) * covariance(column, column));
      if (i < j && lengths(row) > shortest && lengths(column) > shortest &&
          std::abs(out.correlation(i, j)) >= inseparable_correlation)
        sets.join(i, j);
    }
  }
  for (Index k = 0; k < n; ++k) {
    if (largest < strong_condition_index * s(k))
      continue;
    std::optional<std::size_t> first;
    for (std::size_t j = 0; j < count; ++j) {
      const auto row = static_cast<Index>(j);
      if (lengths(row) <= shortest || shares(row, k) <= strong_share * shares.row(row).sum())
        continue;
      if (first)
        sets.join(*first, j);
      else
        first = j;
    }
  }
  out.inseparable = sets.several();
  return out;
}

} // namespace bellmouth::fit
