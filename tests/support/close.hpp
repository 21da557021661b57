// SPDX-License-Identifier: GPL-3.0-or-later
// "Close" is defined here and nowhere else.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace bellmouth::test {

/// Equal within `relative` of the larger magnitude, or within `absolute` where both are that small. NaN is
/// close to nothing; infinities only to themselves.
[[nodiscard]] inline ::testing::AssertionResult close(double found, double wanted, double relative,
                                                      double absolute = 0.0) {
  if (found == wanted)
    return ::testing::AssertionSuccess();
  const double difference = std::abs(found - wanted);
  if (std::isfinite(difference) &&
      difference <= std::max(absolute, relative * std::max(std::abs(found), std::abs(wanted))))
    return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure()
         << "found " << ::testing::PrintToString(found) << ", wanted " << ::testing::PrintToString(wanted)
         << ", difference " << difference << ", relative " << difference / std::abs(wanted) << " (allowed "
         << relative << " relative, " << absolute << " absolute)";
}

} // namespace bellmouth::test
