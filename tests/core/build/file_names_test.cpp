// SPDX-License-Identifier: GPL-3.0-or-later
// Names of files that belong to a build, seen from its folder. Identities: the file meant stays the same.
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

namespace bellmouth::build {
namespace {

TEST(FileNames, AreRelativeBeneathTheFolderOnly) {
  EXPECT_EQ(file_name_from("/home/me/car", "/home/me/car/bay.stl"), "bay.stl");
  EXPECT_EQ(file_name_from("/home/me/car", "/home/me/car/scans/bay.stl"), "scans/bay.stl");
  EXPECT_EQ(file_name_from("/home/me/car/", "/home/me/car/./scans/../bay.stl"), "bay.stl");
  EXPECT_EQ(file_name_from("/home/me/car", "/home/me/bay.stl"), "/home/me/bay.stl");
  EXPECT_EQ(file_name_from("/home/me/car", "/home/me/carport/bay.stl"), "/home/me/carport/bay.stl");
  EXPECT_EQ(file_name_from("", "/home/me/bay.stl"), "/home/me/bay.stl");
}

TEST(FileNames, LeadToTheSameFilesFromAnotherFolder) {
  Build build = test::sample_build();
  build.keep_outs.resize(1);
  build.keep_outs.front().shape = Scan{.file = "scans/bay.stl", .digest = {}, .loaded = {}, .problem = {}};
  build.photographs.front().file = "above.png";
  const Build away = with_files_named_from(build, "/home/me/car", "/mnt/stick");
  EXPECT_EQ(std::get<Scan>(away.keep_outs.front().shape).file, "/home/me/car/scans/bay.stl");
  EXPECT_EQ(away.photographs.front().file, "/home/me/car/above.png");
  const Build higher = with_files_named_from(build, "/home/me/car", "/home/me");
  EXPECT_EQ(std::get<Scan>(higher.keep_outs.front().shape).file, "car/scans/bay.stl");
  EXPECT_EQ(higher.photographs.front().file, "car/above.png");
  EXPECT_EQ(with_files_named_from(away, "/mnt/stick", "/home/me/car"), build);
  EXPECT_EQ(with_files_named_from(build, "/home/me/car", "/home/me/car"), build);
}

TEST(States, AreRenamedInKeepOutsToo) {
  Build build = test::sample_build();
  build.keep_outs.front().states = {build.states.front().id};
  const Build renamed = with_state_renamed(build, build.states.front().id, {"full lock"});
  EXPECT_EQ(renamed.states.front().id.text, "full lock");
  EXPECT_EQ(renamed.keep_outs.front().states.front().text, "full lock");
  EXPECT_FALSE(validate(renamed));
}

} // namespace
} // namespace bellmouth::build
