// SPDX-License-Identifier: GPL-3.0-or-later
#include "nearest.hpp"

#include <algorithm>
#include <numbers>

namespace bellmouth::bay {
namespace {

PairLow straight_and(const Stretch& straight, const Stretch& other, double cutoff) {
  const PulledBall ball(straight.start, straight.direction, straight.length_m, straight.radius_in_m,
                        straight.radius_out_m);
  const Low low = nearest_on(other, ball, cutoff);
  return {low.value, ball.along(other.at(low.at)), low.at};
}

double length_from(const Vector& point, const Stretch& b, double x) {
  return length(minus(point, b.at(x))) - b.radius(x);
}

/// The least distance from a point to the surface of an arc between two of its places.
Low nearest_to(const Vector& point, const Stretch& arc, double low, double high) {
  if (arc.radius_in_m != arc.radius_out_m)
    return golden([&](double x) { return length_from(point, arc, x); }, low, high, 1 + std::abs(arc.growth()),
                  far_away);
  // The foot on the whole circle, seen from its centre.
  const Vector away = minus(point, plus(arc.start, arc.bend_m, arc.to_centre));
  const double angle = std::atan2(dot(away, arc.direction), -dot(away, arc.to_centre));
  const double foot = angle * arc.bend_m, round = 2 * std::numbers::pi * arc.bend_m;
  Low best;
  for (const double x : {foot, foot + round})
    if (x > low && x < high)
      best.offer(length_from(point, arc, x), x);
  for (const double x : {low, high})
    best.offer(length_from(point, arc, x), x);
  return best;
}

/// Two arcs: one is halved until its parts are as good as their chords, where the other cannot be ruled out;
/// then both are followed on the true arcs.
class ArcPair {
public:
  ArcPair(const Stretch& a, const Stretch& b, double cutoff) : a_(a), b_(b), cutoff_(cutoff) {}

  PairLow find() && {
    search(0, b_.length_m);
    return best_;
  }

private:
  [[nodiscard]] double needed() const { return std::min(best_.value, cutoff_); }

  /// The chord of a part of b as a straight, and how far the part leaves it.
  struct Chord {
    PulledBall ball;
    double length_m, leaves_m;
    Vector middle;
    double reach_m;
  };
  [[nodiscard]] Chord chord(double low, double high) const {
    const Vector from = b_.at(low), to = b_.at(high), way = minus(to, from);
    const double chord_m = length(way), half_angle = 0.5 * (high - low) / b_.bend_m;
    const Vector direction = chord_m > 0 ? combined(1 / chord_m, way, 0, way) : b_.heading(low);
    const double radius_low = b_.radius(low), radius_high = b_.radius(high);
    // Beside the sagitta, a radius that goes evenly along the arc does not quite along the chord.
    const double leaves = b_.bend_m * (1 - std::cos(half_angle)) +
                          std::abs(radius_high - radius_low) * 0.04 * half_angle * half_angle;
    return {{from, direction, chord_m, radius_low, radius_high},
            chord_m,
            leaves,
            combined(0.5, from, 0.5, to),
            0.5 * chord_m + std::max(radius_low, radius_high)};
  }

  void search(double low, double high) {
    const double half_angle = 0.5 * (high - low) / b_.bend_m;
    constexpr double widest = 0.8; // the bound on what an arc leaves its chord by holds below a right angle
    if (half_angle > widest) {
      const double middle = 0.5 * (low + high);
      search(low, middle);
      search(middle, high);
      return;
    }
    const Chord part_of_b = chord(low, high);
    if (length(minus(a_.middle, part_of_b.middle)) - a_.reach_m - part_of_b.reach_m - part_of_b.leaves_m >=
        needed())
      return;
    const Low near = nearest_on_arc(a_, part_of_b.ball, needed() + part_of_b.leaves_m);
    if (near.value - part_of_b.leaves_m >= needed())
      return;
    if (high - low <= 2 * half_chord_m(b_.bend_m)) {
      follow(near.at, low, high);
      return;
    }
    const double middle = 0.5 * (low + high);
    const bool first_is_nearer = part_of_b.ball.along(a_.at(near.at)) <= 0.5 * part_of_b.length_m;
    search(first_is_nearer ? low : middle, first_is_nearer ? middle : high);
    search(first_is_nearer ? middle : low, first_is_nearer ? high : middle);
  }
  /// On the true arcs, round a place of a and within a part of b.
  void follow(double at_a, double low, double high) {
    const double step = half_chord_m(a_.bend_m), margin = high - low;
    low = std::max(low - margin, 0.0);
    high = std::min(high + margin, b_.length_m);
    const auto f = [&](double x) { return nearest_to(a_.at(x), b_, low, high).value - a_.radius(x); };
    const Low valley = golden(f, std::max(at_a - step, 0.0), std::min(at_a + step, a_.length_m),
                              1 + std::abs(a_.growth()), needed());
    for (const double x : {valley.at, at_a})
      best_.offer({f(x), x, nearest_to(a_.at(x), b_, low, high).at});
  }

  const Stretch& a_;
  const Stretch& b_;
  double cutoff_;
  PairLow best_;
};

} // namespace

PairLow nearest_pair(const Stretch& a, const Stretch& b, double cutoff) {
  if (a.is_straight())
    return straight_and(a, b, cutoff);
  if (b.is_straight()) {
    const PairLow low = straight_and(b, a, cutoff);
    return {low.value, low.at_b, low.at_a};
  }
  return ArcPair(a, b, cutoff).find();
}

} // namespace bellmouth::bay
