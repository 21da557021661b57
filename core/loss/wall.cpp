// SPDX-License-Identifier: GPL-3.0-or-later
// What stands into the bore from its wall, and what opens in it.
//
// Probe: a round tip of diameter d standing in by t, bore D. The drag of its frontal area d t, at the
// velocity between it and the wall, is the loss of momentum of the stream:
//   K = c s / (1 - s)^2,  s = d t / (pi D^2 / 4),  c = 1.2.
// c of a long round cylinder lies between 0.9 and 1.2 at Reynolds numbers of 10^3 to 10^5 (A. Roshko, J.
// Fluid Mech. 10 (1961) 345); of a short one with a free end about 0.6 to 0.8 (from memory). Band -55 %/+55
// %. Range: s up to 0.2. A flush boss (t = 0) loses nothing; its rim may cost 0.005.
//
// Side hole: a round hole of diameter d that leads nowhere, as the drag of a cavity on the area of its mouth:
//   K = c (d / D)^2,  c = 0.02 (S. F. Hoerner, Fluid-Dynamic Drag, 1965, ch. 5; from memory), 0.005 to 0.06.
// It is small whatever is taken: less than the friction of one bore of tube. Range: d / D up to 1.
#include <bellmouth/loss.hpp>

#include <cassert>
#include <numbers>

namespace bellmouth::loss {

Law law(const Probe& probe) {
  assert(probe.bore_m > 0 && probe.diameter_m > 0 && probe.depth_m >= 0 && probe.depth_m <= probe.bore_m);
  const double share =
      probe.diameter_m * probe.depth_m / (std::numbers::pi / 4 * probe.bore_m * probe.bore_m);
  assert(share < 1);
  Law law;
  law.constant = 1.2 * share / ((1 - share) * (1 - share));
  law.outside_range = share > 0.2;
  law.band_low = law.outside_range ? 0.70 : 0.55;
  law.band_high = law.outside_range ? 1.0 : 0.55;
  law.band_absolute = 0.005;
  law.least_reynolds = 1e3 * probe.bore_m / probe.diameter_m;
  law.source = "drag of a round cylinder, Roshko (1961)";
  law.range = "frontal area up to 0.2 of the bore's, Reynolds number of the tip 1e3 to 1e5";
  return law;
}

Law law(const SideHole& hole) {
  assert(hole.bore_m > 0 && hole.hole_bore_m > 0 && hole.hole_bore_m <= hole.bore_m);
  const double ratio = hole.hole_bore_m / hole.bore_m;
  Law law;
  law.constant = 0.02 * ratio * ratio;
  law.band_low = 0.75;
  law.band_high = 2.0;
  law.source = "drag of a cavity, Hoerner (1965)";
  law.range = "closed at its far end";
  return law;
}

} // namespace bellmouth::loss
