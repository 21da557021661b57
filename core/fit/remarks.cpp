// SPDX-License-Identifier: GPL-3.0-or-later
// A fit in words.
#include <bellmouth/fit.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>

namespace bellmouth::fit {
namespace {

/// "a, b and c".
std::string joined(const std::vector<std::string>& words) {
  if (words.size() < 2)
    return words.empty() ? std::string() : words.front();
  const std::vector<std::string> first(words.begin(), words.end() - 1);
  return fmt::format("{} and {}", fmt::join(first, ", "), words.back());
}

std::string joined(const std::vector<build::Coefficient>& coefficients) {
  std::vector<std::string> words;
  words.reserve(coefficients.size());
  for (const auto coefficient : coefficients)
    words.push_back(fmt::format("the {}", name(coefficient)));
  return joined(words);
}

std::string counted(std::size_t count, std::string_view one, std::string_view several) {
  return fmt::format("{} {}", count, count == 1 ? one : several);
}

std::string capital(std::string sentence) {
  if (!sentence.empty() && sentence.front() >= 'a' && sentence.front() <= 'z')
    sentence.front() = static_cast<char>(sentence.front() - 'a' + 'A');
  return sentence;
}

void say_what_is_not_told(const Fit& fit, std::vector<std::string>& said) {
  for (const auto& set : fit.inseparable)
    said.push_back(capital(fmt::format(
        "{} cannot be told apart by this log: only what they do together is measured.", joined(set))));
  std::vector<build::Coefficient> undetermined, unseen;
  for (const Fitted& fitted : fit.coefficients) {
    if (!fitted.determined())
      undetermined.push_back(fitted.coefficient);
    if (fitted.at_bound != Bound::none)
      said.push_back(
          fmt::format("At the end of the range: the {}, with the {} factor that is taken, {}. Something else "
                      "is wrong.",
                      name(fitted.coefficient), fitted.at_bound == Bound::least ? "least" : "greatest",
                      fitted.at_bound == Bound::least ? least_factor : greatest_factor));
  }
  if (!undetermined.empty())
    said.push_back(fmt::format("Not determined by this log: {}; fit without.", joined(undetermined)));
  for (const Held& held : fit.held) {
    if (held.mistaken_for)
      said.push_back(fmt::format("Left as found: the {}, which this log cannot tell from the {}.",
                                 name(held.coefficient), name(*held.mistaken_for)));
    else
      unseen.push_back(held.coefficient);
  }
  if (!unseen.empty())
    said.push_back(fmt::format("Left as found: {}, of which this log says next to nothing.", joined(unseen)));
}

void say_what_is_odd(const Fit& fit, std::vector<std::string>& said) {
  const auto without =
      std::ranges::count_if(fit.rows, [](const RowReport& row) { return !row.trouble.empty(); });
  if (without > 0)
    said.push_back(fmt::format("{} of {} without an operating point, which the fit leaves out.", without,
                               counted(fit.rows.size(), "row is", "rows are")));
  std::size_t outliers = 0;
  for (const auto& channel : fit.channel_reports)
    outliers += channel.outliers;
  if (outliers > 0 && !fit.coefficients.empty())
    said.push_back(fmt::format("{} more than {:.2g} standard deviations off and {} for less than half.",
                               counted(outliers, "reading is", "readings are"), 2 * usual_knee,
                               outliers == 1 ? "counts" : "count"));
  if (fit.degrees_of_freedom == 0 && !fit.coefficients.empty())
    said.push_back("There are no more readings than coefficients: the intervals rest on the assumed standard "
                   "deviations alone.");
  constexpr std::size_t few = 5; // one in so many
  for (std::size_t c = 0; c < fit.channel_reports.size() && !fit.coefficients.empty(); ++c)
    if (const auto& report = fit.channel_reports[c]; few * report.outliers > report.readings)
      said.push_back(
          fmt::format("{} of {} readings of {} are outliers: the model misses something there, or the sensor "
                      "does.",
                      report.outliers, report.readings, fit.channels[c].column));
}

} // namespace

std::string_view name(build::Coefficient coefficient) {
  switch (coefficient) {
  case build::Coefficient::engine_volumetric_efficiency:
    return "engine volumetric efficiency";
  case build::Coefficient::blower_volumetric_efficiency:
    return "blower volumetric efficiency";
  case build::Coefficient::blower_adiabatic_efficiency:
    return "blower adiabatic efficiency";
  case build::Coefficient::filter_drop:
    return "filter drop";
  case build::Coefficient::cooler_drop:
    return "cooler drop";
  case build::Coefficient::cooler_effectiveness:
    return "cooler effectiveness";
  case build::Coefficient::duct_losses:
    break;
  }
  return "duct losses";
}

std::string_view text(Stop stop) {
  switch (stop) {
  case Stop::not_run:
    return "not run";
  case Stop::converged:
    return "converged";
  case Stop::iteration_limit:
    return "not converged after the most iterations";
  case Stop::blocked:
    return "a better fit lies where a row of the log has no operating point";
  case Stop::too_few_data:
    return "fewer readings than coefficients to fit";
  case Stop::no_operating_point:
    return "no row of the log has an operating point";
  case Stop::nothing_to_fit:
    return "the log says nothing of any coefficient";
  case Stop::cancelled:
    break;
  }
  return "cancelled";
}

std::vector<std::string> remarks(const Fit& fit) {
  std::vector<std::string> said;
  say_what_is_not_told(fit, said);
  say_what_is_odd(fit, said);
  return said;
}

} // namespace bellmouth::fit
