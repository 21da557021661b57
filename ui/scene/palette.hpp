// SPDX-License-Identifier: GPL-3.0-or-later
// Colours for values, safe for colour-blind eyes, and the ticks of their legend.
#pragma once

#include <QRgb>

#include <cstddef>
#include <vector>

namespace bellmouth::ui::scene {

/// Both run between blue and yellow or orange, which the common kinds of colour blindness keep apart, and
/// take equal shares in equal steps of lightness, as Nunez, Anderton and Renslow ask for ("Optimizing
/// colormaps with consideration for color vision deficiency", PLoS ONE 13(7), 2018, e0199239). Lightness and
/// hue are those of CIE 1976 L*a*b* (ISO/CIE 11664-4), white D65.
enum class ColourMap {
  sequential, ///< from little (dark blue) to much (light yellow)
  diverging   ///< from below (blue) over a light middle to above (orange)
};

/// The colour at a share from 0 to 1; what lies outside takes the end's colour.
[[nodiscard]] QRgb colour_at(ColourMap map, double share);

/// A stretch of values spread over a colour map.
struct ValueScale {
  double low = 0, high = 1; ///< high above low
  ColourMap map = ColourMap::sequential;

  [[nodiscard]] double share(double value) const; ///< 0 at low, 1 at high; not bounded
  [[nodiscard]] QRgb colour(double value) const;
  /// Round values within the scale, 1, 2 or 5 times a power of ten apart: as many as there are of the
  /// narrowest such step that gives no more than `most` (2 or more).
  [[nodiscard]] std::vector<double> ticks(int most = 6) const;
};
/// The scale from the least to the greatest of the finite values. A single value gets a little room on both
/// sides; without any it goes from 0 to 1.
[[nodiscard]] ValueScale scale_of(const std::vector<double>& values, ColourMap map = ColourMap::sequential);

/// Colours that tell classes apart for every kind of colour vision (Okabe and Ito, "Color Universal Design",
/// 2008): 0 sky blue, 1 orange, 2 bluish green, 3 vermilion, 4 reddish purple; further numbers go round.
[[nodiscard]] QRgb class_colour(std::size_t number);

} // namespace bellmouth::ui::scene
