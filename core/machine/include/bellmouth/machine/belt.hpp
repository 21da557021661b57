// SPDX-License-Identifier: GPL-3.0-or-later
// The belt that drives a blower: an open belt round two pulleys.
#pragma once

namespace bellmouth::machine {

/// An open belt. With D and d the pulley diameters, C the distance of the centres and sin b = (D - d) / 2C:
/// length = 2 C cos b + pi/2 (D + d) + b (D - d), wrap on the small pulley = pi - 2 b. Effective diameters
/// give the effective length by which a multi-rib belt is sold.
struct Belt {
  double length_m;
  double wrap_small_rad;
  double wrap_large_rad;
};
/// `large_m` >= `small_m` > 0, `centres_m` >= half their sum, so that the pulleys do not overlap
/// (assertions).
[[nodiscard]] Belt open_belt(double large_m, double small_m, double centres_m);

} // namespace bellmouth::machine
