// SPDX-License-Identifier: GPL-3.0-or-later
// Gauze and plates with holes across the bore.
//
// Woven gauze of round wire, d wire, p pitch, w = p - d opening, a = (w / p)^2 open share:
//   K = (0.52 + 17 / Re_w) (1 - a^2) / a^2,  Re_w = V w / nu = Re w / bore,
// R. D. Blevins, Applied Fluid Dynamics Handbook (1984), as in python3-fluids, round_edge_screen: a table of
// the first factor over Re_w, 1.3 at 20 down to 0.52 at 400 and above. The 17 / Re_w is our smooth line
// through that table, within 9 % of each of its points. Range: a 0.05 to 0.8, Re_w above 20. Band -25 %/+50
// %: I. E. Idelchik, Handbook of Hydraulic Resistance (1986), diagram 8-6, K = 1.3 (1 - a) + (1 / a - 1)^2,
// lies up to 28 % above; at low Reynolds number K. E. G. Wieghardt (Aeronautical Quarterly 4, 1953; from
// memory) lies up to 40 % above.
//
// Flat plate or bars with square edges, a open share: Blevins (1984), as in python3-fluids,
// square_edge_screen: a table, straight lines between its points; up to a = 0.1 its points are 2.5 / a^2,
// which is used there. Band -25 %/+15 %: Idelchik (1986), diagram 8-1, (0.707 sqrt(1 - a) + 1 - a)^2 / a^2,
// lies within it.
#include "interpolate.hpp"

#include <bellmouth/loss.hpp>

#include <array>
#include <cassert>

namespace bellmouth::loss {
namespace {

constexpr std::array<TablePoint, 18> square_edged{{{0.1, 250},
                                                   {0.15, 85},
                                                   {0.2, 52},
                                                   {0.25, 30},
                                                   {0.3, 17},
                                                   {0.35, 11},
                                                   {0.4, 7.7},
                                                   {0.45, 5.5},
                                                   {0.5, 3.8},
                                                   {0.55, 2.8},
                                                   {0.6, 2},
                                                   {0.65, 1.5},
                                                   {0.7, 1.1},
                                                   {0.75, 0.78},
                                                   {0.8, 0.53},
                                                   {0.85, 0.35},
                                                   {0.9, 0.08},
                                                   {1, 0}}};

} // namespace

Law law(const Gauze& gauze) {
  assert(gauze.bore_m > 0 && gauze.wire_diameter_m > 0 && gauze.pitch_m > gauze.wire_diameter_m);
  const double opening_m = gauze.pitch_m - gauze.wire_diameter_m;
  const double side = opening_m / gauze.pitch_m;
  const double open = side * side;
  const double blocked = (1 - open * open) / (open * open);
  Law law;
  law.constant = 0.52 * blocked;
  law.per_inverse_reynolds = 17 * blocked * gauze.bore_m / opening_m;
  law.least_reynolds = 20 * gauze.bore_m / opening_m;
  law.outside_range = open < 0.05 || open > 0.8;
  law.band_low = law.outside_range ? 0.50 : 0.25;
  law.band_high = law.outside_range ? 1.0 : 0.50;
  law.source = "Blevins (1984), round wire screen";
  law.range = "open share 0.05 to 0.8, Reynolds number of the opening above 20";
  return law;
}

Law law(const PerforatedPlate& plate) {
  const double open = plate.open_share;
  assert(open > 0 && open <= 1);
  Law law;
  law.constant = open < 0.1 ? 2.5 / (open * open) : interpolate(square_edged, open);
  law.outside_range = open < 0.0015625 || open > 0.8;
  law.band_low = law.outside_range ? 0.50 : 0.25;
  law.band_high = law.outside_range ? 0.50 : 0.15;
  law.band_absolute = open > 0.8 && open < 1 ? 0.1 : 0; // the table bends there, from 0.35 to 0.08 to nothing
  law.source = "Blevins (1984), square-edged screen";
  law.range = "open share 0.0016 to 0.8, turbulent";
  return law;
}

} // namespace bellmouth::loss
