// SPDX-License-Identifier: GPL-3.0-or-later
// Why a command gives no result, and with which exit code it ends.
#pragma once

#include <bellmouth/quantity/result.hpp>

#include <string>
#include <string_view>

namespace bellmouth::cli {

/// Exit codes of the program.
enum Exit : int {
  done = 0,
  stop_finding = 1, ///< only `check`
  wrong_usage = 2,
  bad_input = 3, ///< a file that cannot be read or written, or an invalid build
  no_solution = 4,
};

struct Refusal {
  Exit exit;
  std::string message; ///< one complaint: where, what was found, what is accepted
};

/// \name For `return`
///@{
/// An argument that does not fit. `where` names it, "--bore".
[[nodiscard]] tl::unexpected<Refusal> misfit(std::string_view where, std::string_view found,
                                             std::string_view accepted);
/// Typed text that could not be read; `error` knows the column.
[[nodiscard]] tl::unexpected<Refusal> misfit(std::string_view where, Error error);
/// A file that could not be read or written.
[[nodiscard]] tl::unexpected<Refusal> file_trouble(const Error& error);
[[nodiscard]] tl::unexpected<Refusal> without_solution(std::string message);
///@}

} // namespace bellmouth::cli
