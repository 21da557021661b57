// SPDX-License-Identifier: GPL-3.0-or-later
// A way while it is being sought: how many bends and which, their angles, clockings and the straights.
#pragma once

#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/way.hpp>

#include <array>
#include <cmath>
#include <cstddef>

namespace bellmouth::way {

inline constexpr std::size_t most_turns = 8;
inline constexpr std::size_t most_sizes = 3 * most_turns + 1;

/// What may be done at one turn.
struct TurnRange {
  double radius_m = 0;
  double low_rad = 0, high_rad = 0; ///< equal: the angle is fixed
  [[nodiscard]] bool is_fixed() const { return low_rad == high_rad; }
  friend bool operator==(const TurnRange&, const TurnRange&) = default;
};
struct Limits {
  double low_m = 0, high_m = 0;
};
/// What is settled before a chain is fitted.
struct Pattern {
  std::size_t turns = 0;
  std::array<TurnRange, most_turns> turn{};
  std::array<Limits, most_turns + 1> straight{};
  std::size_t reduced_at = most_turns + 1; ///< the straight with the reducer; beyond all: none
  bool reduces_early = false;              ///< the reducer stands at the straight's start; else at its end
  bool needs_long_straight = false;        ///< one straight must be flexible_straight_m

  [[nodiscard]] bool has_reducer() const { return reduced_at <= turns; }
};
struct Chain {
  std::array<double, most_turns + 1> straight_m{};
  std::array<double, most_turns> clocking_rad{}, angle_rad{};
};

/// A straight or an arc of a chain as it lies.
struct Element {
  Vector start{}, direction{}, normal{}; ///< normal: of an arc, towards its centre
  double length_m = 0;                   ///< of a straight
  double radius_m = 0, angle_rad = 0;    ///< of an arc; radius 0: straight
  double starts_m = 0;                   ///< on the centreline

  [[nodiscard]] bool is_arc() const { return radius_m > 0; }
  [[nodiscard]] double centreline_m() const { return is_arc() ? radius_m * angle_rad : length_m; }
  [[nodiscard]] Vector at(double share) const {
    if (!is_arc())
      return bay::plus(start, share * length_m, direction);
    const double angle = share * angle_rad;
    return bay::plus(bay::plus(start, radius_m * std::sin(angle), direction),
                     radius_m * (1 - std::cos(angle)), normal);
  }
};
/// All of a chain: straight 0, arc 0, straight 1, ... so that elements 2 i are straights, 2 i + 1 arcs.
struct Lie {
  std::array<Element, 2 * most_turns + 1> element{};
  std::size_t elements = 0;
  Vector end{}, direction{}; ///< behind the last
  double length_m = 0;
};
[[nodiscard]] Lie lie(const Problem& problem, const Pattern& pattern, const Chain& chain);

/// Where the reducer of a chain starts on its straight.
[[nodiscard]] double reducer_from_m(const Problem& problem, const Pattern& pattern, const Chain& chain);
/// Half the diameter at a share of an element.
[[nodiscard]] double half_diameter_m(const Problem& problem, const Pattern& pattern, const Chain& chain,
                                     std::size_t element, double share);

} // namespace bellmouth::way
