// SPDX-License-Identifier: GPL-3.0-or-later
// Places and directions as they are said at the bench: "120 mm below and 40 mm left of blower outlet".
#pragma once

#include <bellmouth/build.hpp>

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::bay {

/// How the text is read.
struct Wording {
  std::string_view length_unit = "mm"; ///< of a bare number, by symbol
  char decimal = '.';                  ///< decimal sign of the reader's locale
  /// Where the thing is now: "20 mm up" counts from there, and so does "of here". Unset: it has no place yet.
  std::optional<build::Vector> here = std::nullopt;
};

/// The port that is meant [a pointer into `build`]: its id ("blower_out", "blower out"), its machine and its
/// end as runs use it ("blower outlet", "blower out"), its machine and its id, or its machine alone where
/// that has one port. Capitals do not count. Errors: no such port, or more than one; with the ports there
/// are.
[[nodiscard]] Result<const build::Port*> port_named(const build::Build& build, std::string_view name);

/// A place in the bay [m], said in one of these ways:
///  - three lengths forward, left and up: "300 -150 350", "300; -150; 350 mm", "12 in, 3 1/2 in, 0 in". A
///  unit behind
///    the last alone counts for all; else each has its own, or none has;
///  - lengths and sides from a port, from the origin or from here: "120 mm below and 40 mm left of blower
///  out",
///    "1 1/2 in ahead of throttle_in, 30 mm up", "30 mm up from the origin", "20 mm up". Sides: ahead, in
///    front, forward; behind, back; left; right; above, up; below, down; and "out of" a port: along its own
///    direction. Each counts along the axes of the bay, whatever the order;
///  - a port: "at blower out".
/// Errors have the column in bytes, what was found, and what is accepted.
[[nodiscard]] Result<build::Vector> place_of(const build::Build& build, std::string_view text,
                                             const Wording& wording = {});
/// What is typed where one coordinate is shown (`axis` 0 forward, 1 left, 2 up): a length alone changes that
/// coordinate of the place here, which there must be then; all else is read as a place.
[[nodiscard]] Result<build::Vector> place_with_coordinate(const build::Build& build, std::string_view text,
                                                          std::size_t axis, const Wording& wording = {});

/// A direction of unit length, said in one of these ways:
///  - sides: "forward", "up and back" (midway between them);
///  - turned from sides: "30 deg up from forward", "20 deg left and 30 deg up from forward": one turn after
///  the
///    other, each in the plane of the direction so far and its side;
///  - three numbers, forward, left and up: "1 0 0", "0.5; 0; -1", of any length but zero;
///  - a port's: "like blower out", "against blower out".
[[nodiscard]] Result<build::Vector> direction_of(const build::Build& build, std::string_view text,
                                                 const Wording& wording = {});
/// The direction in words that direction_of() reads back to 1e-6 rad: "forward", "30° up from forward".
[[nodiscard]] std::string direction_words(const build::Vector& direction, char decimal = '.');

/// So many lengths [m] in a row: "400 x 200 x 150 mm", "60; 300", units as for a place.
[[nodiscard]] Result<std::vector<double>> lengths_of(std::string_view text, std::size_t count,
                                                     const Wording& wording = {});

/// A turn [rad] as an angle ("2 deg") or by how far something goes at a distance from the axis: "15 mm at 400
/// mm" is 15/400 rad. A bare number is degrees.
[[nodiscard]] Result<double> turn_of(std::string_view text, const Wording& wording = {});

/// \name How a body is turned in the bay
///@{
/// Three turns one after the other, each about the body's own axes: to the left about up, nose up, and over
/// to the right about forward [rad]. Nose up is the opposite of the pitch of ISO 8855, which is positive nose
/// down.
struct Attitude {
  double left_rad = 0, nose_up_rad = 0, over_right_rad = 0;
  friend bool operator==(const Attitude&, const Attitude&) = default;
};
using Axes = std::array<build::Vector, 3>;
/// Where the body's forward, left and up point then: right-handed axes.
[[nodiscard]] Axes axes_of(const Attitude& attitude);
/// The attitude of right-handed axes, nose up from -pi/2 to pi/2; at those ends no over.
[[nodiscard]] Attitude attitude_of(const Axes& axes);
/// Whether the axes are those of a mirrored body.
[[nodiscard]] bool left_handed(const Axes& axes);
///@}

} // namespace bellmouth::bay
