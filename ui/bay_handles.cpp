// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_handles.hpp"

#include "piece_text.hpp"
#include "scene/vector.hpp"
#include "units.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace bellmouth::ui {

namespace {

using build::Vector;
using scene::plus;

constexpr double pi = std::numbers::pi;
constexpr double reach_px = 11;
/// How far grips stand off the piece.
constexpr double off_px = 30;
constexpr int guide_steps = 64;
/// Longer than any piece that fits into a bay.
constexpr double longest_m = 2.5;

/// The field of a shape that holds a value.
double* field_of(build::Shape& shape, GripValue which) {
  return std::visit(
      [which]<class S>(S& s) -> double* {
        if constexpr (requires { s.length_m; })
          if (which == GripValue::length)
            return &s.length_m;
        if constexpr (requires { s.leg_in_m; }) {
          if (which == GripValue::leg_in)
            return &s.leg_in_m;
          if (which == GripValue::leg_out)
            return &s.leg_out_m;
          if (which == GripValue::angle)
            return &s.angle_rad;
        }
        if constexpr (requires { s.clocking_rad; })
          if (which == GripValue::clocking)
            return &s.clocking_rad;
        if constexpr (requires { s.position_m; })
          if (which == GripValue::position)
            return &s.position_m;
        return nullptr;
      },
      shape);
}

/// Where clocking points, in a frame.
Vector clocked(const bay::Frame& frame, double clocking_rad) {
  return plus(scene::times(std::cos(clocking_rad), frame.reference),
              scene::cross(frame.direction, frame.reference), std::sin(clocking_rad));
}

/// Makes the grips of one piece.
class Maker {
public:
  Maker(const BayLookout& lookout, const build::Shape& shape) : lookout_(lookout), shape_(shape) {}

  [[nodiscard]] double off_m(const Vector& at) const {
    const double px_m = lookout_.camera.px_per_m(at, lookout_.viewport);
    return px_m > 0 ? off_px / px_m : 0.03;
  }
  /// The values from `low` to `high` along the guide.
  void add(GripValue which, double low, double high, double guide_low, double guide_high,
           std::function<Vector(double)> at) {
    BayGrip grip;
    grip.which = which;
    grip.value = *value_of(shape_, which);
    grip.low = low;
    grip.high = high;
    grip.place_m = at(grip.value);
    for (int i = 0; i <= guide_steps; ++i)
      grip.guide.push_back(at(guide_low + (guide_high - guide_low) * i / guide_steps));
    grip.at = std::move(at);
    grips_.push_back(std::move(grip));
  }

  /// Along the way out of the end that stands at `end` for the value `now`.
  void add_end(GripValue which, const bay::Frame& end) {
    const double now = *value_of(shape_, which), off = off_m(end.position_m);
    add(which, -0.05, longest_m, now, now + off,
        [end, now, off](double value) { return plus(end.position_m, end.direction, value - now + off); });
  }

  void add_ring(const bay::Frame& frame, double radius_m) {
    const double now = *value_of(shape_, GripValue::clocking);
    add(GripValue::clocking, now - pi, now + pi, now - pi, now + pi, [frame, radius_m](double clocking_rad) {
      return plus(frame.position_m, clocked(frame, clocking_rad), radius_m);
    });
  }

  void add_bend(const bay::Frame& start, const bay::Track& track, double outer_radius_m) {
    const bay::Frame bent = bay::advanced(start, track.straight_in_m);
    const Vector inwards = clocked(bent, track.clocking_rad);
    const Vector centre = plus(bent.position_m, inwards, track.radius_m);
    const double off = off_m(bent.position_m);
    add_ring(bent, outer_radius_m + off);
    const double outside_m = track.radius_m + outer_radius_m + off;
    add(GripValue::angle, 0, 1.2 * pi, 0, track.angle_rad,
        [bent, inwards, centre, outside_m](double angle_rad) {
          return plus(plus(centre, inwards, -outside_m * std::cos(angle_rad)), bent.direction,
                      outside_m * std::sin(angle_rad));
        });
  }

  std::vector<BayGrip> take() { return std::move(grips_); }

private:
  const BayLookout& lookout_;
  const build::Shape& shape_;
  std::vector<BayGrip> grips_;
};

void add_fitting_grips(Maker& maker, const build::Shape& fitting, const build::Shape& host,
                       const bay::Frame& host_start) {
  const bay::Track track = bay::track(host, 0, 0);
  const double radius_m = std::max(build::outer_diameter_in_m(host), build::outer_diameter_out_m(host)) / 2;
  const double clocking_rad = *value_of(fitting, GripValue::clocking);
  const bay::Frame here = bay::along(host_start, track, *value_of(fitting, GripValue::position));
  const double off = maker.off_m(here.position_m) + radius_m;
  maker.add(GripValue::position, 0, track.length_m(), 0, track.length_m(),
            [host_start, track, clocking_rad, off](double position_m) {
              const bay::Frame frame = bay::along(host_start, track, position_m);
              return plus(frame.position_m, clocked(frame, clocking_rad), off * 1.35);
            });
  maker.add_ring(here, off);
}

} // namespace

