// SPDX-License-Identifier: GPL-3.0-or-later
// The function behind the Fanno parameter, see fanno.cpp.
#pragma once

#include <cmath>

namespace bellmouth::air {

/// e - ln(1 + e) to full relative accuracy, e > -1.
[[nodiscard]] inline double log_deficit(double e) {
  if (std::abs(e) > 0.2)
    return e - std::log1p(e);
  // ln(1 + e) = 2 artanh(s), s = e / (2 + e), and e - 2 s = e s.
  const double s = e / (2 + e);
  const double q = s * s;
  return e * s -
         2 * s * q *
             (1. / 3 + q * (1. / 5 + q * (1. / 7 + q * (1. / 9 + q * (1. / 11 + q * (1. / 13 + q / 15))))));
}

} // namespace bellmouth::air
