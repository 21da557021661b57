// SPDX-License-Identifier: GPL-3.0-or-later
// A run in space: the exact centreline of lines and arcs that starts in a port's frame.
#pragma once

#include <bellmouth/build.hpp>

#include <optional>
#include <vector>

namespace bellmouth::bay {

/// A place on the centreline: position [m], direction of flow, and the reference that clocking is measured
/// from; the two are unit vectors at right angles. The reference does not turn about the direction on its way
/// (rotation-minimising).
struct Frame {
  build::Vector position_m{};
  build::Vector direction{1, 0, 0};
  build::Vector reference{0, 0, 1};
};

/// The frame of a stream leaving a port. The reference is "up" (z) made square to the direction; for a port
/// that points along z within 8 degrees it is x (forward).
[[nodiscard]] Frame frame_of(const build::Pose& port);

/// Straight on by `length_m`.
[[nodiscard]] Frame advanced(const Frame& frame, double length_m);
/// Round an arc of `angle_rad` at `radius_m`, its plane turned `clocking_rad` clockwise (looking downstream)
/// from the reference: the bend turns towards n = reference cos C + (direction x reference) sin C; afterwards
/// the reference is n carried along.
[[nodiscard]] Frame turned(const Frame& frame, double angle_rad, double radius_m, double clocking_rad);

/// What the centreline does along one piece: a straight, an arc (radius > 0), a straight.
struct Track {
  double straight_in_m = 0, angle_rad = 0, radius_m = 0, clocking_rad = 0, straight_out_m = 0;
  [[nodiscard]] double length_m() const { return straight_in_m + angle_rad * radius_m + straight_out_m; }
};
/// The track of a piece's full length (a mitred bend follows the polygon of its cuts as the arc it is drawn
/// on, with the same end). `cover_in_m` and `cover_out_m` are taken off the ends: the parts of a hose that
/// cover a spigot. Where a cover is longer than the leg of an elbow, that straight comes out negative, so
/// that the length still adds up; fittings have no track (all zero).
[[nodiscard]] Track track(const build::Shape& shape, double cover_in_m, double cover_out_m);
[[nodiscard]] Frame followed(const Frame& frame, const Track& track);
/// The frame `distance_m` along a track that starts in `frame`, 0 to the track's length; beyond its ends it
/// goes on straight.
[[nodiscard]] Frame along(const Frame& frame, const Track& track, double distance_m);

/// Where a boss or a flange sits: `position_m` along its host's track, on the side that `clocking_rad` says,
/// clockwise looking downstream from the reference there (in and behind a bend: from the bend's plane).
struct Seat {
  build::Vector on_centreline_m{}, on_wall_m{};
  build::Vector outward{}; ///< square to the centreline
};
[[nodiscard]] Seat seat(const Frame& host, const Track& track, double position_m, double clocking_rad,
                        double radius_m);

/// How a run ends against the port it should meet.
struct Meeting {
  double gap_m;     ///< distance between the run's end and the port
  double angle_rad; ///< between the run's direction and the port's axis
};
/// Frames at the start and behind every track; empty when the port is not measured.
[[nodiscard]] std::vector<Frame> place(const std::optional<build::Pose>& from,
                                       const std::vector<Track>& tracks);
[[nodiscard]] std::optional<Meeting> meeting(const std::vector<Frame>& frames,
                                             const std::optional<build::Pose>& to);

} // namespace bellmouth::bay
