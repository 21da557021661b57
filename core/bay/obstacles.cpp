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
  return scan_surface(scan.loaded->tree, placement);
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
          return nearest_to(solid, stretch, cutoff, hint);
        else {
          const Low low = nearest_on(stretch, solid, cutoff);
          return {low, solid.nearest(stretch.at(low.at))};
        }
      },
      obstacle.solid);
}

} // namespace bellmouth::bay
