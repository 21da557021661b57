// SPDX-License-Identifier: GPL-3.0-or-later
// The program at the prompt, without the prompt: arguments in, text on two streams, an exit code out.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace bellmouth::cli {

/// Runs one command. `arguments` are those behind the program's name; results go to `out`, messages to `err`.
/// Returns the exit code (see Exit).
[[nodiscard]] int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err);

} // namespace bellmouth::cli
