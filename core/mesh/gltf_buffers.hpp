// SPDX-License-Identifier: GPL-3.0-or-later
// The numbers behind the accessors of a glTF file.
#pragma once

#include "gltf_json.hpp"

#include <filesystem>
#include <unordered_map>

namespace bellmouth::mesh {

/// A row of values, each of the same size, so many bytes apart.
struct Row {
  std::string_view bytes; ///< from the first value on
  std::size_t count = 0, step = 0;
  std::size_t component_type = 0; ///< as glTF numbers them: 5126 is float
};

/// Fetches buffers when they are first asked for: from the .glb itself, from data within the JSON, or from
/// files in the folder and those below it, nowhere else.
class Buffers {
public:
  /// `own` is the binary part of a .glb file.
  Buffers(const Source& source, const Asked& root, std::filesystem::path folder,
          std::optional<std::string_view> own)
      : source_(source), root_(root), folder_(std::move(folder)), own_(own) {}

  /// The values of an accessor of `type` ("VEC3", "SCALAR"). All of them are there.
  [[nodiscard]] Row row(const Asked& accessor, std::string_view type);

private:
  const Source& source_;
  Asked root_;
  std::filesystem::path folder_;
  std::optional<std::string_view> own_;
  std::unordered_map<std::size_t, std::string> fetched_;
  std::size_t fetched_bytes_ = 0;

  /// The bytes of a buffer, as many as it says.
  std::string_view buffer(std::size_t number);
  [[nodiscard]] std::string from_uri(const Asked& uri) const;
  [[nodiscard]] std::string from_file(const Asked& uri) const;
};

} // namespace bellmouth::mesh
