// SPDX-License-Identifier: GPL-3.0-or-later
// Writes a surface in each kind of file that meshes are read from, apart from what reads it.
#pragma once

#include <bellmouth/mesh.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cstring>
#include <string>

namespace bellmouth::test {

/// The bytes of a number, the least one first or last.
template <class Number> std::string bytes_of(Number number, bool big = false) {
  std::string bytes(sizeof number, '\0');
  std::memcpy(bytes.data(), &number, sizeof number);
  if (big)
    std::reverse(bytes.begin(), bytes.end()); // the tests run on little-endian machines
  return bytes;
}

inline std::string binary_stl(const mesh::Surface& surface, const std::string& header = "made by a test") {
  std::string file = header + std::string(80 - header.size(), '\0');
  file += bytes_of(static_cast<std::uint32_t>(surface.triangles.size()));
  for (const mesh::Triangle& triangle : surface.triangles) {
    file += std::string(12, '\0');
    for (const std::uint32_t corner : triangle)
      for (const double x : surface.points[corner])
        file += bytes_of(static_cast<float>(x));
    file += std::string(2, '\0');
  }
  return file;
}

inline std::string text_stl(const mesh::Surface& surface, const std::string& line_end = "\n") {
  std::string file = "solid a test" + line_end;
  for (const mesh::Triangle& triangle : surface.triangles) {
    file += "  facet normal 0 0 0" + line_end + "    outer loop" + line_end;
    for (const std::uint32_t corner : triangle) {
      const mesh::Point& p = surface.points[corner];
      file += fmt::format("      vertex {} {} {}", p[0], p[1], p[2]) + line_end;
    }
    file += "    endloop" + line_end + "  endfacet" + line_end;
  }
  return file + "endsolid a test" + line_end;
}

inline std::string obj(const mesh::Surface& surface, const std::string& line_end = "\n") {
  std::string file = "# a test" + line_end + "o part" + line_end;
  for (const mesh::Point& p : surface.points)
    file += fmt::format("v {} {} {}", p[0], p[1], p[2]) + line_end;
  for (const mesh::Triangle& t : surface.triangles)
    file += fmt::format("f {} {}//7 {}/3/2", t[0] + 1, t[1] + 1, t[2] + 1) + line_end;
  return file;
}

inline std::string text_ply(const mesh::Surface& surface, const std::string& line_end = "\n") {
  std::string file;
  for (const std::string& line :
       {std::string("ply"), std::string("format ascii 1.0"), std::string("comment a test"),
        fmt::format("element vertex {}", surface.points.size()), std::string("property double x"),
        std::string("property double y"), std::string("property double z"), std::string("property uchar red"),
        fmt::format("element face {}", surface.triangles.size()),
        std::string("property list uchar int vertex_indices"), std::string("end_header")})
    file += line + line_end;
  for (const mesh::Point& p : surface.points)
    file += fmt::format("{} {} {} 200", p[0], p[1], p[2]) + line_end;
  for (const mesh::Triangle& t : surface.triangles)
    file += fmt::format("3 {} {} {}", t[0], t[1], t[2]) + line_end;
  return file;
}

inline std::string binary_ply(const mesh::Surface& surface, bool big) {
  std::string file =
      fmt::format("ply\nformat binary_{}_endian 1.0\nelement vertex {}\nproperty float x\n"
                  "property float y\nproperty float z\nproperty list ushort short spare\n"
                  "element face {}\nproperty uchar spare\nproperty list int uint vertex_index\nend_header\n",
                  big ? "big" : "little", surface.points.size(), surface.triangles.size());
  for (const mesh::Point& p : surface.points) {
    for (const double x : p)
      file += bytes_of(static_cast<float>(x), big);
    file +=
        bytes_of<std::uint16_t>(2, big) + bytes_of<std::int16_t>(-1, big) + bytes_of<std::int16_t>(7, big);
  }
  for (const mesh::Triangle& t : surface.triangles) {
    file += bytes_of<std::uint8_t>(9) + bytes_of<std::int32_t>(3, big);
    for (const std::uint32_t corner : t)
      file += bytes_of(corner, big);
  }
  return file;
}

/// RFC 4648.
inline std::string base64(const std::string& bytes) {
  constexpr std::string_view digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t bits = 0;
    for (std::size_t j = 0; j < 3; ++j)
      bits = bits << 8U | (i + j < bytes.size() ? static_cast<unsigned char>(bytes[i + j]) : 0U);
    for (std::size_t j = 0; j < 4; ++j)
      text += j <= bytes.size() - i ? digits[bits >> (18 - 6 * j) & 63U] : '=';
  }
  return text;
}

