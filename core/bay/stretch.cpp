// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/stretch.hpp>

#include <cassert>
#include <numbers>

namespace bellmouth::bay {

Motion::Motion(const build::EngineMovement* movement, double roll_share) {
  if (movement == nullptr || roll_share * movement->roll_rad == 0)
    return;
  axis_point_ = movement->axis_point_m;
  axis_ = unit(movement->axis_direction);
  cosine_ = std::cos(roll_share * movement->roll_rad);
  sine_ = std::sin(roll_share * movement->roll_rad);
  at_rest_ = false;
}

Vector Motion::turned(const Vector& direction) const {
  if (at_rest_)
    return direction;
  const Vector across = combined(cosine_, direction, sine_, cross(axis_, direction));
  return plus(across, (1 - cosine_) * dot(axis_, direction), axis_);
}

Vector Motion::moved(const Vector& point) const {
  return at_rest_ ? point : plus(axis_point_, 1, turned(minus(point, axis_point_)));
}

Vector moved(const build::EngineMovement& movement, double roll_share, const Vector& point_m) {
  return Motion(&movement, roll_share).moved(point_m);
}

Stretch part(const Stretch& stretch, double from, double to) {
  Stretch result = stretch;
  result.start = stretch.at(from);
  result.direction = stretch.heading(from);
  if (!stretch.is_straight()) {
    const double angle = from / stretch.bend_m;
    result.to_centre = combined(std::cos(angle), stretch.to_centre, -std::sin(angle), stretch.direction);
  }
  result.length_m = to - from;
  result.radius_in_m = stretch.radius(from);
  result.radius_out_m = stretch.radius(to);
  result.share_in = stretch.share(from);
  result.share_out = stretch.share(to);
  result.along_m = stretch.along(from);
  result.turned_rad = stretch.turned_rad + (stretch.is_straight() ? 0 : from / stretch.bend_m);
  set_bounds(result);
  return result;
}

void set_bounds(Stretch& stretch) {
  const double widest = std::max(stretch.radius_in_m, stretch.radius_out_m);
  if (stretch.turn_rad() > std::numbers::pi) {
    stretch.middle = plus(stretch.start, stretch.bend_m, stretch.to_centre);
    stretch.reach_m = stretch.bend_m + widest;
    return;
  }
  // Up to half a circle the ball over the chord holds the arc.
  const Vector end = stretch.at(stretch.length_m);
  stretch.middle = combined(0.5, stretch.start, 0.5, end);
  stretch.reach_m = 0.5 * length(minus(end, stretch.start)) + widest;
}

namespace {

/// Lays the stretches of one run, piece by piece.
class Layer {
public:
  Layer(const RunRoom& room, const build::EngineMovement* movement, double roll)
      : room_(room), movement_(movement), roll_(movement != nullptr ? roll : 0) {
    run_.rows.resize(room.rows.size());
    run_.stretches.reserve(3 * room.rows.size());
  }

  RunStretches lay() && {
    for (std::size_t row = 0; row < room_.rows.size(); ++row) {
      PieceStretches& piece = run_.rows[row];
      piece.first = run_.stretches.size();
      piece.starts_m = run_.length_m;
      if (room_.rows[row].radius_in_m > 0) {
        lay_piece(row);
        run_.length_m += room_.rows[row].track.length_m();
      }
      piece.last = run_.stretches.size();
      hold(piece);
    }
    return std::move(run_);
  }

private:
  void lay_piece(std::size_t row) {
    const Room& room = room_.rows[row];
    const Track& track = room.track;
    row_ = row;
    radius_in_ = room.radius_in_m;
    radius_out_ = room.radius_out_m;
    length_ = track.length_m();
    follows_in_ = room.follows_in;
    follows_out_ = room.follows_out;
    const double arc_from = track.radius_m > 0 ? track.straight_in_m : length_;
    const double arc_to =
        track.radius_m > 0 ? track.straight_in_m + track.angle_rad * track.radius_m : length_;
    if (room.mitres > 0)
      return lay_mitred(room);
    lay_straight(room.frame, -room.cover_in_m, track.radius_m > 0 ? arc_from : length_ + room.cover_out_m);
    if (track.radius_m <= 0)
      return;
    lay_arc(advanced(room.frame, arc_from), arc_from, track);
    const Frame behind =
        turned(advanced(room.frame, arc_from), track.angle_rad, track.radius_m, track.clocking_rad);
    turned_ += track.angle_rad;
    lay_straight(advanced(behind, -arc_to), arc_to, length_ + room.cover_out_m);
  }

  [[nodiscard]] double share_at(double along) const {
    const double t = length_ > 0 ? std::clamp(along / length_, 0.0, 1.0) : 0;
    return follows_in_ + (follows_out_ - follows_in_) * t;
  }
  [[nodiscard]] double radius_at(double along) const {
    const double t = length_ > 0 ? std::clamp(along / length_, 0.0, 1.0) : 0;
    return radius_in_ + (radius_out_ - radius_in_) * t;
  }
  [[nodiscard]] bool bends_with_roll() const { return roll_ != 0 && follows_in_ != follows_out_; }

  /// A straight along `frame` between two places of the piece's centreline, cut where its covers begin.
  void lay_straight(const Frame& frame, double from, double to) {
    const bool cut = follows_in_ != follows_out_ || radius_in_ != radius_out_;
    double at = from;
    for (const double border : {0.0, length_})
      if (cut && border > at && border < to) {
        lay_line(frame.position_m, frame.direction, at, border);
        at = border;
      }
    if (to > at)
      lay_line(frame.position_m, frame.direction, at, to);
  }
  void lay_line(const Vector& origin, const Vector& direction, double from, double to) {
    join(plus(origin, from, direction), plus(origin, to, direction), from, to, radius_at(from),
         radius_at(to));
  }

