// SPDX-License-Identifier: GPL-3.0-or-later
#include "choice.hpp"
#include "predictor.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <utility>

namespace bellmouth::fit {
namespace {

/// Rows that get an operating point only at the fitted factors are taken in and fitted again, this often.
constexpr int most_rounds = 3;

std::optional<Error> fault_in(const Options& options, const Log& log,
                              const std::vector<build::Coefficient>& known) {
  const auto fault = [](std::string where, std::string found, std::string accepted) {
    return Error{{{}, 0, 0, std::move(where)}, std::move(found), std::move(accepted), {}};
  };
  std::vector<std::string_view> names;
  std::ranges::transform(known, std::back_inserter(names), name);
  for (auto at = options.free.begin(); at != options.free.end(); ++at) {
    if (std::ranges::find(known, *at) == known.end())
      return fault("free", std::string(name(*at)),
                   fmt::format("what the build has: {}", fmt::join(names, ", ")));
    if (std::find(options.free.begin(), at, *at) != at)
      return fault("free", fmt::format("{} twice", name(*at)), "each coefficient once");
  }
  if (!(options.knee > 0))
    return fault("knee", fmt::format("{}", options.knee), "more than 0");
  if (options.most_iterations < 1)
    return fault("most_iterations", fmt::format("{}", options.most_iterations), "at least 1");
  for (const Channel& channel : log.channels)
    if (const Sigma& sigma = channel.sigma; !(sigma.absolute >= 0 && sigma.relative >= 0) ||
                                            !std::isfinite(sigma.absolute + sigma.relative) ||
                                            sigma.absolute + sigma.relative == 0)
      return fault(fmt::format("sigma of {}", channel.column),
                   fmt::format("{} and {} of the reading", sigma.absolute, sigma.relative),
                   "no less than 0 each, one of them more");
  return std::nullopt;
}

Stop stop_of(SearchStop stop) {
  switch (stop) {
  case SearchStop::converged:
    return Stop::converged;
  case SearchStop::iteration_limit:
    return Stop::iteration_limit;
  case SearchStop::blocked:
    return Stop::blocked;
  case SearchStop::cancelled:
    return Stop::cancelled;
  case SearchStop::not_run:
    break;
  }
  return Stop::not_run;
}

class Fitter {
public:
  Fitter(const build::Build& build, const build::OptionId& option, const Log& log, const Options& options)
      : build_(build), id_(option), option_(*build.find(option)), log_(log), options_(options) {}

  Fit run() {
    out_.channels = log_.channels;
    const Predictor all(build_, option_, log_, coefficients_of(build_, id_), options_.cancel);
    before_ = all.rows(all.start());
    report_rows(before_, {});
    if (cancelled())
      return ended(Stop::cancelled);
    auto chosen = rows_with_answer(before_);
    if (chosen.empty())
      return ended(Stop::no_operating_point);
    if (!choose_free(all, chosen))
      return ended(cancelled() ? Stop::cancelled : out_.stop);

    const Predictor model(build_, option_, log_, free_, options_.cancel);
    std::vector<double> at = model.start();
    for (int round = 0; round < most_rounds; ++round) {
      out_.readings = model.count(chosen);
      if (out_.readings < free_.size())
        return ended(Stop::too_few_data);
      const Search found = search_from(model, chosen, at);
      if (cancelled() || found.stop == SearchStop::cancelled)
        return ended(Stop::cancelled);
      out_.stop = stop_of(found.stop);
      at = found.at;
      const auto after = model.rows(at);
      if (cancelled())
        return ended(Stop::cancelled);
      // Rows that the present factors do not reach may come into reach.
      auto reached = rows_with_answer(after);
      const bool settled = reached == chosen || found.slopes.values.empty() || round + 1 == most_rounds;
      if (settled) {
        if (found.slopes.values.empty())
          return ended(Stop::blocked);
        describe(model, found);
        report_rows(after, at);
        break;
      }
      chosen = std::move(reached);
    }
    return std::move(out_);
  }

private:
  bool cancelled() const { return options_.cancel.stop_requested(); }
  Fit ended(Stop stop) {
    out_.stop = stop;
    return std::move(out_);
  }

  static std::vector<std::size_t> rows_with_answer(const std::vector<Prediction>& predictions) {
    std::vector<std::size_t> rows;
    for (std::size_t i = 0; i < predictions.size(); ++i)
      if (!predictions[i].values.empty())
        rows.push_back(i);
    return rows;
  }

