// SPDX-License-Identifier: GPL-3.0-or-later
// Where pieces lie in the body they are cut from.
#pragma once

#include <bellmouth/buy/plan.hpp>

#include <optional>
#include <span>
#include <vector>

namespace bellmouth::buy {

/// A sum of lengths may pass what there is by this much [m]: the rounding of figures in inches.
inline constexpr double rounding_m = 1e-6;

/// A piece to be cut.
struct Piece {
  Body body;
  int own_cuts = 0;

  [[nodiscard]] bool straight() const { return body.angle_rad <= 0; }
  /// What is taken out of a straight body for it [m], without the cut that parts it.
  [[nodiscard]] double length_m(double kerf_m) const {
    return body.straight_in_m + body.straight_out_m + kerf_m * own_cuts;
  }
};

/// What the saw allows.
struct Sawing {
  double kerf_m = 0, angle_short_rad = 0;
};

/// Pieces in a body: `cuts` name them by their place in the question.
struct Layout {
  std::vector<Cut> cuts;
  std::vector<Body> offcuts;
};

/// Pieces laid out in a body so that the fewest are left over; nullopt if they cannot all come out of it.
[[nodiscard]] std::optional<Layout> lay_out(const Body& body, std::span<const Piece> pieces, Sawing sawing);

} // namespace bellmouth::buy
