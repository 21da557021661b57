// SPDX-License-Identifier: GPL-3.0-or-later
#include "reading.hpp"
#include "shapes.hpp"
#include "support/close.hpp"
#include "written.hpp"

#include <filesystem>
#include <fstream>
#include <unistd.h>

namespace bellmouth::mesh {
namespace {

namespace fs = std::filesystem;
using namespace test;

/// A folder of its own for each test, gone afterwards.
class GltfFiles : public ::testing::Test {
protected:
  fs::path folder = fs::temp_directory_path() / fmt::format("bellmouth_gltf_{}", ::getpid());

  void SetUp() override { fs::create_directories(folder / "in" / "below"); }
  void TearDown() override { fs::remove_all(folder); }
  static void write(const fs::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
  }
  /// A glTF file in "in" that names its buffer so.
  [[nodiscard]] Result<Imported> loaded(const std::string& uri) const {
    write(folder / "in" / "cube.gltf", gltf_json(cube(), "\"uri\":\"" + uri + "\","));
    return load(folder / "in" / "cube.gltf");
  }
};

void expect_cube(const Result<Imported>& read) {
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(corners_of(read->surface), corners_of(cube()));
  EXPECT_TRUE(read->remarks.empty());
}

TEST(Gltf, ACubeComesBack) {
  expect_cube(mesh::read(gltf(cube()), "cube.gltf"));
  expect_cube(mesh::read(gltf(cube()), "no ending"));
  expect_cube(mesh::read(glb(cube()), "cube.glb"));
  // Parts of an unknown kind behind the known ones are passed over (glTF 2.0, 4.4.3).
  std::string longer = glb(cube());
  longer += bytes_of<std::uint32_t>(4) + "MORE1234";
  longer.replace(8, 4, bytes_of(static_cast<std::uint32_t>(longer.size())));
  expect_cube(mesh::read(longer, "cube.glb"));
}

/// The corners that a node's own motion gives, beside those that they should be.
void expect_moved(const std::string& node, Point (*wanted)(const Point&)) {
  const auto read = mesh::read(gltf(cube(), node), "cube.gltf");
  ASSERT_TRUE(read) << read.error().text();
  const auto found = corners_of(read->surface), before = corners_of(cube());
  ASSERT_EQ(found.size(), before.size());
  for (std::size_t i = 0; i < found.size(); ++i)
    EXPECT_LT(apart(found[i], wanted(before[i])), 1e-12) << node << i;
}

// Closed form: turns by right angles, by hand.
TEST(Gltf, NodesMoveWhatHangsOnThem) {
  expect_moved(R"("translation":[1,2,3],)", [](const Point& p) {
    return Point{p[0] + 1, p[1] + 2, p[2] + 3};
  });
  expect_moved(R"("scale":[1,2,3],)", [](const Point& p) { return Point{p[0], 2 * p[1], 3 * p[2]}; });
  // 90 degrees about z: x goes to y.
  expect_moved(R"("rotation":[0,0,0.70710678118654752,0.70710678118654752],)", [](const Point& p) {
    return Point{-p[1], p[0], p[2]};
  });
  // 120 degrees about the diagonal: x to y to z. First scaled, then turned, then moved (glTF 2.0, 3.5.3).
  expect_moved(R"("translation":[10,0,0],"rotation":[0.5,0.5,0.5,0.5],"scale":[2,1,1],)", [](const Point& p) {
    return Point{p[2] + 10, 2 * p[0], p[1]};
  });
  // Columns one after the other.
  expect_moved(R"("matrix":[0,2,0,0, 0,0,1,0, 1,0,0,0, 10,0,0,1],)", [](const Point& p) {
    return Point{p[2] + 10, 2 * p[0], p[1]};
  });
}

TEST(Gltf, MotionsOfNodesFollowOneAnotherAndMirrorsKeepTheOutside) {
  const std::string nodes =
      R"("nodes":[{"translation":[5,0,0],"children":[1,2]},{"scale":[-1,1,1],"mesh":0},)"
      R"({"scale":[2,2,2],"translation":[0,1,0],"mesh":0}])";
  const auto read = mesh::read(with(gltf(cube()), R"("nodes":[{"mesh":0}])", nodes), "a.gltf");
  ASSERT_TRUE(read) << read.error().text();
  ASSERT_EQ(read->surface.triangles.size(), 24U);
  const auto corners = corners_of(read->surface);
  double volume = 0;
  for (std::size_t i = 0; i < corners.size(); i += 3) {
    const Point &a = corners[i], &b = corners[i + 1], &c = corners[i + 2];
    volume += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) +
               a[2] * (b[0] * c[1] - b[1] * c[0])) /
              6;
  }
  EXPECT_TRUE(close(volume, 1 + 8, 1e-12)); // both outwards
  const Extent box = extent(read->surface);
  EXPECT_EQ(box.low, (Point{4, 0, 0}));
  EXPECT_EQ(box.high, (Point{7, 3, 2}));
}

