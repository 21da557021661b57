// SPDX-License-Identifier: GPL-3.0-or-later
// Scans that a build names: read, shared, and missed.
#include "core/build/text_files.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

namespace bellmouth::build {
namespace {

KeepOut scan_of(const char* file) {
  KeepOut keep_out;
  keep_out.shape = Scan{.file = file, .digest = {}, .loaded = {}, .problem = {}};
  return keep_out;
}
const Scan& scan(const Build& build, std::size_t index) {
  return std::get<Scan>(build.keep_outs[index].shape);
}

// Identity: a file that stands for two keep-outs is held once; one that cannot be read leaves the others.
TEST(Scans, AreReadOnceForAllThatNameThem) {
  const test::TemporaryFolder folder;
  ASSERT_TRUE(save_text(folder.path() / "bay.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n"));
  ASSERT_TRUE(save_text(folder.path() / "cut.obj", "v 0 0 0\nv 1 0 0\nf 1 2"));
  Build build = test::sample_build();
  build.keep_outs = {scan_of("bay.obj"), scan_of("gone.stl"), scan_of("bay.obj"), scan_of("cut.obj")};
  const Build read = with_scans_loaded(build, folder.path());
  ASSERT_TRUE(scan(read, 0).loaded);
  EXPECT_EQ(scan(read, 0).loaded->surface.triangles.size(), 1U);
  EXPECT_EQ(scan(read, 0).loaded, scan(read, 2).loaded);
  EXPECT_TRUE(scan(read, 0).problem.empty());
  EXPECT_FALSE(scan(read, 1).loaded);
  EXPECT_NE(scan(read, 1).problem.find("gone.stl"), std::string::npos) << scan(read, 1).problem;
  EXPECT_FALSE(scan(read, 3).loaded);
  EXPECT_NE(scan(read, 3).problem.find("three corners"), std::string::npos) << scan(read, 3).problem;
  EXPECT_EQ(read.keep_outs.size(), 4U);
}

} // namespace
} // namespace bellmouth::build
