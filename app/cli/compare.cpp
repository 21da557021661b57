// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "evaluation_json.hpp"
#include "findings_text.hpp"
#include "main_figures.hpp"
#include "table.hpp"

#include <CLI/App.hpp>

#include <algorithm>
#include <cmath>
#include <ostream>

namespace bellmouth::cli {

namespace {

/// A line of the shopping lists in which the options differ.
struct Difference {
  std::string description;
  build::Per per;
  double needed_a, needed_b;
};

std::vector<Difference> differences(const std::vector<buy::ShoppingLine>& a,
                                    const std::vector<buy::ShoppingLine>& b) {
  const auto same_item = [](const buy::ShoppingLine& one) {
    return [&one](const buy::ShoppingLine& other) {
      return one.stock == other.stock && one.description == other.description;
    };
  };
  constexpr double rounding = 1e-9;
  std::vector<Difference> found;
  for (const buy::ShoppingLine& line : a) {
    const auto other = std::ranges::find_if(b, same_item(line));
    const double needed_b = other == b.end() ? 0 : other->needed;
    if (std::abs(line.needed - needed_b) > rounding)
      found.push_back({line.description, line.per, line.needed, needed_b});
  }
  for (const buy::ShoppingLine& line : b)
    if (std::ranges::none_of(a, same_item(line)))
      found.push_back({line.description, line.per, 0, line.needed});
  return found;
}

std::string amount(double needed, build::Per per) {
  if (needed == 0)
    return std::string(unknown);
  return per == build::Per::metre ? fixed(needed, 3) : fixed(needed, 0);
}

std::optional<double> difference(const MainFigure& a, const MainFigure& b) {
  return a.value && b.value ? std::optional(*b.value - *a.value) : std::nullopt;
}

/// Totals of one build are in one currency.
quantity::Money difference(const buy::Totals& a, const buy::Totals& b) {
  return {b.total.minor - a.total.minor, a.total.currency};
}

/// One of the two options.
struct Side {
  Evaluation evaluation;
  buy::Purchase purchase;
  std::vector<check::Finding> findings;
};

class Compare : public Command {
public:
  explicit Compare(CLI::App& app) {
    state_file(app, arguments_);
    state_speed(app, arguments_);
    app.add_option("--options", names_, "two options of the build")
        ->type_name("A B")
        ->expected(2)
        ->required();
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    std::vector<Side> sides;
    for (const std::string& name : names_) {
      const auto option = find_option(chosen->build, name, "--options");
      if (!option)
        return tl::unexpected(option.error());
      const build::Build& build = chosen->build;
      Side side{evaluate(build, *option, chosen->speed_rev_s), buy::purchase(build, *option), {}};
      if (!side.evaluation.path.point.usable())
        return without_solution(reason(*option, side.evaluation.path.point));
      side.findings = findings(build, side.evaluation, side.purchase);
      sides.push_back(std::move(side));
    }
    if (arguments_.as_json)
      print_json(out, chosen->build, sides[0], sides[1]);
    else
      print_text(out, chosen->build, sides[0], sides[1]);
    return done;
  }

private:
  BuildArguments arguments_;
  std::vector<std::string> names_;

  static Json side_json(const build::Build& build, const Side& side) {
    Json json = json_of(side.evaluation.option, main_figures(build, side.evaluation));
    json["totals"] = json_of(side.purchase.totals);
    for (const check::Severity severity : severities)
      json["findings"][std::string(check::text(severity))] = count(side.findings, severity);
    return json;
  }

  static void print_json(std::ostream& out, const build::Build& build, const Side& a, const Side& b) {
    Json json;
    json["a"] = side_json(build, a);
    json["b"] = side_json(build, b);
    const auto figures_a = main_figures(build, a.evaluation), figures_b = main_figures(build, b.evaluation);
    for (std::size_t i = 0; i < figures_a.size(); ++i)
      json["difference"][Json::json_pointer(std::string(figures_a[i].pointer))] =
          or_null(difference(figures_a[i], figures_b[i]));
    json["difference"]["total"] = json_of(std::optional(difference(a.purchase.totals, b.purchase.totals)));
    for (const char* key : {"only_in_a", "only_in_b", "other_amounts"})
      json[key] = Json::array();
    for (const Difference& each : differences(a.purchase.shopping, b.purchase.shopping)) {
      const char* key = each.needed_b == 0 ? "only_in_a" : each.needed_a == 0 ? "only_in_b" : "other_amounts";
      json[key].push_back({{"description", each.description},
                           {"per", each.per == build::Per::metre ? "metre" : "each"},
                           {"needed_a", each.needed_a},
                           {"needed_b", each.needed_b}});
    }
    print(out, json);
  }

  static void print_text(std::ostream& out, const build::Build& build, const Side& a, const Side& b) {
    const auto figures_a = main_figures(build, a.evaluation), figures_b = main_figures(build, b.evaluation);
    std::vector<Cells> rows;
    for (std::size_t i = 0; i < figures_a.size(); ++i) {
      MainFigure change = figures_a[i];
      change.value = difference(figures_a[i], figures_b[i]);
      change.offset = 0;
      rows.push_back(
          {heading(change.words, change.unit), figures_a[i].text(), figures_b[i].text(), change.text()});
    }
    print_section(out, "Operating point",
                  {"figure", a.evaluation.option.text, b.evaluation.option.text, "second - first"}, rows);
    print_section(out, "Findings", {"severity", a.evaluation.option.text, b.evaluation.option.text},
                  finding_rows(a, b));

    rows.clear();
    for (const Difference& each : differences(a.purchase.shopping, b.purchase.shopping))
      rows.push_back({each.description, each.per == build::Per::metre ? "m" : "pieces",
                      amount(each.needed_a, each.per), amount(each.needed_b, each.per)});
    print_section(out, "Needed in other amounts",
                  {"item", "unit", a.evaluation.option.text, b.evaluation.option.text}, rows);
    print_table(
        out, {"money", a.evaluation.option.text, b.evaluation.option.text, "second - first"},
        {{"to buy", quantity::write(a.purchase.totals.total), quantity::write(b.purchase.totals.total),
          quantity::write(difference(a.purchase.totals, b.purchase.totals))},
         {"lines without a price", std::to_string(a.purchase.totals.unpriced),
          std::to_string(b.purchase.totals.unpriced),
          std::to_string(b.purchase.totals.unpriced - a.purchase.totals.unpriced)}});
  }

  static std::vector<Cells> finding_rows(const Side& a, const Side& b) {
    std::vector<Cells> rows;
    for (const check::Severity severity : severities)
      rows.push_back({std::string(check::text(severity)), std::to_string(count(a.findings, severity)),
                      std::to_string(count(b.findings, severity))});
    return rows;
  }
};

} // namespace

std::unique_ptr<Command> make_compare(CLI::App& app) {
  return std::make_unique<Compare>(app);
}

} // namespace bellmouth::cli
