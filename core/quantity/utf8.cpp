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

} // namespace bellmouth::quantity
