// SPDX-License-Identifier: GPL-3.0-or-later
// Which bought piece each made piece comes from, at least money: the question and its answer as plain values.
//
// A thing that is sawn has a body: a straight end, an arc, a straight end, all along its centreline. A length
// of tube or hose is a body without an arc, a mandrel bend or a moulded elbow one with it. Cuts are square to
// the centreline (radial in the arc) and each takes a kerf out of it. Out of a bent body come
// - pieces with the whole arc, their straight ends cut down,
// - pieces of arc, of which the first and the last may keep the straight end that is theirs,
// - straight pieces out of what is left of the straight ends.
// Pieces may be turned end for end. A saw cut that would leave nothing beyond it (to `nothing_m`) is not
// made.
//
// How an arc is shared. A piece with straight ends on both sides wants the whole arc, as does one of the same
// angle; arc and angle are the same within `same_angle_rad`. Several pieces may want as much as the arc
// holds, within `same_angle_rad`; what the kerfs between them then take is missing from the pieces, the same
// angle from each and never more than `Question::angle_short_rad`: two 90 degree pieces out of a 180 degree
// bend of 95 mm radius fall short by 0.75 degrees each with a kerf of 2.5 mm. A piece without a straight end
// begins where the arc does, with the kerf in the straight; so only cuts within the arc take from it.
#pragma once

#include <bellmouth/quantity.hpp>

#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace bellmouth::buy {

/// What is left over counts from this length on [m].
inline constexpr double nothing_m = 0.05e-3;
/// An arc and a wanted angle are the same within half a degree [rad] (our choice: about what a protractor
/// shows).
inline constexpr double same_angle_rad = 8.726646259971648e-3;
/// Highest price that a question may hold [minor units].
inline constexpr std::int64_t highest_price_minor = 1'000'000'000;

/// Lengths [m] and angle [rad] along the centreline, all >= 0. Without an arc the straights are one length.
struct Body {
  double straight_in_m = 0, radius_m = 0, angle_rad = 0, straight_out_m = 0;

  [[nodiscard]] double length_m() const { return straight_in_m + radius_m * angle_rad + straight_out_m; }
  friend bool operator==(const Body&, const Body&) = default;
};

/// What a piece must be cut from, or that it is had whole.
enum class Form {
  whole, ///< used as it is bought: boss, flange, cone, clamp
  sawn,  ///< cut from a body
};

/// One piece that has to be had.
struct Need {
  Form form = Form::whole;
  Body body; ///< sawn: what is to be made; its straight ends hold the land that clamps want
  int own_cuts =
      0; ///< sawn, straight: saw cuts within it (the mitres of a segmented bend), each a kerf longer
  /// The offers that can serve it, by number: of its form, of its section and material and, where both have
  /// an arc, of its radius. Whether it can be cut out of their bodies is for the plan to find out.
  std::vector<std::size_t> offers;
  friend bool operator==(const Need&, const Need&) = default;
};

/// Something that can be had.
struct Offer {
  Form form = Form::whole;
  Body body;             ///< sawn, by the piece
  bool by_metre = false; ///< sawn, straight: bought to length, the price is for a metre
  double longest_m =
      std::numeric_limits<double>::infinity(); ///< by the metre: the longest single length sold
  int pack = 1; ///< by the piece: how many there are in one pack, which the price is for; >= 1
  std::int64_t price_minor = 0;        ///< >= 0, of a pack or a metre; 0 for what is owned
  std::optional<std::size_t> supplier; ///< by number; unset: owned, or nobody named
  std::optional<int> available; ///< how many packs there are; unset: as many as wanted (always by the metre)
  bool owned = false;           ///< taken before anything is bought for the same money
  friend bool operator==(const Offer&, const Offer&) = default;
};

struct Postage {
  std::int64_t price_minor = 0;                ///< for one parcel
  std::optional<std::int64_t> free_from_minor; ///< of goods from that supplier
  friend bool operator==(const Postage&, const Postage&) = default;
};

/// What a plan is to be the least in; what comes second is money, then owned things before bought ones.
enum class Aim {
  money,     ///< price of goods and postage
  suppliers, ///< number of suppliers ordered from
  offcuts,   ///< number of pieces left over
};

struct Question {
  std::vector<Need> needs;
  std::vector<Offer> offers;
  std::vector<Postage> postage; ///< of each supplier
  double kerf_m = 2.5e-3;       ///< 0 to 20 mm
  Aim aim = Aim::money;
  double seconds = 1.0; ///< time after which the best plan so far is given; infinity: until it is proven
  /// How much a piece may fall short of its angle where kerfs are taken out of an arc [rad], 0 to 5 degrees.
  /// The default is 1.3 degrees (our choice, what a hose joint takes with ease): from a radius of 73.5 mm on,
  /// a 180 degree bend then gives a 90 and two 45s with a kerf of 2.5 mm.
  double angle_short_rad = 0.022689280275926285;
  friend bool operator==(const Question&, const Question&) = default;
};

/// Where a piece lies in the body it is cut from.
struct Cut {
  std::size_t need = 0;
  double from_m = 0, to_m = 0; ///< along the body's centreline from its inlet end
  bool turned = false;         ///< its outlet end lies nearer to the body's inlet end
  double short_by_rad = 0;     ///< what its angle falls short of what is wanted; negative: is more
  friend bool operator==(const Cut&, const Cut&) = default;
};

/// One bought or owned thing and what comes out of it.
struct Use {
  std::size_t offer = 0;
  double length_m = 0;            ///< sawn: of the body; by the metre: what is bought in this length
  std::vector<Cut> cuts;          ///< sawn: in order from the inlet end, a kerf or more between neighbours
  std::vector<std::size_t> needs; ///< whole: what it serves; no more than the pack holds
  std::vector<Body> offcuts;      ///< what is left, from the inlet end; kerfs taken off
  friend bool operator==(const Use&, const Use&) = default;
};

/// Which pieces are got out of what. Nothing is bought that serves no piece.
struct Plan {
  std::vector<Use> uses;             ///< by offer
  std::vector<std::size_t> unserved; ///< needs that no offer serves, or not enough of them
  std::int64_t goods_minor = 0, postage_minor = 0;
  int suppliers = 0; ///< ordered from
  int offcuts = 0;   ///< left over from sawing; what stays in a pack is none

  bool proven = false; ///< nothing is better by the aim
  double bound = 0; ///< no plan is better than this in what the aim counts (minor units, suppliers, offcuts)
  friend bool operator==(const Plan&, const Plan&) = default;
};

/// The first thing that is wrong with a question ("needs[3].offers"), or nullopt.
[[nodiscard]] std::optional<Error> validate(const Question& question);

/// What the uses of one offer cost together: by the piece, as many packs as hold them; by the metre, the
/// price of their whole length, rounded once, half away from zero. All `uses` must be of `offer`.
[[nodiscard]] std::int64_t goods_minor(const Offer& offer, std::span<const Use> uses);

/// The plan that is least by the aim, by an integer programme; the question must be valid (an assertion).
/// What cannot be served is named and left out, all else is planned. Deterministic where the time suffices.
[[nodiscard]] Plan plan(const Question& question);

} // namespace bellmouth::buy
