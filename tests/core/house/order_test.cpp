// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the includes of every source file and fails on an arrow against the order of the house.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::test {
namespace {

namespace fs = std::filesystem;

/// A folder may include only folders that stand before it here. ui and app may include every one.
constexpr std::array<std::string_view, 20> order{
    "quantity", "air",  "loss",  "machine", "mesh", "trade", "build",    "stock", "bay",  "way",
    "joint",    "flow", "route", "list",    "buy",  "check", "evaluate", "fit",   "find", "join"};

std::size_t rank(std::string_view folder) {
  return static_cast<std::size_t>(
      std::distance(order.begin(), std::find(order.begin(), order.end(), folder)));
}

struct Include {
  fs::path file;
  std::string target; ///< what stands between the brackets or quotes
};

std::vector<Include> includes_below(const fs::path& folder) {
  std::vector<Include> found;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    const auto extension = entry.path().extension();
    if (extension != ".hpp" && extension != ".cpp")
      continue;
    std::ifstream file(entry.path());
    std::string line;
    while (std::getline(file, line)) {
      if (line.rfind("#include", 0) != 0)
        continue;
      const auto open = line.find_first_of("<\"");
      const auto close = line.find_first_of(">\"", open + 1);
      if (open != std::string::npos && close != std::string::npos)
        found.push_back({entry.path(), line.substr(open + 1, close - open - 1)});
    }
  }
  return found;
}

/// "bellmouth/air.hpp" and "bellmouth/air/x.hpp" belong to "air"; others to nothing.
std::string folder_of(const std::string& target) {
  constexpr std::string_view root = "bellmouth/";
  if (target.rfind(root, 0) != 0)
    return {};
  const auto rest = target.substr(root.size());
  return rest.substr(0, rest.find_first_of("/."));
}

const fs::path core = fs::path(BELLMOUTH_SOURCE_DIR) / "core";

TEST(House, ArrowsRunOneWay) {
  int read = 0;
  for (const auto& entry : fs::directory_iterator(core)) {
    if (!entry.is_directory())
      continue;
    const std::string folder = entry.path().filename();
    ASSERT_LT(rank(folder), order.size()) << "core/" << folder << " has no place in the order";
    for (const auto& include : includes_below(entry.path())) {
      const std::string other = folder_of(include.target);
      if (other.empty())
        continue;
      ++read;
      EXPECT_LT(rank(other), order.size()) << include.file << " includes unknown " << include.target;
      EXPECT_LE(rank(other), rank(folder))
          << include.file << " includes " << include.target << " against the order";
    }
  }
  EXPECT_GT(read, 50);
}

TEST(House, CoreKnowsNoQt) {
  for (const auto& include : includes_below(core))
    EXPECT_NE(include.target.front(), 'Q') << include.file << " includes " << include.target;
}

TEST(House, ThePromptKnowsNoQt) {
  for (const auto& include : includes_below(fs::path(BELLMOUTH_SOURCE_DIR) / "app" / "cli"))
    EXPECT_NE(include.target.front(), 'Q') << include.file << " includes " << include.target;
}

TEST(House, EveryFolderOfCoreHasOneFace) {
  for (const auto& entry : fs::directory_iterator(core))
    if (entry.is_directory()) {
      const auto face = entry.path() / "include" / "bellmouth" / (entry.path().filename().string() + ".hpp");
      EXPECT_TRUE(fs::exists(face)) << face;
    }
}

} // namespace
} // namespace bellmouth::test
