// SPDX-License-Identifier: GPL-3.0-or-later
// How readers complain about typed text.
#pragma once

#include <bellmouth/quantity/result.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

namespace bellmouth::quantity::detail {

/// What stands in the input, in quotation marks, cut between characters when it is long.
[[nodiscard]] inline std::string quoted(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::size_t end = text.size();
  if (end > longest) {
    end = longest;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U)
      --end;
  }
  std::string found = "\"";
  found += text.substr(0, end);
  found += end < text.size() ? "...\"" : "\"";
  return found;
}

/// The complaint about what stands at byte `at` of the typed `text`.
[[nodiscard]] inline tl::unexpected<Error> complaint(std::string_view text, std::size_t at, std::string found,
                                                     std::string accepted) {
  Error error;
  error.place.column = static_cast<int>(at) + 1;
  error.found = std::move(found);
  error.accepted = std::move(accepted);
  error.line = text;
  return fail(std::move(error));
}

} // namespace bellmouth::quantity::detail
