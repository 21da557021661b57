// SPDX-License-Identifier: GPL-3.0-or-later
// What the header of a PLY file announces.
#pragma once

#include "source.hpp"

#include <optional>

namespace bellmouth::mesh::ply {

enum class Type { int8, uint8, int16, uint16, int32, uint32, float32, float64 };

[[nodiscard]] std::size_t size_of(Type type);
[[nodiscard]] inline bool is_real(Type type) {
  return type == Type::float32 || type == Type::float64;
}

struct Property {
  std::string_view name;
  Type type;
  std::optional<Type> count; ///< of a list: the type of its length
};

/// The words point into the file.
struct Element {
  std::string_view name;
  std::size_t count = 0;
  std::string_view count_word;
  std::vector<Property> properties;
};

struct Header {
  std::vector<Element> elements;
  bool is_text = false;
  std::endian order = std::endian::little;
  std::size_t end = 0; ///< the byte behind it
};

/// Reads the header, from the first line on.
[[nodiscard]] Header read_header(const Source& source);

} // namespace bellmouth::mesh::ply
