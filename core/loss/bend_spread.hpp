// SPDX-License-Identifier: GPL-3.0-or-later
// What other published laws say of the same bend, for the bands of bends.cpp.
#pragma once

#include <bellmouth/loss.hpp>

namespace bellmouth::loss {

/// Least and greatest ratio of a published coefficient to the one of the law; low <= 1 <= high.
struct Spread {
  double low = 1.0;
  double high = 1.0;

  void take_in(double ratio) {
    low = ratio < low ? ratio : low;
    high = ratio > high ? ratio : high;
  }
};

/// Spread of the laws named in bend_spread.cpp about `law`, which has to be that of `bend`.
[[nodiscard]] Spread spread_about(const Law& law, const Bend& bend);

/// The same for a single mitre.
[[nodiscard]] Spread spread_about(const Law& law, const Mitre& mitre);

/// Idelchik, Handbook of Hydraulic Resistance, 3rd edition, diagram 6-1, factor A1: local loss of a bend of
/// `angle_deg` over that of one of 90 degrees; straight between the branches it prints.
[[nodiscard]] double idelchik_angle_factor(double angle_deg);

} // namespace bellmouth::loss
