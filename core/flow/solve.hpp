// SPDX-License-Identifier: GPL-3.0-or-later
// Finding the operating point.
#pragma once

#include "march.hpp"

namespace bellmouth::flow {

/// An operating point and the unknowns there.
struct Solution {
  OperatingPoint point;
  Unknowns at{};
};

/// Finds the operating point of a variation at an engine speed (ignored for a fixed flow), starting from a
/// solution nearby where there is one.
[[nodiscard]] Solution solve(const Path::Impl& path, const Variation& variation, double engine_speed_rev_s,
                             const OperatingPoint* near);

} // namespace bellmouth::flow
