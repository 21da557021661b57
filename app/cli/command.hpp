// SPDX-License-Identifier: GPL-3.0-or-later
// What every command of the prompt is.
#pragma once

#include "refusal.hpp"

#include <iosfwd>
#include <memory>
#include <span>
#include <string_view>

namespace CLI {
class App;
}

namespace bellmouth::cli {

/// A command with its options filled in by the parser.
class Command {
public:
  Command() = default;
  Command(const Command&) = delete;
  Command& operator=(const Command&) = delete;
  virtual ~Command() = default;

  /// Results to `out`, messages to `err`; returns an Exit.
  [[nodiscard]] int run(std::ostream& out, std::ostream& err);

protected:
  /// What it does; a refusal is said by run().
  [[nodiscard]] virtual tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) = 0;
};

/// A command as the parser knows it: `make` states its options on `app` and gives the command that they fill.
struct CommandEntry {
  std::string_view name;
  std::string_view help;
  std::unique_ptr<Command> (*make)(CLI::App& app);
};
/// All commands, in the order of the help text.
[[nodiscard]] std::span<const CommandEntry> commands();

/// \name One for each file of a command
///@{
[[nodiscard]] std::unique_ptr<Command> make_evaluate(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_sweep(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_check(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_rules(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_thresholds(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_lists(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_buy(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_stock(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_compare(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_size(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_join(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_mend(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_place(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_meet(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_clearance(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_route(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_scan(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_fit(CLI::App& app);
[[nodiscard]] std::unique_ptr<Command> make_calc(CLI::App& app);
///@}

} // namespace bellmouth::cli
