// SPDX-License-Identifier: GPL-3.0-or-later
// Words and signs of a typed phrase, and complaints about them.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/quantity/complaint.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::bay::detail {

/// A word or a number, or a sign that parts things: "," ";" "x".
struct Token {
  std::string_view text;
  std::size_t begin = 0;
  bool parts = false;
  [[nodiscard]] std::size_t end() const { return begin + text.size(); }
};
/// A comma parts unless it is the decimal sign between digits; an x only between lengths.
[[nodiscard]] std::vector<Token> tokens_of(std::string_view text, char decimal);

/// Without capitals, underscores as spaces, single spaces.
[[nodiscard]] std::string plain(std::string_view text);
[[nodiscard]] bool is(const Token& token, std::string_view word);
/// Whether a number begins there.
[[nodiscard]] bool starts_number(const Token& token);

/// One of the six sides of the bay, or along a port ("out").
struct Side {
  std::size_t axis = 0;
  double sign = 1;
  bool out = false;       ///< along the port
  bool takes_port = true; ///< may stand right before a port: "above the blower"
  std::size_t words = 1;  ///< how many tokens it takes
  [[nodiscard]] build::Vector direction() const;
};
[[nodiscard]] std::optional<Side> side_at(const std::vector<Token>& tokens, std::size_t at);
inline constexpr std::string_view side_words = "ahead, behind, left, right, above, below, up, down";

using quantity::detail::complaint, quantity::detail::quoted;
/// A complaint about a part of `text` that begins at byte `at`, as one about the whole.
[[nodiscard]] tl::unexpected<Error> shifted(std::string_view text, std::size_t at, Error error);

} // namespace bellmouth::bay::detail
