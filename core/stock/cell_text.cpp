// SPDX-License-Identifier: GPL-3.0-or-later
#include "cell_text.hpp"

#include <spdlog/fmt/fmt.h>

namespace bellmouth::stock {

namespace {

constexpr std::string_view fixed_space = "\u00a0";

/// Bytes of the space that a text begins or ends with, 0 if it does not.
std::size_t space_at_begin(std::string_view text) {
  if (text.starts_with(fixed_space))
    return fixed_space.size();
  return !text.empty() && std::string_view(" \t\r\n").find(text.front()) != std::string_view::npos ? 1 : 0;
}
std::size_t space_at_end(std::string_view text) {
  if (text.ends_with(fixed_space))
    return fixed_space.size();
  return !text.empty() && std::string_view(" \t\r\n").find(text.back()) != std::string_view::npos ? 1 : 0;
}

} // namespace

std::string trimmed(std::string_view text) {
  while (const std::size_t size = space_at_begin(text))
    text.remove_prefix(size);
  while (const std::size_t size = space_at_end(text))
    text.remove_suffix(size);
  return std::string(text);
}

std::string plain_words(std::string_view text) {
  std::string words;
  bool space_due = false;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char c = text[at];
    const bool point =
        c == '.' && at > 0 && at + 1 < text.size() && is_digit(text[at - 1]) && is_digit(text[at + 1]);
    if (!is_letter(c) && !is_digit(c) && !point) {
      space_due = !words.empty();
      continue;
    }
    if (space_due)
      words += ' ';
    space_due = false;
    words += lower(c);
  }
  return words;
}

std::string row_words(std::size_t number) {
  return fmt::format("row {}", number);
}

} // namespace bellmouth::stock
