// SPDX-License-Identifier: GPL-3.0-or-later
// Visits a description to read a value from a tree, strictly: every key known, none missing.
#pragma once

#include "describe_document.hpp"
#include "visit.hpp"

#include <bellmouth/quantity/utf8.hpp>

#include <spdlog/fmt/fmt.h>

namespace bellmouth::build {

/// Reads one file. After the first error, which is kept, everything that is left is passed over.
class Reader {
public:
  quantity::Currency currency;

  explicit Reader(const Source& source) : source_(source) {}

  template <class T> [[nodiscard]] Result<T> read(const Json& root) {
    T value{};
    read_object(root, value);
    if (error_)
      return fail(*std::move(error_));
    return value;
  }

  void format(std::string_view name) {
    const Json* json = member("format");
    if (!json || (json->kind == Json::Kind::text && json->text == name))
      return;
    const std::string_view family = name.substr(0, name.find('/') + 1);
    const bool newer = json->text.starts_with(family) && json->text.size() > family.size() &&
                       json->text.find_first_not_of("0123456789", family.size()) == std::string::npos;
    refuse(
        *json, "format",
        newer ? fmt::format("\"{}\"; a newer version of the program wrote this file: open it with that", name)
              : fmt::format("\"{}\"", name));
  }

  void field(std::string_view key, auto& value, const auto& kind) {
    if (const Json* json = member(key))
      if (Refusal refusal = kind.read(*json, value))
        refuse(*json, key, *std::move(refusal));
  }

  void optional(std::string_view key, auto& value, const auto& kind) {
    frame_->known.push_back(key);
    if (frame_->json.member(key))
      field(key, make_value(value), kind);
  }

  void defaulted(std::string_view key, auto& value, const auto& fallback, const auto& kind) {
    value = fallback;
    frame_->known.push_back(key);
    if (frame_->json.member(key))
      field(key, value, kind);
  }

  void object(std::string_view key, auto& value) {
    if (const Json* json = member(key))
      read_inside(key, std::nullopt, *json, value);
  }

  void optional_object(std::string_view key, auto& value) {
    frame_->known.push_back(key);
    if (frame_->json.member(key))
      object(key, value.emplace());
  }

  template <class T> void list(std::string_view key, std::vector<T>& values, limits::ListBounds bounds) {
    const Json* json = member(key);
    if (!json)
      return;
    if (json->kind != Json::Kind::array || json->items.size() < bounds.fewest ||
        json->items.size() > bounds.most)
      return refuse(*json, key, limits::words(bounds));
    for (std::size_t index = 0; index < json->items.size() && !error_; ++index) {
      typename Unshared<T>::type value{};
      read_inside(key, index, json->items[index], value);
      values.push_back(std::move(value));
    }
  }
  template <class T>
  void list(std::string_view key, Shared<std::vector<T>>& values, limits::ListBounds bounds) {
    std::vector<T> read;
    list(key, read, bounds);
    values = std::move(read);
  }

  void optional_list(std::string_view key, auto& values, limits::ListBounds bounds) {
    frame_->known.push_back(key);
    if (frame_->json.member(key))
      list(key, values, bounds);
  }

  void variant(auto& value, const auto& kinds) {
    std::array<std::string_view, std::tuple_size_v<std::remove_cvref_t<decltype(kinds)>>> keys;
    std::ranges::transform(kinds, keys.begin(), &KindWords::key);
    const Json* json = member("kind");
    if (!json) { // which other keys belong here cannot be told
      report_missing();
      return;
    }
    std::size_t index = 0;
    if (const Refusal refusal = WordField{keys}.read(*json, index))
      return refuse(*json, "kind", *refusal);
    emplace_alternative(value, index);
    std::visit([this](auto& alternative) { describe(*this, alternative); }, value);
  }

  void either(auto& value, const auto& keys, const auto& kind) {
    std::optional<std::size_t> which;
    for (std::size_t index = 0; index < keys.size(); ++index) {
      frame_->known.push_back(keys[index]);
      if (!error_ && frame_->json.member(keys[index]) && std::exchange(which, index))
        refuse(frame_->json, {}, fmt::format("only one of the keys {}", listed(keys)));
    }
    if (!which) {
      if (frame_->missing.empty())
        frame_->missing = listed(keys);
      return;
    }
    emplace_alternative(value, *which);
    std::visit([&](auto& alternative) { field(keys[*which], alternative, kind); }, value);
  }

  void rule(std::string_view, const auto&, const auto&) {}

private:
  struct Frame {
    const Json& json;
    std::vector<std::string_view> known;
    std::string missing; ///< the first key that is not there, quoted
  };

  /// The value of a key that must be there; nullptr after an error.
  const Json* member(std::string_view key) {
    if (error_)
      return nullptr;
    frame_->known.push_back(key);
    const Json* json = frame_->json.member(key);
    if (!json && frame_->missing.empty())
      frame_->missing = fmt::format("\"{}\"", key);
    return json;
  }

  void read_inside(std::string_view key, std::optional<std::size_t> index, const Json& json, auto& value) {
    const std::size_t length = path_.size();
    path_ += fmt::format(".{}", key);
    if (index)
      path_ += fmt::format("[{}]", *index);
    read_object(json, value);
    path_.resize(length);
  }

  void read_object(const Json& json, auto& value) {
    if (error_)
      return;
    if (json.kind != Json::Kind::object)
      return refuse(json, {}, "an object {...}");
    Frame frame{json, {}, {}};
    Frame* outer = std::exchange(frame_, &frame);
    describe(*this, value);
    report_unknown();
    report_missing();
    frame_ = outer;
  }

  /// Before what is missing: a key that is spelled wrongly is both.
  void report_unknown() {
    for (const Json& item : frame_->json.items)
      if (!error_ && std::ranges::find(frame_->known, item.key) == frame_->known.end()) {
        std::ranges::sort(frame_->known);
        frame_->known.erase(std::unique(frame_->known.begin(), frame_->known.end()), frame_->known.end());
        const std::string name = quantity::printable(item.key, 60);
        error_ = source_.error(item.key_begin, fmt::format("{}.{}", path_, name),
                               fmt::format("the unknown key \"{}\"", name),
                               fmt::format("the keys {}", listed(frame_->known)));
      }
  }

  void report_missing() {
    if (!error_ && !frame_->missing.empty())
      error_ = source_.error(frame_->json.begin, path_, fmt::format("no {} here", frame_->missing),
                             fmt::format("an object with the key {}", frame_->missing));
  }

  void refuse(const Json& json, std::string_view key, std::string accepted) {
    if (!error_)
      error_ = source_.error(json.begin, key.empty() ? path_ : fmt::format("{}.{}", path_, key),
                             source_.excerpt(json), std::move(accepted));
  }

  const Source& source_;
  std::string path_ = "$";
  Frame* frame_ = nullptr;
  std::optional<Error> error_;
};

} // namespace bellmouth::build
