// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/vectors.hpp>

#include <bellmouth/bay.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <type_traits>

namespace bellmouth::bay {

namespace {

/// The part of `a` at right angles to the unit vector `direction`, as a unit vector.
Vector squared_to(const Vector& a, const Vector& direction) {
  return unit(combined(1, a, -dot(a, direction), direction));
}

constexpr double upright_rad = 8 * std::numbers::pi / 180;

} // namespace

Frame frame_of(const build::Pose& port) {
  const Vector up{0, 0, 1}, forward{1, 0, 0};
  const Vector direction = unit(port.direction);
  const double from_upright_rad = std::atan2(std::hypot(direction[0], direction[1]), std::abs(direction[2]));
  return {port.position_m, direction, squared_to(from_upright_rad <= upright_rad ? forward : up, direction)};
}

Frame advanced(const Frame& frame, double length_m) {
  return {combined(1, frame.position_m, length_m, frame.direction), frame.direction, frame.reference};
}

Frame turned(const Frame& frame, double angle_rad, double radius_m, double clocking_rad) {
  const Vector& u = frame.direction;
  const Vector n =
      combined(std::cos(clocking_rad), frame.reference, std::sin(clocking_rad), cross(u, frame.reference));
  const double sine = std::sin(angle_rad), cosine = std::cos(angle_rad);
  const double half = std::sin(angle_rad / 2);
  const Vector step = combined(radius_m * sine, u, radius_m * 2 * half * half, n);
  return {combined(1, frame.position_m, 1, step), combined(cosine, u, sine, n),
          combined(cosine, n, -sine, u)};
}

Track track(const build::Shape& shape, double cover_in_m, double cover_out_m) {
  return std::visit(
      [&](const auto& piece) -> Track {
        using Kind = std::decay_t<decltype(piece)>;
        if constexpr (std::is_same_v<Kind, build::SensorBoss> || std::is_same_v<Kind, build::ValveFlange>)
          return {};
        else if constexpr (requires { piece.clocking_rad; })
          return {piece.leg_in_m - cover_in_m, piece.angle_rad, piece.radius_m, piece.clocking_rad,
                  piece.leg_out_m - cover_out_m};
        else
          return {.straight_in_m = piece.length_m - cover_in_m - cover_out_m};
      },
      shape);
}

Frame followed(const Frame& frame, const Track& track) {
  Frame at = advanced(frame, track.straight_in_m);
  if (track.radius_m > 0)
    at = turned(at, track.angle_rad, track.radius_m, track.clocking_rad);
  return advanced(at, track.straight_out_m);
}

Frame along(const Frame& frame, const Track& track, double distance_m) {
  if (distance_m <= track.straight_in_m || track.radius_m <= 0)
    return advanced(frame, distance_m);
  const double arc_m = track.angle_rad * track.radius_m;
  const double on_arc_m = std::min(distance_m - track.straight_in_m, arc_m);
  const Frame bent = turned(advanced(frame, track.straight_in_m), on_arc_m / track.radius_m, track.radius_m,
                            track.clocking_rad);
  return advanced(bent, distance_m - track.straight_in_m - on_arc_m);
}

Seat seat(const Frame& host, const Track& track, double position_m, double clocking_rad, double radius_m) {
  const Frame at = along(host, track, position_m);
  const Vector outward = combined(std::cos(clocking_rad), at.reference, std::sin(clocking_rad),
                                  cross(at.direction, at.reference));
  return {at.position_m, combined(1, at.position_m, radius_m, outward), outward};
}

std::vector<Frame> place(const std::optional<build::Pose>& from, const std::vector<Track>& tracks) {
  std::vector<Frame> frames;
  if (!from)
    return frames;
  frames.reserve(tracks.size() + 1);
  frames.push_back(frame_of(*from));
  for (const auto& one : tracks)
    frames.push_back(followed(frames.back(), one));
  return frames;
}

std::optional<Meeting> meeting(const std::vector<Frame>& frames, const std::optional<build::Pose>& to) {
  if (frames.empty() || !to)
    return std::nullopt;
  const Frame& end = frames.back();
  const Vector into_port = combined(-1, to->direction, 0, to->direction);
  return Meeting{length(combined(1, to->position_m, -1, end.position_m)),
                 std::atan2(length(cross(end.direction, into_port)), dot(end.direction, into_port))};
}

} // namespace bellmouth::bay
