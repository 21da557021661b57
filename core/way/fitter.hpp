// SPDX-License-Identifier: GPL-3.0-or-later
// Brings a chain onto its port and clear of everything: least squares over all its sizes at once (Levenberg
// and Marquardt), with the exact derivatives of the chain. What is broken (a gap that is too small) counts by
// how far; what is kept does not count.
#pragma once

#include "chain.hpp"
#include "ground.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace bellmouth::way {

/// One thing that is, or is nearly, too small: `value_m` should not be below zero.
struct Bound {
  double value_m = 0;
  std::array<double, most_sizes> slope{}; ///< by the sizes of the chain
};

/// The sizes of a chain that may move, in one order: straights, clockings, angles that are not fixed.
class Sizes {
public:
  explicit Sizes(const Pattern& pattern);
  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] double get(const Chain& chain, std::size_t size) const;
  void set(Chain& chain, std::size_t size, double value) const;
  [[nodiscard]] double low(std::size_t size) const { return low_[size]; }
  [[nodiscard]] double high(std::size_t size) const { return high_[size]; }
  [[nodiscard]] std::size_t straight(std::size_t i) const { return i; }
  [[nodiscard]] std::size_t clocking(std::size_t i) const { return turns_ + 1 + i; }
  /// Of the angle of a turn; count() when it is fixed.
  [[nodiscard]] std::size_t angle(std::size_t i) const { return angle_[i]; }

private:
  std::size_t turns_, count_;
  std::array<std::size_t, most_turns> angle_{}, turn_of_{};
  std::array<double, most_sizes> low_{}, high_{};
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
  static constexpr double far_reach_m = 40e-3;

  Fitter(const Problem& problem, const Ground& ground);

  /// The squares of all that is wrong [m2].
  [[nodiscard]] double wrong(const Pattern& pattern, const Chain& chain);
  /// The most that a straight way from point to point lacks [m], by rough samples.
  [[nodiscard]] double leg_lacks_m(const Vector& from, const Vector& to);
  /// What a tube of the smaller port's size lacks with its middle at a point [m].
  [[nodiscard]] double lacks_m(const Vector& point);
  /// Moves such a point away from what is too near, by `most_m` at most; what it then lacks [m].
  double ease(Vector& point, double most_m);
  /// With all bounds whose value is below `reach_m`, and slopes.
  void stand(const Pattern& pattern, const Chain& chain, double reach_m, Standing& standing);
  /// Least squares. True: the chain meets its port to 1e-9 m and nothing lacks anything, as far as
  /// samples tell.
  bool fit(const Pattern& pattern, Chain& chain, int most_steps);
  /// Brings the end onto its port alone, with the least change. False: out of reach.
  bool close(const Pattern& pattern, Chain& chain);
  /// Squares of all that is wrong with the last fit's chain [m2].
  [[nodiscard]] double sum_m2() const { return standing_.sum; }

  [[nodiscard]] const Problem& problem() const { return *problem_; }

private:
  struct Sampled {
    std::uint32_t keep_out;
    double value_m, share;
  };
  void look(const Pattern& pattern, const Chain& chain, const Lie& lie, double reach_m);
  void waypoints(const Lie& lie);
  struct Place {
    std::size_t element;
    double share, value_m;
    Vector away;
  };
  template <class Radius, class Counts>
  void to_valley(const Element& element, std::uint32_t keep_out, const Touch& touch, Place& place,
                 const Radius& radius_at, const Counts& counts);

  const Problem* problem_;
  const Ground* ground_;
  std::vector<Ground> through_; ///< the waypoints, one by one
  Cells cells_, far_cells_;     ///< the latter for a reach of up to far_reach_m
  std::vector<Sampled> near_;
  std::vector<Place> places_;
  Standing standing_, tried_;
};

} // namespace bellmouth::way
