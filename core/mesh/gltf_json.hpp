// SPDX-License-Identifier: GPL-3.0-or-later
// The JSON of a glTF file, asked strictly: each complaint names the place.
#pragma once

#include "source.hpp"

#include <nlohmann/json.hpp>
#include <spdlog/fmt/fmt.h>

#include <optional>

namespace bellmouth::mesh {

/// A value within the JSON and its path, such as "$.meshes[2].primitives[0]".
class Asked {
public:
  Asked(const Source& source, const nlohmann::json& value, std::string path)
      : source_(&source), value_(&value), path_(std::move(path)) {}

  /// The member of that name, if it is there. A fault when this is no object.
  [[nodiscard]] std::optional<Asked> find(const char* name) const {
    if (!value_->is_object())
      fault("an object");
    const auto found = value_->find(name);
    if (found == value_->end())
      return std::nullopt;
    return Asked(*source_, *found, fmt::format("{}.{}", path_, name));
  }
  [[nodiscard]] Asked at(const char* name) const {
    if (auto found = find(name))
      return *std::move(found);
    source_->fault_in(path_, fmt::format("no \"{}\"", name), fmt::format("\"{}\"", name));
  }
  /// How many an array holds.
  [[nodiscard]] std::size_t size() const {
    if (!value_->is_array())
      fault("an array");
    return value_->size();
  }
  [[nodiscard]] Asked at(std::size_t index) const {
    if (index >= size())
      source_->fault_in(path_, fmt::format("{} entries", size()),
                        fmt::format("an entry of number {}", index));
    return {*source_, (*value_)[index], fmt::format("{}[{}]", path_, index)};
  }
  /// A whole number, 0 or more.
  [[nodiscard]] std::size_t whole() const {
    if (!value_->is_number_unsigned())
      fault("a whole number, 0 or more");
    return value_->get<std::size_t>();
  }
  [[nodiscard]] std::size_t whole(const char* name, std::size_t otherwise) const {
    const auto found = find(name);
    return found ? found->whole() : otherwise;
  }
  [[nodiscard]] double number() const {
    if (!value_->is_number())
      fault("a number");
    const double number = value_->get<double>();
    if (!(number < coordinate_at_most && number > -coordinate_at_most))
      fault(fmt::format("a finite number, less than {:g} in size", coordinate_at_most));
    return number;
  }
  template <std::size_t count> [[nodiscard]] std::array<double, count> numbers() const {
    if (size() != count)
      fault(fmt::format("{} numbers", count));
    std::array<double, count> result;
    for (std::size_t i = 0; i < count; ++i)
      result[i] = at(i).number();
    return result;
  }
  [[nodiscard]] const std::string& text() const {
    if (!value_->is_string())
      fault("a text");
    return value_->get_ref<const std::string&>();
  }

  /// A complaint about this value, quoted.
  [[noreturn]] void fault(std::string accepted) const {
    if (value_->is_structured())
      fault(fmt::format("an {}", value_->type_name()), std::move(accepted));
    fault(value_->is_string() ? in_quotes(value_->get_ref<const std::string&>()) : value_->dump(),
          std::move(accepted));
  }
  [[noreturn]] void fault(std::string found, std::string accepted) const {
    source_->fault_in(path_, std::move(found), std::move(accepted));
  }

private:
  const Source* source_;
  const nlohmann::json* value_;
  std::string path_;
};

} // namespace bellmouth::mesh
