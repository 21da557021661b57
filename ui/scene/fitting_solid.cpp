// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/sweep.hpp"

#include <bellmouth/joint/threads.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::ui::scene {

namespace {

// Sizes that no piece and no port states; common practice, no source found.
constexpr double boss_height_m = 12e-3, boss_chamfer_m = 1.5e-3, boss_wall_m = 5e-3, thread_unknown_m = 12e-3;
constexpr double sunk_m = 4e-3; ///< how deep a fitting's foot stands in its host, so that no slit is seen
constexpr double neck_height_m = 18e-3, neck_wall_m = 2.5e-3, plate_m = 7e-3, plate_rim_m = 13e-3;
constexpr double band_m = 0.9e-3, housing_length_m = 16e-3, housing_height_m = 8e-3, screw_radius_m = 3.4e-3;
constexpr double least_spigot_m = 25e-3, flange_m = 8e-3, flange_rim_m = 9e-3, port_bead_m = 1.8e-3;

/// From the x axis to the z axis, about y.
mesh::Placement standing(double height_m) {
  return {1, {{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}}}, {0, 0, height_m}};
}

/// A turned part that stands up on z.
TriangleMesh upright(const std::vector<Corner>& outline, double height_m, int sides = ring_sides) {
  TriangleMesh mesh = turned(outline, sides);
  mesh.move(standing(height_m));
  return mesh;
}

} // namespace

TriangleMesh boss_mesh(const build::SensorBoss& boss, double host_diameter_m) {
  const joint::Thread* const thread = joint::find_thread(boss.thread);
  const double bore_m = (thread ? thread->minor_diameter_m : thread_unknown_m) / 2;
  const double radius_m = (thread ? thread->major_diameter_m : thread_unknown_m) / 2 + boss_wall_m;
  const double foot_m = -sunk_m, top_m = boss_height_m;
  TriangleMesh mesh = upright({{foot_m, radius_m},
                               {top_m - boss_chamfer_m, radius_m},
                               {top_m, radius_m - boss_chamfer_m},
                               {top_m, bore_m},
                               {foot_m, bore_m}},
                              host_diameter_m / 2);
  if (boss.tip) {
    // The sensor in it: a hexagon, a cap, and the tip in the stream.
    const double hexagon_m = radius_m * 0.95;
    mesh.add(upright({{top_m, 0}, {top_m, hexagon_m}, {top_m + 8e-3, hexagon_m}, {top_m + 8e-3, 0}},
                     host_diameter_m / 2, 6));
    mesh.add(upright({{top_m + 8e-3, 0},
                      {top_m + 8e-3, hexagon_m * 0.7},
                      {top_m + 24e-3, hexagon_m * 0.7},
                      {top_m + 26e-3, hexagon_m * 0.55},
                      {top_m + 26e-3, 0}},
                     host_diameter_m / 2));
    const double tip_m = boss.tip->diameter_m / 2;
    mesh.add(upright({{-boss.tip->depth_m, 0}, {-boss.tip->depth_m, tip_m}, {top_m, tip_m}, {top_m, 0}},
                     host_diameter_m / 2));
  }
  return mesh;
}

TriangleMesh flange_mesh(const build::ValveFlange& flange, double host_diameter_m) {
  const double bore_m = flange.bore_m / 2, neck_m = bore_m + neck_wall_m,
               plate_radius_m = bore_m + plate_rim_m;
  // A wide neck must reach down the side of its host.
  const double sagging_m =
      host_diameter_m / 2 - std::sqrt(std::max(0.0, host_diameter_m * host_diameter_m / 4 - neck_m * neck_m));
  const double foot_m = -sunk_m - sagging_m;
  return upright({{foot_m, neck_m},
                  {neck_height_m - plate_m, neck_m},
                  {neck_height_m - plate_m, plate_radius_m},
                  {neck_height_m, plate_radius_m},
                  {neck_height_m, bore_m},
                  {foot_m, bore_m}},
                 host_diameter_m / 2);
}

TriangleMesh clamp_mesh(double inner_diameter_m, double band_width_m) {
  const double inner_m = inner_diameter_m / 2, outer_m = inner_m + band_m, half_m = band_width_m / 2;
  // The band's edges are turned up, so that they do not cut.
  TriangleMesh mesh = turned({{-half_m, inner_m},
                              {-half_m, outer_m + 0.7e-3},
                              {-half_m + 1.2e-3, outer_m},
                              {half_m - 1.2e-3, outer_m},
                              {half_m, outer_m + 0.7e-3},
                              {half_m, inner_m}});
  mesh.add(box({-half_m * 0.95, -housing_length_m / 2, outer_m - 0.5e-3},
               {half_m * 0.95, housing_length_m / 2, outer_m + housing_height_m * 0.55}));
  TriangleMesh screw = turned({{-housing_length_m * 0.62, 0},
                               {-housing_length_m * 0.62, screw_radius_m * 0.8},
                               {housing_length_m * 0.5, screw_radius_m * 0.8},
                               {housing_length_m * 0.5, screw_radius_m * 1.15},
                               {housing_length_m * 0.78, screw_radius_m * 1.15},
                               {housing_length_m * 0.78, 0}},
                              16);
  screw.move({1, {{{0, 1, 0}, {-1, 0, 0}, {0, 0, 1}}}, {0, 0, outer_m + housing_height_m * 0.55}});
  mesh.add(screw);
  return mesh;
}

