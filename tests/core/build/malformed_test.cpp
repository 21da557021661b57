// SPDX-License-Identifier: GPL-3.0-or-later
// Each file in malformed/ has one fault; beside it stands what must be said of it.
#include "core/build/text_files.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <vector>

namespace bellmouth::build {
namespace {

std::vector<std::filesystem::path> malformed_files() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(test::build_tests_dir() / "malformed"))
    if (entry.path().extension() == ".json")
      files.push_back(entry.path());
  std::ranges::sort(files);
  return files;
}

/// The lines "word: text" of an .expected file.
std::map<std::string, std::string> expected_of(std::filesystem::path file) {
  std::istringstream text(test::file_text(file.replace_extension(".expected")));
  std::map<std::string, std::string> expected;
  for (std::string line; std::getline(text, line);)
    expected[line.substr(0, line.find(':'))] = line.substr(line.find(':') + 2);
  return expected;
}

TEST(Malformed, EveryFileGetsOneClearError) {
  const auto files = malformed_files();
  ASSERT_GE(files.size(), 150u);
  for (const auto& file : files) {
    SCOPED_TRACE(file.filename().string());
    auto expected = expected_of(file);
    const auto build = load_build(file);
    ASSERT_FALSE(build.has_value());
    const Error& error = build.error();
    EXPECT_EQ(error.place.file, file.string());
    EXPECT_EQ(std::to_string(error.place.line), expected.at("line"));
    EXPECT_EQ(std::to_string(error.place.column), expected.at("column"));
    EXPECT_EQ(error.place.path, expected.at("path"));
    EXPECT_TRUE(error.found.starts_with(expected.at("found"))) << error.found;
    EXPECT_NE(error.accepted.find(expected.at("accepted")), std::string::npos) << error.accepted;
    if (error.found.size() < 10 && error.found.find("end of") == std::string::npos) {
      EXPECT_NE(error.line.find(error.found), std::string::npos) << "the line is quoted: " << error.line;
    }
  }
}

TEST(Malformed, TheFileWithoutFaultIsRead) {
  const auto build = load_build(test::build_tests_dir() / "small.json");
  ASSERT_TRUE(build.has_value()) << build.error().text();
  EXPECT_EQ(build->title, "Small build");
}

TEST(Malformed, FilesThatCannotBeReadAreErrors) {
  const test::TemporaryFolder folder;
  for (const auto& [file, found] : std::vector<std::pair<std::filesystem::path, std::string>>{
           {folder.path() / "none.json", "No such file or directory"},
           {folder.path(), "a folder"},
           {"/dev/null", "something that is not a file"}}) {
    const auto build = load_build(file);
    ASSERT_FALSE(build.has_value());
    EXPECT_EQ(build.error().place.file, file.string());
    EXPECT_EQ(build.error().found, found + ": " + file.string());
  }
}

TEST(Malformed, StockFilesAreReadAsStrictly) {
  const std::string good = R"({
  "format": "bellmouth-stock/1",
  "currency": "EUR",
  "items": [
    {"id": "a", "kind": "hose", "material": "silicone", "bore_mm": 60, "price": "1.00", "per": "each"},
    {"id": "b", "kind": "clamp", "material": "stainless_steel", "clamp_min_mm": 60, "clamp_max_mm": 70, "price": "1.00", "per": "each"}
  ]
}
)";
  ASSERT_TRUE(read_stock(good).has_value()) << read_stock(good).error().text();
  struct Case {
    std::string old, replacement, path, accepted;
  };
  for (const Case& c : {
           Case{"bellmouth-stock/1", "bellmouth-stock/2", "$.format", "a newer version"},
           Case{"bellmouth-stock/1", "bellmouth-build/1", "$.format", "\"bellmouth-stock/1\""},
           Case{"\"EUR\"", "\"QQQ\"", "$.currency", "ISO 4217"},
           Case{"\"b\"", "\"a\"", "$.items[1].id", "an id that no entry before has"},
           Case{"\"hose\"", "\"pipe\"", "$.items[0].kind", "\"tube\", \"tube_bend\""},
           Case{"1.00", "1,00", "$.items[0].price", "an amount of EUR"},
           Case{"\"each\"", "\"dozen\"", "$.items[0].per", "\"each\" or \"metre\""},
           Case{"\"clamp_max_mm\": 70, ", "", "$.items[1].clamp_max_mm", "both ends of the clamp's range"},
           Case{"\"clamp_min_mm\": 60, \"clamp_max_mm\": 70, ", "", "$.items[1].clamp_min_mm",
                "the range of the clamp"},
           Case{"\"clamp_max_mm\": 70", "\"clamp_max_mm\": 50", "$.items[1].clamp_max_mm",
                "the greatest above the least"},
           Case{"\"bore_mm\": 60", "\"bore_mm\": 60, \"plies\": 0", "$.items[0].plies", "from 1 to 20"},
       }) {
    SCOPED_TRACE(c.replacement);
    std::string text = good;
    text.replace(text.find(c.old), c.old.size(), c.replacement);
    const auto stock = read_stock(text, "list.json");
    ASSERT_FALSE(stock.has_value());
    EXPECT_EQ(stock.error().place.file, "list.json");
    EXPECT_GT(stock.error().place.line, 0);
    EXPECT_EQ(stock.error().place.path, c.path);
    EXPECT_NE(stock.error().accepted.find(c.accepted), std::string::npos) << stock.error().text();
  }
}

TEST(Malformed, LongLinesAreQuotedAroundThePlace) {
  std::string text = test::file_text(test::build_tests_dir() / "small.json");
  std::erase(text, '\n');
  const std::size_t at = text.find("\"strokes\": 4");
  text.replace(at, 12, "\"strokes\": 5");
  const auto build = read_build(text);
  ASSERT_FALSE(build.has_value());
  EXPECT_EQ(build.error().place.line, 1);
  EXPECT_EQ(build.error().place.column, static_cast<int>(at) + 12);
  EXPECT_NE(build.error().line.find("\"strokes\": 5"), std::string::npos);
  EXPECT_LT(build.error().line.size(), 200u);
}

} // namespace
} // namespace bellmouth::build
