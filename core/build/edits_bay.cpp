// SPDX-License-Identifier: GPL-3.0-or-later
// Edits of the bay: ports, keep-outs, states, movement, and the mirror image.
#include "overloaded.hpp"

#include <bellmouth/build/edits.hpp>

#include <algorithm>
#include <cassert>
#include <utility>

namespace bellmouth::build {

namespace {

std::ptrdiff_t signed_index(std::size_t index) {
  return static_cast<std::ptrdiff_t>(index);
}

/// The mirror of the plane y = `plane_y_m`.
struct Mirror {
  double plane_y_m;

  void turn(Vector& direction) const { direction[1] = -direction[1]; }
  void move(Vector& point_m) const { point_m[1] = 2 * plane_y_m - point_m[1]; }

  void operator()(Box& box) const {
    move(box.centre_m);
    std::ranges::for_each(box.axes, [this](Vector& axis) { turn(axis); });
  }
  void operator()(Cylinder& cylinder) const {
    move(cylinder.from_m);
    move(cylinder.to_m);
  }
  void operator()(Sphere& sphere) const { move(sphere.centre_m); }
  void operator()(HalfSpace& half) const {
    move(half.point_m);
    turn(half.normal);
  }
  void operator()(Scan& scan) const {
    move(scan.origin_m);
    std::ranges::for_each(scan.axes, [this](Vector& axis) { turn(axis); });
  }
};

void turn_clocking(Run& run) {
  for (Piece& piece : run.pieces)
    std::visit(
        [](auto& shape) {
          if constexpr (requires { shape.clocking_rad; })
            if (shape.clocking_rad != 0)
              shape.clocking_rad = -shape.clocking_rad;
        },
        piece.shape);
}

} // namespace

Build with_port(const Build& build, Port port) {
  Build result = build;
  const auto old = std::ranges::find(result.ports, port.id, &Port::id);
  assert(old != result.ports.end());
  *old = std::move(port);
  return result;
}

Build with_keep_out_inserted(const Build& build, std::size_t before, KeepOut keep_out) {
  assert(before <= build.keep_outs.size());
  Build result = build;
  result.keep_outs.insert(result.keep_outs.begin() + signed_index(before), std::move(keep_out));
  return result;
}

Build with_keep_out_removed(const Build& build, std::size_t index) {
  assert(index < build.keep_outs.size());
  Build result = build;
  result.keep_outs.erase(result.keep_outs.begin() + signed_index(index));
  return result;
}

Build with_keep_out_replaced(const Build& build, std::size_t index, KeepOut keep_out) {
  assert(index < build.keep_outs.size());
  Build result = build;
  result.keep_outs[index] = std::move(keep_out);
  return result;
}

Build with_states(const Build& build, std::vector<BayState> states) {
  Build result = build;
  result.states = std::move(states);
  for (KeepOut& keep_out : result.keep_outs)
    std::erase_if(keep_out.states, [&](const StateId& id) { return result.find(id) == nullptr; });
  return result;
}

Build with_state_renamed(const Build& build, const StateId& from, StateId to) {
  assert(build.find(from) != nullptr);
  Build result = build;
  for (KeepOut& keep_out : result.keep_outs)
    std::ranges::replace(keep_out.states, from, to);
  std::ranges::find(result.states, from, &BayState::id)->id = std::move(to);
  return result;
}

Build with_clearances(const Build& build, std::optional<ClearanceLimits> clearances) {
  Build result = build;
  result.clearances = clearances;
  return result;
}

Build with_movement(const Build& build, std::optional<EngineMovement> movement) {
  Build result = build;
  result.movement = movement;
  return result;
}

Build with_photographs(const Build& build, std::vector<Photograph> photographs) {
  Build result = build;
  result.photographs = std::move(photographs);
  return result;
}

Build with_give(const Build& build, const PieceRef& ref, std::optional<Give> give) {
  const Piece* piece = find(build, ref);
  assert(piece && is_flexible(piece->shape));
  Piece changed = *piece;
  changed.give = give;
  return with_piece_replaced(build, ref, std::move(changed));
}

Pose mirrored(const Pose& pose, double plane_y_m) {
  Pose result = pose;
  const Mirror mirror{plane_y_m};
  mirror.move(result.position_m);
  mirror.turn(result.direction);
  return result;
}

KeepOut mirrored(const KeepOut& keep_out, double plane_y_m) {
  KeepOut result = keep_out;
  std::visit(Mirror{plane_y_m}, result.shape);
  return result;
}

Build with_bay_mirrored(const Build& build, double plane_y_m) {
  Build result = build;
  for (Port& port : result.ports)
    if (port.pose)
      port.pose = mirrored(*port.pose, plane_y_m);
  for (KeepOut& keep_out : result.keep_outs)
    keep_out = mirrored(keep_out, plane_y_m);
  if (result.movement) {
    const Mirror mirror{plane_y_m};
    mirror.move(result.movement->axis_point_m);
    mirror.turn(result.movement->axis_direction);
    // A mirrored roll goes the other way about the mirrored axis.
    for (double& component : result.movement->axis_direction)
      component = component == 0 ? 0 : -component;
  }
  for (Option& option : result.options)
    for (Shared<Run>& run : option.runs) {
      Run turned = *run;
      turn_clocking(turned);
      run = std::move(turned);
    }
  result.photographs.clear();
  return result;
}

} // namespace bellmouth::build
