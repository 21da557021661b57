// SPDX-License-Identifier: GPL-3.0-or-later
#include "json_object.hpp"

#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/quantity/utf8.hpp>

#include <spdlog/fmt/fmt.h>
#include <spdlog/fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::way {

using Kind = build::Json::Kind;

namespace {
const build::Json nothing = build::Json::object();
}

void JsonText::refuse(const build::Json& at, std::string path, std::string accepted) {
  refuse_at(at.begin, std::move(path), source_.excerpt(at), std::move(accepted));
}

void JsonText::refuse_at(std::size_t offset, std::string path, std::string found, std::string accepted) {
  if (!error_)
    error_ = source_.error(offset, std::move(path), std::move(found), std::move(accepted));
}

JsonObject::JsonObject(JsonText& text, const build::Json& json, std::string path, bool absent)
    : text_(text), json_(json), path_(std::move(path)), absent_(absent) {
  if (json.kind != Kind::object)
    text_.refuse(json, path_, "an object {...}");
}

std::string JsonObject::path(std::string_view key) const {
  return fmt::format("{}.{}", path_, key);
}

bool JsonObject::has(std::string_view key) {
  known_.emplace_back(key);
  return json_.member(key) != nullptr;
}

void JsonObject::pass_over(std::string_view key) {
  known_.emplace_back(key);
}

const build::Json* JsonObject::member(std::string_view key) {
  known_.emplace_back(key);
  const build::Json* json = json_.kind == Kind::object ? json_.member(key) : nullptr;
  if (json == nullptr && missing_.empty())
    missing_ = key;
  return text_.failed() ? nullptr : json;
}

std::optional<double> JsonObject::value(const build::Json& json, const std::string& path, double size,
                                        std::string_view accepted) {
  double number = 0;
  const char* end = json.text.data() + json.text.size();
  if (json.kind == Kind::number) {
    const auto read = std::from_chars(json.text.data(), end, number);
    if (read.ec == std::errc() && read.ptr == end && std::abs(number) <= size)
      return number;
  }
  text_.refuse(json, path, std::string(accepted));
  return std::nullopt;
}

double JsonObject::number(std::string_view key) {
  const build::Json* json = member(key);
  constexpr double most = 1e12;
  return json == nullptr ? 0 : value(*json, path(key), most, "a number").value_or(0);
}

double JsonObject::length_m(std::string_view key) {
  const build::Json* json = member(key);
  return json == nullptr
             ? 0
             : mm * value(*json, path(key), furthest_mm, "a length in mm, at most 1000000").value_or(0);
}

double JsonObject::angle_rad(std::string_view key) {
  const build::Json* json = member(key);
  constexpr double most_degrees = 3600;
  return json == nullptr ? 0
                         : value(*json, path(key), most_degrees, "an angle in degrees").value_or(0) *
                               std::numbers::pi / 180;
}

std::size_t JsonObject::count(std::string_view key, std::size_t most) {
  const build::Json* json = member(key);
  if (json == nullptr)
    return 0;
  const std::string accepted = fmt::format("a whole number from 0 to {}", most);
  const double read = value(*json, path(key), static_cast<double>(most), accepted).value_or(0);
  if (read >= 0 && read == std::floor(read))
    return static_cast<std::size_t>(read);
  text_.refuse(*json, path(key), accepted);
  return 0;
}

bool JsonObject::flag(std::string_view key) {
  const build::Json* json = member(key);
  if (json != nullptr && json->kind != Kind::boolean)
    text_.refuse(*json, path(key), "true or false");
  return json != nullptr && json->text == "true";
}

std::string JsonObject::text(std::string_view key) {
  const build::Json* json = member(key);
  if (json == nullptr)
    return {};
  if (json->kind != Kind::text)
    text_.refuse(*json, path(key), "text in double quotes");
  return json->text;
}

std::size_t JsonObject::word(std::string_view key, std::initializer_list<std::string_view> words) {
  const build::Json* json = member(key);
  if (json == nullptr)
    return 0;
  const auto found = std::ranges::find(words, std::string_view(json->text));
  if (json->kind == Kind::text && found != words.end())
    return static_cast<std::size_t>(found - words.begin());
  std::string accepted;
  for (const std::string_view one : words)
    accepted += fmt::format("{}\"{}\"", accepted.empty() ? "" : ", ", one);
  text_.refuse(*json, path(key), (words.size() > 1 ? "one of " : "") + accepted);
  return 0;
}

void JsonObject::format(std::string_view name) {
  (void)word("format", {name});
}

Vector JsonObject::vector(const build::Json& json, const std::string& path, double factor, double most) {
  constexpr std::size_t axes = 3;
  if (json.kind != Kind::array || json.items.size() != axes) {
    text_.refuse(json, path, "[x, y, z]");
    return {};
  }
  Vector result{};
  for (std::size_t i = 0; i < axes; ++i)
    result[i] = factor * value(json.items[i], fmt::format("{}[{}]", path, i), most,
                               fmt::format("a number, at most {:.0f}", most))
                             .value_or(0);
  return result;
}

Vector JsonObject::point_m(std::string_view key) {
  const build::Json* json = member(key);
  return json == nullptr ? Vector{} : point_m({json, path(key)});
}

Vector JsonObject::direction(const Item& item) {
  const Vector read = vector(*item.json, item.path, 1, 2);
  constexpr double rounding = 1e-6;
  if (std::abs(bay::length(read) - 1) <= rounding)
    return bay::unit(read);
  text_.refuse(*item.json, item.path, "a vector of length 1 (within 1e-6)");
  return {1, 0, 0};
}

Vector JsonObject::direction(std::string_view key) {
  const build::Json* json = member(key);
  return json == nullptr ? Vector{1, 0, 0} : direction({json, path(key)});
}

std::vector<JsonObject::Item> JsonObject::list(std::string_view key, std::size_t most) {
  std::vector<Item> items;
  const build::Json* json = member(key);
  if (json == nullptr)
    return items;
  if (json->kind != Kind::array || json->items.size() > most) {
    text_.refuse(*json, path(key), fmt::format("a list [...] of at most {}", most));
    return items;
  }
  for (std::size_t i = 0; i < json->items.size(); ++i)
    items.push_back({&json->items[i], fmt::format("{}.{}[{}]", path_, key, i)});
  return items;
}

JsonObject JsonObject::object(std::string_view key) {
  const build::Json* json = member(key);
  return {text_, json == nullptr ? nothing : *json, path(key), json == nullptr};
}

void JsonObject::refuse(std::string_view key, std::string accepted) {
  if (const build::Json* json = json_.member(key))
    text_.refuse(*json, path(key), std::move(accepted));
}

void JsonObject::done() {
  if (text_.failed() || absent_)
    return;
  for (const build::Json& item : json_.items)
    if (std::ranges::find(known_, item.key) == known_.end()) {
      std::ranges::sort(known_);
      known_.erase(std::unique(known_.begin(), known_.end()), known_.end());
      const std::string name = quantity::printable(item.key, 60);
      return text_.refuse_at(item.key_begin, path(name), fmt::format("the unknown key \"{}\"", name),
                             fmt::format("the keys {}", fmt::join(known_, ", ")));
    }
  tell_missing();
}

void JsonObject::tell_missing() {
  if (!missing_.empty() && !absent_)
    text_.refuse_at(json_.begin, path_, fmt::format("no \"{}\" here", missing_),
                    fmt::format("an object with the key \"{}\"", missing_));
}

} // namespace bellmouth::way
