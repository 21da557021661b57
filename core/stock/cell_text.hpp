// SPDX-License-Identifier: GPL-3.0-or-later
// Small questions of the text in a cell.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace bellmouth::stock {

[[nodiscard]] constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
[[nodiscard]] constexpr bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
[[nodiscard]] constexpr char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// Without spaces, tabs and line breaks at both ends; a space that does not break a line counts as one.
[[nodiscard]] std::string trimmed(std::string_view text);
/// In small letters, with one space for everything that is neither letter nor digit nor a decimal point
/// between digits, none at the ends: "Tube-Bend" and "tube_bend" both give "tube bend".
[[nodiscard]] std::string plain_words(std::string_view text);
/// "row 12".
[[nodiscard]] std::string row_words(std::size_t number);

} // namespace bellmouth::stock
