// SPDX-License-Identifier: GPL-3.0-or-later
// Visits a description to write a value.
#pragma once

#include "describe_document.hpp"
#include "visit.hpp"

namespace bellmouth::build {

class Writer {
public:
  quantity::Currency currency;

  template <class T> [[nodiscard]] Json write(const T& value) {
    Json object = Json::object();
    Json* outer = std::exchange(object_, &object);
    describe(*this, value);
    object_ = outer;
    return object;
  }

  void format(std::string_view name) { object_->add("format", Json::string(name)); }
  void field(std::string_view key, const auto& value, const auto& kind) {
    object_->add(key, kind.write(value));
  }
  void optional(std::string_view key, const auto& value, const auto& kind) {
    if (is_set(value))
      field(key, set_value(value), kind);
  }
  void defaulted(std::string_view key, const auto& value, const auto& fallback, const auto& kind) {
    if (!(value == fallback))
      field(key, value, kind);
  }
  void object(std::string_view key, const auto& value) { object_->add(key, write(value)); }
  void optional_object(std::string_view key, const auto& value) {
    if (value)
      object(key, *value);
  }
  void list(std::string_view key, const auto& values, limits::ListBounds) {
    Json array = Json::array();
    for (const auto& value : unshared(values))
      array.items.push_back(write(unshared(value)));
    object_->add(key, std::move(array));
  }
  void optional_list(std::string_view key, const auto& values, limits::ListBounds bounds) {
    if (!values.empty())
      list(key, values, bounds);
  }
  void variant(const auto& value, const auto& kinds) {
    object_->add("kind", Json::string(kinds[value.index()].key));
    std::visit([&](const auto& alternative) { describe(*this, alternative); }, value);
  }
  void either(const auto& value, const auto& keys, const auto& kind) {
    std::visit([&](const auto& alternative) { field(keys[value.index()], alternative, kind); }, value);
  }
  void rule(std::string_view, const auto&, const auto&) {}

private:
  Json* object_ = nullptr;
};

} // namespace bellmouth::build
