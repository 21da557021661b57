// SPDX-License-Identifier: GPL-3.0-or-later
// Characters of typed text, UTF-8, without any locale.
#pragma once

#include <cstddef>
#include <string_view>

namespace bellmouth::quantity::detail {

[[nodiscard]] constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
[[nodiscard]] constexpr bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
[[nodiscard]] constexpr char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}
/// Whether `text` has a digit at `at`; false behind the end.
[[nodiscard]] constexpr bool digit_at(std::string_view text, std::size_t at) {
  return at < text.size() && is_digit(text[at]);
}

/// Bytes of a space that does not break a line and so stands inside numbers and between number and unit:
/// U+00A0, U+2009 (thin), U+202F (narrow); 0 if none stands at `at`.
[[nodiscard]] constexpr std::size_t fixed_space_at(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  if (rest.starts_with("\u00a0"))
    return 2;
  return rest.starts_with("\u2009") || rest.starts_with("\u202f") ? 3 : 0;
}

/// Bytes of any space or tab at `at`, 0 if none.
[[nodiscard]] constexpr std::size_t space_at(std::string_view text, std::size_t at) {
  if (at >= text.size())
    return 0;
  return text[at] == ' ' || text[at] == '\t' ? 1 : fixed_space_at(text, at);
}

[[nodiscard]] constexpr std::size_t skip_spaces(std::string_view text, std::size_t at) {
  for (std::size_t length = space_at(text, at); length > 0; length = space_at(text, at))
    at += length;
  return at;
}

/// `text` without the spaces at its end.
[[nodiscard]] constexpr std::string_view trim_end(std::string_view text) {
  for (;;) {
    std::size_t cut = 0;
    for (const std::size_t length : {std::size_t{1}, std::size_t{2}, std::size_t{3}})
      if (text.size() >= length && space_at(text, text.size() - length) == length)
        cut = length;
    if (cut == 0)
      return text;
    text.remove_suffix(cut);
  }
}

/// A minus, "-" or U+2212: its bytes, 0 if none stands at `at`.
[[nodiscard]] constexpr std::size_t minus_at(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  return rest.starts_with('-') ? 1 : rest.starts_with("\u2212") ? 3 : 0;
}

} // namespace bellmouth::quantity::detail
