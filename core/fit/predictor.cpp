// SPDX-License-Identifier: GPL-3.0-or-later
#include "predictor.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace bellmouth::fit {
namespace {

std::string trouble_of(const flow::OperatingPoint& point) {
  std::string words(flow::text(point.stop));
  if (!point.choke_where.empty())
    words +=
        fmt::format(" at {}; no more than {:.4g} kg/s passes", point.choke_where, point.max_mass_flow_kg_s);
  return words;
}

} // namespace

double present_factor(const build::Build& build, build::Coefficient coefficient) {
  const auto* measured = build.find(coefficient);
  return measured != nullptr ? measured->factor : 1.0;
}

Predictor::Predictor(const build::Build& build, const build::Option& option, const Log& log,
                     std::vector<build::Coefficient> coefficients, std::stop_token cancel)
    : build_(build), option_(option), log_(log), coefficients_(std::move(coefficients)),
      cancel_(std::move(cancel)), fits_(joint::fits(build, option)) {
  for (const Channel& channel : log.channels) {
    assert(channel.place.kind == Place::Kind::manifold || channel.place.step < build.path.size());
    const auto before = build.path.begin() + static_cast<std::ptrdiff_t>(channel.place.step);
    const bool in_run = channel.place.kind == Place::Kind::boss;
    const auto same_kind = [&](const build::PathStep& step) {
      return std::holds_alternative<build::RunId>(step.what()) == in_run;
    };
    taps_.push_back({channel.place.kind,
                     static_cast<std::size_t>(std::count_if(build.path.begin(), before, same_kind)),
                     channel.place.row, channel.dimension});
  }
  for (const LogRow& row : log.rows) {
    assert(row.readings.size() == log.channels.size());
    auto found = std::ranges::find(weathers_, row.ambient);
    if (found == weathers_.end())
      found = weathers_.insert(weathers_.end(), row.ambient);
    weather_of_row_.push_back(static_cast<std::size_t>(found - weathers_.begin()));
  }
}

std::vector<double> Predictor::start() const {
  std::vector<double> ln_factors;
  for (const auto coefficient : coefficients_)
    ln_factors.push_back(std::log(present_factor(build_, coefficient)));
  return ln_factors;
}

build::Build Predictor::with_factors(std::span<const double> ln_factors) const {
  build::Build build = build_;
  for (std::size_t i = 0; i < coefficients_.size(); ++i) {
    auto found = std::ranges::find(build.measured, coefficients_[i], &build::Measured::coefficient);
    if (found == build.measured.end())
      found = build.measured.insert(build.measured.end(), {coefficients_[i], 1, 0});
    found->factor = std::exp(ln_factors[i]);
  }
  return build;
}

std::vector<std::optional<flow::Path>> Predictor::paths(std::span<const double> ln_factors) const {
  std::vector<std::optional<flow::Path>> paths;
  build::Build build = with_factors(ln_factors);
  for (const auto& weather : weathers_) {
    build.ambient = weather ? build::Ambient(*weather) : build_.ambient;
    if (cancel_.stop_requested())
      paths.emplace_back();
    else
      paths.emplace_back(flow::Path(build, option_, fits_));
  }
  return paths;
}

double Predictor::read(const Tap& tap, const flow::PathFlow& flow) {
  if (tap.kind == Place::Kind::manifold) {
    if (tap.dimension == quantity::Dimension::mass_flow)
      return flow.point.mass_flow_kg_s;
    return tap.dimension == quantity::Dimension::pressure ? flow.point.manifold_pressure_Pa
                                                          : flow.point.manifold_temperature_K;
  }
  const air::Station& station = tap.kind == Place::Kind::boss
                                    ? flow.runs[tap.index].rows[tap.row].inlet.station
                                : tap.kind == Place::Kind::before_machine ? flow.machines[tap.index].inlet
                                                                          : flow.machines[tap.index].outlet;
  switch (tap.dimension) {
  case quantity::Dimension::mass_flow:
    return station.mass_flow_kg_s;
  case quantity::Dimension::pressure:
    return station.static_pressure_Pa;
  default:
    return station.total_temperature_K;
  }
}

Prediction Predictor::row(const flow::Path& path, std::size_t row) const {
  const auto flow = path.solve(log_.rows[row].engine_speed_rev_s);
  Prediction prediction{flow.point.stop, {}, {}};
  if (!flow.point.usable()) {
    prediction.trouble = trouble_of(flow.point);
    return prediction;
  }
  prediction.values.reserve(taps_.size());
  for (const Tap& tap : taps_)
    prediction.values.push_back(read(tap, flow));
  return prediction;
}

std::vector<Prediction> Predictor::rows(std::span<const double> ln_factors) const {
  const auto ready = paths(ln_factors);
  std::vector<Prediction> predictions(log_.rows.size());
  for (std::size_t i = 0; i < predictions.size() && !cancel_.stop_requested(); ++i)
    if (const auto& path = ready[weather_of_row_[i]])
      predictions[i] = row(*path, i);
  return predictions;
}

bool Predictor::residuals(const std::vector<std::size_t>& chosen, std::span<const double> ln_factors,
                          std::span<double> out) const {
  const auto ready = paths(ln_factors);
  auto at = out.begin();
  for (const std::size_t i : chosen) {
    if (cancel_.stop_requested())
      return false;
    const auto& path = ready[weather_of_row_[i]];
    if (!path)
      return false;
    const Prediction prediction = row(*path, i);
    if (prediction.values.empty())
      return false;
    for (std::size_t c = 0; c < taps_.size(); ++c)
      if (const auto& reading = log_.rows[i].readings[c])
        *at++ = (prediction.values[c] - *reading) / log_.channels[c].sigma.of(*reading);
  }
  assert(at == out.end());
  return true;
}

std::size_t Predictor::count(const std::vector<std::size_t>& chosen) const {
  std::size_t count = 0;
  for (const std::size_t i : chosen)
    count += static_cast<std::size_t>(std::ranges::count_if(
        log_.rows[i].readings, [](const auto& reading) { return reading.has_value(); }));
  return count;
}

} // namespace bellmouth::fit
