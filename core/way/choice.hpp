// SPDX-License-Identifier: GPL-3.0-or-later
// What the stock lets a chain turn by, and which pieces a chain is made from at least cost.
#pragma once

#include "chain.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace bellmouth::way {

/// The turns that can be had at one diameter, each once: fixed angles, and ranges of bends that may be cut.
struct Turns {
  std::vector<TurnRange> fixed, cut;
  double least_cost = 0; ///< of one, its loss and its price; no length, no joint
};
class Choice {
public:
  explicit Choice(const Problem& problem);

  /// The turns before (or without) the reducer, and behind it.
  [[nodiscard]] const Turns& turns(bool behind) const { return behind ? behind_ : before_; }
  /// A pattern of these turns with the problem's limits for its straights.
  [[nodiscard]] Pattern pattern(std::size_t turns, std::size_t reduced_at) const;
  /// The pieces of least cost for a chain; unset where the stock has none for one of its turns.
  [[nodiscard]] std::optional<Way> dressed(const Pattern& pattern, const Chain& chain) const;
  /// No way of so many turns costs less.
  [[nodiscard]] double least_cost(std::size_t turns) const;
  [[nodiscard]] bool has_reducer() const { return problem_->reducer.has_value() && differs_; }

private:
  [[nodiscard]] Turns turns_of(double outer_diameter_m) const;
  const Problem* problem_;
  bool differs_ = false;
  Turns before_, behind_;
};

/// Diameters, radii and angles that differ by no more than this [m or rad] are one.
inline constexpr double one_size = 1e-7;

} // namespace bellmouth::way
