// SPDX-License-Identifier: GPL-3.0-or-later
// Figures and pieces as proposals name them.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/quantity.hpp>

#include <string>
#include <string_view>

namespace bellmouth::join {

[[nodiscard]] inline std::string millimetres(double value_m) {
  return quantity::write(quantity::Dimension::length, value_m, "mm", 4);
}

/// An id as people read it: "hot_side" is "hot side".
[[nodiscard]] inline std::string words(std::string_view id) {
  std::string text(id);
  for (char& c : text)
    if (c == '_')
      c = ' ';
  return text;
}

/// What a piece is bought as and how long it is: "silicone hose 63, 84 mm long, 4 plies, cut to 80 mm".
[[nodiscard]] std::string described(const build::Build& build, const build::Piece& piece);

/// More than rounding apart.
[[nodiscard]] constexpr bool differ(double a, double b) {
  return a - b > 1e-9 || b - a > 1e-9;
}
[[nodiscard]] constexpr bool above(double value, double limit) {
  return value > limit + 1e-9 * (limit < 0 ? -limit : limit);
}
[[nodiscard]] constexpr bool below(double value, double limit) {
  return above(limit, value);
}

} // namespace bellmouth::join
