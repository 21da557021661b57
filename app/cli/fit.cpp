// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "fit_json.hpp"
#include "table.hpp"

#include <bellmouth/fit.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <iterator>
#include <ostream>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;

/// The unit in which people read a channel, and what it is worth.
struct Shown {
  std::string_view unit;
  double per_si;
  int decimals;
};
Shown shown(Dimension dimension) {
  switch (dimension) {
  case Dimension::pressure:
    return {"kPa", 1e-3, 2};
  case Dimension::temperature:
    return {"K", 1, 1};
  default:
    return {"g/s", 1e3, 2};
  }
}

std::string note(const fit::Fitted& fitted) {
  if (!fitted.determined())
    return "not determined";
  return fitted.at_bound == fit::Bound::none ? "" : "at its bound";
}

void print_text(std::ostream& out, const fit::Fit& fit) {
  out << fmt::format("{}; iterations {}, readings {}, degrees of freedom {}, scatter {:.2f} sigma\n\n",
                     fit::text(fit.stop), fit.iterations, fit.readings, fit.degrees_of_freedom, fit.scatter);
  std::vector<Cells> rows;
  for (const auto& fitted : fit.coefficients) {
    const auto told = [&](double value) { return fitted.determined() ? std::optional(value) : std::nullopt; };
    rows.push_back({std::string(coefficient_word(fitted.coefficient)), fixed(fitted.start, 3),
                    fixed(fitted.factor, 3), fixed(told(fitted.low), 3), fixed(told(fitted.high), 3),
                    fixed(told(100 * fitted.standard_error), 1), note(fitted)});
  }
  print_section(out, "Coefficients: factors on the build's own figures",
                {"coefficient", "before", "factor", "95 % from", "to", "error [%]", ""}, rows);

  rows.clear();
  for (std::size_t c = 0; c < fit.channels.size(); ++c) {
    const auto& report = fit.channel_reports[c];
    const auto [unit, per_si, decimals] = shown(fit.channels[c].dimension);
    rows.push_back({fit.channels[c].column, std::to_string(report.readings), std::to_string(report.outliers),
                    fixed(report.sigma_rms * per_si, decimals), fixed(report.rms_before * per_si, decimals),
                    fixed(report.rms * per_si, decimals), fixed(report.bias * per_si, decimals),
                    std::string(unit)});
  }
  print_section(out, "Measurements: predicted less measured",
                {"column", "readings", "outliers", "sigma", "rms before", "rms", "mean", "unit"}, rows);

  rows.clear();
  std::vector<Cells> unreached;
  for (const auto& row : fit.rows) {
    if (!row.trouble.empty())
      unreached.push_back({std::to_string(row.number), in_rpm(row.engine_speed_rev_s), row.trouble});
    for (std::size_t c = 0; c < fit.channels.size() && !fit.coefficients.empty(); ++c)
      if (const auto& reading = row.readings[c]; reading && reading->outlier()) {
        const auto as_logged = [&](double value) {
          return fixed(fit::in_column(fit.channels[c], value, row.ambient_pressure_Pa), 2);
        };
        rows.push_back({std::to_string(row.number), fit.channels[c].column, as_logged(reading->measured),
                        as_logged(reading->predicted), fixed(reading->weight, 2)});
      }
  }
  print_section(out, "Outliers", {"row", "column", "measured", "predicted", "weight"}, rows);
  print_section(out, "Rows without an operating point", {"row", "speed", "why"}, unreached);
  for (const std::string& remark : fit::remarks(fit))
    out << remark << '\n';
}

