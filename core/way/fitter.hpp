// SPDX-License-Identifier: GPL-3.0-or-later
// Brings a chain onto its port and clear of everything: least squares over all its sizes at once (Levenberg
// and Marquardt), with the exact derivatives of the chain. What is broken (a gap that is too small) counts by
// how far; what is kept does not count.
#pragma once

#include "lookout.hpp"
#include "sizes.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace bellmouth::way {

/// One thing that is, or is nearly, too small: `value_m` should not be below zero.
struct Bound {
  double value_m = 0;
  std::array<double, most_sizes> slope{}; ///< by the sizes of the chain
};

/// How a chain stands.
struct Standing {
  std::array<double, 6> miss{};                               ///< end position [m], direction x arm [m]
  std::array<std::array<double, most_sizes>, 6> miss_slope{}; ///< by the sizes
  std::vector<Bound> bounds;                                  ///< those within reach
  double least_m = 0;                                         ///< the least of the bounds, or the reach
  double sum = 0; ///< of squares [m2], what is missing at the end counted `end_weight` times
};

class Fitter {
public:
  Fitter(const Problem& problem, const Ground& ground);

  /// The squares of all that is wrong [m2].
  [[nodiscard]] double wrong(const Pattern& pattern, const Chain& chain);
  /// With all bounds whose value is below `reach_m`, and slopes.
  void stand(const Pattern& pattern, const Chain& chain, double reach_m, Standing& standing);
  /// Least squares. True: the chain meets its port to 1e-9 m and nothing lacks anything, as far as
  /// samples tell.
  bool fit(const Pattern& pattern, Chain& chain, int most_steps);
  /// Brings the end onto its port alone, with the least change. False: out of reach.
  bool close(const Pattern& pattern, Chain& chain);
  /// Squares of all that is wrong with the last fit's chain [m2].
  [[nodiscard]] double sum_m2() const { return standing_.sum; }

  [[nodiscard]] Lookout& lookout() { return lookout_; }

private:
  const Problem* problem_;
  Lookout lookout_;
  Standing standing_, tried_;
};

} // namespace bellmouth::way
