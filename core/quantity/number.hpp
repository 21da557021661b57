// SPDX-License-Identifier: GPL-3.0-or-later
// The number in front of a unit, as people type it.
#pragma once

#include <tl/expected.hpp>

#include <cstddef>
#include <string_view>

namespace bellmouth::quantity::detail {

struct Number {
  double value;
  std::size_t end; ///< first byte behind the number
};

/// What is wrong with a number: `length` bytes from `at`.
struct NumberFault {
  std::size_t at;
  std::size_t length;
  std::string_view accepted;
};

/// Reads the number that begins at `at`: decimal ("57.15", ".5", "1e-3"), fraction ("1/2"), mixed ("2 1/4",
/// "2-1/4", "2¼"), each with an optional sign. Digits may be grouped in threes by a thin or non-breaking
/// space (ISO 80000-1, 7.3.1). What follows the number is not looked at; see trailing_fault().
[[nodiscard]] tl::expected<Number, NumberFault> scan_number(std::string_view text, std::size_t at,
                                                            char decimal);

/// Why the text from `at` on, which no unit matched, may really be a badly written number; `length` is 0 if
/// it is not.
[[nodiscard]] NumberFault trailing_fault(std::string_view text, std::size_t at, char decimal);

} // namespace bellmouth::quantity::detail
