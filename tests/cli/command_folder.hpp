// SPDX-License-Identifier: GPL-3.0-or-later
// A place for the files of a test that runs commands.
#pragma once

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace bellmouth::cli::test {

/// A folder of its own for each test, with builds in it.
class CommandFolder : public ::testing::Test {
protected:
  std::filesystem::path folder;

  void SetUp() override {
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    folder = std::filesystem::path(::testing::TempDir()) / ("bellmouth_cli_" + std::string(test->name()));
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
  }
  void TearDown() override { std::filesystem::remove_all(folder); }

  /// Saves a build and gives the name of its file.
  [[nodiscard]] std::string file_of(const build::Build& build, const char* name = "build.json") const {
    const std::filesystem::path file = folder / name;
    const auto saved = build::save_build(file, build);
    EXPECT_TRUE(saved.has_value()) << (saved ? "" : saved.error().text());
    return file.string();
  }
  [[nodiscard]] std::string file_with(const std::string& text) const {
    const std::filesystem::path file = folder / "text.json";
    std::ofstream(file, std::ios::binary) << text;
    return file.string();
  }
};

[[nodiscard]] inline std::string read_file(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

} // namespace bellmouth::cli::test