bool is_angle(GripValue value) {
  return value == GripValue::clocking || value == GripValue::angle;
}

QString grip_name(GripValue value) {
  switch (value) {
  case GripValue::length:
    return "length";
  case GripValue::leg_in:
    return "inlet leg";
  case GripValue::leg_out:
    return "outlet leg";
  case GripValue::clocking:
    return "clocking";
  case GripValue::angle:
    return "angle";
  case GripValue::position:
    return "place";
  }
  return {};
}

std::optional<double> value_of(const build::Shape& shape, GripValue value) {
  build::Shape copy = shape;
  const double* field = field_of(copy, value);
  return field ? std::optional(*field) : std::nullopt;
}

build::Shape with_value(build::Shape shape, GripValue which, double value) {
  double* field = field_of(shape, which);
  assert(field != nullptr);
  *field = value;
  return shape;
}

std::vector<BayGrip> grips_of(const Session& session, const BayLookout& lookout) {
  const auto* picked = std::get_if<PickedPiece>(&session.selection());
  const build::Piece* piece = session.picked_piece();
  const RunResult* result = picked ? find_run(session.evaluation(), picked->run) : nullptr;
  if (!piece || !result || picked->row + 1 >= result->frames.size())
    return {};
  const joint::Row& fit = result->fit.rows[picked->row];
  const bay::Frame& start = result->frames[picked->row];
  Maker maker(lookout, piece->shape);
  if (build::is_fitting(piece->shape)) {
    const build::Run& run = *session.build().find(session.option())->find(picked->run);
    if (fit.host)
      add_fitting_grips(maker, piece->shape, run.pieces[*fit.host].shape, result->frames[*fit.host]);
    return maker.take();
  }
  const bay::Track track = bay::track(piece->shape, fit.cover_in_m, fit.cover_out_m);
  const bay::Frame& end = result->frames[picked->row + 1];
  if (track.radius_m > 0) {
    const double radius_m =
        std::max(build::outer_diameter_in_m(piece->shape), build::outer_diameter_out_m(piece->shape)) / 2;
    maker.add_bend(start, track, radius_m);
    maker.add_end(GripValue::leg_in, bay::advanced(start, track.straight_in_m));
    maker.add_end(GripValue::leg_out, end);
  } else {
    maker.add_end(GripValue::length, end);
  }
  return maker.take();
}

std::optional<std::size_t> grip_at(const std::vector<BayGrip>& grips, const BayLookout& lookout,
                                   QPointF point) {
  std::optional<std::size_t> found;
  double nearest = reach_px;
  for (std::size_t i = 0; i < grips.size(); ++i) {
    const scene::Projected seen = lookout.camera.project(grips[i].place_m, lookout.viewport);
    const double distance = std::hypot(seen.pixel.x() - point.x(), seen.pixel.y() - point.y());
    if (seen.depth_m > 0 && distance < nearest) {
      nearest = distance;
      found = i;
    }
  }
  return found;
}

double value_at(const BayGrip& grip, const BayLookout& lookout, QPointF point, double near) {
  const bool ring = grip.which == GripValue::clocking;
  const double low = ring ? near - pi : grip.low, high = ring ? near + pi : grip.high;
  const auto miss_px = [&](double value) {
    const scene::Projected seen = lookout.camera.project(grip.at(value), lookout.viewport);
    return lookout.camera.perspective && seen.depth_m <= 0
               ? std::numeric_limits<double>::infinity()
               : std::hypot(seen.pixel.x() - point.x(), seen.pixel.y() - point.y());
  };
  // A ring seen from its edge passes each pixel twice: a little is charged for going far.
  constexpr int samples = 360;
  constexpr double far_px = 6;
  const double step = (high - low) / samples;
  double best = near, least = std::numeric_limits<double>::infinity();
  for (int i = 0; i <= samples; ++i) {
    const double value = low + step * i;
    const double cost = miss_px(value) + far_px * std::abs(value - near) / (high - low);
    if (cost < least) {
      least = cost;
      best = value;
    }
  }
  // Golden section between the neighbours.
  double a = std::max(low, best - step), b = std::min(high, best + step);
  constexpr double golden = 1 / std::numbers::phi;
  for (int i = 0; i < 30; ++i) {
    const double left = b - golden * (b - a), right = a + golden * (b - a);
    if (miss_px(left) < miss_px(right))
      b = right;
    else
      a = left;
  }
  return (a + b) / 2;
}

double snap_step(GripValue value, bool fine) {
  constexpr double degree = pi / 180, inch = 25.4e-3;
  if (is_angle(value))
    return fine ? 0.5 * degree : 5 * degree;
  if (units().length == UnitChoice::Length::inches)
    return fine ? inch / 32 : inch / 4;
  return fine ? 0.5e-3 : 5e-3;
}

double snapped(GripValue value, double raw, bool fine) {
  const double step = snap_step(value, fine);
  return std::round(raw / step) * step;
}

} // namespace bellmouth::ui
