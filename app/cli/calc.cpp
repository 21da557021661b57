// SPDX-License-Identifier: GPL-3.0-or-later
#include "command.hpp"
#include "json.hpp"
#include "sums.hpp"
#include "table.hpp"

#include <CLI/App.hpp>

#include <algorithm>
#include <cmath>
#include <ostream>

namespace bellmouth::cli {

namespace {

/// What was typed for one sum.
struct Typed {
  CLI::App* app;
  const Sum* sum;
  std::map<std::string_view, std::string> texts;
};

class Calc : public Command {
public:
  explicit Calc(CLI::App& app) {
    app.require_subcommand(1);
    for (const auto sums : {loss_sums(), fitting_sums(), meter_sums(), air_sums(), machine_sums(),
                            engine_sums(), heat_sums(), joint_sums()})
      for (const Sum& sum : sums)
        state(app, sum);
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& /*err*/) override {
    Typed& typed = **std::ranges::find_if(typed_, [](const auto& each) { return each->app->parsed(); });
    collect(typed);
    const auto answer =
        read_arguments(*typed.sum, typed.texts).and_then(typed.sum->work).and_then(all_finite);
    if (!answer)
      return tl::unexpected(
          Refusal{answer.error().exit, std::string(typed.sum->name) + ": " + answer.error().message});
    if (as_json_)
      print(out, json_of(*answer));
    else
      print_text(out, typed, *answer);
    return done;
  }

private:
  std::vector<std::unique_ptr<Typed>> typed_;
  bool as_json_ = false;

  void state(CLI::App& parent, const Sum& sum) {
    CLI::App* app = parent.add_subcommand(std::string(sum.name), std::string(sum.help));
    for (const Argument& argument : sum.arguments) {
      const std::string flag(argument.flag);
      const std::string help =
          help_of(argument); // const: else the parser would take it for a variable to fill
      if (std::holds_alternative<Switch>(argument.kind)) {
        app->add_flag(flag, help);
        continue;
      }
      app->add_option(flag, help)
          ->type_name(type_name(argument.kind))
          ->required(argument.need == Need::required)
          ->expected(1);
    }
    app->add_flag("--json", as_json_, "for machines");
    typed_.push_back(std::make_unique<Typed>(Typed{app, &sum, {}}));
  }

  static std::string help_of(const Argument& argument) {
    std::string help(argument.help);
    if (!argument.preset.empty())
      help += " (taken: " + std::string(argument.preset) + ")";
    return help;
  }

  /// Arguments within their ranges may still be so small or large that a double does not hold the result.
  static Answer all_finite(Figures figures) {
    for (const auto& [key, figure] : figures)
      if (const auto* number = std::get_if<double>(&figure); number != nullptr && !std::isfinite(*number))
        return without_solution(meaning_of(key).words +
                                ": found a number too large to write; accepted: arguments "
                                "nearer to those of a duct");
    return figures;
  }

  static void collect(Typed& typed) {
    for (const Argument& argument : typed.sum->arguments)
      if (const CLI::Option* option = typed.app->get_option(std::string(argument.flag)); option->count() > 0)
        typed.texts[argument.flag] = option->results().back();
  }

  /// The figures with their units, and the presets that went into them.
  static void print_text(std::ostream& out, const Typed& typed, const Figures& figures) {
    std::vector<Cells> rows;
    for (const auto& [key, figure] : figures) {
      const Meaning meaning = meaning_of(key);
      rows.push_back({meaning.words, text(figure, meaning), std::string(meaning.unit)});
    }
    print_table(out, {"figure", "value", "unit"}, rows);
    for (const Argument& argument : typed.sum->arguments)
      if (!argument.preset.empty() && !typed.texts.contains(argument.flag))
        out << "taken: " << argument.flag << ' ' << argument.preset << '\n';
  }
};

} // namespace

std::unique_ptr<Command> make_calc(CLI::App& app) {
  return std::make_unique<Calc>(app);
}

} // namespace bellmouth::cli
