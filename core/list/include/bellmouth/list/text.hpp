// SPDX-License-Identifier: GPL-3.0-or-later
// Sizes as words, for the lines of the lists: lengths in mm, angles in degrees, decimal point, no trailing
// zeros.
#pragma once

#include <bellmouth/build.hpp>

#include <cmath>
#include <numbers>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::list {

/// A length in mm to a hundredth, ready for "{}".
[[nodiscard]] inline double in_mm(double length_m) {
  return std::round(length_m * 1e5) / 1e2 + 0.0;
}
/// A length in mm to a tenth, as one cuts.
[[nodiscard]] inline double in_tenths(double length_m) {
  return std::round(length_m * 1e4) / 1e1 + 0.0;
}
/// An angle in degrees to a hundredth.
[[nodiscard]] inline double in_deg(double angle_rad) {
  return std::round(angle_rad * (180e2 / std::numbers::pi)) / 1e2 + 0.0;
}
/// The cross-section, and for bends the turn: "63.5 x 2", "63.5 x 2, 90 deg, R 95", "bore 76.2 to 70,
/// wall 4.5", "M12x1.5, tap drill 10.5".
[[nodiscard]] std::string size_text(const build::Shape& shape);
/// What would have to be bought for a piece: "aluminium tube 63.5 x 2, 300 long".
[[nodiscard]] std::string description(const build::Piece& piece);

/// Where a piece is: "suction 2". Rows count from 1, as on the screen.
[[nodiscard]] std::string place(const build::PieceRef& ref);
/// The same of several. A piece that comes several times in a row, as a hose with two clamps does, is said
/// once: "suction 2 (2 x)".
[[nodiscard]] std::string places(const std::vector<build::PieceRef>& refs);

} // namespace bellmouth::list
