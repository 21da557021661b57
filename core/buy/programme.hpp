// SPDX-License-Identifier: GPL-3.0-or-later
// Linear and integer programmes, solved by GLPK.
#pragma once

#include <chrono>
#include <functional>
#include <span>
#include <vector>

struct glp_prob;

namespace bellmouth::buy {

using Clock = std::chrono::steady_clock;

/// GLPK keeps its state per thread and aborts on its own errors. This runs `work` on a thread of its own,
/// where GLPK is silent and an error only makes every programme there answer Outcome::failed from then on;
/// nothing of GLPK is left afterwards. What `work` throws is thrown here.
void with_solver(const std::function<void()>& work);

enum class Outcome {
  optimal,
  infeasible,
  stopped, ///< by the clock or the number of nodes; there may be a feasible solution
  failed,
};

struct Entry {
  int row = 0;
  double factor = 0;
};

/// Minimises cost over columns within bounds, with rows within bounds. Only inside with_solver(). Rows and
/// columns count from 0.
class Programme {
public:
  Programme();
  ~Programme();
  Programme(const Programme&) = delete;
  Programme& operator=(const Programme&) = delete;

  int add_row(double lower, double upper);
  int add_column(double cost, double lower, double upper, std::span<const Entry> entries);
  void set_column_bounds(int column, double lower, double upper);
  void set_row_bounds(int row, double lower, double upper);
  void set_cost(int column, double cost);
  [[nodiscard]] int columns() const;

  /// Without regard to whole numbers; starts from where it last was.
  [[nodiscard]] Outcome solve_relaxed(Clock::time_point until);
  [[nodiscard]] double objective() const;
  [[nodiscard]] double value(int column) const;
  [[nodiscard]] double dual(int row) const;
  [[nodiscard]] double reduced_cost(int column) const;

  struct Whole {
    Outcome outcome = Outcome::failed;
    std::vector<double> values; ///< of the columns; empty: no feasible solution found
  };
  /// How hard to look for whole numbers.
  struct Effort {
    Clock::time_point until;
    int most_nodes = 0;
    bool cuts = false; ///< cutting planes: dear for each node, worth it where sums must reach amounts
  };
  /// All columns whole numbers. Looks only for an objective of `at_most` or less.
  [[nodiscard]] Whole solve_whole(Effort effort, double at_most) const;

private:
  glp_prob* problem_ = nullptr;
};

} // namespace bellmouth::buy
