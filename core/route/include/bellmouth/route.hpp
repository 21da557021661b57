// SPDX-License-Identifier: GPL-3.0-or-later
// Making a run meet its port: which of its sizes may move, how little they must move, and what stands in the
// way.
//
// The run's end is on its port when its position is the port's and its direction the opposite of the port's;
// how it is rolled about that direction is free. Of all ways to get there the one of least change is taken:
// the least sum of weight x change^2 over all sizes that may move, changes in metres, an angle of one radian
// counted as `arm_m`. Where it cannot get there, it goes as near as it can, an angle counted alike.
#pragma once

#include <bellmouth/bay.hpp>
#include <bellmouth/bay/clearance.hpp>
#include <bellmouth/build.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::route {

/// What one radian is worth as a length [m]: an arm as usual between two bends (this program's own).
inline constexpr double arm_m = 0.1;

/// A size of a piece that can be altered.
enum class What { length, leg_in, leg_out, clocking, angle };
/// As files spell it ("leg_in") and as people read it ("inlet leg").
[[nodiscard]] std::string_view key(What what);
[[nodiscard]] std::string_view name(What what);
/// An angle [rad]; otherwise a length [m].
[[nodiscard]] bool is_angle(What what);

/// The size of a shape [m or rad]; unset where a shape of that kind has none (fittings have none at all).
[[nodiscard]] std::optional<double> value(const build::Shape& shape, What what);
/// "row 3 (tube)", rows counted from 1.
[[nodiscard]] std::string row_words(const build::Run& run, std::size_t row);

/// The shape with another size, which it must have (an assertion).
[[nodiscard]] build::Shape with_value(const build::Shape& shape, What what, double value);

/// A size that may move between two limits [m or rad]. A clocking that may move a whole turn has no limits
/// but stays in its range all the same.
struct Freedom {
  std::size_t row = 0;
  What what = What::length;
  double low = 0, high = 0;
  double weight = 1; ///< how dear a change is
  friend bool operator==(const Freedom&, const Freedom&) = default;
};

/// \name Weights of a change (this program's own)
///@{
inline constexpr double length_weight = 1;
inline constexpr double clocking_weight = 0.25; ///< costs nothing but a mark
inline constexpr double angle_weight = 4;       ///< a cut through a bend
[[nodiscard]] double usual_weight(What what);
///@}

/// What may move unless the user says otherwise, in order of rows; the present size always lies within:
///  - tubes: from what the hoses on its ends cover and 10 mm (never under a boss) to the length of the stock
///    item, or to 2 m;
///  - hoses: from both engagements and an 8 mm gap to the length of the stock item, or to 300 mm;
///  - legs of bends and hose elbows: from what the joint covers to the stock item's leg, or to what they are;
///    not a leg welded to a tube that may change its own length;
///  - clockings: a whole turn;
///  - angles of tube bends, which are cut smaller: from 5 degrees to the stock item's angle, or to what they
///    are; not where the item would no longer do because both legs are wanted. Angles of mitred bends
///    without an item alike.
/// Cones, adapters, hump hoses and reducers are bought or turned as they are and stay.
[[nodiscard]] std::vector<Freedom> freedoms(const build::Build& build, const build::OptionId& option,
                                            const build::RunId& run);
/// The first thing wrong with freedoms: a row that is not there or has no such size, one named twice, limits
/// that are crossed or beyond what a piece can be made with (what it is made with can be).
[[nodiscard]] std::optional<Error> validate(const build::Run& run, const std::vector<Freedom>& freedoms);

/// What is wanted of the end, and of the way.
struct Wanted {
  double gap_m = 0.1e-3;
  double angle_rad = 0.00087266462599716477; ///< 0.05 degrees
  bool keep_clear = true; ///< come no nearer to anything than required, or than it was where that is less
  bool few = false;       ///< alter as few sizes as can be, for a change of at most three times the least
  bool help = true;       ///< work out what would help where it cannot be met
};

struct Change {
  std::size_t row;
  What what;
  double from, to; ///< [m or rad]
};
/// A limit that keeps the run from coming nearer.
struct Binding {
  Freedom freedom;
  bool at_high; ///< its upper limit; else the lower
};
/// One thing that would let the run meet its port. It was tried: `after` is how the run then ends.
struct Help {
  std::string text;
  std::optional<Freedom> freedom; ///< wider limits, or a size that was held
  std::size_t row = 0;
  std::optional<build::Piece> piece; ///< what to put in the row's place
  build::Build build;                ///< with that done
  bay::Meeting after{};
};

enum class Stop {
  met,
  not_measured, ///< a port of the run has no place
  out_of_reach, ///< nothing within the limits brings the end to the port
  not_clear,    ///< it meets, but something stands in the way
};
/// As files spell it ("out_of_reach"), and in words.
[[nodiscard]] std::string_view key(Stop stop);
[[nodiscard]] std::string_view text(Stop stop);

struct Met {
  Stop stop = Stop::not_measured;
  build::Build build;                        ///< with the run changed: met, or as near as it comes
  std::vector<Change> changes;               ///< in order of rows
  std::vector<std::size_t> without_stock;    ///< rows whose stock item no longer does, and was taken off
  std::optional<bay::Meeting> before, after; ///< placed anew from the builds themselves
  /// The pieces and neighbours of least margin in any state of the bay; unset where nothing is near, where a
  /// port is not measured, and where clearance is not wanted.
  std::optional<bay::Gap> tightest_before, tightest_after;
  std::vector<bay::Gap> in_the_way; ///< where it is not clear: what falls short, most first
  std::vector<Binding> binding;     ///< where it is out of reach or cannot be clear
  std::vector<Help> help;
  int iterations = 0; ///< evaluations of the chain

  [[nodiscard]] bool met() const { return stop == Stop::met; }
};

/// Brings the end of a run onto its port. Option, run and freedoms must be valid (an assertion). Pure and
/// deterministic.
[[nodiscard]] Met meet(const build::Build& build, const build::OptionId& option, const build::RunId& run,
                       const std::vector<Freedom>& freedoms, const Wanted& wanted = {});

} // namespace bellmouth::route
