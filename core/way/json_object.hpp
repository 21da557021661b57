// SPDX-License-Identifier: GPL-3.0-or-later
// Reading JSON strictly: each key of an object is asked for once, and what was not asked for is an error.
#pragma once

#include <bellmouth/build/json.hpp>
#include <bellmouth/way.hpp>

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::way {

/// A text being read. Keeps the first error; what is read after it means nothing.
class JsonText {
public:
  explicit JsonText(const build::Source& source) : source_(source) {}

  void refuse(const build::Json& at, std::string path, std::string accepted);
  void refuse_at(std::size_t offset, std::string path, std::string found, std::string accepted);
  [[nodiscard]] bool failed() const { return error_.has_value(); }
  [[nodiscard]] const Error& error() const { return *error_; }

private:
  const build::Source& source_;
  std::optional<Error> error_;
};

/// A number of millimetres as metres, and the other way. Beyond 1 km nothing is accepted.
inline constexpr double mm = 1e-3;
inline constexpr double furthest_mm = 1e6;

class JsonObject {
public:
  /// `absent`: the object is not there, which is for the one that holds it to tell.
  JsonObject(JsonText& text, const build::Json& json, std::string path, bool absent = false);

  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] const build::Json& json() const { return json_; }
  [[nodiscard]] std::string path(std::string_view key) const;
  [[nodiscard]] bool has(std::string_view key);

  /// \name The value of a key that must be there
  ///@{
  [[nodiscard]] double number(std::string_view key);
  [[nodiscard]] double length_m(std::string_view key);  ///< millimetres
  [[nodiscard]] double angle_rad(std::string_view key); ///< degrees
  [[nodiscard]] std::size_t count(std::string_view key, std::size_t most);
  [[nodiscard]] bool flag(std::string_view key);
  [[nodiscard]] std::string text(std::string_view key);
  /// Its place among some words.
  [[nodiscard]] std::size_t word(std::string_view key, std::initializer_list<std::string_view> words);
  void format(std::string_view name);
  [[nodiscard]] Vector point_m(std::string_view key);
  [[nodiscard]] Vector direction(std::string_view key);
  /// Its items and their paths.
  struct Item {
    const build::Json* json;
    std::string path;
  };
  [[nodiscard]] std::vector<Item> list(std::string_view key, std::size_t most);
  [[nodiscard]] JsonObject object(std::string_view key);
  ///@}
  /// A key that may be there and is not looked at.
  void pass_over(std::string_view key);

  [[nodiscard]] Vector point_m(const Item& item) { return vector(*item.json, item.path, mm, furthest_mm); }
  [[nodiscard]] Vector direction(const Item& item);

  /// Complains about the value of a key, if it is there.
  void refuse(std::string_view key, std::string accepted);
  /// Complains about unknown keys, then about missing ones.
  void done();
  /// About missing ones alone: where one is missing that says which others belong here.
  void tell_missing();

private:
  const build::Json* member(std::string_view key);
  [[nodiscard]] std::optional<double> value(const build::Json& json, const std::string& path, double size,
                                            std::string_view accepted);
  [[nodiscard]] Vector vector(const build::Json& json, const std::string& path, double factor, double most);

  JsonText& text_;
  const build::Json& json_;
  std::string path_, missing_;
  bool absent_;
  std::vector<std::string> known_;
};

} // namespace bellmouth::way
