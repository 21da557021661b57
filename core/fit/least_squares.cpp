// SPDX-License-Identifier: GPL-3.0-or-later
// The search: our residuals and slopes, the Ceres solver's steps.
#include <bellmouth/fit/least_squares.hpp>

#include <Eigen/Dense>

#include <algorithm>
#include <cassert>
#include <ceres/ceres.h>
#include <cmath>
#include <glog/logging.h>
#include <memory>
#include <utility>

namespace bellmouth::fit {
namespace {

/// A Gauss-Newton step that promises less than this does not count.
constexpr double negligible_gain = 1e-6;

/// Works out all residuals at once, since they come from one model, and hands them out one by one, since each
/// has its own loss.
class Evaluator final : public ceres::EvaluationCallback {
public:
  Evaluator(const Residuals& residuals, std::size_t count, const std::vector<double>& at, double step)
      : residuals_(residuals), count_(count), at_(at), step_(step) {}

  void PrepareForEvaluation(bool with_slopes, bool new_point) override {
    if (new_point) {
      has_slopes_ = false;
      now_.residuals.resize(count_);
      answers_ = residuals_(at_, now_.residuals);
      failures_ += !answers_;
    }
    if (with_slopes && answers_ && !has_slopes_) {
      if (auto linear = linearise(residuals_, count_, at_, step_)) {
        now_ = *std::move(linear);
        has_slopes_ = true;
      } else {
        answers_ = false;
        ++failures_;
      }
    }
  }

  [[nodiscard]] bool answers() const { return answers_; }
  [[nodiscard]] const Linear& now() const { return now_; }
  [[nodiscard]] int failures() const { return failures_; }

private:
  const Residuals& residuals_;
  std::size_t count_;
  const std::vector<double>& at_;
  double step_;
  Linear now_;
  bool answers_ = false, has_slopes_ = false;
  int failures_ = 0;
};

class OneResidual final : public ceres::CostFunction {
public:
  OneResidual(const Evaluator& evaluator, std::size_t index, std::size_t parameters)
      : evaluator_(evaluator), index_(index) {
    set_num_residuals(1);
    mutable_parameter_block_sizes()->push_back(static_cast<int>(parameters));
  }

