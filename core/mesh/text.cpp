// SPDX-License-Identifier: GPL-3.0-or-later
#include "text.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace bellmouth::mesh {

namespace {

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\v' || c == '\f';
}
bool is_line_end(char c) {
  return c == '\n' || c == '\r';
}

bool same_word(std::string_view found, std::string_view lower) {
  return std::ranges::equal(found, lower,
                            [](char a, char b) { return (a >= 'A' && a <= 'Z' ? a + 32 : a) == b; });
}

} // namespace

Text::Text(const Source& source, std::size_t begin) : source_(source), text_(source.bytes()), at_(begin) {}

std::size_t Text::past_line_end(std::size_t at) const {
  if (at >= text_.size() || !is_line_end(text_[at]))
    return at;
  return at + (text_[at] == '\r' && at + 1 < text_.size() && text_[at + 1] == '\n' ? 2 : 1);
}

std::string_view Text::word_at(std::size_t at) const {
  std::size_t end = at;
  while (end < text_.size() && !is_blank(text_[end]) && !is_line_end(text_[end]))
    ++end;
  return text_.substr(at, end - at);
}

bool Text::at_end() {
  while (at_ < text_.size() && (is_blank(text_[at_]) || is_line_end(text_[at_])))
    ++at_;
  return at_ >= text_.size();
}

std::string_view Text::any(std::string_view accepted) {
  if (at_end())
    fault(at_, accepted);
  const std::string_view found = word_at(at_);
  at_ += found.size();
  return found;
}

bool Text::accepts(std::string_view word) {
  if (at_end())
    return false;
  const std::string_view found = word_at(at_);
  if (!same_word(found, word))
    return false;
  at_ += found.size();
  return true;
}

void Text::expect(std::string_view word, std::string_view accepted) {
  if (!accepts(word))
    fault(at_, accepted.empty() ? '"' + std::string(word) + '"' : std::string(accepted));
}

double Text::coordinate() {
  return coordinate(any("a number"));
}

double Text::coordinate(std::string_view word) const {
  const bool plus = word.size() > 1 && word[0] == '+' && word[1] != '-';
  const char* const begin = word.data() + (plus ? 1 : 0);
  const char* const end = word.data() + word.size();
  double value = 0;
  const auto [behind, failure] = std::from_chars(begin, end, value);
  if (failure != std::errc() || behind != end || !(std::abs(value) < coordinate_at_most))
    fault(word,
          fmt::format("a finite number with decimal point, less than {:g} in size", coordinate_at_most));
  return value;
}

bool Text::at_line_end() {
  for (; at_ < text_.size(); ++at_) {
    if (text_[at_] == '\\' && past_line_end(at_ + 1) > at_ + 1)
      at_ = past_line_end(at_ + 1) - 1;
    else if (!is_blank(text_[at_]))
      return is_line_end(text_[at_]);
  }
  return true;
}

std::string_view Text::word() {
  if (at_line_end())
    return text_.substr(at_, 0);
  const std::string_view found = word_at(at_);
  at_ += found.size();
  return found;
}

void Text::skip_line() {
  at_ = std::min(text_.find_first_of("\r\n", at_), text_.size());
  at_ = past_line_end(at_);
}

void Text::skip_joined_lines() {
  while (!at_line_end())
    (void)word();
  skip_line();
}

bool Text::lacks_last_line_end() const {
  return !text_.empty() && !is_line_end(text_.back());
}

void Text::fault(std::size_t at, std::string_view accepted) const {
  const std::string_view found = word_at(at);
  source_.fault_in_text(at,
                        !found.empty()       ? in_quotes(found)
                        : at >= text_.size() ? "the end of the file"
                                             : "the end of the line",
                        std::string(accepted));
}

} // namespace bellmouth::mesh
