// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/nearest.hpp>

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

/// A ball pulled along an arc, asked for the distance of points.
class PulledAlongArc {
public:
  explicit PulledAlongArc(const Stretch& arc)
      : arc_(arc), centre_(plus(arc.start, arc.bend_m, arc.to_centre)),
        normal_(cross(arc.direction, arc.to_centre)), end_(arc.at(arc.length_m)), angle_(arc.turn_rad()),
        sine_(std::sin(angle_)), cosine_(std::cos(angle_)), growth_(arc.growth()) {}

  [[nodiscard]] double distance(const Vector& point) const {
    if (growth_ != 0)
      return from(point, along(point));
    // The foot on the whole circle counts where the arc goes by there, else an end.
    const Vector away = minus(point, centre_);
    const double x = -dot(away, arc_.to_centre), y = dot(away, arc_.direction);
    const bool within = angle_ <= std::numbers::pi ? y >= 0 && x * sine_ - y * cosine_ >= 0
                                                   : y >= 0 || x * sine_ - y * cosine_ >= 0;
    if (within) {
      const double in_plane = std::sqrt(x * x + y * y) - arc_.bend_m, off_plane = dot(away, normal_);
      return std::sqrt(in_plane * in_plane + off_plane * off_plane) - arc_.radius_in_m;
    }
    return std::min(length(minus(point, arc_.start)), length(minus(point, end_))) - arc_.radius_in_m;
  }

  /// The place on the arc that a point is nearest to.
  [[nodiscard]] double along(const Vector& point) const {
    const Vector away = minus(point, centre_);
    double angle = std::atan2(dot(away, arc_.direction), -dot(away, arc_.to_centre));
    if (angle < 0)
      angle += 2 * std::numbers::pi;
    Low best;
    for (const double x : {0.0, arc_.length_m})
      best.offer(from(point, x), x);
    if (angle < angle_)
      best.offer(from(point, angle * arc_.bend_m), angle * arc_.bend_m);
    if (growth_ != 0)
      best = leaning(point, best);
    return best.at;
  }

private:
  [[nodiscard]] double from(const Vector& point, double x) const {
    return length(minus(point, arc_.at(x))) - arc_.radius(x);
  }
  /// With a radius that changes, the nearest place is a little further to the wider end.
  [[nodiscard]] Low leaning(const Vector& point, Low best) const {
    const double reach =
        std::min(2 * std::abs(growth_) * (best.value + arc_.radius(best.at)) + 1e-6, arc_.length_m);
    const Low least = valley([&](double x) { return from(point, x); }, std::max(best.at - reach, 0.0),
                             std::min(best.at + reach, arc_.length_m), 1 + std::abs(growth_), far_away);
    best.offer(least.value, least.at);
    return best;
  }

  const Stretch& arc_;
  Vector centre_, normal_, end_;
  double angle_, sine_, cosine_, growth_;
};

} // namespace

PairLow nearest_pair(const Stretch& a, const Stretch& b, double cutoff) {
  if (a.is_straight())
    return straight_and(a, b, cutoff);
  if (b.is_straight()) {
    const PairLow low = straight_and(b, a, cutoff);
    return {low.value, low.at_b, low.at_a};
  }
  // Points are cheaper to ask an arc of one radius for.
  const bool swapped = b.growth() != 0 && a.growth() == 0;
  const Stretch& asked = swapped ? a : b;
  const Stretch& walked = swapped ? b : a;
  const PulledAlongArc ball(asked);
  const Low low = nearest_on_arc(walked, ball, cutoff);
  const double on_asked = ball.along(walked.at(low.at));
  return swapped ? PairLow{low.value, on_asked, low.at} : PairLow{low.value, low.at, on_asked};
}

} // namespace bellmouth::bay
