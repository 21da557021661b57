// SPDX-License-Identifier: GPL-3.0-or-later
#include "reading.hpp"
#include "shapes.hpp"
#include "support/close.hpp"
#include "written.hpp"

#include <filesystem>
#include <fstream>
#include <set>
#include <sys/stat.h>
#include <unistd.h>

namespace bellmouth::mesh {
namespace {

namespace fs = std::filesystem;
using namespace test;

double bump(double x, double y) {
  return 8 * std::sin(x / 40) * std::cos(y / 50);
}

TEST(Thinned, ASmallSurfaceStaysAsItIs) {
  const Surface surface = cube();
  for (const std::size_t wanted : {std::size_t{12}, std::size_t{1000}}) {
    const Surface same = thinned(surface, wanted);
    EXPECT_EQ(same.points, surface.points);
    EXPECT_EQ(same.triangles, surface.triangles);
  }
}

// Other method: the distance to the surface's own formula.
TEST(Thinned, AFineSheetKeepsItsShapeWithAboutAsManyTriangles) {
  const Surface fine = sheet(200, 150, 600, 450, bump);
  for (const std::size_t wanted :
       {std::size_t{200}, std::size_t{2000}, std::size_t{20'000}, std::size_t{50'000}}) {
    const Surface coarse = thinned(fine, wanted);
    EXPECT_TRUE(sound(coarse));
    EXPECT_LE(coarse.triangles.size(), wanted);
    EXPECT_GE(coarse.triangles.size(), wanted / 2);
    // A point is off by no more than the means within a cell go: about its size, by the slope.
    const double cell = std::sqrt(600.0 * 450 / static_cast<double>(wanted)) * 2;
    for (const Point& point : coarse.points)
      EXPECT_LT(std::abs(point[2] - bump(point[0], point[1])), 0.2 * cell);
    const Extent before = extent(fine), after = extent(coarse);
    for (std::size_t axis = 0; axis < 3; ++axis) {
      EXPECT_GE(after.low[axis], before.low[axis]);
      EXPECT_LE(after.high[axis], before.high[axis]);
      EXPECT_LE(after.low[axis] - before.low[axis], 2 * cell);
    }
    // No two triangles are one, and each point is used.
    std::set<std::array<std::uint32_t, 3>> seen;
    std::set<std::uint32_t> used;
    for (Triangle triangle : coarse.triangles) {
      used.insert(triangle.begin(), triangle.end());
      std::sort(triangle.begin(), triangle.end());
      EXPECT_TRUE(triangle[0] < triangle[1] && triangle[1] < triangle[2]);
      EXPECT_TRUE(seen.insert(triangle).second);
    }
    EXPECT_EQ(used.size(), coarse.points.size());
    const Surface again = thinned(fine, wanted);
    EXPECT_EQ(again.points, coarse.points);
    EXPECT_EQ(again.triangles, coarse.triangles);
  }
}

TEST(Thinned, LooseTrianglesAreThinnedToo) {
  std::mt19937 random(20240508);
  const Surface loose = scattered(5000, random);
  const Surface coarse = thinned(loose, 1000);
  EXPECT_TRUE(sound(coarse));
  EXPECT_LE(coarse.triangles.size(), 1000U);
  EXPECT_GE(coarse.triangles.size(), 500U);
}

TEST(Thinned, ASurfaceAtOnePointLeavesNothing) {
  Surface nothing;
  nothing.points = {{1, 2, 3}};
  nothing.triangles.assign(100, {0, 0, 0});
  EXPECT_TRUE(thinned(nothing, 10).triangles.empty());
}

/// FNV-1a with 64 bits, after the published algorithm.
std::uint64_t fnv1a(const std::string& bytes) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (const char byte : bytes) {
    hash ^= static_cast<unsigned char>(byte);
    hash *= 1099511628211ULL;
  }
  return hash;
}

TEST(Scan, DigestIsThePublishedHashOfPointsAndTriangles) {
  // Published values: the test vectors of draft-eastlake-fnv for "" and "foobar".
  ASSERT_EQ(fnv1a(""), 0xcbf29ce484222325ULL);
  ASSERT_EQ(fnv1a("foobar"), 0x85944171f73967e8ULL);
  const Surface surface = cube();
  std::string bytes;
  for (const Point& point : surface.points)
    for (const double x : point)
      bytes += bytes_of(x);
  for (const Triangle& triangle : surface.triangles)
    for (const std::uint32_t corner : triangle)
      bytes += bytes_of(corner);
  EXPECT_EQ(make_scan(surface)->digest, fmt::format("{:016x}", fnv1a(bytes)));
}

TEST(Scan, IsMadeReadyFromASurface) {
  const Surface surface = sheet(200, 200, 600, 600, bump);
  const auto scan = make_scan(surface, {"a remark"});
  EXPECT_EQ(scan->surface.triangles, surface.triangles);
  EXPECT_LE(scan->for_display.triangles.size(), display_triangles);
  EXPECT_GE(scan->for_display.triangles.size(), display_triangles / 2);
  EXPECT_EQ(scan->remarks, std::vector<std::string>{"a remark"});
  EXPECT_LT(scan->tree.nearest({300, 300, bump(300, 300)}).distance, 0.1);
  Surface moved = surface;
  moved.points[7][2] += 1e-9;
  EXPECT_NE(make_scan(moved)->digest, scan->digest);
  EXPECT_EQ(make_scan(surface)->digest, scan->digest);
}

class ScanFiles : public ::testing::Test {
protected:
  fs::path folder = fs::temp_directory_path() / fmt::format("bellmouth_scan_{}", ::getpid());
  void SetUp() override { fs::create_directories(folder); }
  void TearDown() override { fs::remove_all(folder); }
  [[nodiscard]] fs::path written(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder / name, std::ios::binary) << bytes;
    return folder / name;
  }
};

