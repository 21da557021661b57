// SPDX-License-Identifier: GPL-3.0-or-later
// Damaged files by the thousand: each is refused with one complaint or gives a surface that can be used.
#include "reading.hpp"
#include "shapes.hpp"
#include "written.hpp"

#include <functional>
#include <random>

namespace bellmouth::mesh {
namespace {

using namespace test;

struct Tally {
  int accepted = 0, refused = 0;
};

/// Reads a file that may be damaged; nothing may be thrown.
void read_damaged(const std::string& bytes, const std::string& name, Tally& tally) {
  try {
    const auto read = mesh::read(bytes, name);
    if (read) {
      ++tally.accepted;
      ASSERT_TRUE(sound(read->surface));
    } else {
      ++tally.refused;
      ASSERT_EQ(read.error().place.file, name);
      ASSERT_FALSE(read.error().found.empty());
      ASSERT_FALSE(read.error().accepted.empty());
      ASSERT_LT(read.error().text().size(), 1000U);
    }
  } catch (const std::exception& thrown) {
    FAIL() << "thrown: " << thrown.what();
  } catch (...) {
    FAIL() << "something was thrown";
  }
}

/// Changes bytes, inserts, removes, doubles or moves parts; sometimes several times.
std::string damaged(std::string bytes, std::mt19937& random) {
  constexpr std::array<std::string_view, 26> awkward{
      "-1",    "0",     "4294967295", "2147483648", "18446744073709551615",
      "1e999", "nan",   "inf",        "-",          ".",
      "\n",    " ",     "\"",         "{",          "}",
      "[",     "]",     ":",          ",",          "f ",
      "v ",    "3 0 1", "\r",         "\\\n",       "solid ",
      "null"};
  const auto below = [&](std::size_t limit) {
    return static_cast<std::size_t>(random() % std::max<std::size_t>(limit, 1));
  };
  for (std::size_t changes = 1 + below(3); changes > 0 && !bytes.empty(); --changes) {
    const std::size_t at = below(bytes.size()),
                      length = 1 + below(std::min<std::size_t>(bytes.size() - at, 24));
    switch (below(8)) {
    case 0:
      bytes[at] = static_cast<char>(random());
      break;
    case 1:
      bytes[at] = static_cast<char>(static_cast<unsigned char>(bytes[at]) ^ (1U << below(8)));
      break;
    case 2:
      bytes.erase(at, length);
      break;
    case 3:
      bytes.insert(below(bytes.size()), bytes.substr(at, length));
      break;
    case 4:
      bytes.resize(at);
      break;
    case 5:
      bytes.insert(at, awkward[below(awkward.size())]);
      break;
    case 6: // a number becomes another
      if (const std::size_t digit = bytes.find_first_of("0123456789", at); digit != std::string::npos)
        bytes.replace(digit, 1, awkward[below(awkward.size())]);
      break;
    default:
      for (std::size_t i = at; i < std::min(at + 4, bytes.size()); ++i)
        bytes[i] = static_cast<char>(below(2) == 0 ? 0xFF : 0x00);
    }
  }
  return bytes;
}

/// A quad, a concave face, strips: what the plain cube does not have.
std::string rich_obj() {
  return obj(cube()) +
         "v 4 0 0\nv 1 1 0\nv 0 4 0\nv 0 0 0\nf -4 -3 -2 -1\nf 1 2 4 3\nl 1 2 3\ng a b\nf 1/2 2/3/4 4//5 3\n";
}

class Fuzz : public ::testing::TestWithParam<int> {
protected:
  struct Kind {
    std::string name, bytes;
  };
  static std::vector<Kind> kinds() {
    return {{"a.stl", binary_stl(cube())},
            {"a.stl", text_stl(cube())},
            {"a.obj", rich_obj()},
            {"a.ply", text_ply(cube())},
            {"a.ply", binary_ply(cube(), false)},
            {"a.ply", binary_ply(cube(), true)},
            {"a.gltf", gltf(cube(), R"("translation":[1,2,3],"rotation":[0,0,0,1],)")},
            {"a.gltf", gltf(cube(), R"("matrix":[1,0,0,0,0,1,0,0,0,0,1,0,0,0,0,1],)", R"("mode":5,)")},
            {"a.glb", glb(cube(), R"("scale":[1,2,3],)")}};
  }
};

TEST_P(Fuzz, DamagedFilesEndInAComplaintOrASoundSurface) {
  const Kind kind = kinds()[static_cast<std::size_t>(GetParam())];
  Tally whole;
  read_damaged(kind.bytes, kind.name, whole);
  ASSERT_EQ(whole.accepted, 1);
  std::mt19937 random(20240503U + static_cast<unsigned>(GetParam()));
  Tally tally;
  constexpr int rounds = 5000;
  for (int i = 0; i < rounds && !HasFatalFailure(); ++i)
    read_damaged(damaged(kind.bytes, random), kind.name, tally);
  EXPECT_EQ(tally.accepted + tally.refused, rounds);
  EXPECT_GT(tally.refused, rounds / 10);
}

TEST_P(Fuzz, FilesCutOffAnywhereEndInAComplaintOrASoundSurface) {
  const Kind kind = kinds()[static_cast<std::size_t>(GetParam())];
  Tally tally;
  for (std::size_t size = 0; size < kind.bytes.size() && !HasFatalFailure(); ++size)
    read_damaged(kind.bytes.substr(0, size), kind.name, tally);
  // Only OBJ has no end by which the loss could be known, and the last line end of a text may be missing.
  if (kind.name == "a.obj")
    EXPECT_GT(tally.refused, 100);
  else
    EXPECT_LE(tally.accepted, 15) << "the name of the solid behind \"endsolid\" may be cut off";
}

INSTANTIATE_TEST_SUITE_P(Kinds, Fuzz, ::testing::Range(0, 9));

TEST(Damage, BytesWithoutSenseAreRefused) {
  std::mt19937 random(20240504);
  Tally tally;
  for (int i = 0; i < 3000 && !::testing::Test::HasFatalFailure(); ++i) {
    std::string bytes(random() % 400, '\0');
    for (char& byte : bytes)
      byte = static_cast<char>(random());
    constexpr std::array<std::string_view, 6> beginnings{"", "solid ", "ply\n", "glTF", "{", "v 1 2 3\n"};
    constexpr std::array<const char*, 6> names{"a.stl", "a.obj", "a.ply", "a.gltf", "a.glb", "a"};
    read_damaged(std::string(beginnings[random() % 6]) + bytes, names[random() % 6], tally);
  }
  EXPECT_EQ(tally.accepted, 0);
}

TEST(Damage, DeepJsonIsRefused) {
  for (const char* open : {"[", "{\"a\":", "{\"nodes\":["}) {
    std::string deep = R"({"asset":{"version":"2.0"},"extras":)";
    for (int i = 0; i < 500'000; ++i)
      deep += open;
    EXPECT_NE(complaint(deep, "a.gltf").find("accepted"), std::string::npos);
  }
  // Deep, but well formed.
  std::string deep(300'000, '[');
  deep += std::string(300'000, ']');
  EXPECT_TRUE(mesh::read(with(gltf(cube()), "\"scene\":0", "\"scene\":0,\"extras\":" + deep), "a.gltf"));
}

TEST(Damage, AFewBytesCannotBecomeBillionsOfTriangles) {
  // 12 triangles that a mesh names 2000 times, and a scene the mesh 2000 times.
  constexpr int times = 2000;
  std::string primitives = R"({"attributes":{"POSITION":1},"indices":0})";
  std::string nodes = R"({"mesh":0})", roots = "0";
  for (int i = 1; i < times; ++i) {
    primitives += R"(,{"attributes":{"POSITION":1},"indices":0})";
    nodes += R"(,{"mesh":0})";
    roots += fmt::format(",{}", i);
  }
  std::string file = with(gltf(cube()), R"({"attributes":{"POSITION":1},"indices":0})", primitives);
  file = with(file, R"("nodes":[0])", "\"nodes\":[" + roots + "]");
  file = with(file, R"("nodes":[{"mesh":0}])", "\"nodes\":[" + nodes + "]");
  EXPECT_NE(complaint(file, "a.gltf").find("found more than 20000000 triangles"), std::string::npos);
}

} // namespace
} // namespace bellmouth::mesh
