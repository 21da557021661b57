// SPDX-License-Identifier: GPL-3.0-or-later
#include "programme.hpp"

#include <algorithm>
#include <cmath>
#include <csetjmp>
#include <exception>
#include <glpk.h>
#include <limits>
#include <mutex>
#include <thread>

namespace bellmouth::buy {
namespace {

/// GLPK gave up on this thread: its problems are gone.
thread_local bool solver_failed = false;

int swallow(void* /*info*/, const char* /*text*/) {
  return 1;
}

void leave(void* info) {
  std::longjmp(*static_cast<std::jmp_buf*>(info), 1);
}

/// Calls GLPK. `call` must own nothing, as an error leaves it by a jump; after one nothing is called any
/// more.
template <class Call> bool guarded(const Call& call) {
  if (solver_failed)
    return false;
  std::jmp_buf here;
  if (setjmp(here) != 0) {
    solver_failed = true;
    glp_free_env();
    return false;
  }
  glp_error_hook(leave, &here);
  call();
  glp_error_hook(nullptr, nullptr);
  return true;
}

int bound_kind(double lower, double upper) {
  const bool below = lower > -std::numeric_limits<double>::infinity();
  const bool above = upper < std::numeric_limits<double>::infinity();
  if (below && above)
    return lower == upper ? GLP_FX : GLP_DB;
  if (below)
    return GLP_LO;
  return above ? GLP_UP : GLP_FR;
}

int milliseconds_until(Clock::time_point until) {
  if (until == Clock::time_point::max())
    return std::numeric_limits<int>::max();
  const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(until - Clock::now()).count();
  return static_cast<int>(std::clamp<long long>(left, 0, std::numeric_limits<int>::max() / 2));
}

struct Budget {
  int nodes = 0;
  Clock::time_point until;
};

void count_nodes(glp_tree* tree, void* info) {
  auto& budget = *static_cast<Budget*>(info);
  if (glp_ios_reason(tree) == GLP_IBRANCH)
    --budget.nodes;
  if (budget.nodes < 0 || Clock::now() >= budget.until)
    glp_ios_terminate(tree);
}

/// Cover cuts of GLPK 5.0 give up where presolving leaves no column. This adds three for nothing, of which it
/// cannot tell beforehand which to take: 4 <= 3 a + 5 b + 7 c <= 11.
void add_what_presolving_leaves(glp_prob* problem) {
  constexpr int count = 3;
  const int first = glp_add_cols(problem, count);
  const int row = glp_add_rows(problem, 1);
  glp_set_row_bnds(problem, row, GLP_DB, 4, 11);
  const int indices[] = {0, first, first + 1, first + 2};
  const double factors[] = {0, 3, 5, 7};
  glp_set_mat_row(problem, row, count, indices, factors);
  for (int i = 0; i < count; ++i)
    glp_set_col_kind(problem, first + i, GLP_BV);
}

/// Deletes a copy of a problem, unless an error has done it.
class Copy {
public:
  explicit Copy(glp_prob* of) {
    guarded([&] {
      problem = glp_create_prob();
      glp_copy_prob(problem, of, GLP_OFF);
    });
  }
  ~Copy() {
    guarded([&] { glp_delete_prob(problem); });
  }
  Copy(const Copy&) = delete;
  Copy& operator=(const Copy&) = delete;

