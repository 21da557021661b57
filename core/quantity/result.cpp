// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/quantity/result.hpp>

#include <spdlog/fmt/fmt.h>

namespace bellmouth {

namespace {

/// "file:3:12", "line 3, column 12" or "column 12"; empty when nothing is known.
std::string position(const Place& place) {
  std::string text = place.file;
  if (!place.file.empty() && place.line > 0) {
    text += fmt::format(":{}", place.line);
    if (place.column > 0)
      text += fmt::format(":{}", place.column);
    return text;
  }
  if (place.line > 0)
    text += fmt::format("line {}", place.line);
  if (place.column > 0)
    text += fmt::format("{}column {}", text.empty() ? "" : ", ", place.column);
  return text;
}

} // namespace

std::string Error::text() const {
  std::string whole = position(place);
  if (!place.path.empty())
    whole += whole.empty() ? place.path : fmt::format(" ({})", place.path);
  if (!whole.empty())
    whole += ": ";
  whole += fmt::format("found {}", found.empty() ? "nothing" : found);
  if (!accepted.empty())
    whole += fmt::format("; accepted: {}", accepted);
  if (!line.empty())
    whole += fmt::format("; in: {}", line);
  return whole;
}

} // namespace bellmouth
