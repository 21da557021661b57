// SPDX-License-Identifier: GPL-3.0-or-later
// Tables and CSV. CSV is read back by another reader, that of Python's standard library (other method).
#include "core/list/small_work.hpp"
#include "support/command_output.hpp"
#include "support/sample_builds.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <memory>
#include <set>

namespace bellmouth::list {
namespace {

using test::WorkOf;
using Cells = std::vector<std::vector<std::string>>;

/// Cells of a CSV file as Python reads them; it hands them on in hexadecimal, comma and line end between.
Cells read_with_python(const std::string& path) {
  const std::string command =
      "python3 -c \"import csv,sys\n"
      "for row in csv.reader(open(sys.argv[1],encoding='utf-8',newline=''),strict=True):\n"
      "  print(','.join('x'+cell.encode().hex() for cell in row))\" '" +
      path + "'";
  const std::string text = test::said_by(command);
  Cells rows;
  std::string* cell = nullptr;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i == 0 || text[i - 1] == '\n')
      rows.emplace_back();
    if (text[i] == 'x')
      cell = &rows.back().emplace_back();
    else if (text[i] != ',' && text[i] != '\n')
      *cell += static_cast<char>(std::stoi(text.substr(i++, 2), nullptr, 16));
  }
  return rows;
}

void expect_read_back(const Table& table) {
  const std::string path = ::testing::TempDir() + "bellmouth_list_" + table.name + ".csv";
  std::ofstream(path, std::ios::binary) << csv(table);
  Cells wanted{table.header};
  wanted.insert(wanted.end(), table.rows.begin(), table.rows.end());
  EXPECT_EQ(read_with_python(path), wanted) << table.name;
  std::remove(path.c_str());
}

TEST(Csv, AnotherReaderSeesTheSameCells) {
  expect_read_back({"awkward",
                    {"plain", "with, comma", "with \"quotes\"", "line\nend", "CR\r\nLF"},
                    {{"", "", "", "", ""},
                     {"\"", "\"\"", ",", "\n", "\r"},
                     {" space ", "caf\xc3\xa9 90\xc2\xb0", "a,\"b\"\r\nc", "'", ";"}}});
}

TEST(Csv, AnotherReaderSeesTheSameLists) {
  build::Build b = test::sample_build();
  auto run = *b.options[0].runs[0];
  run.pieces[0].label = "coupler, 3\" long\nsoft";
  b.options[0].runs[0] = run;
  const Lists lists = WorkOf(b).lists();
  EXPECT_EQ(lists.cuts[0].title, run.pieces[0].label);
  for (const Table& table : tables(lists))
    expect_read_back(table);
}

TEST(Csv, AsTheStandardSays) { // RFC 4180: lines end in CR LF, the last one too; cells quoted where needed,
                               // quotes doubled
  EXPECT_EQ(csv({"t", {"a", "b"}, {{"1,5", "say \"x\""}}}), "a,b\r\n\"1,5\",\"say \"\"x\"\"\"\r\n");
}

TEST(Tables, OneRowForEachLineAndOneCellForEachHeader) {
  for (const build::Build& b : test::all_sample_builds()) {
    const Lists lists = WorkOf(b).lists();
    const std::vector<Table> all = tables(lists);
    const std::vector<std::pair<std::string, std::size_t>> wanted{{"cut", lists.cuts.size()},
                                                                  {"clamps", lists.clamps.size()},
                                                                  {"reducers", lists.reducers.size()},
                                                                  {"fittings", lists.fittings.size()},
                                                                  {"bends", lists.bends.size()},
                                                                  {"wedges", 0},
                                                                  {"marks", lists.marks.size()},
                                                                  {"beads", lists.beads.size()},
                                                                  {"welds", 0},
                                                                  {"joints", lists.joints.size()},
                                                                  {"mass", 0}};
    ASSERT_EQ(all.size(), wanted.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
      const Table& table = all[i];
      EXPECT_EQ(table.name, wanted[i].first);
      EXPECT_TRUE(wanted[i].second == 0 || table.rows.size() == wanted[i].second) << table.name;
      EXPECT_EQ(std::set(table.header.begin(), table.header.end()).size(), table.header.size());
      for (const auto& row : table.rows)
        EXPECT_EQ(row.size(), table.header.size()) << table.name;
    }
  }
}

// Identity: what a row leads back to is there.
TEST(Tables, EachRowLeadsToItsPieces) {
  for (const build::Build& b : test::all_sample_builds())
    for (std::size_t option = 0; option < b.options.size(); ++option)
      for (const Table& table : tables(WorkOf(b, option).lists())) {
        ASSERT_EQ(table.pieces.size(), table.rows.size()) << table.name;
        for (std::size_t row = 0; row < table.rows.size(); ++row) {
          const bool sum = table.rows[row][0] == "all" || table.rows[row][1] == "sum";
          EXPECT_EQ(table.pieces[row].empty(), sum) << table.name << ' ' << row;
          for (const build::PieceRef& piece : table.pieces[row])
            EXPECT_NE(build::find(b, piece), nullptr) << table.name << ' ' << row;
        }
      }
}

TEST(Tables, SpeakOfMillimetresAndRowsFromOne) {
  const build::Build b = test::sample_build();
  const std::vector<Table> all = tables(WorkOf(b).lists());
  EXPECT_EQ(all[0].rows[1], (std::vector<std::string>{"suction 2", "tube", "aluminium", "76.2 x 1.65",
                                                      "180.0", "180.0", "30.0", "30.0", "bead / bead", ""}));
  // A quarter of a quarter of the way round 76.2 mm: 29.9; ISO metric M12: major diameter 12.
  EXPECT_EQ(all[3].rows[0],
            (std::vector<std::string>{"suction 3", "intake temperature", "M12x1.5, tap drill 10.5", "12.0",
                                      "suction 2", "90.0", "90.0", "45.0", "29.9",
                                      "the top of the pipe at the port"}));
  EXPECT_EQ(all[1].rows[0].back(), "hot_side 1 (2 x)"); // 60 mm spigots: the smallest clamps
}

} // namespace
} // namespace bellmouth::list
