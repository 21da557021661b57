// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_json.hpp"

#include <cmath>

namespace bellmouth::cli {

namespace {

std::string_view si_unit(quantity::Dimension dimension) {
  return quantity::units(dimension).front().symbol;
}

std::string_view word(fit::Bound bound) {
  switch (bound) {
  case fit::Bound::least:
    return "least";
  case fit::Bound::greatest:
    return "greatest";
  case fit::Bound::none:
    break;
  }
  return "none";
}

/// Infinity has no word in JSON.
Json finite(double value) {
  return std::isfinite(value) ? Json(value) : Json();
}

Json coefficients(const fit::Fit& fit) {
  Json list = Json::array();
  for (const auto& fitted : fit.coefficients)
    list.push_back({{"coefficient", coefficient_word(fitted.coefficient)},
                    {"factor_before", fitted.start},
                    {"factor", fitted.factor},
                    {"standard_error", finite(fitted.standard_error)},
                    {"low", fitted.low},
                    {"high", finite(fitted.high)},
                    {"band", finite(fitted.band)},
                    {"at_bound", word(fitted.at_bound)},
                    {"determined", fitted.determined()}});
  return list;
}

Json held(const fit::Fit& fit) {
  Json list = Json::array();
  for (const auto& one : fit.held)
    list.push_back({{"coefficient", coefficient_word(one.coefficient)},
                    {"factor", one.factor},
                    {"mistaken_for", one.mistaken_for ? Json(coefficient_word(*one.mistaken_for)) : Json()}});
  return list;
}

Json channels(const fit::Fit& fit) {
  Json list = Json::array();
  for (std::size_t c = 0; c < fit.channels.size(); ++c) {
    const auto& report = fit.channel_reports[c];
    list.push_back({{"column", fit.channels[c].column},
                    {"unit", si_unit(fit.channels[c].dimension)},
                    {"readings", report.readings},
                    {"outliers", report.outliers},
                    {"sigma", report.sigma_rms},
                    {"rms_before", report.rms_before},
                    {"rms", report.rms},
                    {"mean_before", report.bias_before},
                    {"mean", report.bias}});
  }
  return list;
}

Json row_json(const fit::Fit& fit, const fit::RowReport& row) {
  Json readings = Json::array();
  for (std::size_t c = 0; c < row.readings.size(); ++c)
    if (const auto& reading = row.readings[c])
      readings.push_back({{"column", fit.channels[c].column},
                          {"measured", reading->measured},
                          {"predicted_before", reading->predicted_before},
                          {"predicted", reading->predicted},
                          {"residual", reading->residual()},
                          {"sigma", reading->sigma},
                          {"weight", reading->weight},
                          {"outlier", reading->outlier()}});
  return {{"row", row.number},
          {"engine_speed_rpm", row.engine_speed_rev_s * 60},
          {"stop", flow::text(row.stop)},
          {"trouble", row.trouble.empty() ? Json() : Json(row.trouble)},
          {"readings", std::move(readings)}};
}

} // namespace

std::string_view coefficient_word(build::Coefficient coefficient) {
  switch (coefficient) {
  case build::Coefficient::engine_volumetric_efficiency:
    return "engine-filling";
  case build::Coefficient::blower_volumetric_efficiency:
    return "blower-filling";
  case build::Coefficient::blower_adiabatic_efficiency:
    return "blower-efficiency";
  case build::Coefficient::filter_drop:
    return "filter";
  case build::Coefficient::cooler_drop:
    return "cooler-drop";
  case build::Coefficient::cooler_effectiveness:
    return "cooler-effectiveness";
  case build::Coefficient::duct_losses:
    break;
  }
  return "ducts";
}

Json json_of(const build::OptionId& option, const fit::Fit& fit) {
  Json json;
  json["option"] = option.text;
  json["solver"] = {{"stop", fit::text(fit.stop)},
                    {"iterations", fit.iterations},
                    {"initial_cost", fit.initial_cost},
                    {"final_cost", fit.final_cost}};
  json["readings"] = fit.readings;
  json["degrees_of_freedom"] = fit.degrees_of_freedom;
  json["scatter"] = finite(fit.scatter);
  json["coefficients"] = coefficients(fit);
  json["held"] = held(fit);
  json["correlation"] = Json::array();
  for (std::size_t i = 0; i < fit.correlation.rows; ++i) {
    Json& row = json["correlation"].emplace_back(Json::array());
    for (std::size_t j = 0; j < fit.correlation.columns; ++j)
      row.push_back(fit.correlation(i, j));
  }
  json["inseparable"] = Json::array();
  for (const auto& set : fit.inseparable) {
    Json& words = json["inseparable"].emplace_back(Json::array());
    for (const auto coefficient : set)
      words.push_back(coefficient_word(coefficient));
  }
  json["channels"] = channels(fit);
  json["rows"] = Json::array();
  for (const auto& row : fit.rows)
    json["rows"].push_back(row_json(fit, row));
  json["remarks"] = fit::remarks(fit);
  return json;
}

} // namespace bellmouth::cli
