// SPDX-License-Identifier: GPL-3.0-or-later
// Hoses whose inside is not smooth.
//
// Corrugated: each corrugation is a recess that a jet crosses (gaps.cpp). With d bore, s pitch, h depth, L
// length:
//   K = L / s (1 - (d / d')^2)^2,  d' = d + min(0.438 s, 2 h),
// after R. C. Hawthorne, "Fluid expansion theory computes flow in corrugated hose", Product Engineering, 10
// June 1963, pp. 98-100, who found that depth does not matter unless the jet reaches the bottom; where it
// does (the min, ours), the rest of the pitch has wall friction. Turbulent flow, independent of Reynolds
// number. Range: s / d 0.05 to 0.5 (the corrugated hoses of trade; from memory). Band -30 %/+40 %. Pitch
// unknown: s / d = 0.12, f about 0.08; hoses of trade have s / d 0.06 to 0.25 (from memory), f 0.04 to 0.14:
// -55 %/+80 %.
//
// Wire in the bore: the coils are ribs across the stream. With e height of the ridge, p pitch, friction
// similarity
//   sqrt(8 / f) = 2.5 ln(d / 2e) - 3.75 + 0.95 (p / e)^0.53
// R. L. Webb, E. R. G. Eckert & R. J. Goldstein, "Heat transfer and friction in tubes with repeated-rib
// roughness", Int. J. Heat Mass Transfer 14 (1971) 601-617 (formula from memory), measured with square ribs,
// e / d 0.01 to 0.04, p / e 10 to 40, fully rough. A covered wire makes a round ridge, which loses less: -65
// %/+15 %. Ridge unknown: Darcy & Weisbach with the roughness of Surface::wire_hose by the caller (half a
// millimetre, a value of practice); the rib law gives up to three times as much for high ridges: -30 %/+150
// %.
#include "spreading_jet.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::loss {
namespace {

constexpr double turbulent_reynolds = 4000;

} // namespace

Law law(const CorrugatedHose& hose) {
  assert(hose.length_m >= 0 && hose.bore_m > 0 && hose.pitch_m >= 0 && hose.depth_m >= 0);
  constexpr double usual_pitch_ratio = 0.12;
  const bool known = hose.pitch_m > 0;
  const double pitch_m = known ? hose.pitch_m : usual_pitch_ratio * hose.bore_m;
  const double free_growth_m = jet_spread_per_length * pitch_m;
  const double growth_m = hose.depth_m > 0 ? std::min(free_growth_m, 2 * hose.depth_m) : free_growth_m;
  Law law;
  law.constant = hose.length_m / pitch_m * jet_loss(hose.bore_m, growth_m);
  law.per_friction = (1 - growth_m / free_growth_m) * hose.length_m / hose.bore_m;
  const double ratio = pitch_m / hose.bore_m;
  law.outside_range = ratio < 0.05 || ratio > 0.5;
  law.band_low = law.outside_range ? 0.60 : known ? 0.30 : 0.55;
  law.band_high = law.outside_range ? 1.0 : known ? 0.40 : 0.80;
  law.least_reynolds = turbulent_reynolds;
  law.source = "Hawthorne (1963), corrugated hose";
  law.range = "pitch 0.05 to 0.5 bores; turbulent";
  return law;
}

Law law(const WireHose& hose) {
  assert(hose.length_m >= 0 && hose.bore_m > 0);
  assert((hose.pitch_m > 0) == (hose.ridge_m > 0));
  const double length = hose.length_m / hose.bore_m;
  Law law;
  if (hose.ridge_m <= 0) {
    law.per_friction = length;
    law.band_low = 0.30;
    law.band_high = 1.50;
    law.source = "Darcy, Weisbach";
    law.range = "ridge of the wire unknown";
    return law;
  }
  assert(hose.pitch_m > hose.ridge_m && hose.ridge_m < 0.1 * hose.bore_m);
  const double spacing = hose.pitch_m / hose.ridge_m, height = hose.ridge_m / hose.bore_m;
  const double root = 2.5 * std::log(1 / (2 * height)) - 3.75 + 0.95 * std::pow(spacing, 0.53);
  law.constant = 8 / (root * root) * length;
  law.outside_range = height < 0.01 || height > 0.04 || spacing < 10 || spacing > 40;
  law.band_low = law.outside_range ? 0.75 : 0.65;
  law.band_high = law.outside_range ? 0.50 : 0.15;
  law.least_reynolds = turbulent_reynolds;
  law.source = "Webb, Eckert & Goldstein (1971), ribs";
  law.range = "ridge 0.01 to 0.04 bores, pitch 10 to 40 ridges; turbulent";
  return law;
}

} // namespace bellmouth::loss