  /// Which coefficients are fitted; false when none can be.
  bool choose_free(const Predictor& all, const std::vector<std::size_t>& chosen) {
    free_ = options_.free;
    if (!free_.empty())
      return true;
    const auto residuals = [&](std::span<const double> at, std::span<double> out) {
      return all.residuals(chosen, at, out);
    };
    const auto linear = linearise(residuals, all.count(chosen), all.start(), SearchOptions{}.step);
    if (!linear) { // every row has an answer at the start, so one of the factors has room on neither side
      out_.stop = Stop::blocked;
      return false;
    }
    const Choice choice = choose(linear->slopes);
    for (const std::size_t i : choice.free)
      free_.push_back(all.coefficients()[i]);
    for (const auto& left : choice.left) {
      const auto coefficient = all.coefficients()[left.column];
      Held held{coefficient, present_factor(build_, coefficient), std::nullopt};
      if (left.mistaken_for)
        held.mistaken_for = all.coefficients()[*left.mistaken_for];
      out_.held.push_back(held);
    }
    out_.stop = Stop::nothing_to_fit;
    return !free_.empty();
  }

  Search search_from(const Predictor& model, const std::vector<std::size_t>& chosen,
                     const std::vector<double>& at) {
    std::vector<Parameter> parameters;
    parameters.reserve(at.size());
    for (const double ln_factor : at)
      parameters.push_back({ln_factor, std::log(least_factor), std::log(greatest_factor)});
    SearchOptions how;
    how.knee = options_.knee;
    how.most_iterations = options_.most_iterations;
    how.on_iteration = [this](int iteration, double cost) {
      return !cancelled() &&
             (!options_.on_progress || options_.on_progress({out_.iterations + iteration, cost}));
    };
    Search found = search([&](std::span<const double> here,
                              std::span<double> out) { return model.residuals(chosen, here, out); },
                          model.count(chosen), parameters, how);
    out_.iterations += found.iterations;
    out_.initial_cost = found.initial_cost;
    out_.final_cost = found.final_cost;
    return found;
  }

  void describe(const Predictor& model, const Search& found) {
    const Spread spread = fit::spread(found.residuals, found.slopes, options_.knee);
    out_.degrees_of_freedom = spread.degrees_of_freedom;
    out_.scatter = std::sqrt(spread.variance);
    out_.correlation = spread.correlation;
    for (std::size_t i = 0; i < free_.size(); ++i) {
      Fitted fitted;
      fitted.coefficient = free_[i];
      fitted.start = present_factor(build_, free_[i]);
      fitted.factor = std::clamp(std::exp(found.at[i]), least_factor, greatest_factor); // rounding of exp(ln)
      fitted.standard_error = spread.standard_errors[i];
      const double half_width = spread.quantile * spread.standard_errors[i];
      fitted.low = fitted.factor * std::exp(-half_width);
      fitted.high = fitted.factor * std::exp(half_width);
      fitted.band = std::expm1(half_width);
      constexpr double near = 1e-6;
      if (found.at[i] - std::log(least_factor) < near)
        fitted.at_bound = Bound::least;
      else if (std::log(greatest_factor) - found.at[i] < near)
        fitted.at_bound = Bound::greatest;
      out_.coefficients.push_back(fitted);
    }
    for (const auto& set : spread.inseparable)
      note_inseparable(set);
    if (out_.usable() && std::ranges::all_of(out_.coefficients, &Fitted::determined))
      out_.build = marked(model, found.at);
  }

  /// Coefficients that are known closely are told, however their errors go together.
  void note_inseparable(const std::vector<std::size_t>& set) {
    std::vector<build::Coefficient> coefficients;
    double widest = 0;
    for (const std::size_t i : set) {
      coefficients.push_back(free_[i]);
      widest = std::max(widest, out_.coefficients[i].band);
    }
    if (widest > close_band)
      out_.inseparable.push_back(std::move(coefficients));
  }

  build::Build marked(const Predictor& model, const std::vector<double>& at) const {
    build::Build build = model.with_factors(at);
    for (const Fitted& fitted : out_.coefficients) {
      auto& measured = *std::ranges::find(build.measured, fitted.coefficient, &build::Measured::coefficient);
      measured.factor = fitted.factor;
      measured.band = fitted.band;
    }
    return build;
  }

