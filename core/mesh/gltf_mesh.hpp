// SPDX-License-Identifier: GPL-3.0-or-later
// The triangles of a glTF file's meshes, each where its mesh has it.
#pragma once

#include "collector.hpp"
#include "gltf_buffers.hpp"

namespace bellmouth::mesh {

/// A set of triangles (a "primitive" of triangles, a strip or a fan).
class Part {
public:
  Part(Asked primitive, Asked accessor, std::size_t mode, const Row& points, std::optional<Row> indices);

  [[nodiscard]] std::size_t triangles() const;
  /// The numbers of the corners in `index`, turned the same way all over (glTF 2.0, 3.7.2.1).
  [[nodiscard]] std::array<std::size_t, 3> triangle(std::size_t number) const;
  /// The point of the corner of that number. A fault when its index leads nowhere or it is not finite.
  [[nodiscard]] Point point(std::size_t corner) const;
  /// A complaint about where the part comes to lie.
  [[noreturn]] void fault_of_place(double coordinate) const;

private:
  Asked primitive_, accessor_;
  std::size_t mode_, corners_;
  Row points_;
  std::optional<Row> indices_;

  [[nodiscard]] std::size_t index(std::size_t corner) const;
};

/// The meshes, each looked at once.
class Meshes {
public:
  Meshes(const Asked& root, Buffers buffers) : root_(root), buffers_(std::move(buffers)) {}

  [[nodiscard]] const std::vector<Part>& parts(std::size_t mesh);
  /// Says what was left out of the meshes that were asked for.
  void remark(Collector& collector) const;

private:
  Asked root_;
  Buffers buffers_;
  std::unordered_map<std::size_t, std::vector<Part>> parts_;
  std::size_t points_and_lines_ = 0, without_position_ = 0, morphs_ = 0;

  std::optional<Part> part(const Asked& primitive);
};

} // namespace bellmouth::mesh
