// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli.hpp"

#include "command.hpp"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <ostream>

namespace bellmouth::cli {

namespace {

constexpr char program[] = "bellmouth-cli";

constexpr CommandEntry table[] = {
    {"evaluate", "The operating point: every piece, run, machine and finding", make_evaluate},
    {"sweep", "The same over engine speed, one row each", make_sweep},
    {"check", "The findings; exit code 1 when one of them is a stop", make_check},
    {"rules", "What the checks look for, and what each rests on", make_rules},
    {"thresholds", "The trade's figures that checks, lists and plans work with", make_thresholds},
    {"lists", "All lists: shopping, sawing, cuts, joints, clamps, welds and more", make_lists},
    {"buy", "What is bought and what each piece is cut from, at least money", make_buy},
    {"stock", "What can be bought: searched, taken in from a list, written out", make_stock},
    {"compare", "Two options side by side", make_compare},
    {"size", "One row for each tube size in stock", make_size},
    {"join", "Puts in what is missing at the joints, as far as the stock has it", make_join},
    {"mend", "Mends what the findings of a rule complain of", make_mend},
    {"place", "Where each piece lies, and each boss and flange", make_place},
    {"clearance", "How near each piece comes to what is round it", make_clearance},
    {"meet", "Brings the end of a run onto its port with the least change", make_meet},
    {"route", "Finds routes from port to port out of pieces in stock", make_route},
    {"scan", "What is in a mesh file: size, triangles, what was left out", make_scan},
    {"fit", "The coefficients that a log of measurements speaks for", make_fit},
    {"calc", "Single sums at the bench", make_calc},
};

/// The innermost command that the arguments named.
const CLI::App& named(const CLI::App& app) {
  const CLI::App* at = &app;
  while (!at->get_subcommands().empty())
    at = at->get_subcommands().front();
  return *at;
}

/// "bellmouth-cli calc bend-loss".
std::string full_name(const CLI::App& app) {
  const CLI::App* parent = app.get_parent();
  return parent == nullptr ? app.get_name() : full_name(*parent) + " " + app.get_name();
}

/// What may follow: the names of the commands below, or of the options.
std::string accepted_by(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* below : app.get_subcommands([](const CLI::App*) { return true; }))
    names.push_back(below->get_name());
  if (names.empty())
    for (const CLI::Option* option : app.get_options())
      names.push_back(option->get_name());
  return fmt::format("{}", fmt::join(names, ", "));
}

/// One complaint: where, what was found, what is accepted. What nobody expected is told before what is
/// missing.
int complain(const CLI::App& app, const CLI::ParseError& error, std::ostream& err) {
  const CLI::App& at = named(app);
  const std::vector<std::string> unexpected = app.remaining(true);
  std::string what = error.what();
  if (!unexpected.empty())
    what = "found \"" + unexpected.front() + '"';
  else if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr && at.get_require_subcommand_min() > 0)
    what = "found nothing";
  err << fmt::format("{}: {}; accepted: {}\n", full_name(at), what, accepted_by(at));
  return wrong_usage;
}

} // namespace

std::span<const CommandEntry> commands() {
  return table;
}

int Command::run(std::ostream& out, std::ostream& err) {
  const auto exit = work(out, err);
  if (exit)
    return *exit;
  err << program << ": " << exit.error().message << '\n';
  return exit.error().exit;
}

int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err) {
  CLI::App app("Lays out, sizes and checks the intake ducting of an engine with a blower", program);
  app.option_defaults()->always_capture_default(false);
  app.get_formatter()->column_width(34);
  app.set_version_flag("--version", std::string(program) + " " + BELLMOUTH_VERSION);
  app.require_subcommand(1);
  std::vector<std::pair<CLI::App*, std::unique_ptr<Command>>> made;
  for (const CommandEntry& entry : commands()) {
    CLI::App* below = app.add_subcommand(std::string(entry.name), std::string(entry.help));
    made.emplace_back(below, entry.make(*below));
  }
  try {
    app.parse(
        std::vector<std::string>(arguments.rbegin(), arguments.rend())); // the parser takes them from behind
  } catch (const CLI::CallForHelp&) {
    const CLI::App& at = named(app);
    out << at.help(at.get_parent() == nullptr ? "" : full_name(*at.get_parent()));
    return done;
  } catch (const CLI::CallForVersion& version) {
    out << version.what() << '\n';
    return done;
  } catch (const CLI::ParseError& error) {
    return complain(app, error, err);
  }
  const auto wanted = std::ranges::find_if(made, [](const auto& each) { return each.first->parsed(); });
  return wanted->second->run(out, err);
}

} // namespace bellmouth::cli
