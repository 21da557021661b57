// SPDX-License-Identifier: GPL-3.0-or-later
// No outside figure lies unread: every reference table is named by a test, and so is every worked example.
#include "support/reference.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

namespace bellmouth::test {
namespace {

namespace fs = std::filesystem;

/// The sources of all tests but this one, in one text.
std::string all_tests() {
  std::string text;
  for (const auto& entry : fs::recursive_directory_iterator(BELLMOUTH_TESTS_DIR)) {
    const auto& path = entry.path();
    if ((path.extension() != ".cpp" && path.extension() != ".hpp") ||
        path.filename() == "references_test.cpp")
      continue;
    std::ifstream file(path);
    text.append(std::istreambuf_iterator<char>(file), {});
  }
  return text;
}

TEST(References, EveryTableIsReadByATest) {
  const std::string tests = all_tests();
  int tables = 0;
  for (const auto& entry : fs::directory_iterator(BELLMOUTH_REFERENCE_DIR))
    if (entry.path().extension() == ".csv") {
      ++tables;
      EXPECT_NE(tests.find('"' + entry.path().filename().string() + '"'), std::string::npos) << entry.path();
    }
  EXPECT_GE(tables, 26);
}

TEST(References, EveryWorkedExampleIsReproducedByATest) {
  const std::string tests = all_tests();
  std::set<std::string> examples;
  for (const auto& row : reference("worked_examples.csv"))
    examples.insert(row.text("ex_id"));
  EXPECT_EQ(examples.size(), 50U);
  for (const std::string& example : examples)
    EXPECT_NE(tests.find(example), std::string::npos) << example;
}

} // namespace
} // namespace bellmouth::test
