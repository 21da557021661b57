// SPDX-License-Identifier: GPL-3.0-or-later
// Curves through points that do not swing between them.
#pragma once

#include <cassert>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

namespace bellmouth::machine {

/// Value of a curve and its slope.
struct CurveValue {
  double value, slope;
};

/// Slopes at the points of a cubic curve that rises where the points rise and falls where they fall: Fritsch
/// & Butland (1984), SIAM J. Sci. Stat. Comput. 5, 300-304, weighted for unequal steps; at the ends the
/// three-point formula, held to the sign of the first step and to three times it. `x` rises; two points at
/// least.
[[nodiscard]] inline std::vector<double> monotone_slopes(std::span<const double> x,
                                                         std::span<const double> y) {
  assert(x.size() == y.size() && x.size() >= 2);
  const std::size_t last = x.size() - 1;
  const auto step = [&](std::size_t i) { return x[i + 1] - x[i]; };
  const auto rise = [&](std::size_t i) { return (y[i + 1] - y[i]) / step(i); };
  std::vector<double> slopes(x.size());
  if (last == 1) {
    slopes[0] = slopes[1] = rise(0);
    return slopes;
  }
  for (std::size_t i = 1; i < last; ++i) {
    const double before = rise(i - 1), behind = rise(i);
    if (before * behind <= 0)
      continue;
    const double w1 = 2 * step(i) + step(i - 1), w2 = step(i) + 2 * step(i - 1);
    slopes[i] = (w1 + w2) / (w1 / before + w2 / behind);
  }
  const auto end = [](double h0, double h1, double d0, double d1) {
    const double slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
    if (slope * d0 <= 0)
      return 0.0;
    return d0 * d1 <= 0 && std::abs(slope) > 3 * std::abs(d0) ? 3 * d0 : slope;
  };
  slopes[0] = end(step(0), step(1), rise(0), rise(1));
  slopes[last] = end(step(last - 1), step(last - 2), rise(last - 1), rise(last - 2));
  return slopes;
}

/// The cubic between two points with given slopes (Hermite), at x0 + share (x1 - x0).
[[nodiscard]] inline CurveValue hermite(double share, double width, double y0, double slope0, double y1,
                                        double slope1) {
  const double rise = y1 - y0, a = slope0 * width - rise, b = rise - slope1 * width;
  const double rest = 1 - share;
  // y = (1-t) y0 + t y1 + t (1-t) (a (1-t) + b t)
  const double bow = a * rest + b * share;
  return {rest * y0 + share * y1 + share * rest * bow,
          (rise + (rest - share) * bow + share * rest * (b - a)) / width};
}

} // namespace bellmouth::machine
