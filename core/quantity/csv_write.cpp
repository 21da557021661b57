// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/quantity/csv_write.hpp>

namespace bellmouth::quantity {

namespace {

bool needs_quotes(std::string_view cell, char delimiter) {
  return cell.find(delimiter) != std::string_view::npos ||
         cell.find_first_of("\"\r\n") != std::string_view::npos || cell.starts_with(' ') ||
         cell.ends_with(' ');
}

void append_cell(std::string& text, std::string_view cell, char delimiter) {
  if (!needs_quotes(cell, delimiter)) {
    text += cell;
    return;
  }
  text += '"';
  for (const char c : cell) {
    if (c == '"')
      text += '"';
    text += c;
  }
  text += '"';
}

} // namespace

void append_csv_record(std::string& text, std::span<const std::string> cells, char delimiter) {
  bool first = true;
  for (const std::string& cell : cells) {
    if (!first)
      text += delimiter;
    first = false;
    append_cell(text, cell, delimiter);
  }
  text += "\r\n";
}

} // namespace bellmouth::quantity
