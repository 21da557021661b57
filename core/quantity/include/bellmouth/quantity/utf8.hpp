// SPDX-License-Identifier: GPL-3.0-or-later
// What is UTF-8 and what is not (RFC 3629).
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace bellmouth::quantity {

/// Bytes of the well-formed character at the start of `text`; 0 when there is none.
[[nodiscard]] std::size_t character_length(std::string_view text);
/// How many characters a text has; nullopt when it is not UTF-8.
[[nodiscard]] std::optional<std::size_t> count_characters(std::string_view text);
/// Fit for a message: bytes that are not UTF-8 and control characters become "?", what is longer than `most`
/// bytes ends in "...".
[[nodiscard]] std::string printable(std::string_view text, std::size_t most);

} // namespace bellmouth::quantity