TEST(Gltf, WithoutScenesOrNodesEverythingIsRead) {
  expect_cube(mesh::read(with(gltf(cube()), R"("scene":0,"scenes":[{"nodes":[0]}],)", ""), "a.gltf"));
  expect_cube(mesh::read(
      with(gltf(cube()), R"("scene":0,"scenes":[{"nodes":[0]}],"nodes":[{"mesh":0}],)", ""), "a.gltf"));
  const auto read = mesh::read(
      with(gltf(cube()), R"("scenes":[{"nodes":[0]}])", R"("scenes":[{"nodes":[0]},{}])"), "a.gltf");
  ASSERT_TRUE(read);
  EXPECT_EQ(read->remarks, std::vector<std::string>{"1 other scene was left out"});
}

// glTF 2.0, 3.7.2.1: how strips and fans go.
TEST(Gltf, StripsAndFansAreTriangles) {
  Surface zigzag;
  zigzag.points = {{0, 0, 0}, {0, 1, 0}, {1, 0, 0}, {1, 1, 0}, {2, 0, 0}, {2, 1, 0}};
  zigzag.triangles = {{0, 1, 2}, {3, 4, 5}}; // six indices in a row
  const auto corners = [&](const std::string& mode, const std::string& indices) {
    const auto read = mesh::read(with(gltf(zigzag, {}, mode), "\"indices\":0", indices), "a.gltf");
    EXPECT_TRUE(read) << read.error().text();
    return read->surface.triangles;
  };
  const std::vector<Triangle> strip{{0, 1, 2}, {1, 3, 2}, {2, 3, 4}, {3, 5, 4}};
  for (const char* indices : {"\"indices\":0", "\"extras\":0"}) {
    // Numbers are those of the points' first use: the same here, but for the second triangle's new point.
    const auto found = corners("\"mode\":5,", indices);
    EXPECT_EQ(found, strip);
  }
  Surface round;
  round.points = {{0, 0, 0}, {2, 0, 0}, {2, 1, 0}, {1, 2, 0}, {0, 2, 0}, {-1, 1, 0}};
  round.triangles = zigzag.triangles;
  const auto read = mesh::read(gltf(round, {}, "\"mode\":6,"), "a.gltf");
  ASSERT_TRUE(read);
  const Point middle{0, 0, 0};
  EXPECT_EQ(corners_of(read->surface), (std::vector<Point>{{2, 0, 0},
                                                           {2, 1, 0},
                                                           middle,
                                                           {2, 1, 0},
                                                           {1, 2, 0},
                                                           middle,
                                                           {1, 2, 0},
                                                           {0, 2, 0},
                                                           middle,
                                                           {0, 2, 0},
                                                           {-1, 1, 0},
                                                           middle}));
}

TEST(Gltf, WhatHasNoTrianglesIsRemarked) {
  const std::string good = gltf(cube());
  const std::string more =
      R"("primitives":[{"mode":1,"attributes":{"POSITION":1}},{"attributes":{"NORMAL":1}},)"
      R"({"targets":[],"attributes":{"POSITION":1},"indices":0}]}])";
  const auto read =
      mesh::read(with(good, R"("primitives":[{"attributes":{"POSITION":1},"indices":0}]}])", more), "a.gltf");
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(read->surface.triangles.size(), 12U);
  EXPECT_EQ(read->remarks, (std::vector<std::string>{"1 set of points or lines was left out",
                                                     "1 set of triangles without positions was left out",
                                                     "1 part that changes its shape was read in its first"}));
}

TEST_F(GltfFiles, BuffersMayLieInTheFolder) {
  write(folder / "in" / "data.bin", gltf_buffer(cube()));
  write(folder / "in" / "below" / "a b%.bin", gltf_buffer(cube()));
  expect_cube(loaded("data.bin"));
  expect_cube(loaded("./data.bin"));
  expect_cube(loaded("below/a%20b%25.bin"));
  expect_cube(loaded("below/a b%25.bin"));
}

