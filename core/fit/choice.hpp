// SPDX-License-Identifier: GPL-3.0-or-later
// Which parameters residuals can tell.
#pragma once

#include <bellmouth/fit/least_squares.hpp>

namespace bellmouth::fit {

struct Choice {
  std::vector<std::size_t> free; ///< columns, in their order
  struct Left {
    std::size_t column;
    std::optional<std::size_t>
        mistaken_for; ///< the free column nearest to it; unset: it moves hardly anything
  };
  std::vector<Left> left;
};

/// Takes columns one by one, each time the one that adds most to those taken (a pivoted QR decomposition,
/// Golub & Van Loan, Matrix Computations, 4th ed. 2013, section 5.4.2), as long as it adds enough. Where
/// residuals have a standard deviation of one, a length of L is a standard error of 1 / L in a logarithm.
/// Enough is 2, if that leaves the correlation with the taken ones below `inseparable_correlation`, and 20 in
/// any case.
[[nodiscard]] Choice choose(const Matrix& slopes);

} // namespace bellmouth::fit
