// SPDX-License-Identifier: GPL-3.0-or-later
// Cells are written as RFC 4180 says, and come back as they were.
#include <bellmouth/quantity/csv.hpp>
#include <bellmouth/quantity/csv_write.hpp>

#include <gtest/gtest.h>

#include <vector>

namespace bellmouth::quantity {
namespace {

using Cells = std::vector<std::string>;

struct Written {
  Cells cells;
  char delimiter;
  const char* text;
};

// Published rules: RFC 4180, section 2, rules 1 and 5 to 7.
TEST(CsvWrite, QuotesWhatNeedsIt) {
  for (const Written& each : {
           Written{{"a", "b"}, ',', "a,b\r\n"},
           Written{{"a,b", "c"}, ',', "\"a,b\",c\r\n"},
           Written{{"a,b", "c"}, ';', "a,b;c\r\n"},
           Written{{"a;b"}, ';', "\"a;b\"\r\n"},
           Written{{"2 1/2\""}, ',', "\"2 1/2\"\"\"\r\n"},
           Written{{"two\r\nlines"}, ',', "\"two\r\nlines\"\r\n"},
           Written{{" a", "b "}, ',', "\" a\",\"b \"\r\n"},
           Written{{"", ""}, ',', ",\r\n"},
       }) {
    std::string text;
    append_csv_record(text, each.cells, each.delimiter);
    EXPECT_EQ(text, each.text);
  }
}

// Identity.
TEST(CsvWrite, ComesBackAsItWas) {
  const Cells cells{"plain", "with, comma", "with \"quotes\"", "two\nlines", "caf\u00e9", " spaced "};
  std::string text;
  append_csv_record(text, Cells{"a", "b", "c", "d", "e", "f"});
  append_csv_record(text, cells);
  const auto table = read_csv(text);
  ASSERT_TRUE(table) << table.error().text();
  for (std::size_t column = 0; column < cells.size(); ++column)
    EXPECT_EQ(table->text(0, column), cells[column]);
}

} // namespace
} // namespace bellmouth::quantity
