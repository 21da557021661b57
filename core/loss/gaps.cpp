// SPDX-License-Identifier: GPL-3.0-or-later
// Gaps between tube ends under a hose, and humps.
//
// d bore, D gap or hump bore, L its length, all along the axis; K on the velocity in d.
// The stream leaves the tube as a jet whose edge spreads by 0.219 of the way on each side, so that over the
// gap it grows to d' = d + 0.438 L (R. C. Hawthorne, "Fluid expansion theory computes flow in corrugated
// hose", Product Engineering, 10 June 1963, pp. 98-100: measured on corrugated hose, of which a gap is one
// corrugation). What has grown is lost as in a sudden expansion (Borda & Carnot):
//   K = (1 - (d / d')^2)^2 while d' <= D.
// Once the jet has met the hose wall (L = 2.28 (D - d)) it starts to fill it; full at 9 step heights, 4.5 (D
// - d), the far end of the reattachment lengths of 6 to 9 step heights that are measured behind steps (D. C.
// Rennels, Pipe Flow: A Practical and Comprehensive Guide, 2012, ch. 11). From there on the gap is a sudden
// expansion and a sudden contraction and friction between them; from touch to full the share of the
// contraction and of the friction rises in a straight line, which is ours. A hump is a gap with tapered ends:
// its contraction is a cone of half its length, and a long gentle one loses no more than two cones. Range: no
// measurement on hose joints was found, hence the band: -60 %/+100 %, and never narrower than the drag of
// shallow recesses in a wall, about 0.02 of its area at most (A. Roshko, NACA TN 3488, 1955; from memory),
// which is 0.08 L / d in K.
#include "spreading_jet.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <cassert>

namespace bellmouth::loss {
namespace {

constexpr double turbulent_reynolds = 4000;

/// How much of the contraction behind it (and of its friction) a gap shows, 0 to 1.
double filled_share(double bore_m, double gap_bore_m, double length_m) {
  const double rise = gap_bore_m - bore_m;
  const double touch = rise / jet_spread_per_length, full = 4.5 * rise;
  return std::clamp((length_m - touch) / (full - touch), 0.0, 1.0);
}

/// Jet loss plus `share` of a contraction of coefficient `contraction`.
Law recess(double bore_m, double recess_bore_m, double length_m, double contraction) {
  const double share = filled_share(bore_m, recess_bore_m, length_m);
  Law law;
  law.constant = jet_loss(bore_m, std::min(jet_spread_per_length * length_m, recess_bore_m - bore_m)) +
                 share * contraction;
  const double ratio = bore_m / recess_bore_m;
  law.per_friction = share * length_m / recess_bore_m * ratio * ratio * ratio * ratio;
  law.band_low = 0.60;
  law.outside_range = recess_bore_m > 1.5 * bore_m;
  law.band_high = law.outside_range ? 1.5 : 1.0;
  law.band_absolute =
      std::min(0.08 * length_m / bore_m, jet_loss(bore_m, recess_bore_m - bore_m) + contraction);
  law.least_reynolds = turbulent_reynolds;
  law.source = "Hawthorne (1963), spreading jet; Borda & Carnot";
  law.range = "larger bore up to 1.5 of the tube's, any length; turbulent";
  return law;
}

Law level() {
  Law law;
  law.source = "no step";
  law.range = "equal bores";
  return law;
}

} // namespace

Law law(const Gap& gap) {
  assert(gap.bore_m > 0 && gap.gap_bore_m >= gap.bore_m && gap.gap_length_m >= 0);
  if (gap.gap_bore_m == gap.bore_m || gap.gap_length_m == 0)
    return level();
  return recess(gap.bore_m, gap.gap_bore_m, gap.gap_length_m, law(Step{gap.gap_bore_m, gap.bore_m}).constant);
}

Law law(const Hump& hump) {
  assert(hump.bore_m > 0 && hump.hump_bore_m >= hump.bore_m && hump.hump_length_m >= 0);
  if (hump.hump_bore_m == hump.bore_m || hump.hump_length_m == 0)
    return level();
  const double half_m = hump.hump_length_m / 2;
  const Law widens = law(Cone{hump.bore_m, hump.hump_bore_m, half_m});
  const Law narrows = law(Cone{hump.hump_bore_m, hump.bore_m, half_m});
  Law jet = recess(hump.bore_m, hump.hump_bore_m, hump.hump_length_m, narrows.constant);
  if (jet.constant <= widens.constant + narrows.constant)
    return jet;
  jet.constant = widens.constant + narrows.constant;
  jet.per_friction = widens.per_friction + narrows.per_friction;
  jet.source = "Rennels & Hudson, Pipe Flow (2012), two cones";
  return jet;
}

} // namespace bellmouth::loss
