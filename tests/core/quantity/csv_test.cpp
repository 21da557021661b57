// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/reference.hpp"

#include <bellmouth/quantity/csv.hpp>

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <ostream>
#include <random>

namespace bellmouth::quantity {
namespace {

CsvTable good(std::string_view text) {
  auto table = read_csv(text, "good.csv");
  if (!table)
    throw std::runtime_error(table.error().text());
  return *std::move(table);
}

TEST(ReadCsv, ReadsWhatTheStandardAllows) {
  const CsvTable table = good("\xEF\xBB\xBF# a comment\r\n"
                              "name, speed_rpm ,\"note, long\"\r\n"
                              "\r\n"
                              "a,1200,\"says \"\"go\"\", then\nstops\"\r\n"
                              "# in between\n"
                              "b, -1.5e3 ,\n"
                              "c,+.5,µ");
  EXPECT_EQ(table.columns(), (std::vector<std::string>{"name", "speed_rpm", "note, long"}));
  ASSERT_EQ(table.rows(), 3U);
  EXPECT_EQ(table.text(0, 2), "says \"go\", then\nstops");
  EXPECT_EQ(table.number(0, 1), 1200.0);
  EXPECT_EQ(table.number(1, 1), -1500.0);
  EXPECT_EQ(table.number(2, "speed_rpm"), 0.5);
  EXPECT_TRUE(table.is_empty(1, 2));
  EXPECT_FALSE(table.is_empty(0, 2));
  EXPECT_EQ(table.text(2, 2), "µ");
  EXPECT_EQ(table.find_column("speed_rpm"), 1U);
  EXPECT_FALSE(table.find_column("Speed_rpm"));
  EXPECT_EQ(good("a\n").rows(), 0U);
  EXPECT_EQ(good("a,b\n,").text(0, 1), "");
}

struct Wrong {
  std::string_view text;
  int line, column;
  std::string_view found;

