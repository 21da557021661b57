// SPDX-License-Identifier: GPL-3.0-or-later
// The straights and arcs that the room of a run is made of, as they lie in a state of the bay.
#pragma once

#include <bellmouth/bay/clearance.hpp>
#include <bellmouth/bay/solids.hpp>
#include <bellmouth/bay/vectors.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace bellmouth::bay {

/// A ball pulled along a straight or an arc. Places on it are lengths from its start.
struct Stretch {
  Vector start{}, direction{1, 0, 0};
  Vector to_centre{}; ///< arcs: unit vector from the start to the middle of the arc
  double bend_m = 0;  ///< radius of the arc; 0: straight
  double length_m = 0;
  double radius_in_m = 0, radius_out_m = 0;
  double share_in = 0, share_out = 0; ///< of the engine's movement
  double along_m = 0;                 ///< where it starts on its piece's centreline
  double along_growth = 1; ///< metres of centreline to a metre of it (corners of mitred bends: not 1)
  double turned_rad = 0;   ///< what the run has turned up to its start
  std::size_t row = 0;
  // A ball that holds all of it.
  Vector middle{};
  double reach_m = 0;

  [[nodiscard]] bool is_straight() const { return bend_m == 0; }
  [[nodiscard]] double turn_rad() const { return is_straight() ? 0 : length_m / bend_m; }
  [[nodiscard]] Vector at(double x) const {
    if (is_straight())
      return plus(start, x, direction);
    const double angle = x / bend_m;
    return on_arc(std::sin(angle), std::cos(angle));
  }
  [[nodiscard]] Vector on_arc(double sine, double cosine) const {
    return plus(plus(start, bend_m * sine, direction), bend_m * (1 - cosine), to_centre);
  }
  [[nodiscard]] Vector heading(double x) const {
    if (is_straight())
      return direction;
    const double angle = x / bend_m;
    return combined(std::cos(angle), direction, std::sin(angle), to_centre);
  }
  [[nodiscard]] double growth() const { return length_m > 0 ? (radius_out_m - radius_in_m) / length_m : 0; }
  [[nodiscard]] double radius(double x) const { return radius_in_m + growth() * x; }
  [[nodiscard]] double share(double x) const {
    return length_m > 0 ? share_in + (share_out - share_in) * x / length_m : share_in;
  }
  [[nodiscard]] double along(double x) const { return along_m + along_growth * x; }
};

/// Goes along an arc in even steps.
class StepsOnArc {
public:
  StepsOnArc(const Stretch& arc, double from, double step_m)
      : arc_(arc), sine_(std::sin(from / arc.bend_m)), cosine_(std::cos(from / arc.bend_m)),
        step_sine_(std::sin(step_m / arc.bend_m)), step_cosine_(std::cos(step_m / arc.bend_m)) {}

  [[nodiscard]] Vector next() {
    const double sine = sine_ * step_cosine_ + cosine_ * step_sine_;
    cosine_ = cosine_ * step_cosine_ - sine_ * step_sine_;
    sine_ = sine;
    return arc_.on_arc(sine_, cosine_);
  }

private:
  const Stretch& arc_;
  double sine_, cosine_, step_sine_, step_cosine_;
};

/// The part of a stretch from `from` to `to`.
[[nodiscard]] Stretch part(const Stretch& stretch, double from, double to);
/// Sets the ball that holds all of a stretch.
void set_bounds(Stretch& stretch);

/// A piece of a run as a chain of stretches: those from `first` to before `last`.
struct PieceStretches {
  std::size_t first = 0, last = 0;
  Vector middle{}; ///< a ball that holds all of it
  double reach_m = 0;
  double starts_m = 0; ///< where its track starts on the run's centreline
};
struct RunStretches {
  std::vector<Stretch> stretches;
  std::vector<PieceStretches> rows;
  double length_m = 0; ///< of the run's centreline
};
/// The stretches of a run as it lies in a state. A flexible piece whose ends move differently is taken as
/// straights between the places that its centreline's points move to.
[[nodiscard]] RunStretches stretches(const RunRoom& room, const build::EngineMovement* movement, double roll);

/// What a motion of the engine does to points and directions.
class Motion {
public:
  Motion(const build::EngineMovement* movement, double roll_share);
  [[nodiscard]] bool is_rest() const { return at_rest_; }
  [[nodiscard]] Vector turned(const Vector& direction) const;
  [[nodiscard]] Vector moved(const Vector& point) const;

private:
  Vector axis_point_{}, axis_{1, 0, 0};
  double cosine_ = 1, sine_ = 0;
  bool at_rest_ = true;
};

inline constexpr double usual_sagitta_m = 0.02e-3;
/// Half the length of a chord that leaves an arc by no more than `sagitta_m`.
[[nodiscard]] inline double half_chord_m(double bend_m, double sagitta_m = usual_sagitta_m) {
  return std::sqrt(2 * bend_m * sagitta_m);
}

} // namespace bellmouth::bay
