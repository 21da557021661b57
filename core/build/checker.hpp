// SPDX-License-Identifier: GPL-3.0-or-later
// Visits a description to find the first value that is out of its bounds or breaks a rule.
#pragma once

#include "describe_document.hpp"
#include "visit.hpp"

#include <spdlog/fmt/fmt.h>

#include <concepts>
#include <type_traits>

namespace bellmouth::build {

/// Something wrong in a value: by the path from it, with what is accepted.
struct Complaint {
  std::string path;
  std::string accepted;
  std::string found = {}; ///< empty: what stands at the path
};

class Checker {
public:
  quantity::Currency currency;

  template <class T> [[nodiscard]] static std::optional<Complaint> check(const T& value) {
    Checker checker;
    describe(checker, value);
    return std::move(checker.complaint_);
  }

  void format(std::string_view) {}
  void field(std::string_view key, const auto& value, const auto& kind) {
    if (complaint_)
      return;
    if (Refusal refusal = kind.check(value))
      complain(key, *std::move(refusal));
  }
  void optional(std::string_view key, const auto& value, const auto& kind) {
    if (is_set(value))
      field(key, set_value(value), kind);
  }
  void defaulted(std::string_view key, const auto& value, const auto&, const auto& kind) {
    field(key, value, kind);
  }
  void object(std::string_view key, const auto& value) {
    steps_.push_back({key, {}});
    describe(*this, value);
    steps_.pop_back();
  }
  void optional_object(std::string_view key, const auto& value) {
    if (value)
      object(key, *value);
  }
  void list(std::string_view key, const auto& values, limits::ListBounds bounds) {
    const auto& plain = unshared(values);
    if (complaint_)
      return;
    if (plain.size() < bounds.fewest || plain.size() > bounds.most)
      return complain(key, limits::words(bounds));
    std::size_t index = 0;
    for (const auto& value : plain) {
      steps_.push_back({key, index++});
      describe(*this, unshared(value));
      steps_.pop_back();
    }
  }
  void optional_list(std::string_view key, const auto& values, limits::ListBounds bounds) {
    if (!values.empty())
      list(key, values, bounds);
  }
  void variant(const auto& value, const auto&) {
    std::visit([&](const auto& alternative) { describe(*this, alternative); }, value);
  }
  void either(const auto& value, const auto& keys, const auto& kind) {
    std::visit([&](const auto& alternative) { field(keys[value.index()], alternative, kind); }, value);
  }
  void rule(std::string_view key, bool holds, std::string_view accepted) {
    if (!complaint_ && !holds)
      complain(key, std::string(accepted));
  }
  /// A rule that may be asked only where the values before it are within bounds.
  template <std::predicate Holds>
  void rule(std::string_view key, const Holds& holds, std::string_view accepted) {
    if (!complaint_)
      rule(key, holds(), accepted);
  }
  /// The same, where it can be said in words what is wrong.
  template <class Fault>
  requires std::same_as<std::invoke_result_t<const Fault&>, std::optional<std::string>>
  void rule(std::string_view key, const Fault& fault, std::string_view accepted) {
    if (complaint_)
      return;
    if (std::optional<std::string> found = fault()) {
      complain(key, std::string(accepted));
      complaint_->found = *std::move(found);
    }
  }

private:
  struct Step {
    std::string_view key;
    std::optional<std::size_t> index;
  };

  void complain(std::string_view key, std::string accepted) {
    std::string path = "$";
    for (const Step& step : steps_) {
      path += fmt::format(".{}", step.key);
      if (step.index)
        path += fmt::format("[{}]", *step.index);
    }
    complaint_ = {fmt::format("{}.{}", path, key), std::move(accepted)};
  }

  std::vector<Step> steps_;
  std::optional<Complaint> complaint_;
};

} // namespace bellmouth::build
