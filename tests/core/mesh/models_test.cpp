// SPDX-License-Identifier: GPL-3.0-or-later
// Model files that others made: the Debian package assimp-testmodels, which must be installed.
#include "reading.hpp"

#include <nlohmann/json.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <sstream>

namespace bellmouth::mesh {
namespace {

namespace fs = std::filesystem;
using namespace test;

const fs::path models = "/usr/share/assimp/models";

std::string bytes_in(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  EXPECT_TRUE(stream) << file << " is missing: install the Debian package assimp-testmodels";
  return {std::istreambuf_iterator<char>(stream), {}};
}

std::string ending(const fs::path& file) {
  std::string text = file.extension().string();
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

std::size_t count_in_remark(const Imported& read, const std::string& words) {
  for (const std::string& remark : read.remarks)
    if (remark.find(words) != std::string::npos)
      return std::stoul(remark);
  return 0;
}

/// Triangles of the file, those without area too.
std::size_t all_triangles(const Imported& read) {
  return read.surface.triangles.size() + count_in_remark(read, "without area");
}

TEST(Models, EveryOneIsReadOrRefusedWithAComplaint) {
  ASSERT_TRUE(fs::is_directory(models)) << "install the Debian package assimp-testmodels";
  std::map<std::string, int> accepted, refused;
  for (const auto& entry : fs::recursive_directory_iterator(models)) {
    const std::string kind = ending(entry.path());
    if (kind != ".stl" && kind != ".obj" && kind != ".ply" && kind != ".gltf" && kind != ".glb")
      continue;
    const auto read = load(entry.path());
    if (read) {
      ++accepted[kind];
      EXPECT_TRUE(sound(read->surface)) << entry.path();
    } else {
      ++refused[kind];
      EXPECT_EQ(read.error().place.file, entry.path().string());
      EXPECT_FALSE(read.error().found.empty() || read.error().accepted.empty()) << entry.path();
    }
  }
  EXPECT_GE(accepted[".stl"], 8);
  EXPECT_EQ(refused[".stl"], 0);
  EXPECT_GE(accepted[".obj"], 15);
  EXPECT_GE(accepted[".ply"], 4);
  EXPECT_GE(accepted[".gltf"], 20);
  EXPECT_GE(accepted[".glb"], 3);
}

// Other method: the count in the file's header, or of its words.
TEST(Models, StlFilesHaveTheTrianglesThatTheyAnnounce) {
  for (const char* name :
       {"3DSMaxExport.STL", "Spider_binary.stl", "Wuson.stl", "sphereWithHole.stl", "Spider_ascii.stl",
        "triangle.stl", "triangle_with_two_solids.stl", "triangle_with_empty_solid.stl"}) {
    const std::string bytes = bytes_in(models / "STL" / name);
    std::uint32_t announced = 0;
    std::memcpy(&announced, bytes.data() + 80, 4);
    std::size_t wanted = announced;
    if (bytes.size() != 84 + 50 * std::size_t{announced}) {
      wanted = 0;
      for (std::size_t at = bytes.find("endfacet"); at != std::string::npos;
           at = bytes.find("endfacet", at + 1))
        ++wanted;
    }
    const auto read = load(models / "STL" / name);
    ASSERT_TRUE(read) << read.error().text();
    EXPECT_EQ(all_triangles(*read), wanted) << name;
  }
}

// Identity: one model in three kinds of file.
TEST(Models, OneSpiderIsTheSameInEveryKind) {
  const auto binary = load(models / "STL/Spider_binary.stl"), text = load(models / "STL/Spider_ascii.stl"),
             obj = load(models / "OBJ/spider.obj");
  ASSERT_TRUE(binary && text && obj);
  EXPECT_EQ(binary->surface.triangles.size(), obj->surface.triangles.size()); // the OBJ lies otherwise
  EXPECT_EQ(text->surface.triangles, binary->surface.triangles);
  const Extent one = extent(binary->surface), two = extent(text->surface);
  for (std::size_t axis = 0; axis < 3; ++axis) {
    EXPECT_NEAR(one.low[axis], two.low[axis], 1e-4);
    EXPECT_NEAR(one.high[axis], two.high[axis], 1e-4);
  }
}

// Other method: the corners of the faces, counted word by word; a face of n corners is n - 2 triangles.
TEST(Models, ObjFilesHaveTheTrianglesOfTheirFaces) {
  for (const char* name :
       {"WusonOBJ.obj", "spider.obj", "regr01.obj", "box.obj", "box_longline.obj", "concave_polygon.obj",
        "cube_usemtl.obj", "testmixed.obj", "space_in_material_name.obj"}) {
    std::string text = bytes_in(models / "OBJ" / name);
    for (std::size_t at = text.find("\\\n"); at != std::string::npos; at = text.find("\\\n"))
      text.replace(at, 2, "  ");
    std::istringstream lines(text);
    std::string line;
    std::size_t wanted = 0;
    while (std::getline(lines, line)) {
      std::istringstream words(line);
      const std::vector<std::string> all{std::istream_iterator<std::string>(words), {}};
      if (!all.empty() && all[0] == "f")
        wanted += all.size() - 3;
    }
    const auto read = load(models / "OBJ" / name);
    ASSERT_TRUE(read) << read.error().text();
    EXPECT_EQ(all_triangles(*read), wanted) << name;
  }
}

// Other method: the accessors' counts as the JSON says them.
TEST(Models, GlbFilesHaveTheTrianglesOfTheirAccessors) {
  for (const char* name :
       {"2CylinderEngine-glTF-Binary/2CylinderEngine.glb", "BoxTextured-glTF-Binary/BoxTextured.glb",
        "BoxBadNormals-glTF-Binary/BoxBadNormals.glb"}) {
    const std::string bytes = bytes_in(models / "glTF2" / name);
    std::uint32_t length = 0;
    std::memcpy(&length, bytes.data() + 12, 4);
    const auto json = nlohmann::json::parse(bytes.substr(20, length));
    std::size_t wanted = 0;
    for (const auto& node : json.at("nodes"))
      if (node.contains("mesh"))
        for (const auto& primitive :
             json.at("meshes").at(node.at("mesh").get<std::size_t>()).at("primitives"))
          wanted += json.at("accessors")
                        .at(primitive.at("indices").get<std::size_t>())
                        .at("count")
                        .get<std::size_t>() /
                    3;
    const auto read = load(models / "glTF2" / name);
    ASSERT_TRUE(read) << read.error().text();
    EXPECT_EQ(all_triangles(*read), wanted) << name;
  }
}

TEST(Models, PlyCubesHaveTheirTwelveTriangles) {
  for (const char* name : {"cube.ply", "cube_binary.ply", "cube_uv.ply"}) {
    const auto read = load(models / "PLY" / name);
    ASSERT_TRUE(read) << read.error().text();
    EXPECT_EQ(read->surface.triangles.size(), 12U) << name;
    EXPECT_EQ(read->surface.points.size(), 8U) << name;
  }
}

TEST(Models, TheWrongOnesAreRefusedForWhatIsWrongWithThem) {
  const std::vector<std::pair<const char*, const char*>> files{
      {"glTF2/BoxWithInfinites-glTF-Binary/BoxWithInfinites.glb", "the coordinate -inf"},
      {"glTF2/IndexOutOfRange/IndexOutOfRange.gltf", "index 255"},
      {"glTF2/MissingBin/BoxTextured.gltf", "No such file"},
      {"glTF2/RecursiveNodes/RecursiveNodes.gltf", "hangs on two others, or on itself"},
      {"glTF2/IncorrectVertexArrays/Cube.gltf", "three corners for each triangle"},
      {"glTF2/draco/2CylinderEngine.gltf", "compressed triangles"},
      {"glTF2/wrongTypes/badArray.gltf", "accepted: an array"},
      {"glTF/BoxTextured-glTF/BoxTextured.gltf", "accepted: glTF 2.0"},
      {"invalid/malformed.obj", "a point ahead of this line: 1 to 8"},
      {"invalid/empty.ply", "an empty file"},
      {"PLY/points.ply", "no triangle"},
      {"PLY/pond.0.ply",
       "for which the file has room"}, // 70 051 points of 31 bytes are more than the file has
      {"OBJ/box_UTF16BE.obj", "UTF-16"}};
  for (const auto& [name, says] : files) {
    ASSERT_TRUE(fs::exists(models / name)) << name;
    const auto read = load(models / name);
    ASSERT_FALSE(read) << name;
    EXPECT_NE(read.error().text().find(says), std::string::npos) << read.error().text();
  }
}

} // namespace
} // namespace bellmouth::mesh
