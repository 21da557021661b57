// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_search.hpp"

#include "build_arguments.hpp"

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <thread>

namespace bellmouth::cli {

namespace {

constexpr std::size_t most_routes = 100, most_rounds = 1'000'000'000, most_threads = 64;

} // namespace

void state_search(CLI::App& app, SearchArguments& arguments) {
  state_text(app, "--best", arguments.best, "how many routes, no two alike; without it 5", "N");
  state_text(app, "--seconds", arguments.seconds, "how long to look; without it 2, or with --rounds no end",
             "S");
  state_text(app, "--rounds", arguments.rounds,
             "how many rounds of the search; what is found is then the same each time", "N");
  state_text(app, "--threads", arguments.threads, "without it as many as the computer has", "N");
  state_text(app, "--seed", arguments.seed, "another one searches in another order; without it 1", "N");
}

tl::expected<std::size_t, Refusal> read_count(const char* flag, const std::string& typed, std::size_t lowest,
                                              std::size_t highest) {
  std::size_t count = 0;
  const char* const end = typed.data() + typed.size();
  const auto [stop, trouble] = std::from_chars(typed.data(), end, count);
  if (trouble != std::errc{} || stop != end || count < lowest || count > highest)
    return misfit(flag, typed, fmt::format("a whole number from {} to {}", lowest, highest));
  return count;
}

tl::expected<way::Effort, Refusal> read_effort(const SearchArguments& arguments) {
  way::Effort effort;
  effort.threads = std::clamp(std::thread::hardware_concurrency(), 1U, static_cast<unsigned>(most_threads));
  if (arguments.best) {
    const auto read = read_count("--best", *arguments.best, 1, most_routes);
    if (!read)
      return tl::unexpected(read.error());
    effort.best = *read;
  }
  if (arguments.rounds) {
    const auto read = read_count("--rounds", *arguments.rounds, 1, most_rounds);
    if (!read)
      return tl::unexpected(read.error());
    effort.rounds = *read;
    effort.seconds = std::numeric_limits<double>::infinity();
  }
  if (arguments.seconds) {
    const auto read = read_seconds(*arguments.seconds);
    if (!read)
      return tl::unexpected(read.error());
    effort.seconds = *read;
  }
  if (arguments.threads) {
    const auto read = read_count("--threads", *arguments.threads, 1, most_threads);
    if (!read)
      return tl::unexpected(read.error());
    effort.threads = static_cast<unsigned>(*read);
  }
  if (arguments.seed) {
    const auto read = read_count("--seed", *arguments.seed, 0, std::numeric_limits<std::uint32_t>::max());
    if (!read)
      return tl::unexpected(read.error());
    effort.seed = *read;
  }
  return effort;
}

tl::expected<double, Refusal> read_seconds(const std::string& typed) {
  double seconds = 0;
  const char* const end = typed.data() + typed.size();
  const auto [stop, trouble] = std::from_chars(typed.data(), end, seconds);
  constexpr double longest_s = 86'400;
  if (trouble != std::errc{} || stop != end || !(seconds > 0 && seconds <= longest_s))
    return misfit("--seconds", typed, "a number of seconds of more than 0 and at most 86400");
  return seconds;
}

std::string search_words(const way::Found& found, bool with_cost) {
  const std::size_t routes = found.answers.size();
  std::string words =
      fmt::format("{} after {:.2f} s and {}",
                  routes == 0   ? "no route"
                  : routes == 1 ? "1 route"
                                : fmt::format("{} routes", routes),
                  found.seconds, found.rounds == 1 ? "1 round" : fmt::format("{} rounds", found.rounds));
  if (found.first_s)
    words += fmt::format("; the first after {:.1f} ms", 1e3 * *found.first_s);
  if (found.exhausted && with_cost)
    words += "; nothing that is left to try can be cheaper";
  else if (found.exhausted && routes == 0)
    words += "; nothing is left to try";
  else if (found.least_cost > 0 && with_cost)
    words += fmt::format("; none can cost less than {:.2f}", found.least_cost);
  return words;
}

std::string nothing_words(const way::Found& found) {
  if (!found.nearly)
    return found.exhausted
               ? "there is none: no chain of pieces in stock reaches the end port"
               : "none was found: no chain of pieces in stock that was tried reaches the end port";
  // A way that only misses a place that it was to pass lacks no room.
  constexpr double shown_m = 0.05e-3;
  std::string words = fmt::format(
      "{}; the one that comes nearest{}", found.exhausted ? "there is none" : "none was found",
      found.nearly->lacks_m < shown_m ? ":" : fmt::format(" lacks {:.1f} mm", 1e3 * found.nearly->lacks_m));
  for (const std::string& fault : found.nearly->judgement.faults)
    words += "\n  " + fault;
  return words;
}

} // namespace bellmouth::cli
