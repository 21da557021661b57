// SPDX-License-Identifier: GPL-3.0-or-later
// Tables as comma-separated values (RFC 4180), read strictly. Lists that others lay out are read by stock/.
#pragma once

#include <bellmouth/quantity/result.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::quantity {

/// A table with a header row: named columns, rows of text, and where each cell stands in its file. Rows and
/// columns are counted from 0 in calls and from 1 in messages, the header not counted. Row and column must be
/// there (assertions).
class CsvTable {
public:
  [[nodiscard]] const std::string& file() const { return file_; }
  /// Names of the columns, without spaces round them; no two alike, none empty.
  [[nodiscard]] const std::vector<std::string>& columns() const { return columns_; }
  [[nodiscard]] std::size_t rows() const { return cells_.size() / columns_.size(); }

  /// The column of that name (capitals matter), if there is one.
  [[nodiscard]] std::optional<std::size_t> find_column(std::string_view name) const;
  /// The same; a column that is not there is an error which tells those that are.
  [[nodiscard]] Result<std::size_t> column(std::string_view name) const;

  /// What stands in a cell, spaces included.
  [[nodiscard]] const std::string& text(std::size_t row, std::size_t column) const;
  /// Whether nothing but spaces stands there.
  [[nodiscard]] bool is_empty(std::size_t row, std::size_t column) const;
  /// The cell as a finite number with decimal point ("-1.5", "+2", ".5", "1e-3"), spaces round it allowed.
  /// All else is an error with the place of the cell.
  [[nodiscard]] Result<double> number(std::size_t row, std::size_t column) const;
  /// The same by the column's name; a column that is not there is an error.
  [[nodiscard]] Result<double> number(std::size_t row, std::string_view column) const;

  /// A complaint about a cell: its place (file, line, column, "row 4, price"), what stands there, its line.
  [[nodiscard]] Error complaint(std::size_t row, std::size_t column, std::string accepted) const;
  /// A complaint about the header.
  [[nodiscard]] Error header_complaint(std::string found, std::string accepted) const;

private:
  struct Cell {
    std::string text;
    int line, column;  ///< where it begins
    std::size_t begin; ///< of its record, in `source_`
    std::size_t end;
  };
  std::string file_, source_;
  std::vector<std::string> columns_;
  std::vector<Cell> cells_; ///< row by row
  int header_line_ = 0;
  std::size_t header_begin_ = 0, header_end_ = 0;

  friend class CsvReader;
};

/// Reads a table by RFC 4180: cells separated by commas, records by CRLF or LF, the first record the header,
/// each record with as many cells as that; a cell in double quotes may hold commas, line breaks and doubled
/// quotes. Beyond the standard: a byte-order mark, empty lines and lines that begin with '#' (comments) are
/// passed over. The text is UTF-8 without control characters. `file` is for messages. Errors, each with its
/// line and column: no header, a column without a name or with that of another, a record that is too short or
/// too long, a quote out of place or never closed, bytes that are no text, cells separated by something else.
[[nodiscard]] Result<CsvTable> read_csv(std::string_view text, std::string file = {});

} // namespace bellmouth::quantity
