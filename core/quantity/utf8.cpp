// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/quantity/utf8.hpp>

namespace bellmouth::quantity {

namespace {
unsigned byte(std::string_view text, std::size_t at) {
  return static_cast<unsigned char>(text[at]);
}
} // namespace

std::size_t character_length(std::string_view text) {
  if (text.empty())
    return 0;
  const unsigned first = byte(text, 0);
  if (first < 0x80)
    return 1;
  // Lead bytes C0, C1 and F5 upward never occur; the ranges of the second byte keep out overlong forms,
  // surrogates and what lies beyond U+10FFFF.
  const std::size_t length = first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : first < 0xF5 ? 4 : 0;
  if (length == 0 || text.size() < length)
    return 0;
  const unsigned low = first == 0xE0 ? 0xA0 : first == 0xF0 ? 0x90 : 0x80;
  const unsigned high = first == 0xED ? 0x9F : first == 0xF4 ? 0x8F : 0xBF;
  if (byte(text, 1) < low || byte(text, 1) > high)
    return 0;
  for (std::size_t i = 2; i < length; ++i)
    if (byte(text, i) < 0x80 || byte(text, i) > 0xBF)
      return 0;
  return length;
}

std::optional<std::size_t> count_characters(std::string_view text) {
  std::size_t count = 0;
  while (!text.empty()) {
    const std::size_t length = character_length(text);
    if (length == 0)
      return std::nullopt;
    text.remove_prefix(length);
    ++count;
  }
  return count;
}

std::string printable(std::string_view text, std::size_t most) {
  std::string result;
  while (!text.empty()) {
    const std::size_t length = character_length(text);
    if (result.size() + length > most)
      return result + "...";
    const bool shown = length > 1 || (length == 1 && byte(text, 0) >= 0x20 && byte(text, 0) != 0x7F);
    if (shown)
      result += text.substr(0, length);
    else
      result += text[0] == '\t' ? ' ' : '?';
    text.remove_prefix(length == 0 ? 1 : length);
  }
  return result;
}

} // namespace bellmouth::quantity
