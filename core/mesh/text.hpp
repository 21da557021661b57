// SPDX-License-Identifier: GPL-3.0-or-later
// Words and numbers of a text file, whatever the locale.
#pragma once

#include "source.hpp"

namespace bellmouth::mesh {

/// Where a text begins: behind its byte order mark, if it has one.
[[nodiscard]] inline std::size_t text_begin(std::string_view bytes) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  return bytes.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
}

/// Goes through a text. A line ends with LF, CR LF or CR; words are parted by blanks.
class Text {
public:
  Text(const Source& source, std::size_t begin);

  [[nodiscard]] std::size_t at() const { return at_; }
  /// \name From line to line
  ///@{
  /// Whether nothing but white space is left. Goes past it.
  [[nodiscard]] bool at_end();
  /// The next word, wherever it stands; a fault at the end of the file. `accepted` says what should be there.
  std::string_view any(std::string_view accepted);
  /// Goes past the next word if it is this one, whether in capitals or not.
  [[nodiscard]] bool accepts(std::string_view word);
  /// The same, and a fault if it is not.
  void expect(std::string_view word, std::string_view accepted = {});
  [[nodiscard]] double coordinate();
  ///@}

  /// \name Within a line
  ///@{
  /// Whether nothing but blanks is left of the line. Goes past them. A backslash at its end joins the next.
  [[nodiscard]] bool at_line_end();
  /// The next word of the line; empty at its end.
  [[nodiscard]] std::string_view word();
  /// Goes to the next line, past whatever is left of this one.
  void skip_line();
  /// The same, past lines that a backslash joins to this one too.
  void skip_joined_lines();
  /// Whether the last line has no end, as when the file was cut off.
  [[nodiscard]] bool lacks_last_line_end() const;
  ///@}

  /// A complaint about what stands at `at`, a word or the end of a line or file.
  [[noreturn]] void fault(std::size_t at, std::string_view accepted) const;
  [[noreturn]] void fault(std::string_view word, std::string_view accepted) const {
    fault(static_cast<std::size_t>(word.data() - text_.data()), accepted);
  }
  /// The word as a coordinate.
  [[nodiscard]] double coordinate(std::string_view word) const;

private:
  const Source& source_;
  std::string_view text_;
  std::size_t at_;

  [[nodiscard]] std::string_view word_at(std::size_t at) const;
  /// At a line end: behind it; else `at` itself.
  [[nodiscard]] std::size_t past_line_end(std::size_t at) const;
};

} // namespace bellmouth::mesh
