// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/sweep.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <type_traits>

namespace bellmouth::ui::scene {

namespace {

// Sizes that no piece states; common practice, no source found.
constexpr double bead_width_m = 6e-3, bead_height_m = 1.8e-3, bead_from_end_m = 4e-3;
constexpr double lip_share = 0.4; ///< of a hose's wall: how far its outer rims are rounded
constexpr double rib_height_m = 2.2e-3, rib_pitch_m = 11e-3;
constexpr double slack_m = 0.1e-3; ///< of a hose on a spigot, so that the two surfaces do not fall into one
constexpr double settle_m = 9e-3;  ///< over which a hose goes from a spigot's size to its own

double smooth(double t) {
  const double bounded = std::clamp(t, 0.0, 1.0);
  return bounded * bounded * (3 - 2 * bounded);
}
/// 0 at both ends of a stretch, 1 in its middle, without a corner.
double bump(double t) {
  return t <= 0 || t >= 1 ? 0 : 0.5 - 0.5 * std::cos(2 * std::numbers::pi * t);
}
void add_evenly(std::vector<double>& places, double from_m, double to_m, int steps) {
  for (int i = 0; i <= steps; ++i)
    places.push_back(from_m + (to_m - from_m) * i / steps);
}

/// The raised rings at the ends of a rigid piece.
class BeadRings {
public:
  BeadRings(const build::Beads& beads, double length_m) : width_m_(std::min(bead_width_m, length_m / 4)) {
    if (beads.in)
      starts_m_.push_back(std::min(bead_from_end_m, length_m / 4));
    if (beads.out)
      starts_m_.push_back(length_m - std::min(bead_from_end_m, length_m / 4) - width_m_);
  }
  [[nodiscard]] double height_m(double s_m) const {
    double height_m = 0;
    for (const double start_m : starts_m_)
      height_m += bead_height_m * bump((s_m - start_m) / width_m_);
    return height_m;
  }
  [[nodiscard]] std::vector<double> rings_m() const {
    std::vector<double> places;
    for (const double start_m : starts_m_)
      add_evenly(places, start_m, start_m + width_m_, 8);
    return places;
  }

private:
  double width_m_;
  std::vector<double> starts_m_;
};

/// A rigid piece whose outside and bore go evenly from end to end.
TriangleMesh rigid(const Centreline& line, const build::Beads& beads, double outer_in_m, double outer_out_m,
                   double bore_in_m, double bore_out_m) {
  const double length_m = line.length_m();
  const auto evenly = [length_m](double in, double out) {
    return [=](double s_m) { return (in + (out - in) * s_m / length_m) / 2; };
  };
  const BeadRings rings(beads, length_m);
  const auto body = evenly(outer_in_m, outer_out_m);
  return hollow(
      line, [&](double s_m) { return body(s_m) + rings.height_m(s_m); }, evenly(bore_in_m, bore_out_m),
      rings.rings_m());
}

/// A hose: its own bore by the place, stretched where it covers spigots, the wall outside it, rounded rims.
class Soft {
public:
  Soft(Centreline line, const Spigots& spigots, double wall_m, Radius own_bore_radius_m)
      : line_(std::move(line)), spigots_(spigots), wall_m_(wall_m), own_(std::move(own_bore_radius_m)) {
    const double length = line_.length_m();
    lip_m_ = std::min(wall_m * lip_share, length / 8);
    for (const double share : {0.15, 0.5, 1.0}) {
      rings_.push_back(share * lip_m_);
      rings_.push_back(length - share * lip_m_);
    }
    if (spigots.in_m > 0)
      add_evenly(rings_, spigots.cover_in_m, spigots.cover_in_m + settle_m, 4);
    if (spigots.out_m > 0)
      add_evenly(rings_, length - spigots.cover_out_m - settle_m, length - spigots.cover_out_m, 4);
  }

  void ring_evenly(double from_m, double to_m, int steps) { add_evenly(rings_, from_m, to_m, steps); }

  /// Ribs round the outside between two places.
  void ribs(double from_m, double to_m) {
    const double room_m = to_m - from_m;
    const int count = static_cast<int>(room_m / rib_pitch_m);
    if (count < 1)
      return;
    ribs_from_m_ = from_m;
    rib_m_ = room_m / count;
    ribs_to_m_ = to_m;
    add_evenly(rings_, from_m, to_m, 8 * count);
  }

  [[nodiscard]] TriangleMesh mesh() const {
    const double length_m = line_.length_m();
    return hollow(
        line_,
        [&](double s_m) {
          double radius_m = bore_m(s_m) + wall_m_;
          if (rib_m_ > 0 && s_m > ribs_from_m_ && s_m < ribs_to_m_) {
            const double place = (s_m - ribs_from_m_) / rib_m_;
            radius_m += rib_height_m * bump(place - std::floor(place));
          }
          const double from_end = std::min(s_m, length_m - s_m);
          if (from_end < lip_m_) {
            const double t = 1 - std::max(from_end, 0.0) / lip_m_;
            radius_m -= lip_m_ * (1 - std::sqrt(std::max(0.0, 1 - t * t)));
          }
          return radius_m;
        },
        [&](double s_m) { return bore_m(s_m); }, rings_);
  }

private:
  [[nodiscard]] double bore_m(double s_m) const {
    double radius_m = own_(s_m);
    const auto stretched = [&](double spigot_m, double beyond_m) {
      if (spigot_m > 0)
        radius_m += (spigot_m / 2 + slack_m - radius_m) * (1 - smooth(beyond_m / settle_m));
    };
    stretched(spigots_.in_m, s_m - spigots_.cover_in_m);
    stretched(spigots_.out_m, line_.length_m() - s_m - spigots_.cover_out_m);
    return radius_m;
  }

