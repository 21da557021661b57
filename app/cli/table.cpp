// SPDX-License-Identifier: GPL-3.0-or-later
#include "table.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <ostream>

namespace bellmouth::cli {

namespace {

std::size_t width(std::string_view text) {
  return static_cast<std::size_t>(
      std::ranges::count_if(text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

bool is_number(std::string_view cell) {
  if (cell.empty() || cell == unknown)
    return true;
  if (cell.front() == '-' || cell.front() == '+')
    cell.remove_prefix(1);
  return !cell.empty() && cell.front() >= '0' && cell.front() <= '9' &&
         cell.find_first_not_of("0123456789.eE+-") == std::string_view::npos;
}

struct Column {
  std::size_t width;
  bool flush_right;
};

std::vector<Column> columns_of(const Cells& header, const std::vector<Cells>& rows) {
  std::vector<Column> columns;
  for (std::size_t c = 0; c < header.size(); ++c) {
    Column column{width(header[c]), !rows.empty()};
    for (const Cells& row : rows) {
      column.width = std::max(column.width, width(row[c]));
      column.flush_right = column.flush_right && is_number(row[c]);
    }
    columns.push_back(column);
  }
  return columns;
}

void print_line(std::ostream& out, const Cells& cells, const std::vector<Column>& columns) {
  std::string line;
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const std::string pad(columns[c].width - width(cells[c]), ' ');
    line += c == 0 ? "" : "  ";
    line += columns[c].flush_right ? pad + cells[c] : cells[c] + pad;
  }
  line.erase(line.find_last_not_of(' ') + 1);
  out << line << '\n';
}

} // namespace

std::string fixed(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.front() == '-' && text.find_first_of("123456789") == std::string::npos)
    text.erase(0, 1); // nothing is not negative
  return text;
}

std::string fixed(const std::optional<double>& value, int decimals) {
  return value ? fixed(*value, decimals) : std::string(unknown);
}

void print_table(std::ostream& out, const Cells& header, const std::vector<Cells>& rows) {
  assert(std::ranges::all_of(rows, [&](const Cells& row) { return row.size() == header.size(); }));
  const auto columns = columns_of(header, rows);
  print_line(out, header, columns);
  Cells rule;
  for (const Column& column : columns)
    rule.emplace_back(column.width, '-');
  print_line(out, rule, columns);
  for (const Cells& row : rows)
    print_line(out, row, columns);
}

void print_section(std::ostream& out, std::string_view title, const Cells& header,
                   const std::vector<Cells>& rows) {
  if (rows.empty())
    return;
  out << title << '\n';
  print_table(out, header, rows);
  out << '\n';
}

} // namespace bellmouth::cli
