// SPDX-License-Identifier: GPL-3.0-or-later
#include "obstacles.hpp"

#include <algorithm>
#include <optional>

namespace bellmouth::bay {
namespace {

build::Box moved(const build::Box& box, const Motion& motion) {
  return {motion.moved(box.centre_m),
          box.half_size_m,
          {motion.turned(box.axes[0]), motion.turned(box.axes[1]), motion.turned(box.axes[2])}};
}
build::Cylinder moved(const build::Cylinder& cylinder, const Motion& motion) {
  return {motion.moved(cylinder.from_m), motion.moved(cylinder.to_m), cylinder.radius_m};
}
build::Sphere moved(const build::Sphere& sphere, const Motion& motion) {
  return {motion.moved(sphere.centre_m), sphere.radius_m};
}
build::HalfSpace moved(const build::HalfSpace& half, const Motion& motion) {
  return {motion.moved(half.point_m), motion.turned(half.normal)};
}

BoxSolid ready(const build::Box& box) {
  return BoxSolid(box);
}
CylinderSolid ready(const build::Cylinder& cylinder) {
  return CylinderSolid(cylinder);
}
SphereSolid ready(const build::Sphere& sphere) {
  return SphereSolid(sphere);
}
HalfSpaceSolid ready(const build::HalfSpace& half) {
  return HalfSpaceSolid(half);
}

ScanSurface ready(const build::Scan& scan, const Motion& motion) {
  mesh::Placement placement = scan.placement();
  placement.origin_m = motion.moved(placement.origin_m);
  for (mesh::Point& axis : placement.axes)
    axis = motion.turned(axis);
  const mesh::Extent& extent = scan.loaded->tree.extent();
  build::Box hull{placement.to_bay(combined(0.5, extent.low, 0.5, extent.high)), {}, placement.axes};
  for (std::size_t i = 0; i < 3; ++i)
    hull.half_size_m[i] = 0.5 * (extent.high[i] - extent.low[i]) * placement.scale;
  return {&scan.loaded->tree, placement, BoxSolid(hull)};
}

double share_of(build::Mounting mounting) {
  return mounting == build::Mounting::engine ? 1 : 0;
}
double tolerance_m(const std::optional<build::Survey>& survey) {
  return survey ? survey->tolerance_m : 0;
}

bool is_there(const build::KeepOut& keep_out, const build::BayState* state) {
  return keep_out.states.empty() ||
         (state != nullptr && std::ranges::find(keep_out.states, state->id) != keep_out.states.end());
}

/// A stretch against the surface of a scan: straights exactly, arcs by their chords.
class OverScan {
public:
  OverScan(const ScanSurface& scan, const Stretch& stretch, double cutoff, const std::optional<Vector>& hint)
      : scan_(scan), stretch_(stretch), cutoff_(cutoff) {
    if (!hint)
      return;
    Stretch point;
    point.start = *hint;
    set_bounds(point);
    const PairLow low = nearest_pair(stretch, point, cutoff);
    best_ = {{low.value, low.at_a}, *hint};
  }

  Touch find() && {
    if (stretch_.is_straight())
      offer(0, stretch_.length_m, ask(0, stretch_.length_m, needed()));
    else
      search(0, stretch_.length_m);
    return best_;
  }

private:
  [[nodiscard]] double needed() const { return std::min(best_.low.value, cutoff_); }

  [[nodiscard]] mesh::Nearest ask(double low, double high, double cutoff) const {
    const double scale = scan_.placement.scale;
    return scan_.tree->nearest(scan_.placement.to_file(stretch_.at(low)),
                               scan_.placement.to_file(stretch_.at(high)), stretch_.radius(low) / scale,
                               stretch_.radius(high) / scale, cutoff / scale);
  }
  void offer(double low, double high, const mesh::Nearest& found) {
    if (std::isinf(found.distance))
      return;
    const double x = low + found.along * (high - low);
    const Vector on_scan = scan_.placement.to_bay(found.on_surface);
    const double distance = length(minus(stretch_.at(x), on_scan)) - stretch_.radius(x);
    if (distance < best_.low.value)
      best_ = {{distance, x}, on_scan};
  }

