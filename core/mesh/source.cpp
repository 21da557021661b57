// SPDX-License-Identifier: GPL-3.0-or-later
#include "source.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>

namespace bellmouth::mesh {

namespace {

constexpr std::size_t longest_quote = 60, longest_line = 200;

/// At most `longest` bytes of the text. What is not plain becomes a question mark: it may be anything.
std::string shown(std::string_view text, std::size_t longest) {
  std::string result(text.substr(0, longest));
  std::ranges::replace_if(
      result, [](char c) { return c < ' ' || c > '~'; }, '?');
  if (text.size() > longest)
    result += "...";
  return result;
}

} // namespace

std::string in_quotes(std::string_view text) {
  return '"' + shown(text, longest_quote) + '"';
}

Fault cancelled(const std::string& name) {
  return {{{name, 0, 0, {}}, "that reading was cancelled", {}, {}}};
}

void Source::fault(std::string found, std::string accepted) const {
  throw Fault{{{name_, 0, 0, {}}, std::move(found), std::move(accepted), {}}};
}

void Source::fault_in(std::string path, std::string found, std::string accepted) const {
  throw Fault{{{name_, 0, 0, std::move(path)}, std::move(found), std::move(accepted), {}}};
}

void Source::fault_at_byte(std::size_t at, std::string found, std::string accepted) const {
  fault_in(fmt::format("byte {}", at), std::move(found), std::move(accepted));
}

void Source::fault_in_text(std::size_t at, std::string found, std::string accepted) const {
  const std::size_t limit = std::min(at, bytes_.size());
  int line = 1;
  std::size_t begin = 0;
  for (std::size_t i = 0; i < limit; ++i)
    if (bytes_[i] == '\n' || (bytes_[i] == '\r' && (i + 1 >= bytes_.size() || bytes_[i + 1] != '\n'))) {
      ++line;
      begin = i + 1;
    }
  const std::size_t end = std::min(bytes_.find_first_of("\r\n", begin), bytes_.size());
  throw Fault{{{name_, line, static_cast<int>(limit - begin) + 1, {}},
               std::move(found),
               std::move(accepted),
               shown(bytes_.substr(begin, end - begin), longest_line)}};
}

void Source::reached_share(double share) const {
  if (progress_ && !progress_(std::min(share, 1.0)))
    throw cancelled(name_);
}

void Source::bad_coordinate(double coordinate, std::size_t at) const {
  fault_at_byte(at, fmt::format("the coordinate {}", coordinate),
                fmt::format("finite numbers, less than {:g} in size", coordinate_at_most));
}

} // namespace bellmouth::mesh