  /// A straight between two points at rest, moved.
  void join(const Vector& from, const Vector& to, double from_m, double to_m, double radius_from,
            double radius_to) {
    Stretch& stretch = add(from_m, to_m, radius_from, radius_to);
    stretch.start = motion(stretch.share_in).moved(from);
    const Vector end = motion(stretch.share_out).moved(to);
    const Vector way = minus(end, stretch.start);
    stretch.length_m = length(way);
    if (stretch.length_m > 0)
      stretch.direction = combined(1 / stretch.length_m, way, 0, way);
    stretch.along_growth = stretch.length_m > 0 ? (to_m - from_m) / stretch.length_m : 0;
    set_bounds(stretch);
  }

  void lay_arc(const Frame& start, double from, const Track& track) {
    const double arc_m = track.angle_rad * track.radius_m;
    if (bends_with_roll()) {
      const int chords = static_cast<int>(std::ceil(arc_m / (2 * half_chord_m(track.radius_m))));
      for (int i = 0; i < chords; ++i) {
        const double a = arc_m * i / chords, b = arc_m * (i + 1) / chords;
        const auto on_arc = [&](double x) {
          return turned(start, x / track.radius_m, track.radius_m, track.clocking_rad).position_m;
        };
        join(on_arc(a), on_arc(b), from + a, from + b, radius_at(from + a), radius_at(from + b));
        run_.stretches.back().turned_rad += a / track.radius_m;
      }
      return;
    }
    Stretch& stretch = add(from, from + arc_m, radius_at(from), radius_at(from + arc_m));
    const Motion moves = motion(stretch.share_in);
    stretch.start = moves.moved(start.position_m);
    stretch.direction = moves.turned(start.direction);
    stretch.to_centre =
        moves.turned(combined(std::cos(track.clocking_rad), start.reference, std::sin(track.clocking_rad),
                              cross(start.direction, start.reference)));
    stretch.bend_m = track.radius_m;
    stretch.length_m = arc_m;
    set_bounds(stretch);
  }

  /// The polygon of a mitred bend. Its corners reach out to radius / cos of half the mitre: balls there.
  void lay_mitred(const Room& room) {
    const Track& track = room.track;
    const int joints = room.mitres;
    const double arc_m = track.angle_rad * track.radius_m;
    const double half_mitre = track.angle_rad / (2 * joints);
    const Frame start = advanced(room.frame, track.straight_in_m);
    Vector last = room.frame.position_m;
    double last_m = 0;
    for (int corner = 0; corner < joints; ++corner) {
      const double angle = (2 * corner + 1) * half_mitre;
      const Frame middle = turned(start, angle, track.radius_m, track.clocking_rad);
      // The corner lies outside the middle of its part of the arc, away from the bend's centre.
      const double out = track.radius_m * (1 / std::cos(half_mitre) - 1);
      const Vector point = plus(middle.position_m, -out, middle.reference);
      const double at = track.straight_in_m + arc_m * (2 * corner + 1) / (2 * joints);
      join(last, point, last_m, at, radius_in_, radius_in_);
      const double reach = radius_in_ / std::cos(half_mitre);
      turned_ += 2 * half_mitre;
      join(point, point, at, at, reach, reach);
      Stretch& ball = run_.stretches.back();
      ball.direction = motion(ball.share_in).turned(middle.direction);
      last = point;
      last_m = at;
    }
    join(last, followed(room.frame, track).position_m, last_m, length_, radius_in_, radius_in_);
  }

  Stretch& add(double from, double to, double radius_from, double radius_to) {
    Stretch& stretch = run_.stretches.emplace_back();
    stretch.row = row_;
    stretch.along_m = from;
    stretch.radius_in_m = radius_from;
    stretch.radius_out_m = radius_to;
    stretch.share_in = share_at(from);
    stretch.share_out = share_at(to);
    stretch.turned_rad = turned_;
    return stretch;
  }

  [[nodiscard]] Motion motion(double share) const { return {movement_, share * roll_}; }

  void hold(PieceStretches& piece) const {
    if (piece.first == piece.last)
      return;
    Vector low{1e300, 1e300, 1e300}, high{-1e300, -1e300, -1e300};
    for (std::size_t i = piece.first; i < piece.last; ++i)
      for (std::size_t axis = 0; axis < 3; ++axis) {
        const Stretch& stretch = run_.stretches[i];
        low[axis] = std::min(low[axis], stretch.middle[axis] - stretch.reach_m);
        high[axis] = std::max(high[axis], stretch.middle[axis] + stretch.reach_m);
      }
    piece.middle = combined(0.5, low, 0.5, high);
    for (std::size_t i = piece.first; i < piece.last; ++i)
      piece.reach_m = std::max(piece.reach_m, length(minus(run_.stretches[i].middle, piece.middle)) +
                                                  run_.stretches[i].reach_m);
  }

  const RunRoom& room_;
  const build::EngineMovement* movement_;
  double roll_; ///< of the engine, as a share of its movement
  RunStretches run_;
  std::size_t row_ = 0;
  double radius_in_ = 0, radius_out_ = 0, length_ = 0, follows_in_ = 0, follows_out_ = 0, turned_ = 0;
};

} // namespace

RunStretches stretches(const RunRoom& room, const build::EngineMovement* movement, double roll) {
  return Layer(room, movement, roll).lay();
}

} // namespace bellmouth::bay
