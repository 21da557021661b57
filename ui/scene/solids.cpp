// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/solid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <type_traits>
#include <utility>

namespace bellmouth::ui::scene {

namespace {

constexpr double usual_band_m = 12.7e-3; ///< of a clamp that was not chosen; common practice, no source found
constexpr double arrow_length_m = 65e-3, arrow_width_m = 22e-3, arrow_off_m = 22e-3;
constexpr double bay_grid_m = 0.25; ///< a half-space's rectangle grows in such steps
constexpr double least_bay_m = 0.5; ///< where nothing else says how large the bay is

mesh::Placement placed(const Vector& origin_m, const Vector& x, const Vector& z) {
  return {1, {{x, cross(z, x), z}}, origin_m};
}
mesh::Placement placed(const bay::Frame& frame) {
  return placed(frame.position_m, frame.direction, frame.reference);
}

std::string numbered(const std::string& name, std::size_t number) {
  return name + " " + std::to_string(number);
}

/// The joints at the ends of a row: its place among the rows that are no fittings counts.
struct EndJoints {
  const joint::Joint* in = nullptr;
  const joint::Joint* out = nullptr;
};
EndJoints joints_of(const RunResult& result, std::size_t place) {
  const auto& joints = result.fit.joints;
  return {place < joints.size() ? &joints[place] : nullptr,
          place + 1 < joints.size() ? &joints[place + 1] : nullptr};
}

Spigots spigots_of(const build::Shape& shape, const EndJoints& joints, const joint::Row& row) {
  Spigots spigots;
  if (!build::is_flexible(shape))
    return spigots;
  const auto diameter_m = [](const joint::Joint* joint) {
    return joint && joint->kind == joint::Kind::hose ? joint->spigot().outer_diameter_m : 0.0;
  };
  return {diameter_m(joints.in), diameter_m(joints.out), row.cover_in_m, row.cover_out_m};
}

/// Outside diameter of a piece at a share of its length.
double diameter_at(const build::Shape& shape, double share) {
  const double in_m = build::outer_diameter_in_m(shape), out_m = build::outer_diameter_out_m(shape);
  return in_m + (out_m - in_m) * std::clamp(share, 0.0, 1.0);
}

/// Where a fitting stands on its host and which way it points.
mesh::Placement on_host(const bay::Frame& host_start, const bay::Track& host, double position_m,
                        double clocking_rad) {
  const bay::Seat seat = bay::seat(host_start, host, position_m, clocking_rad, 0);
  return placed(seat.on_centreline_m, bay::along(host_start, host, position_m).direction, seat.outward);
}

template <class Shape> struct FittingKey {
  Shape shape;
  double host_diameter_m;
  friend bool operator==(const FittingKey&, const FittingKey&) = default;
};

/// The least box round everything that has bounds, its corners on a coarse grid.
Extent bay_of(const std::vector<Solid>& solids) {
  Extent box = extent(solids).value_or(Extent{});
  for (std::size_t axis = 0; axis < 3; ++axis) {
    box.low[axis] = std::floor(box.low[axis] / bay_grid_m) * bay_grid_m;
    box.high[axis] =
        std::max(std::ceil(box.high[axis] / bay_grid_m) * bay_grid_m, box.low[axis] + least_bay_m);
  }
  return box;
}

} // namespace

template <class Key, class Make>
std::shared_ptr<const TriangleMesh> SolidMaker::kept(const std::string& name, const Key& key,
                                                     const Make& make) {
  const auto before = kept_.find(name);
  const Key* const old = before == kept_.end() ? nullptr : std::any_cast<Key>(&before->second.key);
  if (old && *old == key)
    return (used_[name] = before->second).mesh;
  ++made_;
  return (used_[name] = {key, std::make_shared<const TriangleMesh>(make())}).mesh;
}

std::vector<Solid> SolidMaker::solids(const build::Build& build, const Evaluation& evaluation) {
  std::vector<Solid> solids;
  used_.clear();
  const build::Option* const option = build.find(evaluation.option);
  std::vector<build::PortId> ends;
  for (const RunResult& result : evaluation.runs)
    if (const build::Run* const run = option ? option->find(result.id) : nullptr) {
      ends.push_back(run->to);
      if (result.frames.size() == run->pieces.size() + 1 && result.fit.rows.size() == run->pieces.size())
        add_run(*run, result, solids);
    }
  for (const build::Port& port : build.ports)
    if (port.pose)
      add_port(port, std::ranges::find(ends, port.id) != ends.end(), solids);
  for (const bool half_spaces : {false, true}) {
    const Extent bay = half_spaces ? bay_of(solids) : Extent{};
    for (std::size_t i = 0; i < build.keep_outs.size(); ++i)
      if (std::holds_alternative<build::HalfSpace>(build.keep_outs[i].shape) == half_spaces)
        add_keep_out(build.keep_outs[i], i, bay, solids);
  }
  kept_ = std::move(used_);
  return solids;
}

void SolidMaker::add_run(const build::Run& run, const RunResult& result, std::vector<Solid>& solids) {
  std::size_t place = 0;
  for (std::size_t row = 0; row < run.pieces.size(); ++row) {
    const build::Piece& piece = run.pieces[row];
    const std::string name = numbered(run.id.text, row);
    Solid solid;
    solid.part = {.kind = Part::Kind::piece, .run = run.id, .row = row, .port = {}};
    solid.material = piece.material;
    if (build::is_fitting(piece.shape)) {
      const auto host = result.fit.rows[row].host;
      if (!host)
        continue;
      const build::Shape& host_shape = run.pieces[*host].shape;
      const bay::Track track = bay::track(host_shape, 0, 0);
      std::visit(
          [&](const auto& fitting) {
            using Kind = std::decay_t<decltype(fitting)>;
            if constexpr (std::is_same_v<Kind, build::SensorBoss> ||
                          std::is_same_v<Kind, build::ValveFlange>) {
              const double diameter_m = diameter_at(host_shape, fitting.position_m / track.length_m());
              const FittingKey<Kind> key{fitting, diameter_m};
              solid.mesh = kept(name, key, [&] {
                if constexpr (std::is_same_v<Kind, build::SensorBoss>)
                  return boss_mesh(fitting, diameter_m);
                else
                  return flange_mesh(fitting, diameter_m);
              });
              solid.placement =
                  on_host(result.frames[*host], track, fitting.position_m, fitting.clocking_rad);
            }
          },
          piece.shape);
      solids.push_back(solid);
      continue;
    }
    const joint::Row& fit = result.fit.rows[row];
    const EndJoints joints = joints_of(result, place++);
    const Spigots spigots = spigots_of(piece.shape, joints, fit);
    solid.mesh =
        kept(name, std::pair{piece.shape, spigots}, [&] { return piece_mesh(piece.shape, spigots); });
    solid.placement = placed(bay::advanced(result.frames[row], -fit.cover_in_m));
    solids.push_back(solid);
    if (!build::is_flexible(piece.shape))
      continue;
    Part clamp = solid.part;
    clamp.kind = Part::Kind::clamp;
    if (joints.in)
      add_clamp(clamp, *joints.in, bay::advanced(result.frames[row], -fit.cover_in_m / 2), solids);
    if (joints.out)
      add_clamp(clamp, *joints.out, bay::advanced(result.frames[row + 1], fit.cover_out_m / 2), solids);
  }
}

void SolidMaker::add_clamp(const Part& part, const joint::Joint& joint, const bay::Frame& middle,
                           std::vector<Solid>& solids) {
  if (joint::clamps_needed(joint) == 0)
    return;
  const double band_m = joint.clamp && joint.clamp->band_width_m ? *joint.clamp->band_width_m : usual_band_m;
  const double inner_m = joint.installed_diameter_m;
  Solid solid;
  solid.part = part;
  const std::string name =
      numbered("clamp " + part.run.text, part.row) + (&joint.hose() == &joint.downstream ? " in" : " out");
  solid.mesh = kept(name, std::pair{inner_m, band_m}, [&] { return clamp_mesh(inner_m, band_m); });
  solid.placement = placed(middle);
  solid.material = build::Material::stainless_steel;
  solids.push_back(solid);
}

void SolidMaker::add_port(const build::Port& port, bool flow_goes_in, std::vector<Solid>& solids) {
  const bay::Frame frame = bay::frame_of(*port.pose);
  Solid solid;
  solid.part = {.kind = Part::Kind::port, .run = {}, .port = port.id};
  const std::array<double, 4> sizes{port.bore_m, port.outer_diameter_m, port.land_m, port.beaded ? 1.0 : 0.0};
  solid.mesh = kept("port " + port.id.text, sizes, [&] { return port_mesh(port); });
  solid.placement = placed(frame);
  solids.push_back(solid);

  Solid arrow;
  arrow.part = {.kind = Part::Kind::arrow, .run = {}, .port = port.id};
  arrow.mesh = kept("arrow", 0, [] { return arrow_mesh(arrow_length_m, arrow_width_m); });
  const Vector beside = plus(frame.position_m, frame.reference, port.outer_diameter_m / 2 + arrow_off_m);
  const Vector way = flow_goes_in ? times(-1, frame.direction) : frame.direction;
  // From the spigot outwards, or from outside up to the face.
  arrow.placement =
      placed(plus(beside, frame.direction, flow_goes_in ? arrow_length_m : 0), way, frame.reference);
  solids.push_back(arrow);
}

void SolidMaker::add_keep_out(const build::KeepOut& keep_out, std::size_t index, const Extent& bay,
                              std::vector<Solid>& solids) {
  Solid solid;
  solid.part = {.kind = Part::Kind::keep_out, .run = {}, .port = {}, .keep_out = index};
  solid.keep_out_class = keep_out.keep_out_class;
  const std::string name = numbered("keep-out", index);
  std::visit(
      [&](const auto& shape) {
        using Kind = std::decay_t<decltype(shape)>;
        if constexpr (std::is_same_v<Kind, build::Scan>) {
          solid.part.kind = Part::Kind::scan;
          if (!shape.loaded)
            return;
          solid.mesh = kept(name, shape.loaded, [&] { return surface_mesh(shape.loaded->for_display); });
          solid.coarse =
              kept(name + " coarse", shape.loaded, [&] { return coarse_mesh(shape.loaded->for_display); });
          solid.placement = shape.placement();
        } else if constexpr (std::is_same_v<Kind, build::HalfSpace>) {
          solid.bounded = false;
          solid.mesh =
              kept(name, std::tuple{shape, bay.low, bay.high}, [&] { return keep_out_mesh(shape, bay); });
        } else {
          solid.mesh = kept(name, shape, [&] { return keep_out_mesh(shape); });
        }
      },
      keep_out.shape);
  if (solid.mesh)
    solids.push_back(solid);
}

std::optional<Extent> extent(const std::vector<Solid>& solids) {
  std::optional<Extent> box;
  for (const Solid& solid : solids)
    if (solid.bounded && solid.mesh && !solid.mesh->points_m.empty()) {
      const Extent own = extent(*solid.mesh, solid.placement);
      box = box ? united(*box, own) : own;
    }
  return box;
}

} // namespace bellmouth::ui::scene
