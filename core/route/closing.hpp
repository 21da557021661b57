// SPDX-License-Identifier: GPL-3.0-or-later
// The search for the sizes that bring the end of a chain onto a port with the least change.
//
// Unknowns are the changes, each times the root of its weight, an angle times `arm_m` besides: then the cost
// is half the square of their length. Conditions are five equations (position, direction) linear at each
// step, and planes that keep the chain clear.
#pragma once

#include "chain.hpp"
#include "nearest.hpp"

#include <cstdint>

namespace bellmouth::route {

/// A linear condition on the unknowns: a . z >= b.
struct Plane {
  std::vector<double> a;
  double b;
};

/// A point of the search.
struct Found {
  std::vector<double> z;
  double miss_m = 0; ///< root of gap^2 + (arm_m x angle)^2 + squares of what planes are missed by
  double cost = 0;

  /// Beyond any tolerance that makes sense in a bay.
  [[nodiscard]] bool closed() const { return miss_m <= 1e-7; }
};

/// How hard to look.
struct Effort {
  int starts = 60; ///< from elsewhere, while the port is not met
  int others = 2;  ///< more once it is, in search of a lesser change
};

class Closing {
public:
  /// `present`: the sizes as they are, for each freedom. Rows of the freedoms must be in order.
  Closing(Chain chain, const build::Pose& to, const std::vector<Freedom>& freedoms,
          const std::vector<double>& present);

  void set_planes(std::vector<Plane> planes) { planes_ = std::move(planes); }
  [[nodiscard]] Found find(const Effort& effort);
  /// A solution with a lesser change than its neighbours', from a start of that number; 0 is the present.
  [[nodiscard]] Found find_from(int number);

  [[nodiscard]] double change(const Found& found, std::size_t i) const { return found.z[i] / scale_[i]; }
  [[nodiscard]] double scale(std::size_t i) const { return scale_[i]; }
  /// Which limits keep the point from coming nearer: -1 the lower, 1 the upper, 0 neither.
  [[nodiscard]] std::vector<int> binding(const Found& found);
  /// The chain laid at a point.
  [[nodiscard]] const Chain& chain_at(const Found& found);
  [[nodiscard]] int evaluations() const { return evaluations_; }

private:
  enum class Near { present, start };

  void evaluate(std::span<const double> z);
  [[nodiscard]] double cost(std::span<const double> z) const;
  [[nodiscard]] std::vector<double> present() const;
  [[nodiscard]] Found approach(std::vector<double> z, Near near, int steps_left);
  [[nodiscard]] Found lessened(Found found);
  [[nodiscard]] std::vector<double> start(int number);
  [[nodiscard]] double random();

  Chain chain_;
  build::Pose to_;
  std::vector<double> scale_, low_, high_, zero_;
  std::vector<bool> turns_;
  std::vector<Plane> planes_;
  // As evaluate() leaves them
  Conditions conditions_;
  double miss_m_ = 0;
  // Room to work in
  Nearest nearest_, restoring_;
  std::vector<double> changes_, near_low_, near_high_, next_;
  std::uint64_t random_ = 0;
  int evaluations_ = 0;
};

} // namespace bellmouth::route
