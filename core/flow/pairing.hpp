// SPDX-License-Identifier: GPL-3.0-or-later
// Which way the stream would go if it were given time: the unknowns and the residuals that move them.
#pragma once

#include "elements.hpp"

#include <vector>

namespace bellmouth::flow {

/// A residual of a march or of a solve, by its place.
struct Pairing {
  /// A branch or, outside of branches, the trunk with a blower whose excess speeds its flow up.
  struct Blown {
    std::size_t excess, ratio;
    std::size_t share = none; ///< place of the branch's share; none: trunk or first branch
    std::size_t join = none;  ///< of branches but the first
  };
  std::vector<Blown> blown;
  /// Branches without such a blower: the share grows with the pressure at their ends.
  struct Passive {
    std::size_t share, join;
  };
  std::vector<Passive> passive;
  /// Throttle plates on the trunk, in order.
  struct Plate {
    std::size_t excess, throat;
    bool behind_blower;
  };
  std::vector<Plate> plates;
  std::size_t marched = 0; ///< residuals of a march; those of engine and target follow
};

[[nodiscard]] inline Pairing pairing_of(const Path::Impl& path, const std::vector<Element>& elements) {
  Pairing pairing;
  const Group* group = nullptr;
  std::size_t branch = 0;
  std::size_t blower = none; ///< of this branch, in `blown`
  const auto end_branch = [&] {
    if (branch == 0)
      return;
    const std::size_t join = pairing.marched++, share = group->first_share + branch - 1;
    if (blower != none) {
      pairing.blown[blower].share = share;
      pairing.blown[blower].join = join;
    } else {
      pairing.passive.push_back({share, join});
    }
  };
  for (const Element& element : elements) {
    if (const auto* split = std::get_if<SplitElement>(&element.law)) {
      group = &path.groups[split->group];
      branch = 0;
      blower = none;
    } else if (std::holds_alternative<BranchElement>(element.law)) {
      end_branch();
      ++branch;
      blower = none;
    } else if (std::holds_alternative<JoinElement>(element.law)) {
      end_branch();
    } else if (const auto* plate = std::get_if<PlateElement>(&element.law);
               plate != nullptr && plate->throat != none) {
      pairing.plates.push_back({pairing.marched++, plate->throat, !pairing.blown.empty()});
    } else if (const auto* blows = std::get_if<BlowerElement>(&element.law);
               blows != nullptr && blows->ratio != none && path.blowers[blows->blower].target() == nullptr) {
      blower = pairing.blown.size();
      pairing.blown.push_back({pairing.marched++, blows->ratio, none, none});
    }
  }
  return pairing;
}

} // namespace bellmouth::flow
