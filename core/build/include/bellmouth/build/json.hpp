// SPDX-License-Identifier: GPL-3.0-or-later
// A JSON text as a tree that knows where each value stood, and the printer of such trees.
#pragma once

#include <bellmouth/quantity/result.hpp>

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bellmouth::build {

struct Json {
  enum class Kind : std::uint8_t { null, boolean, number, text, array, object };
  Kind kind = Kind::null;
  std::string text;                              ///< number and boolean: as written; text: decoded
  std::string key = {};                          ///< name of this value in its object
  std::vector<Json> items = {};                  ///< of arrays and objects, in the order of the file
  std::size_t begin = 0, end = 0, key_begin = 0; ///< bytes of the source, if there is one

  [[nodiscard]] static Json number(std::string written) { return {Kind::number, std::move(written)}; }
  [[nodiscard]] static Json boolean(bool value) { return {Kind::boolean, value ? "true" : "false"}; }
  [[nodiscard]] static Json string(std::string_view value) { return {Kind::text, std::string(value)}; }
  [[nodiscard]] static Json array(std::vector<Json> items = {}) {
    return {Kind::array, {}, {}, std::move(items)};
  }
  [[nodiscard]] static Json object() { return {Kind::object, {}}; }

  /// The member of an object, or nullptr.
  [[nodiscard]] const Json* member(std::string_view name) const;
  /// Appends a member.
  Json& add(std::string_view name, Json value);
};

/// A number as it is written into files: rounded to 15 significant digits, then as short as can be, with an
/// exponent only for very small and very large ones. NaN and infinities, which files cannot hold, are written
/// as words.
[[nodiscard]] std::string number_text(double value);
/// Rounds to the 15 significant digits that files hold.
[[nodiscard]] double round_to_file(double value);

/// The whole text: what fits into a line stands in one, two spaces a level, a newline at the end.
[[nodiscard]] std::string print(const Json& value);
/// The value in one line.
[[nodiscard]] std::string print_line(const Json& value);

/// What a path such as "$.runs[2].id" leads to: the value, or the last one on the way that is there.
struct Found {
  const Json* value;
  bool exact;
};
[[nodiscard]] Found follow(const Json& root, std::string_view path);

/// A text being read and the name of its file.
struct Source {
  std::string_view text;
  std::string file;

  /// An error at a byte of the text.
  [[nodiscard]] Error error(std::size_t offset, std::string path, std::string found,
                            std::string accepted) const;
  /// What stands at a value, short enough for a message.
  [[nodiscard]] std::string excerpt(const Json& value) const;
};

/// Bounds of what is read at all.
inline constexpr std::size_t max_json_bytes = 64U << 20U;
inline constexpr std::size_t max_json_values = 2'000'000;
inline constexpr std::size_t max_json_depth = 32;

/// Parses JSON (RFC 8259, UTF-8). Errors: any fault of syntax or encoding, a key given twice, bounds
/// exceeded.
[[nodiscard]] Result<Json> parse(const Source& source);

} // namespace bellmouth::build
