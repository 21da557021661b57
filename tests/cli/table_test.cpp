// SPDX-License-Identifier: GPL-3.0-or-later
#include "table.hpp"

#include <gtest/gtest.h>

#include <sstream>

namespace bellmouth::cli {
namespace {

std::string printed(const Cells& header, const std::vector<Cells>& rows) {
  std::ostringstream out;
  print_table(out, header, rows);
  return out.str();
}

TEST(Table, PutsNumbersFlushRightAndWordsFlushLeft) {
  EXPECT_EQ(printed({"piece", "bore [mm]"}, {{"tube", "60.2"}, {"hose elbow", "101.6"}}),
            "piece       bore [mm]\n"
            "----------  ---------\n"
            "tube             60.2\n"
            "hose elbow      101.6\n");
}

TEST(Table, CountsLettersAndNotBytes) {
  EXPECT_EQ(printed({"°", "x"}, {{"°°", "-1.5"}, {"abc", "-"}}), "°       x\n"
                                                                 "---  ----\n"
                                                                 "°°   -1.5\n"
                                                                 "abc     -\n");
}

TEST(Table, KeepsWordsThatBeginWithADigitToTheLeft) {
  EXPECT_EQ(printed({"price", "n"}, {{"12.50 EUR", "1"}, {"3.00 EUR", "10"}}), "price       n\n"
                                                                               "---------  --\n"
                                                                               "12.50 EUR   1\n"
                                                                               "3.00 EUR   10\n");
}

TEST(Table, WritesADashForWhatIsNotKnown) {
  EXPECT_EQ(fixed(std::optional<double>(), 2), "-");
  EXPECT_EQ(fixed(std::optional(1.005), 1), "1.0");
}

TEST(Table, HasNoNegativeNothing) {
  EXPECT_EQ(fixed(-0.004, 2), "0.00");
  EXPECT_EQ(fixed(-0.006, 2), "-0.01");
}

TEST(Table, LeavesOutASectionWithoutRows) {
  std::ostringstream out;
  print_section(out, "Runs", {"a"}, {});
  EXPECT_EQ(out.str(), "");
  print_section(out, "Runs", {"a"}, {{"1"}});
  EXPECT_EQ(out.str(), "Runs\na\n-\n1\n\n");
}

} // namespace
} // namespace bellmouth::cli
