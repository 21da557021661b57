// SPDX-License-Identifier: GPL-3.0-or-later
// The light of the drawing room, worked out once for every direction a surface can face the camera in: both
// renderers look it up in the same tables.
#pragma once

#include "scene/render.hpp"

#include <array>
#include <vector>

namespace bellmouth::ui::scene {

/// Samples along each side of a table.
inline constexpr int light_size = 256;
inline constexpr std::array all_finishes{Finish::metal, Finish::rubber, Finish::matt, Finish::glow};

/// What becomes of a surface's colour: each part times its factor, plus the shine.
struct Light {
  float red = 1, green = 1, blue = 1, shine = 0;
};
/// Rows from facing down to facing up, in a row from facing left to facing right, in the camera's axes.
using LightTable = std::vector<Light>;
[[nodiscard]] const LightTable& light_table(Finish finish);

/// A colour under a light.
[[nodiscard]] QRgb lit(QRgb colour, const Light& light);
/// The colour under every light of a table.
[[nodiscard]] std::vector<QRgb> lit_table(QRgb colour, Finish finish);
/// What the inside of a wall shows where a section cuts it: flat and darker, so that it reads as a cut face.
[[nodiscard]] QRgb cut_colour(QRgb colour);
/// `share` (0 to 1) of b, the rest of a.
[[nodiscard]] QRgb mixed(QRgb a, QRgb b, double share);
/// The same with a share in 256ths, quick: red and blue are worked out in one go.
[[nodiscard]] inline QRgb mixed_256(QRgb a, QRgb b, unsigned share) {
  constexpr unsigned red_blue = 0x00ff00ffU, green = 0x0000ff00U;
  const unsigned rest = 256 - share;
  return 0xff000000U | ((((a & red_blue) * rest + (b & red_blue) * share) >> 8) & red_blue) |
         ((((a & green) * rest + (b & green) * share) >> 8) & green);
}

} // namespace bellmouth::ui::scene