TEST_F(GltfFiles, BuffersMayLieNowhereElse) {
  write(folder / "outside.bin", gltf_buffer(cube()));
  fs::create_symlink(folder / "outside.bin", folder / "in" / "link.bin");
  fs::create_directory_symlink(folder, folder / "in" / "way_out");
  const std::string absolute = (folder / "outside.bin").string();
  for (const std::string& uri :
       {std::string("../outside.bin"), std::string("%2e%2e/outside.bin"),
        std::string("below/../../outside.bin"), std::string("%2E%2E%2Foutside.bin"), absolute,
        "file://" + absolute, std::string("https://127.0.0.1/outside.bin"), std::string("link.bin"),
        std::string("way_out/outside.bin"), std::string("missing.bin"), std::string(""),
        std::string("..\\\\outside.bin"), std::string("data.bin%00.txt"), std::string("a%2"),
        std::string("a%zz")}) {
    const auto read = loaded(uri);
    ASSERT_FALSE(read) << uri;
    EXPECT_NE(read.error().text().find("cube.gltf ($.buffers[0].uri): found"), std::string::npos)
        << read.error().text();
  }
  EXPECT_EQ(loaded("below").error().found, "a folder");
  const auto from_memory = mesh::read(gltf_json(cube(), R"("uri":"data.bin",)"), "cube.gltf");
  ASSERT_FALSE(from_memory);
  EXPECT_EQ(from_memory.error().accepted, "data within the file itself");
}

