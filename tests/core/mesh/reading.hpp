// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <bellmouth/mesh.hpp>

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace bellmouth::test {

/// What reading says about a file that it does not accept; empty when it does.
inline std::string complaint(const std::string& bytes, const std::string& name) {
  const auto read = mesh::read(bytes, name);
  return read ? std::string() : read.error().text();
}

/// A file that must be refused, and what the complaint says.
struct Refused {
  const char* what;
  std::string bytes;
  const char* says;
};

inline void expect_refused(const std::vector<Refused>& files, const std::string& name) {
  for (const Refused& file : files) {
    const std::string words = complaint(file.bytes, name);
    EXPECT_TRUE(words.starts_with(name)) << file.what << ": " << words;
    EXPECT_NE(words.find(file.says), std::string::npos) << file.what << ": " << words;
  }
}

/// Whether the surface can be used: indices lead to points, coordinates are finite.
inline ::testing::AssertionResult sound(const mesh::Surface& surface) {
  if (surface.triangles.empty())
    return ::testing::AssertionFailure() << "no triangle";
  for (const mesh::Triangle& triangle : surface.triangles)
    for (const std::uint32_t corner : triangle)
      if (corner >= surface.points.size())
        return ::testing::AssertionFailure() << "index " << corner << " of " << surface.points.size();
  for (const mesh::Point& point : surface.points)
    for (const double x : point)
      if (!(x > -1e12 && x < 1e12))
        return ::testing::AssertionFailure() << "coordinate " << x;
  return ::testing::AssertionSuccess();
}

} // namespace bellmouth::test
