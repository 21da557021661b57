// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong with a document as a whole.
#pragma once

#include "checker.hpp"
#include "writer.hpp"

#include <bellmouth/build/json.hpp>
#include <bellmouth/quantity/utf8.hpp>

#include <set>

namespace bellmouth::build {

/// The first thing that is wrong with a build: bounds and rules of single values first, then how the parts go
/// together.
[[nodiscard]] std::optional<Complaint> first_complaint(const Build& build);

/// What to say has been found where the path leads to nothing.
[[nodiscard]] std::string missing_words(std::string_view path);

/// Turns a complaint about a value into one about the text it was read from; `root` is what the complaint's
/// path begins at.
[[nodiscard]] Error located(const Source& source, const Json& root, const Complaint& complaint);

/// A complaint about a value that is not read from a text: what was found is what a file would hold.
template <class T>
[[nodiscard]] Error as_error(const Complaint& complaint, const T& value, const std::string& base) {
  Error error;
  error.place.path = base + complaint.path.substr(1);
  error.accepted = complaint.accepted;
  error.found = complaint.found;
  if (error.found.empty()) {
    const Json written = Writer().write(value);
    const Found at = follow(written, complaint.path);
    error.found = at.exact ? quantity::printable(print_line(*at.value), 60) : missing_words(complaint.path);
  }
  return error;
}

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
