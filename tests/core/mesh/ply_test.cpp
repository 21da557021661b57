// SPDX-License-Identifier: GPL-3.0-or-later
#include "reading.hpp"
#include "shapes.hpp"
#include "written.hpp"

namespace bellmouth::mesh {
namespace {

using namespace test;

TEST(Ply, ACubeComesBackFromEveryKind) {
  for (const std::string& bytes :
       {text_ply(cube()), text_ply(cube(), "\r\n"), text_ply(cube(), "\r"), binary_ply(cube(), false),
        binary_ply(cube(), true), binary_ply(cube(), true) + "\n"}) {
    const auto read = mesh::read(bytes, "cube.ply");
    ASSERT_TRUE(read) << read.error().text();
    EXPECT_EQ(corners_of(read->surface), corners_of(cube()));
    EXPECT_EQ(read->surface.points.size(), 8U);
    EXPECT_TRUE(read->remarks.empty());
  }
}

/// One triangle between points whose coordinates are of a given type.
template <class Number> void expect_type(const std::string& type, Number x) {
  std::string file =
      fmt::format("ply\nformat binary_big_endian 1.0\nelement vertex 3\nproperty {0} z\nproperty {0} x\n"
                  "property {0} y\nelement face 1\nproperty list uchar uchar vertex_indices\nend_header\n",
                  type);
  for (const Number value : {Number{1}, x, Number{3}, Number{4}, Number{5}, x, x, Number{1}, Number{2}})
    file += bytes_of(value, true);
  file += std::string("\3\0\1\2", 4);
  const auto read = mesh::read(file, "a.ply");
  ASSERT_TRUE(read) << type << ": " << read.error().text();
  const auto d = static_cast<double>(x);
  EXPECT_EQ(corners_of(read->surface), (std::vector<Point>{{d, 3, 1}, {5, d, 4}, {1, 2, d}})) << type;
}

TEST(Ply, EveryTypeOfNumberIsRead) {
  expect_type<std::int8_t>("char", -100);
  expect_type<std::int8_t>("int8", -100);
  expect_type<std::uint8_t>("uchar", 200);
  expect_type<std::uint8_t>("uint8", 200);
  expect_type<std::int16_t>("short", -30000);
  expect_type<std::int16_t>("int16", -30000);
  expect_type<std::uint16_t>("ushort", 60000);
  expect_type<std::uint16_t>("uint16", 60000);
  expect_type<std::int32_t>("int", -2'000'000'000);
  expect_type<std::int32_t>("int32", -2'000'000'000);
  expect_type<std::uint32_t>("uint", 4'000'000'000);
  expect_type<std::uint32_t>("uint32", 4'000'000'000);
  expect_type<float>("float", 0.125F);
  expect_type<float>("float32", 0.125F);
  expect_type<double>("double", 1.0 / 3);
  expect_type<double>("float64", 1.0 / 3);
}

TEST(Ply, PolygonsAndOtherElementsAreAccepted) {
  const auto read =
      mesh::read("ply\nformat ascii 1.0\nobj_info anything\nelement camera 1\nproperty list uchar float way\n"
                 "element vertex 5\nproperty float x\nproperty float y\nproperty float z\nelement face 2\n"
                 "property list uchar int vertex_indices\nelement edge 0\nproperty int a\nend_header\n"
                 "2 0.5 0.5\n0 0 0\n1 0 0\n1 1 0\n0 1 0\n0 0 9\n4 0 1 2 3\n3 0 1 2",
                 "a.ply");
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(read->surface.triangles.size(), 3U);
  EXPECT_EQ(read->remarks, std::vector<std::string>{"1 point that no triangle uses was left out"});
}

TEST(Ply, DamagedTextsAreRefusedWithThePlace) {
  const std::string good = text_ply(cube());
  expect_refused(
      {{"cut off in the header", good.substr(0, good.find("element face")),
        "found the end of the file; accepted: \"end_header\""},
       {"cut off in the faces", good.substr(0, good.size() - 16),
        "accepted: as many lines as the header announces"},
       {"cut off in a line", good.substr(0, good.size() - 4),
        "found the end of the file; accepted: a whole number"},
       {"another format", with(good, "ascii", "utf8"),
        ":2:8: found \"utf8\"; accepted: \"ascii\", \"binary_little_endian\""},
       {"another version", with(good, "1.0", "1.1"), "accepted: version 1.0"},
       {"a huge count", with(good, "vertex 8", "vertex 4294967295"),
        "found 4294967295 of \"vertex\" announced; accepted: at most"},
       {"a count beyond 64 bits", with(good, "vertex 8", "vertex 99999999999999999999"),
        "accepted: the number of elements"},
       {"a count below nought", with(good, "vertex 8", "vertex -8"), "found \"-8\""},
       {"too few points", with(good, "vertex 8", "vertex 7"), "found 1 for the number of a face's corners"},
       {"too few faces", with(good, "face 12", "face 11"),
        "accepted: the end of the file: the header announces no more"},
       {"no z", with(good, "double z", "double w"), "found \"vertex\" without \"z\""},
       {"z as a list", with(good, "property double z", "property list int double z"),
        "found \"vertex\" without \"z\""},
       {"no corners", with(good, "vertex_indices", "corners"), "found \"face\" without \"vertex_indices\""},
       {"corners as fractions", with(good, "uchar int", "uchar float"),
        "found \"face\" without \"vertex_indices\""},
       {"length as a fraction", with(good, "list uchar", "list float"),
        "accepted: a whole number for the length"},
       {"an unknown type", with(good, "double x", "real x"), "found \"real\"; accepted: \"list\", \"char\""},
       {"an unknown keyword", with(good, "comment", "remark"), "found \"remark\"; accepted: \"element\""},
       {"an element twice", with(good, "element face", "element vertex"), "accepted: each element once"},
       {"a property of nothing", with(good, "element vertex 8\n", ""),
        "accepted: an element ahead of its properties"},
       {"an element of nothing", with(good, "element face", "element spare 2\nelement face"),
        "found an element without properties"},
       {"an index beyond", with(good, "3 0 2 1", "3 0 2 8"), "found point 8; accepted: 0 to 7"},
       {"an index below nought", with(good, "3 0 2 1", "3 0 2 -1"), "found point -1"},
       {"two corners", with(good, "3 0 2 1", "2 0 2"),
        "found 2 for the number of a face's corners; accepted: three or more"},
       {"a length below nought", with(good, "3 0 2 1", "-3 0 2 1"), "found a list of length -3"},
       {"a corner too many", with(good, "3 0 2 1", "3 0 2 1 4"),
        "found \"4\"; accepted: the end of the line"},
       {"not finite", with(good, "1 0 0 200", "1 inf 0 200"), ":13:3: found \"inf\""},
       {"a value missing", with(good, "1 0 0 200", "1 0 0"),
        "accepted: a value for each property that the header names"},
       {"strips", with(good, "element face 12", "element tristrips 12"),
        "found triangle strips; accepted: faces"}},
      "part.ply");
  EXPECT_NE(complaint("plywood", "part.ply").find("accepted"), std::string::npos);
}

TEST(Ply, DamagedBinaryFilesAreRefusedWithThePlace) {
  for (const bool big : {false, true}) {
    const std::string good = binary_ply(cube(), big);
    const std::size_t body = good.find("end_header\n") + 11, faces = body + 8 * 18;
    std::string nan = good, beyond = good, long_list = good, long_face = good, below = good;
    nan.replace(body + 18 + 4, 4, bytes_of(std::numeric_limits<float>::quiet_NaN(), big));
    beyond.replace(faces + 5, 4, bytes_of<std::uint32_t>(8, big));
    long_list.replace(body + 12, 2, bytes_of<std::uint16_t>(65535, big));
    long_face.replace(faces + 1, 4, bytes_of<std::int32_t>(2'000'000'000, big));
    below.replace(faces + 1, 4, bytes_of<std::int32_t>(-1, big));
    expect_refused({{"cut off", good.substr(0, good.size() - 1),
                     "found the end of the file; accepted: as much as the header announces"},
                    {"a huge count", with(good, "vertex 8", "vertex 4000000000"),
                     "found 4000000000 of \"vertex\" announced"},
                    {"too few faces", with(good, "face 12", "face 11"), "found 17 bytes more"},
                    {"not a number", nan, "found the coordinate nan"},
                    {"an index beyond", beyond, "found point 8; accepted: 0 to 7"},
                    {"a list beyond the file", long_list, "found the end of the file"},
                    {"a face beyond the file", long_face, "accepted: "},
                    {"a length below nought", below, "found a list of length -1"}},
                   "part.ply");
  }
}

} // namespace
} // namespace bellmouth::mesh