TriangleMesh port_mesh(const build::Port& port) {
  const double bore_m = port.bore_m / 2, outer_m = std::max(port.outer_diameter_m / 2, bore_m + 0.5e-3);
  const double spigot_m = std::max(port.land_m, least_spigot_m);
  const double back_m = -spigot_m - flange_m, rim_m = outer_m + flange_rim_m;
  std::vector<Corner> outline{{back_m, 0}, {back_m, rim_m}, {-spigot_m, rim_m}, {-spigot_m, outer_m}};
  if (port.beaded)
    outline.insert(outline.end(), {{-10e-3, outer_m},
                                   {-8.5e-3, outer_m + port_bead_m},
                                   {-6e-3, outer_m + port_bead_m},
                                   {-4.5e-3, outer_m}});
  outline.insert(outline.end(), {{0, outer_m}, {0, bore_m}, {-spigot_m, bore_m}, {-spigot_m, 0}});
  return turned(outline);
}

TriangleMesh arrow_mesh(double length_m, double width_m) {
  const double head_m = std::min(0.45 * length_m, 1.2 * width_m);
  return turned({{0, 0},
                 {0, width_m * 0.19},
                 {length_m - head_m, width_m * 0.19},
                 {length_m - head_m, width_m / 2},
                 {length_m, 0}},
                24);
}

TriangleMesh keep_out_mesh(const build::Box& keep_out) {
  const Vector half = keep_out.half_size_m;
  TriangleMesh mesh = box(times(-1, half), half);
  mesh.convex = true;
  mesh.move({1, keep_out.axes, keep_out.centre_m});
  return mesh;
}

TriangleMesh keep_out_mesh(const build::Cylinder& cylinder) {
  const Vector way = minus(cylinder.to_m, cylinder.from_m);
  const double length_m = length(way);
  TriangleMesh mesh =
      turned({{0, 0}, {0, cylinder.radius_m}, {length_m, cylinder.radius_m}, {length_m, 0}}, 2 * ring_sides);
  mesh.convex = true;
  const Vector x = length_m > 0 ? unit(way) : Vector{1, 0, 0};
  const Vector z = across(x);
  mesh.move({1, {{x, cross(z, x), z}}, cylinder.from_m});
  return mesh;
}

TriangleMesh keep_out_mesh(const build::Sphere& sphere) {
  constexpr int steps = 24;
  std::vector<Corner> outline;
  for (int i = 0; i <= steps; ++i) {
    const double angle = std::numbers::pi * i / steps;
    outline.push_back(
        {-sphere.radius_m * std::cos(angle), i == 0 || i == steps ? 0 : sphere.radius_m * std::sin(angle)});
  }
  TriangleMesh mesh = turned(outline, 2 * ring_sides);
  mesh.edges.clear();
  mesh.convex = true;
  for (std::size_t i = 0; i < mesh.points_m.size(); ++i) {
    const Vector out = unit(mesh.points_m[i]);
    mesh.normals[i] = {static_cast<float>(out[0]), static_cast<float>(out[1]), static_cast<float>(out[2])};
    mesh.points_m[i] = plus(sphere.centre_m, mesh.points_m[i]);
  }
  return mesh;
}

TriangleMesh keep_out_mesh(const build::HalfSpace& half, const Extent& bay) {
  const Vector normal = unit(half.normal), middle = times(0.5, plus(bay.low, bay.high));
  const Vector foot = plus(middle, normal, dot(minus(half.point_m, middle), normal));
  // Square to the vehicle where the plane allows it.
  const Vector u = across(normal), v = cross(normal, u);
  const double reach_m = 0.6 * length(minus(bay.high, bay.low));
  TriangleMesh mesh;
  mesh.closed = false;
  mesh.convex = true;
  for (const auto& [x, y] : {std::pair{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}) {
    mesh.points_m.push_back(plus(plus(foot, u, x * reach_m), v, y * reach_m));
    mesh.normals.push_back(
        {static_cast<float>(normal[0]), static_cast<float>(normal[1]), static_cast<float>(normal[2])});
  }
  mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
  mesh.edges = {{0, 1}, {1, 2}, {2, 3}, {3, 0}};
  return mesh;
}

} // namespace bellmouth::ui::scene
