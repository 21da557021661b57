// SPDX-License-Identifier: GPL-3.0-or-later
// The one result type: what a function returns that can be handed wrong input.
#pragma once

#include <tl/expected.hpp>

#include <string>
#include <utility>

namespace bellmouth {

/// Where in some text a problem was found. Lines and columns count from 1; 0 means "not known".
struct Place {
  std::string file; ///< file name, or empty for typed text
  int line = 0;
  int column = 0;   ///< in characters (bytes) from the line's start
  std::string path; ///< JSON path such as "$.machines[2].bore_mm", or a CSV cell such as "row 4, price"

  friend bool operator==(const Place&, const Place&) = default;
};

/// One clear complaint about wrong input: where, what was found, what is accepted.
struct Error {
  Place place;
  std::string found;    ///< what stands there, quoted from the input
  std::string accepted; ///< what may stand there
  std::string line;     ///< the line of input, quoted; may be empty

  /// The whole complaint as one readable paragraph: "file:3:12 ($.path): found ...; accepted ...".
  [[nodiscard]] std::string text() const;

  friend bool operator==(const Error&, const Error&) = default;
};

template <class T> using Result = tl::expected<T, Error>;

[[nodiscard]] inline tl::unexpected<Error> fail(Error error) {
  return tl::unexpected<Error>(std::move(error));
}

} // namespace bellmouth
