// SPDX-License-Identifier: GPL-3.0-or-later
// How much room a way as it lies has: to keep-outs and to itself.
#pragma once

#include "laid.hpp"

#include <bellmouth/way.hpp>

#include <optional>
#include <vector>

namespace bellmouth::way {

/// Beyond a clearance by more than this nothing is told of.
inline constexpr double near_m = 0.05;

/// Each keep-out within `near_m` beyond its clearance, least margin first. Inside a closed surface, where the
/// way is anyhow too near, how deep it goes is a sample's word.
[[nodiscard]] std::vector<Nearness> nearest_keep_outs(const Problem& problem, const Laid& laid);

/// Where a way comes nearest to itself, of those places that are at least `apart_m` of way apart.
struct SelfNearness {
  double margin_m = 0; ///< beyond both radii and the gap that is asked for
  double at_a_m = 0, at_b_m = 0;
};
/// Unset: not within `near_m`. Places less than 1 um nearer than any that is looked at may be missed where
/// two places of a bend are nearest that are just `apart_m` apart; there are such only where the bend's
/// radius is less than half of what must lie between two middle lines.
[[nodiscard]] std::optional<SelfNearness> nearest_to_itself(const Laid& laid, double apart_m, double gap_m);

/// How far the middle line stays off a solid; 0: it goes through.
[[nodiscard]] double off_m(const Laid& laid, const Waypoint& waypoint);

} // namespace bellmouth::way
