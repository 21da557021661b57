// SPDX-License-Identifier: GPL-3.0-or-later
// The nearest point of a box that keeps linear conditions.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace bellmouth::route {

/// Rows of A and the values b that A x shall have (the first `equations` rows) or reach (the others).
struct Conditions {
  std::size_t unknowns = 0, equations = 0;
  std::vector<double> a; ///< row by row
  std::vector<double> b;

  [[nodiscard]] std::size_t size() const { return b.size(); }
  [[nodiscard]] std::span<const double> row(std::size_t i) const {
    return std::span(a).subspan(i * unknowns, unknowns);
  }
  /// By how much a condition is missed: b - A x, nothing where a row need only be reached and is.
  [[nodiscard]] double missed(std::size_t i, std::span<const double> x) const;
  /// The root of the sum of squares of all misses.
  [[nodiscard]] double missed(std::span<const double> x) const;
};

/// Finds x within [low, high] that makes |x - centre|^2 + 1e8 |misses|^2 least: the nearest point that keeps
/// the conditions (to 1e-8 of the multipliers), or, where none does, the point that misses them least.
///
/// By the dual problem, which has one unknown a condition and is concave: x = clip(centre + A' y). Newton's
/// method on it, projected onto y >= 0 where a row need only be reached (D. P. Bertsekas, Projected Newton
/// methods, SIAM J. Control Optim. 20, 1982), is finite as the dual is piecewise quadratic.
class Nearest {
public:
  /// The point. The multipliers of the last call with as many conditions are where the search begins.
  [[nodiscard]] const std::vector<double>& find(const Conditions& conditions, std::span<const double> centre,
                                                std::span<const double> low, std::span<const double> high);

private:
  void place(const Conditions& conditions, std::span<const double> centre, std::span<const double> low,
             std::span<const double> high, const std::vector<double>& y);
  [[nodiscard]] double dual(const Conditions& conditions, std::span<const double> centre,
                            const std::vector<double>& y) const;
  bool step(const Conditions& conditions);
  [[nodiscard]] double sloping(const Conditions& conditions) const;
  bool climb(const Conditions& conditions, std::span<const double> centre, std::span<const double> low,
             std::span<const double> high, int steps);

  std::vector<double> y_, trial_, x_, pull_, slope_, step_, matrix_;
  double price_ = 0, steepest_ = 0;
  std::vector<double> loose_; ///< 1 for unknowns off their limits, else 0
  std::vector<std::size_t> active_;
};

} // namespace bellmouth::route
