// SPDX-License-Identifier: GPL-3.0-or-later
// Colours for values, safe for colour-blind eyes, and the ticks of their legend.
#pragma once

#include <QRgb>

#include <string>
#include <vector>

namespace bellmouth::ui::scene {

/// sequential: from little to much, its lightness rises evenly (cividis: Nunez, Anderton and Renslow 2018,
/// "Optimizing colormaps with consideration for color vision deficiency", PLoS ONE 13(7) e0199239).
/// diverging: from below to above a middle value, light in the middle (orange to blue, after Okabe and Ito's
/// set).
enum class ColourMap { sequential, diverging };

/// The colour at a share from 0 to 1; what lies outside takes the end's colour.
[[nodiscard]] QRgb colour_at(ColourMap map, double share);

/// A stretch of values spread over a colour map.
struct ValueScale {
  double low = 0, high = 1; ///< high above low
  ColourMap map = ColourMap::sequential;

  [[nodiscard]] double share(double value) const; ///< 0 at low, 1 at high; not bounded
  [[nodiscard]] QRgb colour(double value) const;
  /// Round values (1, 2 or 5 times a power of ten apart) within the scale, `wanted` or fewer, at least two
  /// where the scale allows.
  [[nodiscard]] std::vector<double> ticks(int wanted = 6) const;
};
/// The scale that holds all values, ends rounded outwards to ticks' steps are not taken: the ends are the
/// values' own. A single value gets a little room on both sides; no finite value gives 0 to 1.
[[nodiscard]] ValueScale scale_of(const std::vector<double>& values, ColourMap map = ColourMap::sequential);

/// Five colours that tell classes apart for every kind of colour vision (Okabe and Ito 2008, "Color Universal
/// Design"): 0 sky blue, 1 orange, 2 bluish green, 3 vermilion, 4 reddish purple; further numbers go round.
[[nodiscard]] QRgb class_colour(std::size_t number);

} // namespace bellmouth::ui::scene