TEST(Gltf, DamagedFilesAreRefusedWithThePlace) {
  const std::string good = gltf(cube());
  Surface beyond = cube();
  beyond.triangles[3][1] = 8;
  expect_refused(
      {{"cut off", good.substr(0, good.size() / 2),
        "found the end of the JSON; accepted: the JSON of a glTF 2.0 file"},
       {"no JSON", with(good, "\"scene\":0,", "\"scene\"=0,"), ":1:35: found something that is no JSON"},
       {"a number beyond double", with(good, "\"scene\":0", "\"scene\":1e999"),
        ":1:36: found \"1e999\"; accepted: a finite number"},
       {"version 1", with(good, "\"2.0\"", "\"1.0\""),
        "($.asset.version): found \"1.0\"; accepted: glTF 2.0"},
       {"no version", with(good, "\"version\"", "\"generator\""), "($.asset): found no \"version\""},
       {"compressed", with(good, "\"scene\":0", R"("extensionsRequired":["KHR_draco_mesh_compression"])"),
        "($.extensionsRequired[0]): found compressed triangles (KHR_draco_mesh_compression)"},
       {"compressed in part",
        with(with(good, R"({"bufferView":1,)", "{"), R"("indices":0)",
             R"("indices":0,"extensions":{"KHR_draco_mesh_compression":{"bufferView":0}})"),
        "found triangles compressed by Draco; accepted: triangles that are not compressed"},
       {"an unknown extension", with(good, "\"scene\":0", R"("extensionsRequired":["XYZ_other"])"),
        "found \"XYZ_other\""},
       {"sparse", with(good, R"({"bufferView":1,)", R"({"sparse":{},"bufferView":1,)"),
        "($.accessors[1].sparse): found a sparse accessor"},
       {"no view", with(good, R"({"bufferView":1,)", "{"),
        "($.accessors[1]): found an accessor without a buffer view"},
       {"positions as shorts", with(good, "5126", "5122"),
        "($.accessors[1].componentType): found 5122; accepted: positions as floats"},
       {"an unknown type of number", with(good, "5126", "5127"), "found 5127; accepted: 5120"},
       {"indices as floats", with(good, "5123", "5126"),
        "accepted: as many as its buffer view's 72 bytes hold"},
       {"indices as shorts", with(good, "5123", "5122"), "accepted: indices as unsigned whole numbers"},
       {"positions in a plane", with(good, "VEC3", "VEC2"),
        "($.accessors[1].type): found \"VEC2\"; accepted: \"VEC3\""},
       {"too many positions", with(good, R"("count":8)", R"("count":9)"), "($.accessors[1]): found 9 values"},
       {"a count beyond all", with(good, R"("count":8)", R"("count":18446744073709551615)"),
        "found 18446744073709551615 values"},
       {"a count below nought", with(good, R"("count":8)", R"("count":-8)"),
        "($.accessors[1].count): found -8"},
       {"a count with a fraction", with(good, R"("count":8)", R"("count":8.5)"),
        "($.accessors[1].count): found 8.5"},
       {"an offset beyond all", with(good, R"("byteOffset":72)", R"("byteOffset":18446744073709551600)"),
        "($.bufferViews[1]): found bytes"},
       {"a view beyond the buffer",
        with(good, R"("byteOffset":72,"byteLength":96)", R"("byteOffset":72,"byteLength":97)"),
        "($.bufferViews[1]): found bytes 72 and 97 from there on; accepted: a part of the buffer's 168 "
        "bytes"},
       {"a stride too small", with(good, R"("byteOffset":72,)", R"("byteOffset":72,"byteStride":8,)"),
        "($.bufferViews[1].byteStride): found 8; accepted: 12 to 252"},
       {"a buffer shorter than it says", with(good, R"("byteLength":168)", R"("byteLength":169)"),
        "($.buffers[0].byteLength): found 169 bytes announced, and 168 there"},
       {"no base 64", with(good, "base64,AA", "base64,A-"),
        "($.buffers[0].uri): found something that is no base 64"},
       {"another coding", with(good, ";base64,", ","), "found data of another coding"},
       {"an index beyond", gltf(beyond),
        "($.meshes[0].primitives[0].indices): found index 8 at place 10; accepted: indices of the 8 points"},
       {"35 corners", with(good, R"("count":36)", R"("count":35)"), "found 35 corners of triangles"},
       {"an unknown mode", gltf(cube(), {}, R"("mode":7,)"),
        "($.meshes[0].primitives[0].mode): found 7; accepted: 0 to 6"},
       {"a mesh that is not there", with(good, R"("mesh":0)", R"("mesh":1)"), "($.meshes): found 1 entries"},
       {"a node that is not there", with(good, R"("nodes":[0])", R"("nodes":[1])"),
        "($.nodes): found 1 entries"},
       {"a node twice", with(good, R"("nodes":[0])", R"("nodes":[0,0])"),
        "($.nodes[0]): found a node that hangs on two others"},
       {"a node on itself", gltf(cube(), R"("children":[0],)"),
        "($.nodes[0]): found a node that hangs on two others, or on itself"},
       {"a matrix of 15", gltf(cube(), R"("matrix":[1,0,0,0,0,1,0,0,0,0,1,0,0,0,0],)"),
        "accepted: 16 numbers"},
       {"a perspective", gltf(cube(), R"("matrix":[1,0,0,0.5,0,1,0,0,0,0,1,0,0,0,0,1],)"),
        "found a perspective"},
       {"no turn", gltf(cube(), R"("rotation":[0,0,0,0],)"), "accepted: a quaternion of unit length"},
       {"a scale beyond all", gltf(cube(), R"("scale":[1e11,1e11,1e11],"translation":[9e11,0,0],)"),
        "less than 1e+12 in size"},
       {"text for a number", gltf(cube(), R"("scale":["1",1,1],)"),
        "($.nodes[0].scale[0]): found \"1\"; accepted: a number"},
       {"an array for an object", with(good, R"("asset":{"version":"2.0"})", R"("asset":["2.0"])"),
        "($.asset): found an array; accepted: an object"}},
      "part.gltf");
  Surface wild = cube();
  wild.points[4] = {0, std::numeric_limits<double>::infinity(), 0};
  EXPECT_NE(complaint(gltf(wild), "part.gltf").find("($.accessors[1]): found the coordinate inf of point 4"),
            std::string::npos);
}

TEST(Gltf, DamagedGlbFilesAreRefusedWithThePlace) {
  const std::string good = glb(cube());
  std::string one = good, chunk = good, kind = good;
  one.replace(4, 4, bytes_of<std::uint32_t>(1));
  chunk.replace(12, 4, bytes_of<std::uint32_t>(0xFFFFFFF0));
  kind.replace(16, 4, std::string("BIN\0", 4));
  std::string no_binary = good.substr(0, good.find("BIN") - 4);
  no_binary.replace(8, 4, bytes_of(static_cast<std::uint32_t>(no_binary.size())));
  expect_refused(
      {{"version 1", one, "(byte 4): found version 1; accepted: version 2"},
       {"cut off", good.substr(0, good.size() - 1), "(byte 8): found"},
       {"cut off in the header", good.substr(0, 15), "(byte 15): found the end of the file"},
       {"a part beyond the file", chunk, "(byte 12): found a part that goes on behind the end of the file"},
       {"no JSON first", kind, "(byte 16): found a first part of kind 0x004e4942; accepted: JSON"},
       {"no binary part", no_binary, "($.buffers[0]): found a buffer without \"uri\""}},
      "part.glb");
}

} // namespace
} // namespace bellmouth::mesh
