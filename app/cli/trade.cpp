// SPDX-License-Identifier: GPL-3.0-or-later
// What the checks look for, and the figures that they work with.
#include "build_arguments.hpp"
#include "command.hpp"
#include "json.hpp"

#include <bellmouth/build/thresholds.hpp>
#include <bellmouth/check.hpp>
#include <bellmouth/trade.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <optional>
#include <ostream>
#include <string>

namespace bellmouth::cli {

namespace {

class Rules : public Command {
public:
  explicit Rules(CLI::App& app) { app.add_flag("--json", as_json_, "for machines"); }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream&) override {
    Json rules = Json::array();
    for (const check::Rule& rule : check::rules())
      if (as_json_)
        rules.push_back({{"rule", rule.key},
                         {"title", rule.title},
                         {"severity", check::text(rule.severity)},
                         {"source", check::text(rule.source)},
                         {"basis", rule.basis}});
      else
        out << fmt::format("{}: {}\n    {} at most; {}\n    {}\n\n", rule.key, rule.title,
                           check::text(rule.severity), check::text(rule.source), rule.basis);
    if (as_json_)
      print(out, Json{{"rules", std::move(rules)}});
    return done;
  }

private:
  bool as_json_ = false;
};

class Thresholds : public Command {
public:
  explicit Thresholds(CLI::App& app) {
    app.add_option("BUILD", file_, "build file: with the figures that it changes")->type_name("");
    app.add_flag("--json", as_json_, "for machines");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream&) override {
    trade::Limits limits = trade::defaults();
    if (file_) {
      const auto build = build::load_build(*file_);
      if (!build)
        return file_trouble(build.error());
      limits = build::limits_of(*build);
    }
    if (as_json_)
      print_json(out, limits);
    else
      print_text(out, limits);
    return done;
  }

private:
  std::optional<std::string> file_;
  bool as_json_ = false;

  static void print_json(std::ostream& out, const trade::Limits& limits) {
    Json json = Json::array();
    for (const trade::Threshold& threshold : trade::thresholds())
      json.push_back({{"key", threshold.key},
                      {"title", threshold.title},
                      {"group", threshold.group},
                      {"value", trade::value(threshold, limits)},
                      {"trade_value", trade::value(threshold, trade::defaults())},
                      {"unit", trade::unit_text(threshold)},
                      {"source", trade::text(threshold.source)},
                      {"basis", threshold.basis},
                      {"least", threshold.least},
                      {"most", threshold.most}});
    print(out, Json{{"thresholds", std::move(json)}});
  }

  static void print_text(std::ostream& out, const trade::Limits& limits) {
    std::string_view group;
    for (const trade::Threshold& threshold : trade::thresholds()) {
      if (threshold.group != group)
        out << fmt::format("{}{}\n", group.empty() ? "" : "\n", group = threshold.group);
      const double value = trade::value(threshold, limits);
      const double usual = trade::value(threshold, trade::defaults());
      const std::string_view unit = trade::unit_text(threshold);
      out << fmt::format(
          "  {} = {:.6g}{}{}{}\n      {}; {}{}{}\n", threshold.key, value, unit.empty() ? "" : " ", unit,
          value != usual ? fmt::format(", changed from {:.6g}", usual) : std::string(), threshold.title,
          trade::text(threshold.source), threshold.basis.empty() ? "" : ": ", threshold.basis);
    }
  }
};

} // namespace

std::unique_ptr<Command> make_rules(CLI::App& app) {
  return std::make_unique<Rules>(app);
}
std::unique_ptr<Command> make_thresholds(CLI::App& app) {
  return std::make_unique<Thresholds>(app);
}

} // namespace bellmouth::cli
