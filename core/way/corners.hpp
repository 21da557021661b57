// SPDX-License-Identifier: GPL-3.0-or-later
// Chains to begin with: polygons through free places, whose first and last sides lie on the axes of the
// ports.
#pragma once

#include "choice.hpp"
#include "ground.hpp"
#include "random.hpp"

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace bellmouth::way {

using Corners = std::array<Vector, most_turns>;

/// Where a way may go. Immutable, shared by threads.
class FreeSpace {
public:
  FreeSpace(const Problem& problem, const Ground& ground, std::uint64_t seed);

  /// How far along a port's axis the way may go straight, a little generously.
  [[nodiscard]] double start_m() const { return start_m_; }
  [[nodiscard]] double end_m() const { return end_m_; }
  /// Places that a centreline may pass, all over the bay.
  [[nodiscard]] const std::vector<Vector>& places() const { return places_; }

  /// Within the box that places are drawn from.
  [[nodiscard]] bool is_inside(const Vector& point) const {
    for (std::size_t i = 0; i < 3; ++i)
      if (point[i] < low_[i] || point[i] > high_[i])
        return false;
    return true;
  }

private:
  Vector low_{}, high_{};
  double start_m_ = 0, end_m_ = 0;
  std::vector<Vector> places_;
};

/// The chain along a polygon whose corners are turned with these radii; what does not fit is cut short, so
/// that it need not end at the port. Unset where two corners fall together.
[[nodiscard]] std::optional<Chain> along_corners(const Problem& problem, const Pattern& pattern,
                                                 const Corners& corners);

/// How much a straight way from point to point lacks [m], a little roughly.
using LegLacks = std::function<double(const Vector&, const Vector&)>;
/// Draws corners for at least one turn: those at the ends on the axes of the ports, each other one the best
/// of some places, by what its sides lack.
[[nodiscard]] Corners drawn_corners(const Problem& problem, const FreeSpace& space, const Pattern& pattern,
                                    const LegLacks& lacks_m, Random& random);

/// The corners of a chain's polygon.
[[nodiscard]] Corners corners_of(const Problem& problem, const Pattern& pattern, const Chain& chain);

} // namespace bellmouth::way