  bool Evaluate(double const* const*, double* residual, double** slopes) const override {
    if (!evaluator_.answers())
      return false;
    const Linear& now = evaluator_.now();
    *residual = now.residuals[index_];
    if (slopes != nullptr && slopes[0] != nullptr)
      for (std::size_t j = 0; j < now.slopes.columns; ++j)
        slopes[0][j] = now.slopes(index_, j);
    return true;
  }

private:
  const Evaluator& evaluator_;
  std::size_t index_;
};

class Listener final : public ceres::IterationCallback {
public:
  Listener(const std::function<bool(int, double)>& listener, int iterations_before)
      : listener_(listener), before_(iterations_before) {}
  ceres::CallbackReturnType operator()(const ceres::IterationSummary& summary) override {
    return !listener_ || listener_(before_ + summary.iteration, summary.cost) ? ceres::SOLVER_CONTINUE
                                                                              : ceres::SOLVER_ABORT;
  }

private:
  const std::function<bool(int, double)>& listener_;
  int before_;
};

/// The next Gauss-Newton step of the parameters that can still move, and what it would gain.
struct Promise {
  std::vector<double> step;
  std::vector<bool> at_bound; ///< and pressed against it
  double gain;
};
Promise promise(const Linear& now, const std::vector<double>& at, const std::vector<Parameter>& parameters,
                double knee) {
  const auto m = static_cast<Eigen::Index>(now.slopes.rows);
  const auto n = static_cast<Eigen::Index>(now.slopes.columns);
  Eigen::VectorXd pull(m);
  Eigen::MatrixXd slopes(m, n);
  for (Eigen::Index i = 0; i < m; ++i) {
    const double residual = now.residuals[static_cast<std::size_t>(i)], share = weight(residual, knee);
    pull(i) = std::sqrt(share) * residual;
    for (Eigen::Index j = 0; j < n; ++j)
      slopes(i, j) = std::sqrt(share) * now.slopes(static_cast<std::size_t>(i), static_cast<std::size_t>(j));
  }
  const Eigen::VectorXd gradient = slopes.transpose() * pull;
  std::vector<bool> at_bound(at.size(), false);
  for (Eigen::Index j = 0; j < n; ++j) {
    const auto& [start, lowest, highest] = parameters[static_cast<std::size_t>(j)];
    const double here = at[static_cast<std::size_t>(j)];
    if ((here <= lowest && gradient(j) > 0) || (here >= highest && gradient(j) < 0)) {
      slopes.col(j).setZero();
      at_bound[static_cast<std::size_t>(j)] = true;
    }
  }
  Eigen::JacobiSVD<Eigen::MatrixXd> svd(slopes, Eigen::ComputeThinU | Eigen::ComputeThinV);
  svd.setThreshold(1e-6);
  const Eigen::VectorXd step = -svd.solve(pull);
  return {{step.begin(), step.end()}, std::move(at_bound), 0.5 * (slopes * step).squaredNorm()};
}

/// The solver's library speaks on the standard error stream otherwise.
void keep_quiet() {
  FLAGS_minloglevel = google::GLOG_FATAL;
}

SearchStop stop_of(ceres::TerminationType type) {
  switch (type) {
  case ceres::CONVERGENCE:
  case ceres::USER_SUCCESS:
    return SearchStop::converged;
  case ceres::NO_CONVERGENCE:
    return SearchStop::iteration_limit;
  case ceres::USER_FAILURE:
    return SearchStop::cancelled;
  case ceres::FAILURE:
    break;
  }
  return SearchStop::blocked;
}

double cost(const std::vector<double>& residuals, double knee) {
  double sum = 0;
  for (const double r : residuals)
    sum += std::abs(r) <= knee ? 0.5 * r * r : knee * std::abs(r) - 0.5 * knee * knee;
  return sum;
}

/// One descent of the solver, from `at` on.
struct Descent {
  SearchStop stop;
  int iterations;
  double initial_cost;
  bool met_no_answer;
};
Descent descend(const Residuals& residuals, std::size_t count, const std::vector<Parameter>& parameters,
                const SearchOptions& options, int iterations_before, std::vector<double>& at) {
  Evaluator evaluator(residuals, count, at, options.step);
  ceres::Problem::Options terms;
  terms.evaluation_callback = &evaluator;
  ceres::Problem problem(terms);
  const bool robust = std::isfinite(options.knee);
  for (std::size_t i = 0; i < count; ++i)
    problem.AddResidualBlock(new OneResidual(evaluator, i, parameters.size()), // the problem owns both
                             robust ? new ceres::HuberLoss(options.knee) : nullptr, at.data());
  for (std::size_t j = 0; j < parameters.size(); ++j) {
    if (std::isfinite(parameters[j].lowest))
      problem.SetParameterLowerBound(at.data(), static_cast<int>(j), parameters[j].lowest);
    if (std::isfinite(parameters[j].highest))
      problem.SetParameterUpperBound(at.data(), static_cast<int>(j), parameters[j].highest);
  }

  Listener listener(options.on_iteration, iterations_before);
  ceres::Solver::Options how;
  how.linear_solver_type = ceres::DENSE_QR;
  how.logging_type = ceres::SILENT;
  how.max_num_iterations = options.most_iterations;
  how.function_tolerance = 1e-12;
  how.gradient_tolerance = 1e-10;
  how.parameter_tolerance = 1e-10;
  how.max_num_consecutive_invalid_steps = 30; // each shrinks the step
  how.callbacks.push_back(&listener);
  ceres::Solver::Summary summary;
  ceres::Solve(how, &problem, &summary);
  return {stop_of(summary.termination_type), std::max(0, static_cast<int>(summary.iterations.size()) - 1),
          summary.initial_cost, evaluator.failures() > 0};
}

} // namespace

double weight(double residual, double knee) {
  return std::abs(residual) <= knee ? 1.0 : knee / std::abs(residual);
}

std::optional<Linear> linearise(const Residuals& residuals, std::size_t count, std::span<const double> at,
                                double step) {
  Linear out{std::vector<double>(count), Matrix(count, at.size())};
  if (!residuals(at, out.residuals))
    return std::nullopt;
  std::vector<double> moved(at.begin(), at.end()), below(count), above(count);
  for (std::size_t j = 0; j < at.size(); ++j) {
    moved[j] = at[j] - step;
    const bool has_below = residuals(moved, below);
    moved[j] = at[j] + step;
    const bool has_above = residuals(moved, above);
    moved[j] = at[j];
    if (!has_below && !has_above)
      return std::nullopt;
    const auto& low = has_below ? below : out.residuals;
    const auto& high = has_above ? above : out.residuals;
    const double width = step * ((has_below ? 1 : 0) + (has_above ? 1 : 0));
    for (std::size_t i = 0; i < count; ++i)
      out.slopes(i, j) = (high[i] - low[i]) / width;
  }
  return out;
}

namespace {

/// Pins those parameters to their bounds that are pressed against them or that the step would take beyond
/// them. Whether any was.
bool pin(const Promise& promise, const std::vector<Parameter>& parameters, std::vector<double>& at,
         std::vector<bool>& pinned) {
  bool any = false;
  for (std::size_t j = 0; j < at.size(); ++j) {
    const double wanted = at[j] + promise.step[j];
    const double taken = std::clamp(wanted, parameters[j].lowest, parameters[j].highest);
    if (pinned[j] || (wanted == taken && !promise.at_bound[j]))
      continue;
    at[j] = taken;
    pinned[j] = any = true;
  }
  return any;
}

} // namespace

Search search(const Residuals& residuals, std::size_t count, const std::vector<Parameter>& parameters,
              const SearchOptions& options) {
  assert(!parameters.empty() && count > 0);
  keep_quiet();
  Search out;
  for (const Parameter& parameter : parameters)
    out.at.push_back(std::clamp(parameter.start, parameter.lowest, parameter.highest));

  // The solver cuts its steps at the bounds, and can come to rest beside one. Then what it runs into is
  // pinned there, and the rest is searched alone.
  std::vector<bool> pinned(parameters.size(), false);
  while (true) {
    std::vector<Parameter> free;
    std::vector<double> at;
    for (std::size_t j = 0; j < parameters.size(); ++j)
      if (!pinned[j]) {
        free.push_back(parameters[j]);
        at.push_back(out.at[j]);
      }
    const auto whole = [&](std::span<const double> here) {
      std::vector<double> point = out.at;
      auto next = here.begin();
      for (std::size_t j = 0; j < point.size(); ++j)
        if (!pinned[j])
          point[j] = *next++;
      return point;
    };
    bool met_no_answer = false;
    if (!free.empty()) {
      const auto done = descend(
          [&](std::span<const double> here, std::span<double> to) { return residuals(whole(here), to); },
          count, free, options, out.iterations, at);
      if (out.stop == SearchStop::not_run)
        out.initial_cost = done.initial_cost;
      out.stop = done.stop;
      out.iterations += done.iterations;
      met_no_answer = done.met_no_answer;
      out.at = whole(at);
    }
    auto now = linearise(residuals, count, out.at, options.step);
    if (!now) {
      if (out.stop != SearchStop::cancelled)
        out.stop = SearchStop::blocked;
      return out;
    }
    const Promise next = promise(*now, out.at, parameters, options.knee);
    out.residuals = std::move(now->residuals);
    out.slopes = std::move(now->slopes);
    out.final_cost = cost(out.residuals, options.knee);
    if (out.stop == SearchStop::cancelled || out.stop == SearchStop::iteration_limit)
      return out;
    if (next.gain < negligible_gain) {
      out.stop = SearchStop::converged;
      return out;
    }
    if (!pin(next, parameters, out.at, pinned)) {
      out.stop = met_no_answer ? SearchStop::blocked : SearchStop::iteration_limit;
      return out;
    }
  }
}

} // namespace bellmouth::fit
