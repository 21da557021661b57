// SPDX-License-Identifier: GPL-3.0-or-later
// Where the saw goes on each bought or owned thing of a buying plan, as it is measured at the bench.
#pragma once

#include <bellmouth/buy.hpp>
#include <bellmouth/buy/plan.hpp>
#include <bellmouth/list.hpp>

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace bellmouth::buy {

/// A place on a thing that is sawn. End A is its inlet end: for a length of tube either end, for a bend the
/// end of its first straight. A is marked before anything is sawn.
struct Place {
  enum class On {
    straight, ///< a length without an arc
    leg_a,    ///< the straight at end A of a bend
    arc,
    leg_b ///< the straight at its other end
  } on = On::straight;
  double from_a_m = 0;   ///< along the centreline from end A
  double from_arc_m = 0; ///< in a leg: to the end of the arc on that side
  list::OnArc arc;       ///< in the arc: from its start at end A's side
};
/// What lies between two places of a thing that is sawn.
struct SawnPart {
  std::optional<std::size_t> need; ///< by number; unset: left over
  Place from, to;
  bool sawn_from = false, sawn_to = false; ///< else the end is as bought
  bool turned = false;                     ///< of a need: its inlet end lies at `to`
  double short_by_rad = 0;                 ///< of a need: what its angle falls short of what is wanted
  int own_cuts = 0;                        ///< of a need: further saw cuts within it

  [[nodiscard]] double length_m() const { return to.from_a_m - from.from_a_m; }
};
/// A thing of an offer, with its parts from end A on. Between two parts lies a kerf: the marks are where a
/// part begins and ends, the saw goes beside them.
struct SawnThing {
  std::size_t offer = 0;
  double length_m = 0;
  double kerf_m = 0;
  std::vector<SawnPart> parts;
};
/// All things of a plan that something is sawn from, in the plan's order. `outer_diameters_m` has one entry
/// for each offer (0 for what is not sawn), for the lengths along inside and outside of an arc.
[[nodiscard]] std::vector<SawnThing> sawn_things(const Question& question, const Plan& plan,
                                                 std::span<const double> outer_diameters_m);

/// What people call an offer, and the piece a need is for.
struct OfferWords {
  std::string name; ///< of the stock item
  bool owned = false;
  bool made_to_measure = false; ///< bought as it is: not sawn
};
struct NeedWords {
  std::string name;
  std::vector<build::PieceRef> pieces;
  bool spare = false;
};
/// The table "sawing": a row for each part, what is left over too. Words in the order of offers and needs;
/// things of one name are numbered.
[[nodiscard]] list::Table table(const std::vector<SawnThing>& things, std::span<const OfferWords> offers,
                                std::span<const NeedWords> needs);
/// The same of a purchase of a build, which must be the one that was planned for.
[[nodiscard]] list::Table sawing(const build::Build& build, const Purchase& purchase);

} // namespace bellmouth::buy
