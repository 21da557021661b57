// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the reference tables: '#' lines are comment, then one header row, then data (RFC 4180 quoting).
#pragma once

#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace bellmouth::test {

/// One row of a reference table, cells by column name.
class Row {
public:
  std::map<std::string, std::string> cells;

  /// The cell's text; a column that is not there is an error of the test itself.
  [[nodiscard]] const std::string& text(const std::string& column) const {
    const auto found = cells.find(column);
    if (found == cells.end())
      throw std::runtime_error("no column " + column);
    return found->second;
  }
  [[nodiscard]] bool has(const std::string& column) const { return !text(column).empty(); }
  [[nodiscard]] double number(const std::string& column) const {
    std::istringstream stream(text(column));
    stream.imbue(std::locale::classic());
    double value = 0;
    if (!(stream >> value))
      throw std::runtime_error("not a number in " + column + ": " + text(column));
    return value;
  }
};

/// Splits one CSV line into cells; a quoted cell may hold commas and doubled quotes.
inline std::vector<std::string> split_csv_line(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"')
      cells.back() += line[++i];
    else if (c == '"')
      quoted = !quoted;
    else if (c == ',' && !quoted)
      cells.emplace_back();
    else if (c != '\r')
      cells.back() += c;
  }
  return cells;
}

/// All rows of a table. A missing, empty or ragged file throws, which fails the test that asked.
inline std::vector<Row> table_at(const std::string& path) {
  std::ifstream file(path);
  if (!file)
    throw std::runtime_error("reference table missing: " + path);
  std::vector<Row> rows;
  std::vector<std::string> header;
  std::string line;
  while (std::getline(file, line)) {
    if (line.empty() || line[0] == '#')
      continue;
    auto cells = split_csv_line(line);
    if (header.empty()) {
      header = std::move(cells);
      continue;
    }
    if (cells.size() != header.size())
      throw std::runtime_error("ragged row in " + path + ": " + line);
    Row row;
    for (std::size_t i = 0; i < header.size(); ++i)
      row.cells[header[i]] = cells[i];
    rows.push_back(std::move(row));
  }
  if (rows.empty())
    throw std::runtime_error("reference table empty: " + path);
  return rows;
}

/// A table in tests/reference.
inline std::vector<Row> reference(const std::string& name) {
  return table_at(std::string(BELLMOUTH_REFERENCE_DIR) + "/" + name);
}

/// The number after `key=` in a cell such as "T1=298.15 K; PR=1.1; gamma=1.4".
inline double input(const std::string& cell, const std::string& key) {
  std::size_t at = 0;
  while ((at = cell.find(key + "=", at)) != std::string::npos) {
    if (at == 0 || cell[at - 1] == ' ' || cell[at - 1] == ';')
      return std::stod(cell.substr(at + key.size() + 1));
    ++at;
  }
  throw std::runtime_error("no " + key + " in " + cell);
}

} // namespace bellmouth::test
