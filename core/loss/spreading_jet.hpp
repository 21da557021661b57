// SPDX-License-Identifier: GPL-3.0-or-later
// The jet that crosses a recess in the wall, by Hawthorne (1963); the reasoning stands in gaps.cpp.
#pragma once

namespace bellmouth::loss {

/// Growth of the jet's diameter per length of recess [-].
inline constexpr double jet_spread_per_length = 0.438;

/// Coefficient on the velocity in `bore_m` of a jet that grows in diameter by `growth_m` and is then lost as
/// in a sudden expansion.
[[nodiscard]] inline double jet_loss(double bore_m, double growth_m) {
  // 1 - (d / d')^2, written so that it stays exact for little growth.
  const double grown = bore_m + growth_m;
  const double loss = growth_m * (bore_m + grown) / (grown * grown);
  return loss * loss;
}

} // namespace bellmouth::loss
