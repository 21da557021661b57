// SPDX-License-Identifier: GPL-3.0-or-later
// Where a chain comes near to keep-outs: by samples, and from each least sample on to the least gap itself.
#pragma once

#include "chain.hpp"
#include "ground.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace bellmouth::way {

/// A place of a chain whose gap is small.
struct Place {
  std::size_t element = 0;
  double share = 0;   ///< of the element
  double value_m = 0; ///< the gap, or how far it is within a waypoint: should not be below zero
  Vector away{};      ///< which way that grows
};

/// Remembers cells of space: one for each thread.
class Lookout {
public:
  static constexpr double near_reach_m = 0.5e-3, far_reach_m = 40e-3;
  /// Gaps are brought to this, so that rounding and what lies between samples cannot break them.
  static constexpr double aim_m = 0.02e-3;

  Lookout(const Problem& problem, const Ground& ground);

  /// The place nearest to each keep-out of each element, where that is within `reach_m`, at most far_reach_m;
  /// and the place nearest to each waypoint that the chain does not pass through. Good until the next look.
  const std::vector<Place>& look(const Pattern& pattern, const Chain& chain, const Lie& lie, double reach_m);

  /// \name For a tube of the smaller port's size
  ///@{
  /// What it lacks with its middle at a point [m].
  [[nodiscard]] double lacks_m(const Vector& point);
  /// The most that it lacks straight from point to point [m], by rough samples.
  [[nodiscard]] double leg_lacks_m(const Vector& from, const Vector& to);
  /// Moves its middle away from what is too near, by `most_m` at most; what it then lacks [m].
  double ease(Vector& point, double most_m);
  ///@}

private:
  struct Sampled {
    std::uint32_t keep_out;
    double value_m, share;
  };
  void look_for_keep_outs(const Pattern& pattern, const Chain& chain, const Lie& lie, double reach_m);
  void look_for_waypoints(const Lie& lie);
  template <class Radius, class Counts>
  void to_valley(const Element& element, std::uint32_t keep_out, const Touch& touch, Place& place,
                 const Radius& radius_at, const Counts& counts);

  const Problem* problem_;
  const Ground* ground_;
  std::vector<Ground> through_; ///< the waypoints, one by one
  Cells cells_, far_cells_;     ///< for either reach
  std::vector<Sampled> near_;
  std::vector<Place> places_;
};

} // namespace bellmouth::way