TEST_F(ScanFiles, OneSurfaceIsTheSameScanFromEveryKindOfFile) {
  // Coordinates that a float holds, so that no kind of file loses any.
  const Surface surface = sheet(30, 20, 60, 40, [](double x, double y) { return 0.25 * x - 0.125 * y; });
  Surface in_order = mesh::read(binary_stl(surface), "a.stl")->surface;
  std::set<std::string> digests;
  for (const auto& [name, bytes] : {std::pair{"a.stl", binary_stl(in_order)},
                                    {"b.stl", text_stl(in_order)},
                                    {"c.obj", obj(in_order)},
                                    {"d.ply", text_ply(in_order)},
                                    {"e.ply", binary_ply(in_order, false)},
                                    {"f.ply", binary_ply(in_order, true)},
                                    {"g.gltf", gltf(in_order)},
                                    {"h.glb", glb(in_order)}}) {
    const auto scan = load_scan(written(name, bytes));
    ASSERT_TRUE(scan) << scan.error().text();
    digests.insert((*scan)->digest);
  }
  EXPECT_EQ(digests.size(), 1U);
}

TEST_F(ScanFiles, ProgressGoesToTheEndAndCanStop) {
  const fs::path file =
      written("a.stl", binary_stl(sheet(200, 200, 1, 1, [](double, double) { return 0.0; })));
  std::vector<double> told;
  ASSERT_TRUE(load_scan(file, [&](double share) {
    told.push_back(share);
    return true;
  }));
  EXPECT_TRUE(std::is_sorted(told.begin(), told.end()));
  EXPECT_GE(told.front(), 0);
  EXPECT_EQ(told.back(), 1);
  for (std::size_t stop = 1; stop <= told.size(); ++stop) {
    std::size_t calls = 0;
    const auto scan = load_scan(file, [&](double) { return ++calls < stop; });
    ASSERT_FALSE(scan) << stop;
    EXPECT_EQ(scan.error().found, "that reading was cancelled");
    EXPECT_EQ(calls, stop);
  }
}

TEST_F(ScanFiles, WhatCannotBeReadIsSaid) {
  const auto said = [](const fs::path& file) {
    const auto read = load(file);
    return read ? std::string() : read.error().text();
  };
  const std::string in = folder.string();
  EXPECT_EQ(said(folder / "none.stl"),
            in + "/none.stl: found No such file or directory; accepted: the name of a file that can be read");
  EXPECT_EQ(said(folder), in + ": found a folder; accepted: the name of a file that can be read");
  ASSERT_EQ(::mkfifo((folder / "pipe.stl").c_str(), 0600), 0);
  EXPECT_NE(said(folder / "pipe.stl").find("found something that is not a file"), std::string::npos);
  EXPECT_NE(said(written("empty.stl", "")).find("found an empty file"), std::string::npos);
  // A file with a hole: 3 GB long without taking them.
  const fs::path large = written("large.stl", "x");
  fs::resize_file(large, 3'000'000'000);
  EXPECT_EQ(said(large),
            in + "/large.stl: found a file of 3000000000 bytes; accepted: at most 2000000000 bytes");
}

} // namespace
} // namespace bellmouth::mesh
