// SPDX-License-Identifier: GPL-3.0-or-later
// How near each piece of the ducting comes to everything round it, in a state of the bay.
//
// A piece takes the room of a ball pulled along its centreline, with the radius over wall and lagging. So the
// distance to a solid is that of the centreline less the radius, and goes on below zero where the two
// overlap. Of a scan only the surface is known: there it goes on to minus the radius. Clamps and beads are
// left out.
#pragma once

#include <bellmouth/bay.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace bellmouth::bay {

/// The room that one row of a run takes. Fittings take none, nor does a run whose start is not measured: no
/// radius.
struct Room {
  Frame frame; ///< where its centreline starts
  Track track;
  double radius_in_m = 0, radius_out_m = 0; ///< over wall and lagging; goes evenly from end to end
  double cover_in_m = 0,
         cover_out_m = 0; ///< of a hose: it goes on over a spigot, before and behind its track
  /// Share of the engine's movement that each end makes: 0 body, 1 engine.
  double follows_in = 0, follows_out = 0;
  int mitres = 0; ///< of a mitred bend
};
/// A run as it lies. Stands on its own.
struct RunRoom {
  build::RunId run;
  build::Port from, to;
  std::vector<Room> rows; ///< one for each piece
};
/// The room of a run whose rows have these tracks. What stands before the first flexible piece moves with the
/// port it begins at, what stands behind the last with the other; in between the movement changes evenly
/// along the flexible pieces (along the whole run where there is none). `frames` as place() gives them. A
/// hump hose counts as wide as its hump, an adapter as its wider end.
[[nodiscard]] RunRoom room(const build::Build& build, const build::Run& run, const std::vector<Track>& tracks,
                           const std::vector<Frame>& frames);

/// \name What a piece can come near
///@{
struct NearKeepOut {
  std::size_t index; ///< among the build's keep-outs
  friend bool operator==(const NearKeepOut&, const NearKeepOut&) = default;
};
struct NearPort {
  build::PortId port;
  friend bool operator==(const NearPort&, const NearPort&) = default;
};
/// A piece of another run, or of its own.
struct NearPiece {
  build::RunId run;
  std::size_t row;
  friend bool operator==(const NearPiece&, const NearPiece&) = default;
};
using Neighbour = std::variant<NearKeepOut, NearPort, NearPiece>;
///@}

/// Where a piece and a neighbour come nearest.
struct Gap {
  std::size_t row = 0; ///< of the piece in its run
  Neighbour neighbour;
  double distance_m = 0; ///< from surface to surface, below zero where they overlap
  double required_m = 0; ///< what the neighbour's class asks for
  double doubt_m = 0;    ///< by how much the distance may be less, for the tolerances of what was measured
  double along_m = 0;    ///< on the piece's centreline, from its start; a hose's covers lie beyond its ends
  /// On the surface of either; with a roll they are the engine's shake further apart than the distance says.
  build::Vector on_piece_m{}, on_neighbour_m{};

  [[nodiscard]] double margin_m() const { return distance_m - required_m; }
};

struct RunClearance {
  std::vector<std::optional<Gap>> nearest; ///< by row: the nearest of all neighbours; unset for fittings, for
                                           ///< rows without a place, and where there is nothing in the bay
  std::vector<Gap> tight; ///< each piece and neighbour nearer than required plus doubt, least margin first
  /// The least distance of the run; unset where no row has one.
  [[nodiscard]] const Gap* closest() const;
};

/// What is asked for. What is tight alone is found some times faster where most is clear; `nearest` stays
/// unset then.
enum class Wanted { all, tight };
/// The clearances of all runs in a state of the bay; no state: at rest. A state must be one of the build's
/// (an assertion). Exact for solids to some 1e-9 m, within 0.05 mm for scans. Mitred bends count as the
/// polygon of their cuts with its corners. What counts:
///  - Keep-outs that are there in that state; scans that are not loaded do not count. Of the body of the
///    machine that a run begins or ends at, the run's first stretch, as long as the radius, the clearance and
///    the doubt, is left out: straight out of a flat face it would always be too near. Behind it the body
///    counts only where the run goes along it or comes back, not where it is still on its way off.
///  - The spigots of ports other than the run's own: cylinders as long as their land back from the port. On a
///    machine that the run begins or ends at they count as its body does.
///  - Pieces of other runs; where both begin or end at one machine, or in the open at one place, the first
///    stretch of either, as above, does not count against the first stretch of the other, nor does the hose
///    over the spigot, nor count two places at which both are on their way off to different sides.
///  - Pieces of the same run that are further along the way than pi/2 times the distance between centrelines
///    at which they would be too near: nearer on a smooth way than that is only a bend (Schur's comparison
///    theorem for curves). One that is far enough counts only where the run comes back towards itself, not
///    where it is nearest for being next along the way.
/// With a roll, what follows the engine is turned about the movement's axis by that share of its roll, and
/// the shake is taken off each distance between what follows the engine and what does not (in the measure in
/// which it does not).
[[nodiscard]] std::vector<RunClearance> clearances(const build::Build& build,
                                                   const std::vector<RunRoom>& runs,
                                                   const std::optional<build::StateId>& state = std::nullopt,
                                                   Wanted wanted = Wanted::all);

/// The engine's movement in a state as a motion: a point of the engine at rest, and where it is then.
[[nodiscard]] build::Vector moved(const build::EngineMovement& movement, double roll_share,
                                  const build::Vector& point_m);

/// \name Signed distance of a point to a keep-out's surface, below zero inside: exact
///@{
[[nodiscard]] double distance_m(const build::Box& box, const build::Vector& point_m);
[[nodiscard]] double distance_m(const build::Cylinder& cylinder, const build::Vector& point_m);
[[nodiscard]] double distance_m(const build::Sphere& sphere, const build::Vector& point_m);
[[nodiscard]] double distance_m(const build::HalfSpace& half, const build::Vector& point_m);
///@}

} // namespace bellmouth::bay