  glp_prob* problem = nullptr;
};

} // namespace

void with_solver(const std::function<void()>& work) {
  static std::mutex one_at_a_time;
  std::exception_ptr thrown;
  std::thread thread([&] {
    std::unique_lock<std::mutex> lock(one_at_a_time, std::defer_lock);
    if (glp_config("TLS") == nullptr) // this GLPK has one state for all threads
      lock.lock();
    solver_failed = false;
    glp_term_hook(swallow, nullptr);
    glp_term_out(GLP_OFF);
    try {
      work();
    } catch (...) {
      thrown = std::current_exception();
    }
    glp_free_env();
  });
  thread.join();
  if (thrown)
    std::rethrow_exception(thrown);
}

Programme::Programme() {
  guarded([&] {
    problem_ = glp_create_prob();
    glp_set_obj_dir(problem_, GLP_MIN);
  });
}

Programme::~Programme() {
  guarded([&] { glp_delete_prob(problem_); });
}

int Programme::add_row(double lower, double upper) {
  int row = 0;
  guarded([&] {
    row = glp_add_rows(problem_, 1);
    glp_set_row_bnds(problem_, row, bound_kind(lower, upper), lower, upper);
  });
  return row - 1;
}

int Programme::add_column(double cost, double lower, double upper, std::span<const Entry> entries) {
  std::vector<int> rows{0};
  std::vector<double> factors{0};
  for (const Entry& entry : entries) {
    rows.push_back(entry.row + 1);
    factors.push_back(entry.factor);
  }
  int column = 0;
  guarded([&] {
    column = glp_add_cols(problem_, 1);
    glp_set_obj_coef(problem_, column, cost);
    glp_set_col_bnds(problem_, column, bound_kind(lower, upper), lower, upper);
    glp_set_mat_col(problem_, column, static_cast<int>(rows.size()) - 1, rows.data(), factors.data());
  });
  return column - 1;
}

void Programme::set_column_bounds(int column, double lower, double upper) {
  guarded([&] { glp_set_col_bnds(problem_, column + 1, bound_kind(lower, upper), lower, upper); });
}

void Programme::set_row_bounds(int row, double lower, double upper) {
  guarded([&] { glp_set_row_bnds(problem_, row + 1, bound_kind(lower, upper), lower, upper); });
}

void Programme::set_cost(int column, double cost) {
  guarded([&] { glp_set_obj_coef(problem_, column + 1, cost); });
}

int Programme::columns() const {
  int columns = 0;
  guarded([&] { columns = glp_get_num_cols(problem_); });
  return columns;
}

Outcome Programme::solve_relaxed(Clock::time_point until) {
  Outcome outcome = Outcome::failed;
  guarded([&] {
    glp_smcp settings;
    glp_init_smcp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    settings.tm_lim = milliseconds_until(until);
    int error = glp_simplex(problem_, &settings);
    if (error == GLP_EBADB || error == GLP_ESING || error == GLP_ECOND || error == GLP_EFAIL) {
      glp_std_basis(problem_); // the basis it started from has become useless
      error = glp_simplex(problem_, &settings);
    }
    const int status = glp_get_status(problem_);
    if (error == GLP_ETMLIM)
      outcome = Outcome::stopped;
    else if (error == 0 && status == GLP_OPT)
      outcome = Outcome::optimal;
    else if (error == 0 && (status == GLP_NOFEAS || status == GLP_INFEAS))
      outcome = Outcome::infeasible;
  });
  return outcome;
}

double Programme::objective() const {
  double objective = 0;
  guarded([&] { objective = glp_get_obj_val(problem_); });
  return objective;
}

double Programme::value(int column) const {
  double value = 0;
  guarded([&] { value = glp_get_col_prim(problem_, column + 1); });
  return value;
}

double Programme::dual(int row) const {
  double dual = 0;
  guarded([&] { dual = glp_get_row_dual(problem_, row + 1); });
  return dual;
}

double Programme::reduced_cost(int column) const {
  double cost = 0;
  guarded([&] { cost = glp_get_col_dual(problem_, column + 1); });
  return cost;
}

Programme::Whole Programme::solve_whole(Effort effort, double at_most) const {
  Whole whole;
  const Copy copy(problem_);
  std::vector<int> indices{0};
  std::vector<double> costs{0};
  const int count = columns();
  for (int column = 1; column <= count; ++column) {
    double cost = 0;
    guarded([&] {
      glp_set_col_kind(copy.problem, column, GLP_IV);
      cost = glp_get_obj_coef(copy.problem, column);
    });
    if (cost == 0)
      continue;
    indices.push_back(column);
    costs.push_back(cost);
  }
  std::vector<double> values(static_cast<std::size_t>(count));
  bool found = false;
  Budget budget{effort.most_nodes, effort.until};
  const bool called = guarded([&] {
    if (at_most < std::numeric_limits<double>::infinity()) {
      const int row = glp_add_rows(copy.problem, 1);
      glp_set_row_bnds(copy.problem, row, GLP_UP, 0, at_most);
      glp_set_mat_row(copy.problem, row, static_cast<int>(indices.size()) - 1, indices.data(), costs.data());
    }
    glp_iocp settings;
    glp_init_iocp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    settings.presolve = GLP_ON;
    settings.br_tech = GLP_BR_DTH;
    settings.bt_tech = GLP_BT_BLB;
    if (effort.cuts) {
      settings.gmi_cuts = settings.mir_cuts = settings.cov_cuts = GLP_ON;
      add_what_presolving_leaves(copy.problem);
    }
    settings.tm_lim = milliseconds_until(effort.until);
    settings.cb_func = count_nodes;
    settings.cb_info = &budget;
    const int error = glp_intopt(copy.problem, &settings);
    const int status = glp_mip_status(copy.problem);
    if (error == 0 && status == GLP_OPT)
      whole.outcome = Outcome::optimal;
    else if (error == GLP_ENOPFS || (error == 0 && status == GLP_NOFEAS) || error == GLP_ENODFS)
      whole.outcome = Outcome::infeasible;
    else if (error == GLP_ETMLIM || error == GLP_ESTOP)
      whole.outcome = Outcome::stopped;
    found = (error == 0 || error == GLP_ETMLIM || error == GLP_ESTOP) &&
            (status == GLP_OPT || status == GLP_FEAS);
    if (!found)
      return;
    for (int column = 1; column <= count; ++column)
      values[static_cast<std::size_t>(column - 1)] = std::round(glp_mip_col_val(copy.problem, column));
  });
  if (!called) {
    whole.outcome = Outcome::failed;
    return whole;
  }
  if (found)
    whole.values = std::move(values);
  return whole;
}

} // namespace bellmouth::buy
