// SPDX-License-Identifier: GPL-3.0-or-later
// Puts right what is wrong at joints, and what findings of one rule complain of.
#include "build_arguments.hpp"
#include "command.hpp"
#include "json.hpp"

#include <bellmouth/join.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <ostream>

namespace bellmouth::cli {

namespace {

void print_lines(std::ostream& out, std::string_view title, const std::vector<std::string>& lines) {
  if (lines.empty())
    return;
  out << title << ":\n";
  for (const std::string& line : lines)
    out << "  - " << line << '\n';
}

void print_text(std::ostream& out, const join::Proposal& proposal) {
  out << proposal.title << (proposal.does_something() ? "\n" : ": nothing to do\n");
  print_lines(out, "Steps", proposal.steps);
  print_lines(out, "Stays open", proposal.open);
}

Json json_of(const build::OptionId& option, const join::Proposal& proposal) {
  return {
      {"option", option.text}, {"title", proposal.title}, {"steps", proposal.steps}, {"open", proposal.open}};
}

/// What both commands end with: the words, the file, the exit code.
tl::expected<Exit, Refusal> give(const BuildArguments& arguments, const std::optional<std::string>& file,
                                 const build::OptionId& option, const join::Proposal& proposal,
                                 std::ostream& out, std::ostream& err) {
  if (arguments.as_json)
    print(out, json_of(option, proposal));
  else
    print_text(out, proposal);
  if (file)
    if (const auto saved = save_made(arguments, proposal.build, *file); !saved)
      return tl::unexpected(saved.error());
  if (proposal.open.empty())
    return done;
  err << fmt::format("{} {} open\n", proposal.open.size(),
                     proposal.open.size() == 1 ? "thing stays" : "things stay");
  return no_solution;
}

class Join : public Command {
public:
  explicit Join(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_text(app, "--run", run_, "run to be joined; without it all of the option", "NAME");
    state_text(app, "--out", out_, "file for the build with that done; without it nothing is written",
               "FILE");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    std::optional<build::RunId> only;
    if (run_) {
      const auto run = find_run(*chosen->build.find(chosen->option), *run_);
      if (!run)
        return tl::unexpected(run.error());
      only = (*run)->id;
    }
    return give(arguments_, out_, chosen->option, join::join(chosen->build, chosen->option, only), out, err);
  }

private:
  BuildArguments arguments_;
  std::optional<std::string> run_, out_;
};

class Mend : public Command {
public:
  explicit Mend(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_speed(app, arguments_);
    app.add_option("--rule", rule_, "rule whose findings are to be mended, as check prints it")
        ->type_name("KEY")
        ->required();
    state_text(app, "--run", run_, "findings in this run only", "NAME");
    app.add_option("--row", row_, "findings at this row only, counted from 1; needs --run")
        ->type_name("N")
        ->check(CLI::PositiveNumber);
    state_text(app, "--out", out_, "file for the mended build; without it nothing is written", "FILE");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const auto rules = join::mended_rules();
    if (std::ranges::find(rules, rule_) == rules.end())
      return misfit("--rule", rule_, fmt::format("a rule that has a mend: {}", fmt::join(rules, ", ")));
    if (row_ && !run_)
      return misfit("--row", std::to_string(*row_), "--run beside it");
    if (run_) {
      const auto run = find_run(*chosen->build.find(chosen->option), *run_);
      if (!run)
        return tl::unexpected(run.error());
      if (row_ && *row_ > (*run)->pieces.size())
        return misfit("--row", std::to_string(*row_),
                      fmt::format("a row from 1 to {}", (*run)->pieces.size()));
    }
    return give(arguments_, out_, chosen->option, mended(*chosen), out, err);
  }

private:
  BuildArguments arguments_;
  std::string rule_;
  std::optional<std::string> run_, out_;
  std::optional<std::size_t> row_;

  [[nodiscard]] bool is_meant(const check::Finding& finding) const {
    const auto& piece = finding.where.piece;
    return finding.rule == rule_ && !finding.waived && (!run_ || (piece && piece->run.text == *run_)) &&
           (!row_ || piece->row + 1 == *row_);
  }

  /// Those of the evaluation, or where it has none that is meant those of the purchase, which take a while.
  [[nodiscard]] std::vector<check::Finding> findings_of(const build::Build& build,
                                                        const Evaluation& evaluation) const {
    const bool known =
        std::ranges::any_of(evaluation.findings, [&](const auto& each) { return is_meant(each); });
    return known ? evaluation.findings
                 : check::check_purchase(build, buy::purchase(build, evaluation.option));
  }

  /// One finding after the other, until none of those that are meant has a mend.
  [[nodiscard]] join::Proposal mended(const Chosen& chosen) const {
    join::Proposal all{"Mend " + rule_, {}, {}, chosen.build};
    constexpr int most = 1000; // each mend leaves fewer findings
    for (int count = 0; count < most; ++count) {
      const Evaluation evaluation = evaluate(all.build, chosen.option, chosen.speed_rev_s);
      std::optional<join::Proposal> next;
      all.open.clear();
      for (const check::Finding& finding : findings_of(all.build, evaluation)) {
        if (!is_meant(finding))
          continue;
        if (!next)
          next = join::mend(all.build, evaluation, finding);
        if (!next)
          all.open.push_back(fmt::format("{}: {}", finding.where.text, finding.message));
      }
      const bool same = !next || next->build == all.build;
      if (same)
        break;
      all.steps.insert(all.steps.end(), next->steps.begin(), next->steps.end());
      all.build = std::move(next->build);
      if (row_) // rows may be others now
        break;
    }
    return all;
  }
};

} // namespace

std::unique_ptr<Command> make_join(CLI::App& app) {
  return std::make_unique<Join>(app);
}
std::unique_ptr<Command> make_mend(CLI::App& app) {
  return std::make_unique<Mend>(app);
}

} // namespace bellmouth::cli
