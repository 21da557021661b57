// SPDX-License-Identifier: GPL-3.0-or-later
// Files that the tests of this folder read, make and leave to others to judge.
#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

namespace bellmouth::test {

/// The bytes of a file; one that cannot be read fails the test that asked.
inline std::string file_text(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream)
    throw std::runtime_error("cannot read " + file.string());
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

inline void write_file(const std::filesystem::path& file, const std::string& text) {
  std::ofstream stream(file, std::ios::binary);
  stream << text;
  stream.close();
  if (!stream)
    throw std::runtime_error("cannot write " + file.string());
}

/// The files of this folder's tests.
inline std::filesystem::path build_tests_dir() {
  return std::filesystem::path(BELLMOUTH_TESTS_DIR) / "core" / "build";
}

/// A new folder that is taken away in the end.
class TemporaryFolder {
public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "bellmouth-test-XXXXXX").string();
    if (!::mkdtemp(name.data()))
      throw std::runtime_error("cannot make a temporary folder");
    path_ = name;
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::permissions(path_, std::filesystem::perms::owner_all, ignored);
    std::filesystem::remove_all(path_, ignored);
  }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  /// How many entries there are in it, hidden ones counted.
  [[nodiscard]] std::ptrdiff_t entries() const {
    return std::distance(std::filesystem::directory_iterator(path_), std::filesystem::directory_iterator());
  }

private:
  std::filesystem::path path_;
};

} // namespace bellmouth::test
