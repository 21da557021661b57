// SPDX-License-Identifier: GPL-3.0-or-later
// How a hose sits on its two spigots: engagements, gap and length.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/trade.hpp>

#include <optional>

namespace bellmouth::join {

/// A hose's length and how far its spigots go in. `poor` counts what is less than wanted.
struct Seat {
  double length_m = 0;
  build::Engagement engagement{};
  int poor = 0;
};
/// What is given on both sides of a hose: straight length of each spigot [m], and how long the hose can be
/// had [m].
struct Spigots {
  double room_in_m, room_out_m, longest_m;
};

/// The shape of a flexible piece with its length and engagements set as a seat says; elbows keep their legs.
[[nodiscard]] build::Shape seated(build::Shape hose, const Seat& seat);

/// How a flexible piece, as bought or shorter, goes on two spigots: the engagement that bead, band and edge
/// want (engagement_caution), or what the straight lengths leave, down to engagement_stop; in straight and
/// hump hoses a gap between the spigots within the limits. A hose that is longer than needed stays whole
/// where that makes no engagement longer than one and a half times what is wanted, and is cut down otherwise.
/// Nothing: it does not go.
[[nodiscard]] std::optional<Seat> seat(const trade::Limits& limits, const build::Shape& hose,
                                       const Spigots& spigots);

/// How far a spigot may go into each end of a flexible piece [m]: its straight part.
[[nodiscard]] build::Engagement straight_ends_m(const build::Shape& hose);
/// The widest gap between two spigots in a straight or hump hose [m].
[[nodiscard]] double widest_gap_m(const trade::Limits& limits, const build::Shape& hose);
/// The least gap between them [m]; in a hump hose the hump itself.
[[nodiscard]] double least_gap_m(const trade::Limits& limits, const build::Shape& hose);

/// The engagements of a flexible piece.
[[nodiscard]] build::Engagement engagement_of(const build::Shape& hose);

} // namespace bellmouth::join
