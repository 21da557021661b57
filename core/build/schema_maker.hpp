// SPDX-License-Identifier: GPL-3.0-or-later
// Visits a description to state it as a JSON Schema (draft 2020-12). Rules between values are beyond what a
// schema says.
#pragma once

#include "describe_document.hpp"
#include "visit.hpp"

namespace bellmouth::build {

class SchemaMaker {
public:
  quantity::Currency currency;

  template <class T> [[nodiscard]] static Json schema() {
    std::vector<Json> forms;
    std::size_t alternatives = 1;
    for (std::size_t index = 0; index < alternatives; ++index) {
      SchemaMaker maker;
      maker.alternative_ = index;
      T value{};
      describe(maker, value);
      alternatives = maker.alternatives_;
      forms.push_back(maker.finish());
    }
    if (forms.size() == 1)
      return std::move(forms.front());
    Json choice = Json::object();
    choice.add("oneOf", Json::array(std::move(forms)));
    return choice;
  }

  void format(std::string_view name) { require("format", constant(name)); }
  void field(std::string_view key, const auto&, const auto& kind) { require(key, kind.schema()); }
  void optional(std::string_view key, const auto&, const auto& kind) { properties_.add(key, kind.schema()); }
  void defaulted(std::string_view key, const auto&, const auto& fallback, const auto& kind) {
    Json schema = kind.schema();
    schema.add("default", kind.write(fallback));
    properties_.add(key, std::move(schema));
  }
  template <class T> void object(std::string_view key, const T&) { require(key, schema<T>()); }
  template <class T> void optional_object(std::string_view key, const std::optional<T>&) {
    properties_.add(key, schema<T>());
  }
  template <class T> void list(std::string_view key, const T& values, limits::ListBounds bounds) {
    using Element = typename std::remove_cvref_t<decltype(unshared(values))>::value_type;
    require(key, array_of<Element>(bounds));
  }
  template <class T>
  void optional_list(std::string_view key, const std::vector<T>&, limits::ListBounds bounds) {
    properties_.add(key, array_of<T>(bounds));
  }
  void variant(auto& value, const auto& kinds) {
    alternatives_ = kinds.size();
    require("kind", constant(kinds[alternative_].key));
    emplace_alternative(value, alternative_);
    std::visit([this](auto& alternative) { describe(*this, alternative); }, value);
  }
  void either(const auto&, const auto& keys, const auto& kind) {
    alternatives_ = keys.size();
    require(keys[alternative_], kind.schema());
  }
  void rule(std::string_view, const auto&, const auto&) {}

private:
  [[nodiscard]] static Json constant(std::string_view text) {
    Json schema = Json::object();
    schema.add("const", Json::string(text));
    return schema;
  }

  template <class Element> [[nodiscard]] static Json array_of(limits::ListBounds bounds) {
    Json array = type_schema("array");
    array.add("items", schema<typename Unshared<Element>::type>());
    if (bounds.fewest > 0)
      array.add("minItems", Json::number(std::to_string(bounds.fewest)));
    array.add("maxItems", Json::number(std::to_string(bounds.most)));
    return array;
  }

  void require(std::string_view key, Json schema) {
    properties_.add(key, std::move(schema));
    required_.items.push_back(Json::string(key));
  }

  [[nodiscard]] Json finish() {
    Json schema = type_schema("object");
    schema.add("properties", std::move(properties_));
    schema.add("required", std::move(required_));
    schema.add("additionalProperties", Json::boolean(false));
    return schema;
  }

  Json properties_ = Json::object();
  Json required_ = Json::array();
  std::size_t alternative_ = 0, alternatives_ = 1;
};

} // namespace bellmouth::build