class Fit : public Command {
public:
  explicit Fit(CLI::App& app) {
    state_file(app, arguments_);
    app.add_option("LOG", log_, "log of measurements (CSV)")->required()->type_name("");
    state_option(app, arguments_);
    state_text(
        app, "--free", free_,
        "coefficients to fit, with commas between; without it what the log can tell. They are "
        "engine-filling, blower-filling, blower-efficiency, filter, cooler-drop, cooler-effectiveness, ducts",
        "LIST");
    app.add_option("--sigma", sigmas_,
                   "standard deviation of a column's readings, such as mass_flow_g_s=3 or \"=2 %\"")
        ->type_name("COLUMN=VALUE")
        ->expected(1)
        ->allow_extra_args(false)
        ->take_all();
    state_text(app, "--out", out_, "file for the fitted build", "FILE");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    if (const auto engine = find_engine(chosen->build, "BUILD"); !engine)
      return tl::unexpected(engine.error());
    fit::Options options;
    if (const auto read = read_free(*chosen, options); !read)
      return tl::unexpected(read.error());
    auto log = fit::load_log(log_, chosen->build, chosen->option);
    if (!log)
      return file_trouble(log.error());
    for (const std::string& typed : sigmas_)
      if (const auto read = read_sigma(typed, *log); !read)
        return tl::unexpected(read.error());

    const auto found = fit::fit(chosen->build, chosen->option, *log, options);
    if (!found)
      return misfit("--sigma", found.error());
    if (arguments_.as_json)
      print(out, json_of(chosen->option, *found));
    else
      print_text(out, *found);
    if (!found->usable())
      return without_solution(fmt::format("option {}: {}", chosen->option.text, fit::text(found->stop)));
    return out_ ? write(*found) : done;
  }

private:
  BuildArguments arguments_;
  std::string log_;
  std::optional<std::string> free_, out_;
  std::vector<std::string> sigmas_;

  [[nodiscard]] tl::expected<void, Refusal> read_free(const Chosen& chosen, fit::Options& options) const {
    if (!free_)
      return {};
    const auto known = fit::coefficients_of(chosen.build, chosen.option);
    std::vector<std::string_view> words;
    std::ranges::transform(known, std::back_inserter(words), coefficient_word);
    for (std::size_t at = 0; at <= free_->size();) {
      const std::size_t comma = std::min(free_->find(',', at), free_->size());
      const std::string word = free_->substr(at, comma - at);
      at = comma + 1;
      const auto found = std::ranges::find(words, word);
      if (found == words.end())
        return misfit("--free", word, fmt::format("what the build has: {}", fmt::join(words, ", ")));
      const auto coefficient = known[static_cast<std::size_t>(found - words.begin())];
      if (std::ranges::find(options.free, coefficient) != options.free.end())
        return misfit("--free", word, "each coefficient once");
      options.free.push_back(coefficient);
    }
    return {};
  }

  [[nodiscard]] static tl::expected<void, Refusal> read_sigma(const std::string& typed, fit::Log& log) {
    const std::size_t equals = typed.rfind('=');
    const std::string column = typed.substr(0, equals);
    const auto channel = std::ranges::find(log.channels, column, &fit::Channel::column);
    std::vector<std::string_view> columns;
    for (const auto& each : log.channels)
      columns.push_back(each.column);
    if (equals == std::string::npos || channel == log.channels.end())
      return misfit("--sigma", typed,
                    fmt::format("COLUMN=VALUE with a column of the log: {}", fmt::join(columns, ", ")));
    const std::string value = typed.substr(equals + 1);
    const bool relative = value.ends_with('%');
    quantity::Reading reading;
    reading.reference = quantity::Reference::difference;
    const bool kelvin = channel->dimension == Dimension::temperature;
    const Dimension dimension = relative ? Dimension::ratio
                                : kelvin ? Dimension::temperature_difference
                                         : channel->dimension;
    if (!relative)
      reading.default_unit = channel->unit;
    const auto sigma = quantity::read(dimension, value, reading);
    if (!sigma)
      return misfit("--sigma", sigma.error());
    if (!(*sigma > 0))
      return misfit("--sigma", typed, "more than 0");
    channel->sigma = relative ? fit::Sigma{0, *sigma} : fit::Sigma{*sigma, 0};
    return {};
  }

  [[nodiscard]] tl::expected<Exit, Refusal> write(const fit::Fit& fit) const {
    if (!fit.build)
      return without_solution("the log does not determine every coefficient; nothing was written");
    if (const auto saved = save_made(arguments_, *fit.build, *out_); !saved)
      return tl::unexpected(saved.error());
    return done;
  }
};

} // namespace

std::unique_ptr<Command> make_fit(CLI::App& app) {
  return std::make_unique<Fit>(app);
}

} // namespace bellmouth::cli
