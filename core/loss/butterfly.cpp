// SPDX-License-Identifier: GPL-3.0-or-later
// Throttle plate.
//
// A thin plate that shuts square across the bore, turned by the angle t from shut, leaves the open share
//   a = 1 - cos t
// of the bore. The stream contracts behind it to C a, C = 0.62 + 0.38 a^3 (J. Weisbach's contraction), and is
// lost in spreading again (Borda & Carnot); the body with the plate edge on has the coefficient K0 of its
// own:
//   K = K0 + (1 / (C a) - 1)^2.
// Weisbach's figures for the disc valve in a round pipe lie within 13 % of this from 20 to 70 degrees off
// edge on and 0.12 above it at 10 degrees (ASHRAE Duct Fitting Database, CD9-1, Damper, Butterfly, Round:
// 0.20, 0.52, 1.54, 3.91, 10.8, 32.6, 118, 751 at 0, 10, ... 70 degrees off edge on). Band 25 %, at least
// 0.15. Range: 20 degrees from shut and more open; nearer to shut, where the rim's fit rules, 50 %. Plates
// that shut at a slant leave less open at the same turn: give the turn from shut.
#include <bellmouth/loss.hpp>

#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::loss {

Law law(const Butterfly& plate) {
  assert(plate.opening_rad >= least_butterfly_opening_rad * (1 - 1e-9));
  assert(plate.opening_rad <= std::numbers::pi / 2 * (1 + 1e-9));
  assert(plate.wide_open_coefficient >= 0);
  constexpr double degree = std::numbers::pi / 180;
  // 1 - cos t, exact for small turns too
  const double half = std::sin(plate.opening_rad / 2);
  const double open = 2 * half * half;
  const double contraction = 0.62 + 0.38 * open * open * open;
  const double spread = 1 / (contraction * open) - 1;
  Law law;
  law.constant = plate.wide_open_coefficient + spread * spread;
  law.outside_range = plate.opening_rad < (20 - 1e-9) * degree;
  law.band_low = law.band_high = law.outside_range ? 0.50 : 0.25;
  law.band_absolute = 0.15;
  law.source = "Weisbach's contraction; Borda & Carnot";
  law.range = "20 to 90 degrees from shut";
  return law;
}

} // namespace bellmouth::loss
