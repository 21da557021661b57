// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/machine/belt.hpp>

#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::machine {

Belt open_belt(double large_m, double small_m, double centres_m) {
  assert(small_m > 0 && large_m >= small_m && centres_m >= (large_m + small_m) / 2);
  using std::numbers::pi;
  const double lean_rad = std::asin((large_m - small_m) / (2 * centres_m));
  return {.length_m = 2 * centres_m * std::cos(lean_rad) + pi / 2 * (large_m + small_m) +
                      lean_rad * (large_m - small_m),
          .wrap_small_rad = pi - 2 * lean_rad,
          .wrap_large_rad = pi + 2 * lean_rad};
}

} // namespace bellmouth::machine