  void search(double low, double high) {
    const double half_angle = 0.5 * (high - low) / stretch_.bend_m, middle = 0.5 * (low + high);
    constexpr double widest = 0.8; // the bound on what an arc leaves its chord by holds below a right angle
    if (half_angle > widest) {
      search(low, middle);
      search(middle, high);
      return;
    }
    // Beside the sagitta, a radius that goes evenly along the arc does not quite along the chord.
    const double leaves_m =
        stretch_.bend_m * (1 - std::cos(half_angle)) +
        std::abs(stretch_.radius(high) - stretch_.radius(low)) * 0.04 * half_angle * half_angle;
    const mesh::Nearest found = ask(low, high, needed() + leaves_m);
    if (std::isinf(found.distance) || found.distance * scan_.placement.scale - leaves_m >= needed())
      return;
    offer(low, high, found); // a place on the true arc, good for ruling out the rest
    if (high - low <= 2 * half_chord_m(stretch_.bend_m))
      return;
    const bool first_is_nearer = found.along <= 0.5;
    search(first_is_nearer ? low : middle, first_is_nearer ? middle : high);
    search(first_is_nearer ? middle : low, first_is_nearer ? high : middle);
  }

  const ScanSurface& scan_;
  const Stretch& stretch_;
  double cutoff_;
  Touch best_;
};

} // namespace

double Obstacle::no_nearer_than(const Vector& point) const {
  return std::visit(
      [&](const auto& one) {
        if constexpr (requires { one.hull; })
          return one.hull.distance(point);
        else
          return one.distance(point);
      },
      solid);
}

std::vector<Obstacle> obstacles(const build::Build& build, const build::BayState* state) {
  const build::EngineMovement* movement = build.movement && state != nullptr ? &*build.movement : nullptr;
  const Motion engine(movement, state != nullptr ? state->roll : 0), body(nullptr, 0);
  const auto motion = [&](build::Mounting mounting) -> const Motion& {
    return mounting == build::Mounting::engine ? engine : body;
  };
  std::vector<Obstacle> result;
  result.reserve(build.keep_outs.size() + build.ports.size());
  for (std::size_t i = 0; i < build.keep_outs.size(); ++i) {
    const build::KeepOut& keep_out = build.keep_outs[i];
    const auto* scan = std::get_if<build::Scan>(&keep_out.shape);
    if (!is_there(keep_out, state) || (scan != nullptr && !scan->loaded))
      continue;
    const Motion& moves = motion(keep_out.mounting);
    const auto add = [&](auto solid) {
      result.push_back({NearKeepOut{i}, std::move(solid), keep_out.machine ? &*keep_out.machine : nullptr,
                        build.clearance_m(keep_out), tolerance_m(keep_out.survey),
                        share_of(keep_out.mounting)});
    };
    std::visit(
        [&](const auto& shape) {
          if constexpr (std::is_same_v<std::decay_t<decltype(shape)>, build::Scan>)
            add(ready(shape, moves));
          else
            add(ready(moved(shape, moves)));
        },
        keep_out.shape);
  }
  const double ducting_m = build.clearances.value_or(build::ClearanceLimits{}).ducting_m;
  for (const build::Port& port : build.ports) {
    if (!port.pose || port.land_m == 0)
      continue;
    const build::Cylinder spigot{plus(port.pose->position_m, -port.land_m, port.pose->direction),
                                 port.pose->position_m, port.outer_diameter_m / 2};
    result.push_back({NearPort{port.id}, ready(moved(spigot, motion(port.mounting))),
                      port.machine ? &*port.machine : nullptr, ducting_m, tolerance_m(port.survey),
                      share_of(port.mounting)});
  }
  return result;
}

Touch nearest_to(const Obstacle& obstacle, const Stretch& stretch, double cutoff,
                 const std::optional<Vector>& hint) {
  return std::visit(
      [&](const auto& solid) -> Touch {
        if constexpr (std::is_same_v<std::decay_t<decltype(solid)>, ScanSurface>)
          return OverScan(solid, stretch, cutoff, hint).find();
        else {
          const Low low = nearest_on(stretch, solid, cutoff);
          return {low, solid.nearest(stretch.at(low.at))};
        }
      },
      obstacle.solid);
}

} // namespace bellmouth::bay
