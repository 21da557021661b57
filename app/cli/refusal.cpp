// SPDX-License-Identifier: GPL-3.0-or-later
#include "refusal.hpp"

#include <spdlog/fmt/fmt.h>

#include <utility>

namespace bellmouth::cli {

tl::unexpected<Refusal> misfit(std::string_view where, std::string_view found, std::string_view accepted) {
  Error error;
  error.found = fmt::format("\"{}\"", found);
  error.accepted = accepted;
  return misfit(where, std::move(error));
}

tl::unexpected<Refusal> misfit(std::string_view where, Error error) {
  error.place.path = where;
  return tl::unexpected(Refusal{wrong_usage, error.text()});
}

tl::unexpected<Refusal> file_trouble(const Error& error) {
  return tl::unexpected(Refusal{bad_input, error.text()});
}

tl::unexpected<Refusal> without_solution(std::string message) {
  return tl::unexpected(Refusal{no_solution, std::move(message)});
}

} // namespace bellmouth::cli