/// The buffer of the glTF files below: 16-bit indices, then positions.
inline std::string gltf_buffer(const mesh::Surface& surface) {
  std::string buffer;
  for (const mesh::Triangle& t : surface.triangles)
    for (const std::uint32_t corner : t)
      buffer += bytes_of(static_cast<std::uint16_t>(corner));
  buffer.resize((buffer.size() + 3) / 4 * 4);
  for (const mesh::Point& p : surface.points)
    for (const double x : p)
      buffer += bytes_of(static_cast<float>(x));
  return buffer;
}

/// JSON with one mesh. `uri` is how the buffer's place is given (with a comma behind), `node` what the node
/// says besides.
inline std::string gltf_json(const mesh::Surface& surface, const std::string& uri,
                             const std::string& node = {}, const std::string& primitive = {}) {
  const std::size_t corners = 3 * surface.triangles.size(), indices = (2 * corners + 3) / 4 * 4,
                    positions = 12 * surface.points.size();
  return fmt::format(
      R"({{"asset":{{"version":"2.0"}},"scene":0,"scenes":[{{"nodes":[0]}}],"nodes":[{{{}"mesh":0}}],)"
      R"("meshes":[{{"primitives":[{{{}"attributes":{{"POSITION":1}},"indices":0}}]}}],)"
      R"("accessors":[{{"bufferView":0,"componentType":5123,"count":{},"type":"SCALAR"}},)"
      R"({{"bufferView":1,"componentType":5126,"count":{},"type":"VEC3"}}],)"
      R"("bufferViews":[{{"buffer":0,"byteLength":{}}},{{"buffer":0,"byteOffset":{},"byteLength":{}}}],)"
      R"("buffers":[{{{}"byteLength":{}}}]}})",
      node, primitive, corners, surface.points.size(), 2 * corners, indices, positions, uri,
      indices + positions);
}

inline std::string gltf(const mesh::Surface& surface, const std::string& node = {},
                        const std::string& primitive = {}) {
  return gltf_json(surface,
                   "\"uri\":\"data:application/octet-stream;base64," + base64(gltf_buffer(surface)) + "\",",
                   node, primitive);
}

inline std::string glb(const mesh::Surface& surface, const std::string& node = {}) {
  std::string json = gltf_json(surface, {}, node), buffer = gltf_buffer(surface);
  json.resize((json.size() + 3) / 4 * 4, ' ');
  std::string file = "glTF" + bytes_of<std::uint32_t>(2) +
                     bytes_of(static_cast<std::uint32_t>(12 + 8 + json.size() + 8 + buffer.size()));
  file += bytes_of(static_cast<std::uint32_t>(json.size())) + "JSON" + json;
  file += bytes_of(static_cast<std::uint32_t>(buffer.size())) + std::string("BIN\0", 4) + buffer;
  return file;
}

/// The corners of all triangles, in order.
inline std::vector<mesh::Point> corners_of(const mesh::Surface& surface) {
  std::vector<mesh::Point> corners;
  for (const mesh::Triangle& triangle : surface.triangles)
    for (const std::uint32_t corner : triangle)
      corners.push_back(surface.points.at(corner));
  return corners;
}

/// Replaces the first place where `what` stands; a text without it is a mistake of the test.
inline std::string with(std::string text, const std::string& what, const std::string& by) {
  return text.replace(text.find(what), what.size(), by);
}

} // namespace bellmouth::test
