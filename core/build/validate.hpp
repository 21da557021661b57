// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong with a document as a whole.
#pragma once

#include "checker.hpp"

#include <set>

namespace bellmouth::build {

/// The first thing that is wrong with a build: bounds and rules of single values first, then how the parts go
/// together.
[[nodiscard]] std::optional<Complaint> first_complaint(const Build& build);

/// What to say has been found where the path leads to nothing.
[[nodiscard]] std::string missing_words(std::string_view path);

/// An id that an earlier entry of the list has already.
template <class T>
[[nodiscard]] std::optional<Complaint> doubled_id(const std::vector<T>& list, std::string_view path) {
  std::set<std::string_view> seen;
  for (std::size_t i = 0; i < list.size(); ++i)
    if (!seen.insert(unshared(list[i]).id.text).second)
      return Complaint{fmt::format("{}[{}].id", path, i), "an id that no entry before has"};
  return std::nullopt;
}

} // namespace bellmouth::build
