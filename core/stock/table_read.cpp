// SPDX-License-Identifier: GPL-3.0-or-later
// Taking a table apart into cells. What is wrong with one record is kept with it; the rest is read all the
// same.
#include "cell_text.hpp"
#include "headings.hpp"

#include <bellmouth/quantity/utf8.hpp>
#include <bellmouth/stock/table.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cassert>

namespace bellmouth::stock {

namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
constexpr std::array delimiters{',', ';', '\t'};
/// A quoted cell that goes on for longer was never closed. It also keeps the time of reading in step with the
/// length of a text in which many are not.
constexpr std::size_t longest_quoted_cell = 4000;
constexpr std::size_t longest_shown_line = 200;

/// Where the first byte stands that is no text: no UTF-8, or a control character other than tab and line
/// ends.
std::optional<std::size_t> bad_byte(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const auto byte = static_cast<unsigned char>(text[at]);
    const std::size_t length = byte < 0x80 ? 1 : quantity::character_length(text.substr(at));
    const bool control = (byte < 0x20 && byte != '\t' && byte != '\n' && byte != '\r') || byte == 0x7F;
    if (length == 0 || control)
      return at;
    at += length;
  }
  return std::nullopt;
}

std::string shown(std::string_view line) {
  std::string plain(line.substr(0, longest_shown_line + 4));
  std::ranges::replace_if(
      plain, [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
  return quantity::printable(plain, longest_shown_line);
}

/// What is wrong with a cell.
struct Fault {
  std::string found, accepted;
};

struct Record {
  int line;
  std::string_view text;
  std::vector<std::string> cells;
  std::optional<Fault> fault;
};

/// Reads records one after the other.
class Records {
public:
  Records(std::string_view text, char delimiter) : text_(text), delimiter_(delimiter) {}

  [[nodiscard]] bool at_end() const { return at_ >= text_.size(); }

  Record next() {
    const std::size_t begin = at_;
    Record record{line_, {}, {}, {}};
    for (;;) {
      record.fault = cell(record.cells.emplace_back());
      if (record.fault || at_end() || text_[at_] != delimiter_)
        break;
      ++at_;
    }
    if (record.fault) {
      // A quotation mark may have swallowed more than its record: on with the next line.
      at_ = std::min(text_.find_first_of("\r\n", begin), text_.size());
      line_ = record.line;
    }
    record.text = text_.substr(begin, at_ - begin);
    if (const auto bad = bad_byte(record.text))
      record.fault = Fault{fmt::format("a byte of value {} that is no text",
                                       static_cast<int>(static_cast<unsigned char>(record.text[*bad]))),
                           "text in UTF-8 without control characters"};
    pass_line_end();
    return record;
  }

private:
  std::string_view text_;
  char delimiter_;
  std::size_t at_ = 0;
  int line_ = 1;

  [[nodiscard]] bool at_line_end() const { return text_[at_] == '\n' || text_[at_] == '\r'; }
  void pass_line_end() {
    if (at_end())
      return;
    at_ += text_.substr(at_).starts_with("\r\n") ? 2 : 1;
    ++line_;
  }
  void pass_spaces() {
    while (!at_end() && text_[at_] == ' ')
      ++at_;
  }

  /// One cell, up to what divides it from the next.
  std::optional<Fault> cell(std::string& found) {
    const std::size_t begin = at_;
    pass_spaces();
    if (!at_end() && text_[at_] == '"')
      return quoted_cell(found);
    for (at_ = begin; !at_end() && text_[at_] != delimiter_ && !at_line_end(); ++at_) {
      // Behind a digit it means inches.
      if (text_[at_] == '"' && !(at_ > begin && is_digit(text_[at_ - 1])))
        return Fault{
            "a quotation mark inside a cell",
            "quotation marks round the whole cell, those within it doubled; or inches, behind a digit"};
    }
    found = trimmed(text_.substr(begin, at_ - begin));
    return std::nullopt;
  }

  std::optional<Fault> quoted_cell(std::string& found) {
    const std::size_t opened = at_;
    for (++at_; !at_end() && at_ - opened <= longest_quoted_cell; ++at_) {
      const char c = text_[at_];
      if (c == '\n')
        ++line_;
      if (c != '"') {
        found += c;
        continue;
      }
      ++at_;
      if (!at_end() && text_[at_] == '"') {
        found += '"';
        continue;
      }
      pass_spaces();
      if (!at_end() && text_[at_] != delimiter_ && !at_line_end())
        return Fault{"more behind a closing quotation mark",
                     "the next cell there; quotation marks within a cell doubled"};
      found = trimmed(found);
      return std::nullopt;
    }
    return Fault{"a quotation mark that is never closed", "a closing quotation mark"};
  }
};

Error error_of(const std::string& file, const Record& record, std::string path, Fault fault) {
  return {{file, record.line, 0, std::move(path)},
          std::move(fault.found),
          std::move(fault.accepted),
          shown(record.text)};
}

bool says_nothing(const Record& record) {
  return !record.fault && std::ranges::all_of(record.cells, &std::string::empty);
}

/// The first record that says anything.
std::optional<Record> first_record(Records& records) {
  while (!records.at_end())
    if (Record record = records.next(); !says_nothing(record))
      return record;
  return std::nullopt;
}

/// The delimiter by which most headings are known, among such as know equally many that which makes most.
char recognised(std::string_view text) {
  std::pair<std::size_t, std::size_t> best{};
  char found = delimiters.front();
  for (const char delimiter : delimiters) {
    Records records(text, delimiter);
    const auto heading = first_record(records);
    if (!heading)
      return delimiter; // nothing at all
    if (heading->fault)
      continue;
    const auto known = static_cast<std::size_t>(std::ranges::count_if(
        heading->cells, [](const std::string& cell) { return read_heading(cell).field.has_value(); }));
    const std::pair score{known, heading->cells.size()};
    if (score > best) {
      best = score;
      found = delimiter;
    }
  }
  return found;
}

/// A row of as many cells as there are headings, or with what is wrong with it.
RawRow row_of(const std::string& file, Record record, std::size_t number, std::size_t headings) {
  RawRow row{number, record.line, {}, {}};
  while (record.cells.size() > headings && record.cells.back().empty())
    record.cells.pop_back();
  if (!record.fault && record.cells.size() != headings)
    record.fault =
        Fault{fmt::format("{} {}", record.cells.size(), record.cells.size() == 1 ? "cell" : "cells"),
              fmt::format("{}, one for each heading", headings)};
  if (record.fault)
    row.fault = error_of(file, record, row_words(number), *std::move(record.fault));
  else
    row.cells = std::move(record.cells);
  return row;
}

Error whole(const std::string& file, std::string found, std::string accepted) {
  return {{file, 0, 0, {}}, std::move(found), std::move(accepted), {}};
}

} // namespace

bool is_json(std::string_view text) {
  if (text.starts_with(byte_order_mark))
    text.remove_prefix(byte_order_mark.size());
  const std::size_t at = text.find_first_not_of(" \t\r\n");
  return at != std::string_view::npos && (text[at] == '{' || text[at] == '[');
}

Result<RawTable> read_table(std::string_view text, std::string file, const TableReading& reading) {
  assert(!reading.delimiter || std::ranges::find(delimiters, *reading.delimiter) != delimiters.end());
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF"))
    return fail(whole(file, "text in UTF-16", "text in UTF-8"));
  if (text.starts_with(byte_order_mark))
    text.remove_prefix(byte_order_mark.size());
  RawTable table{file, reading.delimiter ? *reading.delimiter : recognised(text), {}, {}};
  Records records(text, table.delimiter);
  auto heading = first_record(records);
  if (!heading)
    return fail(whole(file, "nothing", "a row of headings and a row for each stock item"));
  if (heading->fault)
    return fail(error_of(file, *heading, "headings", *std::move(heading->fault)));
  if (heading->cells.size() > max_table_columns)
    return fail(error_of(
        file, *heading, "headings",
        {fmt::format("{} headings", heading->cells.size()), fmt::format("at most {}", max_table_columns)}));
  table.headings = std::move(heading->cells);
  for (std::size_t number = 1; !records.at_end(); ++number) {
    Record record = records.next();
    if (number > max_table_rows)
      return fail(error_of(file, record, row_words(number),
                           {"another row", fmt::format("at most {} rows", max_table_rows)}));
    if (!says_nothing(record))
      table.rows.push_back(row_of(file, std::move(record), number, table.headings.size()));
  }
  return table;
}

} // namespace bellmouth::stock
