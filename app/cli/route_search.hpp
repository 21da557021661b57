// SPDX-License-Identifier: GPL-3.0-or-later
// Looking for routes: how long, how many, and what is said of them, for problems and builds alike.
#pragma once

#include "refusal.hpp"

#include <bellmouth/way/find.hpp>

#include <iosfwd>
#include <optional>
#include <string>

namespace CLI {
class App;
}

namespace bellmouth::cli {

/// As typed.
struct SearchArguments {
  std::optional<std::string> best, seconds, rounds, threads, seed;
};
void state_search(CLI::App& app, SearchArguments& arguments);
/// Reads what was typed for --seconds.
[[nodiscard]] tl::expected<double, Refusal> read_seconds(const std::string& typed);
[[nodiscard]] tl::expected<way::Effort, Refusal> read_effort(const SearchArguments& arguments);

/// A whole number from `lowest` to `highest`.
[[nodiscard]] tl::expected<std::size_t, Refusal> read_count(const char* flag, const std::string& typed,
                                                            std::size_t lowest, std::size_t highest);

/// "3 routes after 2.00 s and 120 rounds; the first after 0.8 ms; none can cost less than 91.0".
[[nodiscard]] std::string search_words(const way::Found& found, bool with_cost = true);
/// Why there is none, as far as the search knows by itself.
[[nodiscard]] std::string nothing_words(const way::Found& found);

/// Looks for routes through a problem given as a file, prints them or writes them to `out_file`.
struct ProblemArguments {
  std::string file;
  bool as_json = false;
  std::optional<std::string> out_file;
};
[[nodiscard]] tl::expected<Exit, Refusal> route_problem(const ProblemArguments& arguments,
                                                        const std::string& text, const way::Effort& effort,
                                                        std::ostream& out);

} // namespace bellmouth::cli