  Centreline line_;
  Spigots spigots_;
  double wall_m_;
  Radius own_;
  double lip_m_ = 0, ribs_from_m_ = 0, ribs_to_m_ = 0, rib_m_ = 0;
  std::vector<double> rings_;
};

/// From one radius to another between two places, level outside them.
Radius tapered(double from_m, double to_m, double bore_in_m, double bore_out_m) {
  return [=](double s_m) {
    const double t = to_m > from_m ? std::clamp((s_m - from_m) / (to_m - from_m), 0.0, 1.0) : 0.5;
    return (bore_in_m + (bore_out_m - bore_in_m) * t) / 2;
  };
}

struct Maker {
  const Spigots& spigots;

  TriangleMesh operator()(const build::Tube& tube) const {
    const double bore_m = tube.outer_diameter_m - 2 * tube.wall_m;
    return rigid(Centreline::straight(tube.length_m), tube.beads, tube.outer_diameter_m,
                 tube.outer_diameter_m, bore_m, bore_m);
  }
  TriangleMesh operator()(const build::TubeBend& bend) const {
    const double bore_m = bend.outer_diameter_m - 2 * bend.wall_m;
    return rigid(
        Centreline::bend(bend.leg_in_m, bend.angle_rad, bend.radius_m, bend.clocking_rad, bend.leg_out_m),
        bend.beads, bend.outer_diameter_m, bend.outer_diameter_m, bore_m, bore_m);
  }
  TriangleMesh operator()(const build::MitredBend& bend) const {
    const double bore_m = bend.outer_diameter_m - 2 * bend.wall_m;
    return rigid(Centreline::mitred(bend.leg_in_m, bend.angle_rad, bend.radius_m, bend.joints,
                                    bend.clocking_rad, bend.leg_out_m),
                 bend.beads, bend.outer_diameter_m, bend.outer_diameter_m, bore_m, bore_m);
  }
  TriangleMesh operator()(const build::Cone& cone) const {
    return rigid(Centreline::straight(cone.length_m), cone.beads, cone.outer_diameter_in_m,
                 cone.outer_diameter_out_m, cone.outer_diameter_in_m - 2 * cone.wall_m,
                 cone.outer_diameter_out_m - 2 * cone.wall_m);
  }
  TriangleMesh operator()(const build::Adapter& adapter) const {
    return rigid(Centreline::straight(adapter.length_m), adapter.beads, adapter.outer_diameter_in_m,
                 adapter.outer_diameter_out_m, adapter.bore_in_m, adapter.bore_out_m);
  }
  TriangleMesh operator()(const build::Hose& hose) const {
    Soft soft(Centreline::straight(hose.length_m), spigots, hose.wall_m,
              [r = hose.bore_m / 2](double) { return r; });
    if (hose.lining == build::Lining::corrugated)
      soft.ribs(hose.engagement.in_m, hose.length_m - hose.engagement.out_m);
    return soft.mesh();
  }
  TriangleMesh operator()(const build::HumpHose& hose) const {
    const double from_m = (hose.length_m - hose.hump_length_m) / 2;
    Soft soft(Centreline::straight(hose.length_m), spigots, hose.wall_m, [=](double s_m) {
      return hose.bore_m / 2 +
             (hose.hump_bore_m - hose.bore_m) / 2 * bump((s_m - from_m) / hose.hump_length_m);
    });
    soft.ring_evenly(from_m, from_m + hose.hump_length_m, 14);
    return soft.mesh();
  }
  TriangleMesh operator()(const build::HoseElbow& elbow) const {
    const double arc_m = elbow.angle_rad * elbow.radius_m;
    Soft soft(Centreline::bend(elbow.leg_in_m, elbow.angle_rad, elbow.radius_m, elbow.clocking_rad,
                               elbow.leg_out_m),
              spigots, elbow.wall_m,
              tapered(elbow.leg_in_m, elbow.leg_in_m + arc_m, elbow.bore_in_m, elbow.bore_out_m));
    if (elbow.pleated)
      soft.ribs(elbow.leg_in_m, elbow.leg_in_m + arc_m);
    return soft.mesh();
  }
  TriangleMesh operator()(const build::HoseReducer& reducer) const {
    const double from_m = std::min(reducer.engagement.in_m, reducer.length_m / 2),
                 to_m = std::max(reducer.length_m - reducer.engagement.out_m, reducer.length_m / 2);
    Soft soft(Centreline::straight(reducer.length_m), spigots, reducer.wall_m,
              tapered(from_m, to_m, reducer.bore_in_m, reducer.bore_out_m));
    soft.ring_evenly(from_m, to_m, 6);
    return soft.mesh();
  }
  template <class Fitting> TriangleMesh operator()(const Fitting&) const { return {}; }
};

} // namespace

TriangleMesh piece_mesh(const build::Shape& shape, const Spigots& spigots) {
  return std::visit(Maker{spigots}, shape);
}

} // namespace bellmouth::ui::scene
