// SPDX-License-Identifier: GPL-3.0-or-later
// What reading, writing and checking share: values that may be unset, elements that may be shared,
// alternatives by number.
#pragma once

#include <bellmouth/build/document.hpp>

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace bellmouth::build {

/// \name Whether there is something to write, the value itself, and room to read one into
///@{
template <class T> [[nodiscard]] bool is_set(const std::optional<T>& value) {
  return value.has_value();
}
[[nodiscard]] inline bool is_set(const std::string& value) {
  return !value.empty();
}
template <class T> [[nodiscard]] bool is_set(const std::vector<T>& values) {
  return !values.empty();
}
template <class Tag> [[nodiscard]] bool is_set(const Id<Tag>& id) {
  return !id.text.empty();
}

template <class T> [[nodiscard]] const T& set_value(const std::optional<T>& value) {
  return *value;
}
template <class T> [[nodiscard]] const T& set_value(const T& value) {
  return value;
}

template <class T> [[nodiscard]] T& make_value(std::optional<T>& value) {
  return value.emplace();
}
template <class T> [[nodiscard]] T& make_value(T& value) {
  return value;
}
///@}

/// \name Values that a Shared holds are seen through it
///@{
template <class T> [[nodiscard]] const T& unshared(const T& value) {
  return value;
}
template <class T> [[nodiscard]] const T& unshared(const Shared<T>& value) {
  return *value;
}

template <class T> struct Unshared { using type = T; };
template <class T> struct Unshared<Shared<T>> { using type = T; };
///@}

/// Makes the alternative with this index the value of a variant, each of its members zero or as it is by
/// default.
template <class... Ts> void emplace_alternative(std::variant<Ts...>& variant, std::size_t index) {
  assert(index < sizeof...(Ts));
  std::size_t at = 0;
  ((at++ == index ? void(variant = Ts{}) : void()), ...);
}

} // namespace bellmouth::build