  friend void PrintTo(const Wrong& wrong, std::ostream* out) {
    *out << wrong.line << ':' << wrong.column << ' ' << wrong.found;
  }
};
class BadCsv : public ::testing::TestWithParam<Wrong> {};

TEST_P(BadCsv, IsRefusedAtItsPlace) {
  const auto table = read_csv(GetParam().text, "log.csv");
  ASSERT_FALSE(table);
  const Error& error = table.error();
  EXPECT_EQ(error.place.file, "log.csv");
  EXPECT_EQ(error.place.line, GetParam().line) << error.text();
  EXPECT_EQ(error.place.column, GetParam().column) << error.text();
  EXPECT_NE(error.found.find(GetParam().found), std::string::npos) << error.text();
  EXPECT_FALSE(error.accepted.empty());
}
INSTANTIATE_TEST_SUITE_P(
    ReadCsv, BadCsv,
    ::testing::Values(Wrong{"", 1, 1, "no header"}, Wrong{"# nothing\n\n", 3, 1, "no header"},
                      Wrong{"a,,c\n", 1, 3, "without a name"}, Wrong{"a,b, a \n", 1, 5, "second time"},
                      Wrong{"a;b\n1;2\n", 1, 1, "semicolons"}, Wrong{"a\tb\n1\t2\n", 1, 1, "tabs"},
                      Wrong{"a,b\n1,2\n3\n", 3, 1, "1 cell"}, Wrong{"a,b\n1,2,\n", 2, 1, "3 cells"},
                      Wrong{"a,b\n1,2\"3\n", 2, 4, "inside a cell"},
                      Wrong{"a,b\n\"x\" ,2\n", 2, 4, "behind the closing"},
                      Wrong{"a,b\n1,\"2\n3,4\n", 2, 3, "never closed"},
                      Wrong{"a,b\n1,\xB0\n", 2, 3, "a byte of value 176"},
                      Wrong{std::string_view("a,b\n1,\0\n", 8), 2, 3, "a byte of value 0"},
                      Wrong{"a,b\r1,2\r", 1, 4, "a byte of value 13"}));

// Every cell that is no number tells its row, its column and its line.
TEST(CsvTable, TellsWhereANumberIsMissing) {
  const CsvTable table = good("t,speed\n1,2\n\n\"x\ny\",12 rpm\n,nan\n1,1e999\n1,\"1,5\"\n1,+-2\n");
  struct Cell {
    std::size_t row, column;
    int line, at;
    std::string_view found, path;
  };
  for (const Cell& c :
       {Cell{1, 0, 4, 1, "\"x y\"", "row 2, t"}, Cell{1, 1, 5, 4, "\"12 rpm\"", "row 2, speed"},
        Cell{2, 0, 6, 1, "an empty cell", "row 3, t"}, Cell{2, 1, 6, 2, "\"nan\"", "row 3, speed"},
        Cell{3, 1, 7, 3, "\"1e999\"", "row 4, speed"}, Cell{4, 1, 8, 3, "\"1,5\"", "row 5, speed"},
        Cell{5, 1, 9, 3, "\"+-2\"", "row 6, speed"}}) {
    const auto number = table.number(c.row, c.column);
    ASSERT_FALSE(number) << c.path;
    const Error& error = number.error();
    EXPECT_EQ(error.place, (Place{"good.csv", c.line, c.at, std::string(c.path)})) << error.text();
    EXPECT_EQ(error.found, c.found);
    EXPECT_NE(error.accepted.find("decimal point"), std::string::npos);
  }
  EXPECT_EQ(table.number(0, 0), 1.0);
  const auto missing = table.number(0, "torque");
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.error().place.line, 1);
  EXPECT_EQ(missing.error().found, "no column \"torque\"");
  EXPECT_EQ(missing.error().line, "t,speed");
}

TEST(CsvTable, QuotesLongLinesInPart) {
  std::string text = "a\n";
  for (int i = 0; i < 300; ++i)
    text += "µ";
  const CsvTable table = good(text);
  const Error error = table.complaint(0, 0, "less");
  EXPECT_LT(error.line.size(), 210U);
  EXPECT_TRUE(error.line.ends_with("µ..."));
}

// Other method: the reference tables as another, simpler reader takes them apart.
TEST(ReadCsv, AgreesWithAnotherReaderOnEveryReferenceTable) {
  int tables = 0;
  for (const auto& entry : std::filesystem::directory_iterator(BELLMOUTH_REFERENCE_DIR)) {
    if (entry.path().extension() != ".csv")
      continue;
    std::ifstream file(entry.path(), std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    const auto table = read_csv(text, entry.path().filename().string());
    ASSERT_TRUE(table) << table.error().text();
    const auto rows = test::table_at(entry.path().string());
    ASSERT_EQ(table->rows(), rows.size()) << entry.path();
    for (std::size_t row = 0; row < rows.size(); ++row)
      for (std::size_t column = 0; column < table->columns().size(); ++column)
        ASSERT_EQ(table->text(row, column), rows[row].text(table->columns()[column])) << entry.path();
    ++tables;
  }
  EXPECT_GE(tables, 25);
}

// Whatever the bytes: a table with as many cells as it says, or one complaint with a place.
TEST(ReadCsv, TakesAnyBytes) {
  const std::string start = "# log\nspeed_rpm,pressure_kPa,note\n1000,101.3,\"a, \"\"b\"\"\"\r\n2000,99,µ\n";
  std::mt19937 random(20240517);
  const std::string spice = ",\"\n\r#;\t\0\xC3\xFF 1e.-";
  const auto below = [&](std::size_t count) { return random() % count; };
  int tables = 0, refused = 0;
  for (int round = 0; round < 20000; ++round) {
    std::string text = start;
    const std::size_t changes = 1 + below(8);
    for (std::size_t i = 0; i < changes && !text.empty(); ++i) {
      const std::size_t at = below(text.size());
      const char byte = below(2) == 0 ? spice[below(spice.size())] : static_cast<char>(below(256));
      switch (below(4)) {
      case 0:
        text[at] = byte;
        break;
      case 1:
        text.insert(at, 1, byte);
        break;
      case 2:
        text.erase(at, 1 + below(4));
        break;
      default:
        text.resize(at);
        break;
      }
    }
    const auto table = read_csv(text, "any.csv");
    if (!table) {
      ++refused;
      ASSERT_GT(table.error().place.line, 0);
      ASSERT_GT(table.error().place.column, 0);
      ASSERT_FALSE(table.error().found.empty());
      continue;
    }
    ++tables;
    for (std::size_t row = 0; row < table->rows(); ++row)
      for (std::size_t column = 0; column < table->columns().size(); ++column)
        if (const auto number = table->number(row, column); !number) {
          ASSERT_GT(number.error().place.line, 1);
          ASSERT_FALSE(number.error().text().empty());
        }
  }
  EXPECT_GT(tables, 500);
  EXPECT_GT(refused, 500);
}

} // namespace
} // namespace bellmouth::quantity
