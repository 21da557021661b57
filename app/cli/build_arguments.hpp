// SPDX-License-Identifier: GPL-3.0-or-later
// What the commands that work on a build have in common: the file, the option, the engine speed.
#pragma once

#include "refusal.hpp"

#include <bellmouth/build.hpp>
#include <bellmouth/flow.hpp>

#include <iosfwd>
#include <optional>
#include <string>

namespace CLI {
class App;
}

namespace bellmouth::cli {

/// As typed.
struct BuildArguments {
  std::string file;
  std::optional<std::string> option, speed;
  bool as_json = false;
};
/// \name Stating them
///@{
void state_file(CLI::App& app, BuildArguments& arguments); ///< BUILD and --json
void state_option(CLI::App& app, BuildArguments& arguments);
void state_speed(CLI::App& app, BuildArguments& arguments);
/// A text that may be left out; empty text is not left out.
void state_text(CLI::App& app, const char* flag, std::optional<std::string>& text, const char* help,
                const char* type);
///@}

/// A build, and the option and speed picked from it.
struct Chosen {
  build::Build build;
  build::OptionId option;
  std::optional<double> speed_rev_s; ///< unset: the engine's working speed
};
/// Reads the file and finds the option (the first one where none is named). A speed beyond those of the
/// engine is taken, with a word to `err`.
[[nodiscard]] tl::expected<Chosen, Refusal> choose(const BuildArguments& arguments, std::ostream& err);

/// Saves what a command made of the build that it read; files that the build names are then named from there.
[[nodiscard]] tl::expected<void, Refusal> save_made(const BuildArguments& arguments, build::Build made,
                                                    const std::string& out);

/// The option of that name.
[[nodiscard]] tl::expected<build::OptionId, Refusal>
find_option(const build::Build& build, const std::string& name, std::string_view flag);
/// The run of that name, given under --run.
[[nodiscard]] tl::expected<const build::Run*, Refusal> find_run(const build::Option& option,
                                                                const std::string& name);
/// A state of the bay given under --state; none where none is named.
[[nodiscard]] tl::expected<std::optional<build::StateId>, Refusal>
find_state(const build::Build& build, const std::optional<std::string>& name);
/// The engine, for a command that varies its speed under `flag`; a build with a fixed flow has none.
[[nodiscard]] tl::expected<const machine::Engine*, Refusal> find_engine(const build::Build& build,
                                                                        std::string_view flag);
/// A speed of more than none [rev/s]; a bare number is in rpm.
[[nodiscard]] tl::expected<double, Refusal> read_speed(std::string_view flag, const std::string& typed);

/// "3000 rpm".
[[nodiscard]] std::string in_rpm(double speed_rev_s);

/// Why there is no operating point: what chokes where, and the flow at which it would not.
[[nodiscard]] std::string reason(const build::OptionId& option, const flow::OperatingPoint& point);

} // namespace bellmouth::cli
