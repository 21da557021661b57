// SPDX-License-Identifier: GPL-3.0-or-later
// A way as it lies: its straights and arcs in space.
#pragma once

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/stretch.hpp>
#include <bellmouth/way.hpp>

#include <vector>

namespace bellmouth::way {

struct Laid {
  /// In order; a straight with the reducer makes three. `along_m` counts from the way's start; straight i is
  /// row 2 i, bend i row 2 i + 1.
  std::vector<bay::Stretch> stretches;
  bay::Frame end;
  double length_m = 0;
};
/// The way must have one more straight than turns, and its turns and reduction must be there (an assertion).
[[nodiscard]] Laid laid(const Problem& problem, const Way& way);

} // namespace bellmouth::way