  /// The readings against what the model said before and says now.
  void report_rows(const std::vector<Prediction>& after, const std::vector<double>& at) {
    out_.rows.clear();
    out_.channel_reports.assign(log_.channels.size(), {});
    const double ambient_Pa = build::ambient_air(build_.ambient).pressure_Pa;
    for (std::size_t i = 0; i < log_.rows.size(); ++i) {
      const LogRow& row = log_.rows[i];
      RowReport& report = out_.rows.emplace_back();
      report.number = row.number;
      report.engine_speed_rev_s = row.engine_speed_rev_s;
      report.ambient_pressure_Pa = row.ambient ? row.ambient->pressure_Pa : ambient_Pa;
      report.stop = after[i].stop;
      report.trouble = after[i].trouble;
      report.readings.resize(log_.channels.size());
      if (after[i].values.empty())
        continue;
      for (std::size_t c = 0; c < log_.channels.size(); ++c) {
        if (!row.readings[c])
          continue;
        Reading reading;
        reading.measured = *row.readings[c];
        reading.predicted = after[i].values[c];
        reading.predicted_before = before_[i].values.empty() ? reading.predicted : before_[i].values[c];
        reading.sigma = log_.channels[c].sigma.of(reading.measured);
        if (!at.empty())
          reading.weight = weight(reading.residual() / reading.sigma, options_.knee);
        report.readings[c] = reading;
        add(reading, out_.channel_reports[c]);
      }
    }
    for (ChannelReport& channel : out_.channel_reports) {
      const double count = std::max(1.0, static_cast<double>(channel.readings));
      for (double* mean_square : {&channel.sigma_rms, &channel.rms_before, &channel.rms})
        *mean_square = std::sqrt(*mean_square / count);
      channel.bias_before /= count;
      channel.bias /= count;
    }
  }

  static void add(const Reading& reading, ChannelReport& channel) {
    const double before = reading.predicted_before - reading.measured;
    ++channel.readings;
    channel.sigma_rms += reading.sigma * reading.sigma;
    channel.rms_before += before * before;
    channel.rms += reading.residual() * reading.residual();
    channel.bias_before += before;
    channel.bias += reading.residual();
    channel.outliers += reading.outlier();
  }

  const build::Build& build_;
  const build::OptionId& id_;
  const build::Option& option_;
  const Log& log_;
  const Options& options_;
  std::vector<build::Coefficient> free_;
  std::vector<Prediction> before_;
  Fit out_;
};

} // namespace

std::vector<build::Coefficient> coefficients_of(const build::Build& build, const build::OptionId& option_id) {
  const build::Option* option = build.find(option_id);
  assert(option != nullptr);
  bool filter = false, blower = false, fills = false, cooler = false, duct = false;
  for (const auto& step : build.path) {
    if (const auto* run = std::get_if<build::RunId>(&step)) {
      duct = duct || !option->find(*run)->pieces.empty();
      continue;
    }
    const auto& kind = build.find(std::get<build::MachineId>(step))->kind;
    filter = filter || std::holds_alternative<machine::Filter>(kind);
    cooler = cooler || std::holds_alternative<machine::ChargeCooler>(kind);
    blower = blower || build::is_blower(kind);
    fills = fills || (build::is_blower(kind) && !std::holds_alternative<machine::TargetCompressor>(kind));
  }
  const bool engine = std::holds_alternative<machine::Engine>(build.demand);
  const std::array<bool, all_coefficients.size()> there{engine, fills, blower, filter, cooler, cooler, duct};
  std::vector<build::Coefficient> found;
  for (std::size_t i = 0; i < there.size(); ++i)
    if (there[i])
      found.push_back(all_coefficients[i]);
  return found;
}

Result<Fit> fit(const build::Build& build, const build::OptionId& option, const Log& log,
                const Options& options) {
  assert(build.find(option) != nullptr && std::holds_alternative<machine::Engine>(build.demand));
  if (auto fault = fault_in(options, log, coefficients_of(build, option)))
    return fail(*std::move(fault));
  return Fitter(build, option, log, options).run();
}

std::vector<std::optional<std::vector<double>>> predict(const build::Build& build,
                                                        const build::OptionId& option, const Log& log) {
  assert(build.find(option) != nullptr);
  std::vector<std::optional<std::vector<double>>> out;
  for (auto& row : Predictor(build, *build.find(option), log, {}, {}).rows({})) {
    auto& values = out.emplace_back();
    if (!row.values.empty())
      values = std::move(row.values);
  }
  return out;
}

} // namespace bellmouth::fit
