// SPDX-License-Identifier: GPL-3.0-or-later
// Why a problem has no way, as far as a search can tell, and what would give it one.
#pragma once

#include <bellmouth/way/find.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bellmouth::way {

/// What lacks room at one thing; several keep-outs of one name are one thing.
struct Narrow {
  std::string name;
  double lacks_m = 0;
  std::size_t keep_out = 0; ///< where it lacks most
};
/// Where a way lacks room, most first.
[[nodiscard]] std::vector<Narrow> narrows(const Problem& problem, const Judgement& judgement);
/// "The way is 4.2 mm too narrow at radiator and 1.0 mm at fan."; there must be some.
[[nodiscard]] std::string text(const std::vector<Narrow>& narrows);
/// What the ends and the stock ask for, where no way joins the ends even with nothing in between.
[[nodiscard]] std::string ends_text(const Problem& problem);

/// More clearance is given back than lacks by this, so that there is a way and not only the edge of one: this
/// program's own.
inline constexpr double spare_m = 0.2e-3;

struct Reason {
  std::string text;
  std::optional<Answer> answer; ///< a way where that is done which the text says: it was tried
};
/// The problem must be valid and have no answer yet in `found` (an assertion). What is known comes first,
/// then what would give a way, least first: bends cut, more bends, waypoints let go, less clearance, a
/// keep-out out of the way. Each is searched for with that effort.
[[nodiscard]] std::vector<Reason> reasons(const Problem& problem, const Found& found, const Effort& each);

} // namespace bellmouth::way
