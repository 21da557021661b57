// SPDX-License-Identifier: GPL-3.0-or-later
#include "reading.hpp"
#include "shapes.hpp"
#include "support/close.hpp"
#include "written.hpp"

#include <numbers>

namespace bellmouth::mesh {
namespace {

using namespace test;

double area(const Surface& surface) {
  double sum = 0;
  const auto corners = corners_of(surface);
  for (std::size_t i = 0; i < corners.size(); i += 3) {
    const Point u = plus(corners[i + 1], corners[i], -1), v = plus(corners[i + 2], corners[i], -1);
    sum += 0.5 * std::sqrt(inner(u, u) * inner(v, v) - inner(u, v) * inner(u, v));
  }
  return sum;
}

TEST(Obj, ACubeComesBack) {
  for (const char* line_end : {"\n", "\r\n", "\r"}) {
    const auto read = mesh::read(obj(cube(), line_end), "cube.obj");
    ASSERT_TRUE(read) << read.error().text();
    EXPECT_EQ(corners_of(read->surface), corners_of(cube()));
    EXPECT_TRUE(read->remarks.empty());
  }
}

TEST(Obj, CornersMayCountFromTheEndAndLinesGoOn) {
  const auto read =
      mesh::read("\xEF\xBB\xBF# text with a mark at its beginning\nmtllib a b.mtl\nv 0 0 0 1\nv 1 0 0\nv 0 1 "
                 "0 0.2 0.3 0.4\n"
                 "s off\nusemtl \xC3\xBC\nf -3/1/1 \\\n -2/2/2 -1/3/3\nv 0 0 1\nf\t1//1  2//1\t-1//1 \n",
                 "a.obj");
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(corners_of(read->surface),
            (std::vector<Point>{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 0}, {1, 0, 0}, {0, 0, 1}}));
}

TEST(Obj, ABackslashThatEndsAPathJoinsNoLine) {
  const auto read = mesh::read(
      "# from C:\\models\\\nv 0 0 0\nmtllib ..\\\nv 1 0 0\nv 0 1 \\\n0\ng a\\\nvn 0 0 \\\n1\nf 1 2 3\n",
      "a.obj");
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(corners_of(read->surface), (std::vector<Point>{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}));
}

TEST(Obj, WhatIsLeftOutIsRemarked) {
  const auto read =
      mesh::read("v 0 0 0\nv 1 0 0\nv 0 1 0\nv 5 5 5\nl 1 2\np 1\nsurf 0 1 0 1 1 2 3\nf 1 2 3", "a.obj");
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(read->remarks,
            (std::vector<std::string>{"2 statements of points or lines were left out",
                                      "1 free-form curve or surface was left out",
                                      "the last line has no end: the file may have been cut off",
                                      "1 point that no triangle uses was left out"}));
  EXPECT_EQ(read->surface.points.size(), 3U);
}

// Closed form: the areas of polygons.
TEST(Obj, PolygonsAreSplitWithoutChangingTheirArea) {
  constexpr int teeth = 40;
  std::string star = "", comb = "";
  std::string corners = "f";
  for (int i = 0; i < 2 * teeth; ++i) {
    const double r = i % 2 == 0 ? 10 : 4, angle = std::numbers::pi * i / teeth;
    star += fmt::format("v {} {} {}\n", r * std::cos(angle), 0.6 * r * std::sin(angle),
                        0.8 * r * std::sin(angle));
    corners += fmt::format(" {}", i + 1);
  }
  // A comb: teeth of 1 by 5 on a bar of 2 * 20 - 1 by 1, in one outline.
  std::string comb_corners = "f 1 2";
  comb = "v 0 0 0\nv 39 0 0\n";
  int number = 2;
  for (int i = 19; i >= 0; --i) {
    const int right = 2 * i + 1, left = 2 * i;
    comb += fmt::format("v {} 6 0\nv {} 6 0\n", right, left);
    comb_corners += fmt::format(" {} {}", number + 1, number + 2);
    number += 2;
    if (i > 0) {
      comb += fmt::format("v {} 1 0\nv {} 1 0\n", left, left - 1);
      comb_corners += fmt::format(" {} {}", number + 1, number + 2);
      number += 2;
    }
  }
  const struct {
    std::string file;
    double area;
    std::size_t triangles;
  } cases[] = {
      {"v 0 0 3\nv 2 0 3\nv 2 1 3\nv 0 1 3\nf 1 2 3 4\n", 2, 2},
      {"v 0 0 0\nv 4 0 0\nv 1 1 0\nv 0 4 0\nf 1 2 3 4\n", 4, 2}, // an arrow head: concave at (1, 1)
      {"v 4 0 0\nv 1 1 0\nv 0 4 0\nv 0 0 0\nf 1 2 3 4\n", 4, 2}, // begun at another corner
      {"v 0 4 0\nv 1 1 0\nv 4 0 0\nv 0 0 0\nf 1 2 3 4\n", 4, 2}, // the other way round
      {"v 0 0 0\nv 1 0 0\nv 2 0 0\nv 2 2 0\nv 0 2 0\nf 1 2 3 4 5\n", 4, 3}, // a corner on a side
      {star + corners + "\n", teeth * 10 * 4 * std::sin(std::numbers::pi / teeth), 2 * teeth - 2},
      {comb + comb_corners + "\n", 39 + 20 * 5, 78},
  };
  for (const auto& each : cases) {
    const auto read = mesh::read(each.file, "a.obj");
    ASSERT_TRUE(read) << read.error().text();
    EXPECT_TRUE(close(area(read->surface), each.area, 1e-12)) << each.file.substr(0, 60);
    EXPECT_EQ(read->surface.triangles.size(), each.triangles);
    EXPECT_TRUE(read->remarks.empty()) << read->remarks.front();
  }
}

TEST(Obj, AFaceThatCrossesItselfIsRemarked) {
  const auto read = mesh::read("v 0 0 0\nv 3 1 0\nv 3 0 0\nv 0 2 0\nf 1 2 3 4\n", "a.obj");
  ASSERT_TRUE(read);
  EXPECT_EQ(read->remarks.size(), 1U);
  EXPECT_EQ(read->surface.triangles.size(), 2U);
}

TEST(Obj, DamagedFilesAreRefusedWithThePlace) {
  const std::string points = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
  std::string round = "f", spiral;
  for (int i = 0; i < 4000; ++i) {
    spiral += fmt::format("v {} {} 0\n", i % 2 == 0 ? i : 4000 + i % 7, i);
    round += fmt::format(" {}", i + 1);
  }
  expect_refused(
      {{"an index beyond", points + "f 1 2 4\n",
        ":4:7: found \"4\"; accepted: a point ahead of this line: 1 to 3, or -1 to -3; in: f 1 2 4"},
       {"an index beyond, from the end", points + "f -1 -2 -4\n", ":4:9: found \"-4\""},
       {"nought", points + "f 0 1 2\n", "found \"0\""},
       {"a huge index", points + "f 1 2 99999999999999999999\n", "accepted: the number of a point"},
       {"no number", points + "f 1 2 x\n",
        "found \"x\"; accepted: the number of a point, such as 7, 7/1, 7//3 or -1"},
       {"a fraction", points + "f 1 2 2.5\n", "found \"2.5\""},
       {"faces first", "f 1 2 3\n" + points,
        ":1:3: found \"1\"; accepted: points (\"v\") ahead of the faces"},
       {"two corners", points + "f 1 2\n",
        ":4:6: found the end of the line; accepted: at least three corners"},
       {"two coordinates", "v 1 2\n" + points, ":1:6: found the end of the line; accepted: a finite number"},
       {"no coordinate", "v 1 2 z\n", "found \"z\""},
       {"not finite", "v 1 2 nan\n", "found \"nan\""},
       {"another file's word", "v 0 0 0\nvertex 1 2 3\n",
        ":2:1: found \"vertex\"; accepted: \"v\", \"f\" or another statement"},
       {"points only", points, "found no triangle"},
       {"text in UTF-16",
        "\xFF\xFE"
        "v\0 ",
        "found text in UTF-16"},
       {"a concave face of thousands", spiral + round + "\n",
        "found a face with 4000 corners that is not convex"}},
      "part.obj");
  EXPECT_EQ(complaint("0 0 0", "part.xyz"), "part.xyz: found a file of an unknown kind; accepted: a mesh as "
                                            "STL, OBJ, PLY, glTF (.gltf) or GLB (.glb)");
}

} // namespace
} // namespace bellmouth::mesh
