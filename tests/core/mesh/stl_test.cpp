// SPDX-License-Identifier: GPL-3.0-or-later
#include "reading.hpp"
#include "shapes.hpp"
#include "written.hpp"

namespace bellmouth::mesh {
namespace {

using namespace test;

void expect_cube(const std::string& bytes, const std::string& name) {
  const auto read = mesh::read(bytes, name);
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(corners_of(read->surface), corners_of(cube()));
  EXPECT_EQ(read->surface.points.size(), 8U);
  EXPECT_TRUE(read->remarks.empty());
}

TEST(Stl, BothKindsAreToldByTheirContent) {
  for (const char* name : {"cube.stl", "cube.STL", "cube", "cube.obj"}) {
    expect_cube(binary_stl(cube()), name);
    expect_cube(text_stl(cube()), name);
    // Many programs begin the header of a binary file like a text.
    expect_cube(binary_stl(cube(), "solid cube"), name);
    expect_cube(binary_stl(cube(), "solid " + std::string(74, ' ')), name);
  }
}

TEST(Stl, TextMayBeWrittenInManyWays) {
  expect_cube(text_stl(cube(), "\r\n"), "a.stl");
  expect_cube(text_stl(cube(), "\r"), "a.stl");
  expect_cube("\n  \t" + text_stl(cube()), "a.stl");
  expect_cube("\xEF\xBB\xBF" + text_stl(cube()), "a.stl");
  expect_cube(with(text_stl(cube()), "normal 0 0 0", "normal nan -nan(ind) 1.#QNAN"), "a.stl");
  expect_cube(with(text_stl(cube()), "vertex 0 0 0", "VERTEX +0 -0.0 0e5"), "a.stl");
  std::string joined = text_stl(cube());
  std::replace(joined.begin() + 13, joined.end() - 16, '\n', ' ');
  expect_cube(joined, "a.stl");
}

TEST(Stl, SeveralSolidsAreOneSurface) {
  const auto read = mesh::read(text_stl(cube()) + text_stl(cube()), "two.stl");
  ASSERT_TRUE(read);
  EXPECT_EQ(read->surface.triangles.size(), 24U);
  EXPECT_EQ(read->surface.points.size(), 8U);
}

TEST(Stl, TrianglesWithoutAreaAreLeftOutWithARemark) {
  Surface surface = cube();
  surface.triangles.insert(surface.triangles.begin() + 3, {{2, 2, 5}, {1, 1, 1}});
  surface.points.push_back({0.5, 0, 0});
  surface.triangles.push_back({0, 1, 8}); // three points on a line
  for (const std::string& bytes : {binary_stl(surface), text_stl(surface)}) {
    const auto read = mesh::read(bytes, "a.stl");
    ASSERT_TRUE(read);
    EXPECT_EQ(corners_of(read->surface), corners_of(cube()));
    EXPECT_EQ(read->remarks, std::vector<std::string>{"3 triangles without area were left out"});
  }
}

TEST(Stl, AFewBytesBehindTheLastTriangleAreRemarked) {
  const auto read = mesh::read(binary_stl(cube()) + "tail", "a.stl");
  ASSERT_TRUE(read);
  EXPECT_EQ(read->remarks, std::vector<std::string>{"4 bytes behind the last triangle were left out"});
}

TEST(Stl, DamagedBinaryFilesAreRefusedWithThePlace) {
  const std::string good = binary_stl(cube());
  std::string nan = good, many = good, few = good, infinite = good, none = good.substr(0, 84);
  nan.replace(84 + 50 * 2 + 12 + 8, 4, bytes_of(std::numeric_limits<float>::quiet_NaN()));
  infinite.replace(84 + 12, 4, bytes_of(-std::numeric_limits<float>::infinity()));
  many.replace(80, 4, bytes_of<std::uint32_t>(4'000'000'000));
  few.replace(80, 4, bytes_of<std::uint32_t>(11));
  none.replace(80, 4, bytes_of<std::uint32_t>(0));
  Surface flat = cube();
  flat.triangles = {{0, 0, 1}};
  expect_refused(
      {{"cut off in a triangle", good.substr(0, good.size() - 7),
        "(byte 80): found 12 triangles announced, and bytes for 11; accepted: a number of triangles that "
        "agrees with the length of the file"},
       {"cut off in the header", good.substr(0, 50), "(byte 50): found the end of the file"},
       {"a huge count", many, "found 4000000000 triangles announced, and bytes for 12"},
       {"a count too small", few, "found 11 triangles announced, and bytes for 12"},
       {"not a number", nan, "(byte 204): found the coordinate nan; accepted: finite numbers"},
       {"infinite", infinite, "(byte 96): found the coordinate -inf"},
       {"no triangle", none, "found no triangle"},
       {"no area", binary_stl(flat), "found no triangle with an area (1 without one)"},
       {"empty", "", "found an empty file"}},
      "part.stl");
}

TEST(Stl, DamagedTextsAreRefusedWithLineAndColumn) {
  const std::string good = text_stl(cube());
  expect_refused(
      {{"cut off in a number", good.substr(0, good.find("vertex 1") + 7),
        "found the end of the file; accepted: a number"},
       {"cut off behind a facet", good.substr(0, good.find("endsolid")),
        "found the end of the file; accepted: \"facet\" or \"endsolid\""},
       {"two corners", with(good, "vertex 0 0 0\n      ", ""),
        ":6:5: found \"endloop\"; accepted: \"vertex\"; in:     endloop"},
       {"four corners", with(good, "endloop", "vertex 1 2 3\nendloop"),
        "found \"vertex\"; accepted: \"endloop\""},
       {"a decimal comma", with(good, "vertex 0 0 0", "vertex 0 0,5 0"),
        ":4:16: found \"0,5\"; accepted: a finite number"},
       {"not a number", with(good, "vertex 0 0 0", "vertex 0 nan 0"), "found \"nan\""},
       {"infinite", with(good, "vertex 0 0 0", "vertex inf 0 0"), "found \"inf\""},
       {"beyond double", with(good, "vertex 0 0 0", "vertex 0 1e999 0"), "found \"1e999\""},
       {"out of all measure", with(good, "vertex 0 0 0", "vertex 0 1e13 0"), "less than 1e+12 in size"},
       {"a word too many", with(good, "outer loop", "outer inner loop"),
        "found \"inner\"; accepted: \"loop\""},
       {"something behind", good + "more", "found \"more\"; accepted: \"solid\""},
       {"no facet", "solid a\nendsolid a\n", "found no triangle"}},
      "part.stl");
}

TEST(Stl, ProgressRisesAndCanStopTheReading) {
  const Surface surface = sheet(300, 300, 1, 1, [](double, double) { return 0.0; });
  for (const std::string& bytes : {binary_stl(surface), text_stl(surface), obj(surface), text_ply(surface)}) {
    std::vector<double> told;
    const auto read = mesh::read(bytes, "a.obj", {}, [&](double share) {
      told.push_back(share);
      return true;
    });
    ASSERT_TRUE(read);
    EXPECT_GT(told.size(), 3U);
    EXPECT_TRUE(std::is_sorted(told.begin(), told.end()));
    EXPECT_EQ(told.back(), 1);
    int calls = 0;
    const auto stopped = mesh::read(bytes, "a.obj", {}, [&](double) { return ++calls < 3; });
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().text(), "a.obj: found that reading was cancelled");
    EXPECT_EQ(calls, 3);
  }
}

} // namespace
} // namespace bellmouth::mesh
