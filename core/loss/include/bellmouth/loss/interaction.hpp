// SPDX-License-Identifier: GPL-3.0-or-later
// What a fitting loses when another stands close ahead of it: two bends, a diffuser behind a bend or a
// blower.
#pragma once

#include <string_view>

namespace bellmouth::loss {

struct Law;

/// Two bends of one bore in a row.
struct BendPair {
  double spacing_ratio; ///< straight length between them over bore, >= 0
  /// How far the second turns out of the plane of the first: 0 goes on turning the same way (U), pi turns
  /// back (S), pi/2 square out of the plane. Any angle; whole turns and the sign do not matter.
  double twist_rad;
  double first_angle_rad, first_radius_ratio; ///< both > 0, as of the second
  double second_angle_rad, second_radius_ratio;
};

/// What nearness does to losses.
struct Interaction {
  double factor = 1.0;        ///< on the sum of the two bends' losses, each taken alone
  double band = 0.0;          ///< relative half width of the factor, both ways
  bool outside_range = false; ///< the shapes lie outside the table; the band is wider
  std::string_view source;
  std::string_view range;
};

/// Beyond this spacing over bore, bends are taken to act alone: Miller, Internal Flow Systems, as quoted
/// where the table was read.
inline constexpr double interaction_ends_at = 30.0;

/// Miller, Internal Flow Systems, 2nd edition (1990), table 10.1: interaction of two 90-degree bends,
/// K of the pair = factor (K1 + K2). Read as text in a copy in a public repository, not in the book;
/// the convention of its combination angle follows from the U at no spacing, which is one bend of 180
/// degrees.
///
/// Between the tabled radius ratios (1, 2, 3) and twists (steps of 30 degrees) straight; between the tabled
/// spacings (0, 1, 4, 8) straight in ln(1 + spacing), and so on to 1 at `interaction_ends_at`. Bends of less
/// than 90 degrees: 1 - factor shrinks with the product of the sines of their angles (ours; no figures were
/// found; two bends joined into one bear it out within the band). Beyond radius ratios 1 to 3 and 90 degrees
/// the end of the table is held.
///
/// Band: 10 %, the scatter about the sum at long spacing (Mylaram & Idem, ASHRAE winter meeting 2005,
/// abstract); 25 % outside 85 to 95 degrees or radius ratios 1 to 3 (these are `outside_range`); fading to
/// none from 8 bores to `interaction_ends_at`, where the factor is 1.
[[nodiscard]] Interaction interaction(const BendPair& pair);

/// The law of a bend beside another: K times the factor, the bands added. Of a pair, both bends take it; a
/// bend with a neighbour on either side takes both factors (an assumption: none was measured).
[[nodiscard]] Law beside(Law bend, const Interaction& neighbour);

/// The law of a diffuser whose inlet lies `spacing_ratio` bores behind a bend or a blower: K as it was, bands
/// doubled within 4 bores (tests/reference/DEFAULTS_AND_SPREAD.md), as before from 10 bores on, straight
/// between; outside its range, which asks for a long straight tube ahead, until then.
[[nodiscard]] Law behind_disturbance(Law diffuser, double spacing_ratio);

} // namespace bellmouth::loss
