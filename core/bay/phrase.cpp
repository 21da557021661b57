// SPDX-License-Identifier: GPL-3.0-or-later
#include "phrase.hpp"

#include <algorithm>
#include <array>

namespace bellmouth::bay::detail {

namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// Bytes of a space at `at`, 0 if none: also the no-break and the thin ones of typeset text.
std::size_t space_at(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  if (rest.starts_with(' ') || rest.starts_with('\t') || rest.starts_with('\n'))
    return 1;
  if (rest.starts_with("\u00a0"))
    return 2;
  return rest.starts_with("\u2009") || rest.starts_with("\u202f") ? 3 : 0;
}

/// Bytes of a parting sign at `at`, 0 if none.
std::size_t parting_at(std::string_view text, std::size_t at, char decimal) {
  const auto char_at = [&](std::size_t i) { return i < text.size() ? text[i] : ' '; };
  const char before = at > 0 ? text[at - 1] : ' ', behind = char_at(at + 1);
  if (text[at] == ';')
    return 1;
  if (text[at] == ',')
    return decimal == ',' && is_digit(before) && is_digit(behind) ? 0 : 1;
  if (text.substr(at).starts_with("×"))
    return 2;
  const auto beside_number = [](char c) { return is_digit(c) || c == ' ' || c == '"'; };
  if ((text[at] == 'x' || text[at] == 'X') && beside_number(before) && (is_digit(behind) || behind == ' '))
    return 1;
  return 0;
}

struct NamedSide {
  std::string_view word;
  Side side;
};
constexpr NamedSide named_sides[] = {
    {"ahead", {0, 1, false, false}},
    {"forward", {0, 1, false, false}},
    {"forwards", {0, 1, false, false}},
    {"front", {0, 1, false, false}},
    {"behind", {0, -1}},
    {"back", {0, -1, false, false}},
    {"backward", {0, -1, false, false}},
    {"backwards", {0, -1, false, false}},
    {"rearward", {0, -1, false, false}},
    {"left", {1, 1, false, false}},
    {"right", {1, -1, false, false}},
    {"above", {2, 1}},
    {"over", {2, 1}},
    {"up", {2, 1, false, false}},
    {"upward", {2, 1, false, false}},
    {"upwards", {2, 1, false, false}},
    {"higher", {2, 1, false, false}},
    {"below", {2, -1}},
    {"under", {2, -1}},
    {"beneath", {2, -1}},
    {"down", {2, -1, false, false}},
    {"downward", {2, -1, false, false}},
    {"downwards", {2, -1, false, false}},
    {"lower", {2, -1, false, false}},
    {"out", {0, 1, true, false}},
};

} // namespace

build::Vector Side::direction() const {
  build::Vector direction{};
  direction[axis] = sign;
  return direction;
}

std::vector<Token> tokens_of(std::string_view text, char decimal) {
  std::vector<Token> tokens;
  constexpr std::size_t none = std::string_view::npos;
  std::size_t begin = none;
  const auto end_word = [&](std::size_t end) {
    if (begin != none)
      tokens.push_back({text.substr(begin, end - begin), begin, false});
    begin = none;
  };
  for (std::size_t at = 0; at < text.size();) {
    if (const std::size_t space = space_at(text, at)) {
      end_word(at);
      at += space;
    } else if (const std::size_t parting = parting_at(text, at, decimal)) {
      end_word(at);
      tokens.push_back({text.substr(at, parting), at, true});
      at += parting;
    } else {
      if (begin == none)
        begin = at;
      ++at;
    }
  }
  end_word(text.size());
  return tokens;
}

std::string plain(std::string_view text) {
  std::string result;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t space = text[at] == '_' ? 1 : space_at(text, at);
    if (space > 0) {
      if (!result.empty() && result.back() != ' ')
        result += ' ';
      at += space;
    } else {
      result += lower(text[at++]);
    }
  }
  if (!result.empty() && result.back() == ' ')
    result.pop_back();
  return result;
}

bool is(const Token& token, std::string_view word) {
  return !token.parts && std::ranges::equal(token.text, word, {}, lower);
}

bool starts_number(const Token& token) {
  static constexpr std::array<std::string_view, 9> others{"+", "-", ".", ",", "\u2212", "¼", "½", "¾", "⅛"};
  return !token.parts &&
         (is_digit(token.text.front()) ||
          std::ranges::any_of(others, [&](std::string_view start) { return token.text.starts_with(start); }));
}

std::optional<Side> side_at(const std::vector<Token>& tokens, std::size_t at) {
  if (at >= tokens.size())
    return std::nullopt;
  if (is(tokens[at], "in")) { // "5 in" is no side, "in front" is
    if (at + 1 >= tokens.size() || !is(tokens[at + 1], "front"))
      return std::nullopt;
    return Side{0, 1, false, false, 2};
  }
  for (const auto& [word, side] : named_sides)
    if (is(tokens[at], word))
      return side;
  return std::nullopt;
}

tl::unexpected<Error> shifted(std::string_view text, std::size_t at, Error error) {
  error.place.column = static_cast<int>(at) + std::max(error.place.column, 1);
  error.line = text;
  return fail(std::move(error));
}

} // namespace bellmouth::bay::detail
