// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/quantity/complaint.hpp>
#include <bellmouth/quantity/csv.hpp>
#include <bellmouth/quantity/utf8.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <charconv>
#include <cmath>

namespace bellmouth::quantity {

namespace {

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(" \t");
  if (begin == std::string_view::npos)
    return {};
  return text.substr(begin, text.find_last_not_of(" \t") - begin + 1);
}

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
constexpr std::size_t longest_quoted_line = 200;

/// One line for a message: line breaks in quoted cells become spaces, the rest of a long line is left out.
std::string shown(std::string_view line) {
  std::string result(line.substr(0, longest_quoted_line));
  while (!result.empty() && line.size() > result.size() &&
         (static_cast<unsigned char>(line[result.size()]) & 0xC0U) == 0x80U)
    result.pop_back(); // not in the middle of a character
  std::ranges::replace_if(
      result, [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
  if (line.size() > longest_quoted_line)
    result += "...";
  return result;
}

} // namespace

std::optional<std::size_t> CsvTable::find_column(std::string_view name) const {
  const auto found = std::ranges::find(columns_, name);
  if (found == columns_.end())
    return std::nullopt;
  return static_cast<std::size_t>(found - columns_.begin());
}

Result<std::size_t> CsvTable::column(std::string_view name) const {
  if (const auto found = find_column(name))
    return *found;
  return fail(header_complaint(fmt::format("no column \"{}\"", name),
                               fmt::format("a header with \"{}\" among its columns", name)));
}

const std::string& CsvTable::text(std::size_t row, std::size_t column) const {
  assert(row < rows() && column < columns_.size());
  return cells_[row * columns_.size() + column].text;
}

bool CsvTable::is_empty(std::size_t row, std::size_t column) const {
  return trimmed(text(row, column)).empty();
}

Result<double> CsvTable::number(std::size_t row, std::size_t column) const {
  std::string_view digits = trimmed(text(row, column));
  if (digits.size() > 1 && digits.front() == '+' && digits[1] != '-')
    digits.remove_prefix(1);
  double value = 0;
  const auto [end, fault] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (fault != std::errc() || end != digits.data() + digits.size() || !std::isfinite(value))
    return fail(complaint(row, column, "a number with decimal point, such as 12.5 or 1e-3"));
  return value;
}

Result<double> CsvTable::number(std::size_t row, std::string_view name) const {
  return column(name).and_then([&](std::size_t found) { return number(row, found); });
}

Error CsvTable::complaint(std::size_t row, std::size_t column, std::string accepted) const {
  assert(row < rows() && column < columns_.size());
  const Cell& cell = cells_[row * columns_.size() + column];
  return {{file_, cell.line, cell.column, fmt::format("row {}, {}", row + 1, columns_[column])},
          cell.text.empty() ? "an empty cell" : detail::quoted(shown(cell.text)),
          std::move(accepted),
          shown(std::string_view(source_).substr(cell.begin, cell.end - cell.begin))};
}

Error CsvTable::header_complaint(std::string found, std::string accepted) const {
  return {{file_, header_line_, 1, "header"},
          std::move(found),
          std::move(accepted),
          shown(std::string_view(source_).substr(header_begin_, header_end_ - header_begin_))};
}

/// Reads one text from its beginning to its end.
class CsvReader {
public:
  CsvReader(std::string_view text, std::string file) {
    table_.file_ = std::move(file);
    if (text.starts_with(byte_order_mark))
      text.remove_prefix(byte_order_mark.size());
    table_.source_ = text;
    text_ = table_.source_;
  }

  Result<CsvTable> read() && {
    if (auto fault = bad_bytes())
      return fail(*std::move(fault));
    while (at_ < text_.size()) {
      if (text_[at_] == '#')
        skip_line();
      else if (at_line_end())
        pass_line_end();
      else if (auto fault = record())
        return fail(*std::move(fault));
    }
    if (table_.columns_.empty())
      return fail(error(line_, 1, "no header", "a first row with the names of the columns", {}));
    return std::move(table_);
  }

private:
  CsvTable table_;
  std::string_view text_;
  std::size_t at_ = 0, line_begin_ = 0;
  int line_ = 1;
  std::vector<CsvTable::Cell> record_;

  [[nodiscard]] Error error(int line, int column, std::string found, std::string accepted,
                            std::string_view quoted_line) const {
    return {{table_.file_, line, column, {}}, std::move(found), std::move(accepted), shown(quoted_line)};
  }
  [[nodiscard]] int column() const { return static_cast<int>(at_ - line_begin_) + 1; }
  /// The line that begins at `begin`.
  [[nodiscard]] std::string_view line_from(std::size_t begin) const {
    return text_.substr(begin, text_.find('\n', begin) - begin);
  }

  [[nodiscard]] std::optional<Error> bad_bytes() const {
    int line = 1;
    std::size_t begin = 0;
    for (std::size_t at = 0; at < text_.size();) {
      const std::size_t length = character_length(text_.substr(at));
      const auto byte = static_cast<unsigned char>(text_[at]);
      const bool control = length == 1 && (byte < 0x20 || byte == 0x7F) && byte != '\t' && byte != '\n' &&
                           !(byte == '\r' && at + 1 < text_.size() && text_[at + 1] == '\n');
      if (length == 0 || control)
        return error(line, static_cast<int>(at - begin) + 1, fmt::format("a byte of value {}", byte),
                     "text in UTF-8 with lines ended by CRLF or LF", {});
      if (byte == '\n') {
        ++line;
        begin = at + 1;
      }
      at += length;
    }
    return std::nullopt;
  }

  [[nodiscard]] bool at_line_end() const { return text_[at_] == '\n' || text_[at_] == '\r'; }
  void pass_line_end() {
    at_ += text_[at_] == '\r' ? 2 : 1;
    ++line_;
    line_begin_ = at_;
  }
  void skip_line() {
    at_ = std::min(text_.find('\n', at_), text_.size());
    if (at_ < text_.size())
      pass_line_end();
  }

  std::optional<Error> record() {
    record_.clear();
    const std::size_t begin = at_;
    const int line = line_;
    for (;;) {
      if (auto fault = cell())
        return fault;
      if (at_ >= text_.size() || text_[at_] != ',')
        break;
      ++at_;
    }
    const std::size_t end = at_;
    if (at_ < text_.size())
      pass_line_end();
    if (table_.columns_.empty())
      return header(begin, end, line);
    if (record_.size() != table_.columns_.size())
      return error(line, 1, fmt::format("{} {}", record_.size(), record_.size() == 1 ? "cell" : "cells"),
                   fmt::format("{}, one for each column of the header", table_.columns_.size()),
                   text_.substr(begin, end - begin));
    for (CsvTable::Cell& each : record_) {
      each.begin = begin;
      each.end = end;
      table_.cells_.push_back(std::move(each));
    }
    return std::nullopt;
  }

  /// One cell up to the comma or line end behind it.
  std::optional<Error> cell() {
    record_.push_back({{}, line_, column(), 0, 0});
    std::string& found = record_.back().text;
    if (at_ < text_.size() && text_[at_] == '"')
      return quoted_cell(found);
    const std::size_t end = std::min(text_.find_first_of(",\r\n\"", at_), text_.size());
    found = text_.substr(at_, end - at_);
    at_ = end;
    if (at_ < text_.size() && text_[at_] == '"')
      return error(line_, column(), "a quotation mark inside a cell",
                   "quotation marks round the whole cell, those within it doubled", line_from(line_begin_));
    return std::nullopt;
  }

  std::optional<Error> quoted_cell(std::string& found) {
    const int line = line_, opened = column();
    const std::size_t begin = line_begin_;
    for (++at_; at_ < text_.size(); ++at_) {
      const char c = text_[at_];
      if (c == '"') {
        if (++at_ < text_.size() && text_[at_] == '"') {
          found += '"';
          continue;
        }
        if (at_ < text_.size() && text_[at_] != ',' && !at_line_end())
          return error(line_, column(), "more behind the closing quotation mark",
                       "a comma or the end of the line there, quotation marks within a cell doubled",
                       line_from(line_begin_));
        return std::nullopt;
      }
      found += c;
      if (c == '\n') {
        ++line_;
        line_begin_ = at_ + 1;
      }
    }
    return error(line, opened, "a quotation mark that is never closed", "a closing quotation mark",
                 line_from(begin));
  }

  std::optional<Error> header(std::size_t begin, std::size_t end, int line) {
    const std::string_view whole = text_.substr(begin, end - begin);
    for (const CsvTable::Cell& each : record_) {
      const std::string_view name = trimmed(each.text);
      if (name.empty())
        return error(each.line, each.column, "a column without a name", "a name for every column", whole);
      if (table_.find_column(name))
        return error(each.line, each.column, detail::quoted(shown(name)) + " for a second time",
                     "columns whose names differ", whole);
      table_.columns_.emplace_back(name);
    }
    if (record_.size() == 1 && record_.front().text.find_first_of(";\t") != std::string::npos)
      return error(line, 1, "names separated by semicolons or tabs",
                   "cells separated by commas, numbers with decimal point", whole);
    table_.header_line_ = line;
    table_.header_begin_ = begin;
    table_.header_end_ = end;
    return std::nullopt;
  }
};

Result<CsvTable> read_csv(std::string_view text, std::string file) {
  return CsvReader(text, std::move(file)).read();
}

} // namespace bellmouth::quantity
