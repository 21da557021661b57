// SPDX-License-Identifier: GPL-3.0-or-later
// Tables as comma-separated values.
#include <bellmouth/list.hpp>

#include <string_view>

namespace bellmouth::list {
namespace {

void append_cell(std::string& out, std::string_view cell) {
  if (cell.find_first_of("\",\r\n") == std::string_view::npos) {
    out += cell;
    return;
  }
  out += '"';
  for (const char c : cell) {
    if (c == '"')
      out += '"';
    out += c;
  }
  out += '"';
}

void append_row(std::string& out, const std::vector<std::string>& cells) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0)
      out += ',';
    append_cell(out, cells[i]);
  }
  out += "\r\n";
}

} // namespace

std::string csv(const Table& table) {
  std::string out;
  append_row(out, table.header);
  for (const auto& row : table.rows)
    append_row(out, row);
  return out;
}

} // namespace bellmouth::list
