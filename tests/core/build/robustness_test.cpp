// SPDX-License-Identifier: GPL-3.0-or-later
// Any bytes give an error or a build that can be written and read again.
#include "core/build/text_files.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <random>
#include <string>
#include <vector>

namespace bellmouth::build {
namespace {

/// Texts to spoil: a small one and one that says all that can be said of a build.
std::vector<std::string> texts() {
  return {test::file_text(test::build_tests_dir() / "small.json"), write_build(test::geared_build())};
}

/// Reads, and whatever is read must survive being written; returns whether it was read.
bool read_safely(const std::string& text) {
  const auto build = read_build(text, "x.json");
  if (!build) {
    EXPECT_FALSE(build.error().accepted.empty());
    EXPECT_FALSE(build.error().found.empty());
    EXPECT_GE(build.error().place.line, 1);
    EXPECT_GE(build.error().place.column, 1);
    EXPECT_TRUE(build.error().place.path.starts_with("$"));
    return false;
  }
  EXPECT_EQ(validate(*build), std::nullopt);
  const std::string written = write_build(*build);
  const auto again = read_build(written);
  EXPECT_TRUE(again && *again == *build) << written;
  EXPECT_TRUE(again && write_build(*again) == written);
  return true;
}

TEST(Robustness, EveryTruncationIsAnError) {
  for (const std::string& text : texts()) {
    for (std::size_t length = 0; length + 1 < text.size(); ++length)
      ASSERT_FALSE(read_safely(text.substr(0, length))) << length;
    EXPECT_TRUE(read_safely(text.substr(0, text.size() - 1))) << "only the newline at the end may be missing";
  }
}

TEST(Robustness, SingleBytesMayBeAnything) {
  for (const std::string& text : texts()) {
    std::mt19937 random(20240607);
    std::uniform_int_distribution<std::size_t> at(0, text.size() - 1);
    std::uniform_int_distribution<int> byte(0, 255);
    int read = 0;
    for (int i = 0; i < 8000; ++i) {
      std::string changed = text;
      changed[at(random)] = static_cast<char>(byte(random));
      read += read_safely(changed) ? 1 : 0;
    }
    // Both outcomes must have been tried.
    EXPECT_GT(read, 20);
    EXPECT_LT(read, 7600);
  }
}

// A digit for a digit: the text stays JSON, so that bounds and rules are tried.
TEST(Robustness, DigitsMayBeAnyOthers) {
  for (const std::string& text : texts()) {
    std::mt19937 random(31);
    std::uniform_int_distribution<std::size_t> at(0, text.size() - 1);
    std::uniform_int_distribution<int> digit('0', '9');
    int read = 0, tried = 0;
    while (tried < 2000) {
      std::string changed = text;
      char& byte = changed[at(random)];
      if (byte < '0' || byte > '9')
        continue;
      byte = static_cast<char>(digit(random));
      ++tried;
      read += read_safely(changed) ? 1 : 0;
    }
    EXPECT_GT(read, 200);
    EXPECT_LT(read, 1960);
  }
}

TEST(Robustness, PiecesMayBeSwappedDoubledAndDropped) {
  for (const std::string& text : texts()) {
    std::mt19937 random(7);
    std::uniform_int_distribution<std::size_t> at(0, text.size() - 1);
    std::uniform_int_distribution<std::size_t> length(1, 60);
    for (int i = 0; i < 5000; ++i) {
      std::string changed = text;
      const std::size_t from = at(random);
      const std::string part = text.substr(from, length(random));
      if (i % 3 == 0)
        changed.erase(from, part.size());
      else if (i % 3 == 1)
        changed.insert(at(random), part);
      else
        changed.replace(at(random), part.size(), part);
      (void)read_safely(changed);
    }
  }
}

TEST(Robustness, DeepNestingIsRefused) {
  for (const char* open : {"[", "{\"a\":"}) {
    std::string deep;
    for (int i = 0; i < 1000000; ++i)
      deep += open;
    const auto build = read_build(deep);
    ASSERT_FALSE(build.has_value());
    EXPECT_EQ(build.error().accepted, "at most 32 levels of [ ] and { }");
  }
}

TEST(Robustness, TooManyValuesAreRefused) {
  std::string many = "[";
  for (int i = 0; i < 2'000'001; ++i)
    many += "0,";
  many += "0]";
  const auto build = read_build(many);
  ASSERT_FALSE(build.has_value());
  EXPECT_EQ(build.error().accepted, "at most 2000000 values");
}

TEST(Robustness, AByteOrderMarkIsNoFault) {
  const std::string text = test::file_text(test::build_tests_dir() / "small.json");
  EXPECT_TRUE(read_safely("\xEF\xBB\xBF" + text));
  const auto build = read_build("\xEF\xBB\xBF[]");
  ASSERT_FALSE(build.has_value());
  EXPECT_EQ(build.error().found, "[]");
}

} // namespace
} // namespace bellmouth::build
