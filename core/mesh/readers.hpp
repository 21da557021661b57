// SPDX-License-Identifier: GPL-3.0-or-later
// The readers, one for each kind of file. Each throws a Fault at what it does not accept.
#pragma once

#include "collector.hpp"

namespace bellmouth::mesh {

/// Bytes of a binary STL file with so many triangles.
[[nodiscard]] constexpr std::size_t binary_stl_size(std::size_t triangles) {
  return 84 + 50 * triangles;
}

void read_binary_stl(const Source& source, Collector& collector);
void read_text_stl(const Source& source, Collector& collector);
void read_obj(const Source& source, Collector& collector);
void read_ply(const Source& source, Collector& collector);
void read_gltf(const Source& source, const std::filesystem::path& folder, Collector& collector);
void read_glb(const Source& source, const std::filesystem::path& folder, Collector& collector);

/// The bytes of a regular file of at most `at_most` bytes.
[[nodiscard]] std::string file_bytes(const std::filesystem::path& file, std::size_t at_most,
                                     const Progress& progress);

} // namespace bellmouth::mesh
