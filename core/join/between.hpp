// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces that join two ends.
#pragma once

#include "shop.hpp"

#include <optional>
#include <vector>

namespace bellmouth::join {

/// One of the two ends that are to be joined.
struct Side {
  bool flexible = false;
  double size_m = 0; ///< outside diameter of a rigid end, bore of a flexible one
  double room_m = 0; ///< rigid: straight length that a hose can use; flexible: how far a tube goes in
  bool can_be_welded = false;
  build::Material material = build::Material::aluminium;
};

struct Wish {
  bool hump = false; ///< one hose alone has to take movement
  Duty duty;
  build::Material metal = build::Material::aluminium; ///< of tubes, where there is a choice
  build::Material hose = build::Material::silicone;   ///< of hoses, where there is a choice
};

/// The chain of stock pieces that leads from one end to the other: hoses, reducers, tubes between two of
/// them, cones and adapters; none of it bent. Among all there are, by these in turn: fewest pieces; hoses
/// that stand heat and pressure; the fewest ends that sit short or slack; the fewest pieces of another
/// material, sizes easily mistaken and humps that nothing asks for; least money, clamps counted and owned
/// things free. At most six pieces; empty: there is none. Found by a search over the sizes in stock.
[[nodiscard]] std::vector<build::Piece> between(const Shop& shop, const Side& upstream,
                                                const Side& downstream, const Wish& wish);

} // namespace bellmouth::join
