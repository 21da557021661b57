// SPDX-License-Identifier: GPL-3.0-or-later
// Writing problems.
#include "json_object.hpp"
#include "json_write.hpp"

#include <bellmouth/way/file.hpp>

#include <algorithm>
#include <cmath>

namespace bellmouth::way {

using build::Json;

namespace {

void add_solid(Json& object, const build::Box& box) {
  object.add("type", Json::string("box"));
  object.add("center", json_point(box.centre_m));
  object.add("half", json_point(box.half_size_m));
  object.add("axes", Json::array({json_direction(box.axes[0]), json_direction(box.axes[1]),
                                  json_direction(box.axes[2])}));
}
void add_solid(Json& object, const build::Cylinder& cylinder) {
  object.add("type", Json::string("cylinder"));
  object.add("a", json_point(cylinder.from_m));
  object.add("b", json_point(cylinder.to_m));
  object.add("radius", json_length(cylinder.radius_m));
}
void add_solid(Json& object, const build::Sphere& sphere) {
  object.add("type", Json::string("sphere"));
  object.add("center", json_point(sphere.centre_m));
  object.add("radius", json_length(sphere.radius_m));
}
void add_solid(Json& object, const build::HalfSpace& half) {
  object.add("type", Json::string("halfspace"));
  object.add("point", json_point(half.point_m));
  object.add("normal", json_direction(half.normal));
}
void add_solid(Json& object, const Surface& surface) {
  object.add("type", Json::string("mesh"));
  if (!surface.closed)
    object.add("closed", Json::boolean(false));
  Json vertices = Json::array(), triangles = Json::array();
  for (const mesh::Point& point : surface.scan->surface.points)
    vertices.items.push_back(json_point(surface.placement.to_bay(point)));
  for (const mesh::Triangle& triangle : surface.scan->surface.triangles) {
    Json& numbers = triangles.items.emplace_back(Json::array());
    for (const std::uint32_t index : triangle)
      numbers.items.push_back(Json::number(std::to_string(index)));
  }
  object.add("vertices", std::move(vertices));
  object.add("triangles", std::move(triangles));
}
void add_solid(Json& object, const Pipe& pipe) {
  object.add("type", Json::string("pipe"));
  object.add("a", json_point(pipe.from_m));
  object.add("b", json_point(pipe.to_m));
  object.add("radius_a", json_length(pipe.radius_from_m));
  object.add("radius_b", json_length(pipe.radius_to_m));
}

Json end(const End& end, double at_ports_m) {
  Json json = Json::object();
  json.add("position", json_point(end.position_m));
  json.add("direction", json_direction(end.direction));
  json.add("od", json_length(end.outer_diameter_m));
  json.add("mount", Json::string(end.mounting == build::Mounting::engine ? "engine" : "body"));
  if (end.straight_m != at_ports_m)
    json.add("straight", json_length(end.straight_m));
  if (end.straight_to_silicone_m != 0)
    json.add("straight_to_silicone", json_length(end.straight_to_silicone_m));
  if (end.takes_silicone)
    json.add("takes_silicone", Json::boolean(true));
  return json;
}

Json bend(const Bend& bend) {
  Json json = Json::object();
  json.add("id", Json::string(bend.id));
  json.add("kind", Json::string(bend.kind == BendKind::mandrel ? "mandrel" : "silicone"));
  json.add("od", json_length(bend.outer_diameter_m));
  json.add("angle", json_angle(bend.angle_rad));
  json.add("clr", json_length(bend.radius_m));
  json.add("leg", json_length(bend.leg_m));
  json.add("price", json_number(bend.price));
  json.add("k90", json_number(bend.k90));
  if (bend.owned > 0)
    json.add("owned", Json::number(std::to_string(bend.owned)));
  return json;
}

Json stock(const Problem& problem) {
  Json json = Json::object();
  Json& bends = json.add("bends", Json::array());
  for (const Bend& one : problem.bends)
    bends.items.push_back(bend(one));
  Json& tube = json.add("tube", Json::object());
  tube.add("price_per_mm", json_number(problem.tube.price_per_m * mm));
  tube.add("max_length", json_length(problem.tube.longest_m));
  Json& joint = json.add("joint", Json::object());
  joint.add("price", json_number(problem.joint_price));
  if (problem.weld_price)
    joint.add("weld_price", json_number(*problem.weld_price));
  if (problem.reducer) {
    Json& reducer = json.add("reducer", Json::object());
    reducer.add("length", json_length(problem.reducer->length_m));
    reducer.add("clamp", json_length(problem.reducer->clamp_m));
    reducer.add("price", json_number(problem.reducer->price));
    reducer.add("k", json_number(problem.reducer->k));
  }
  return json;
}

Json rules(const Rules& rules, double at_ports_m) {
  Json json = Json::object();
  json.add("bends_may_be_cut", Json::boolean(rules.bends_may_be_cut));
  json.add("min_cut_angle", json_angle(rules.least_cut_angle_rad));
  json.add("min_bends", Json::number(std::to_string(rules.least_bends)));
  json.add("max_bends", Json::number(std::to_string(rules.most_bends)));
  json.add("min_straight_between_bends", json_length(rules.straight_between_bends_m));
  json.add("min_straight_at_ports", json_length(at_ports_m));
  json.add("flexible_min_straight", json_length(rules.flexible_straight_m));
  json.add("self_gap", json_length(rules.self_gap_m));
  json.add("end_tolerance_mm", json_length(rules.end_gap_m));
  json.add("end_tolerance_deg", json_angle(rules.end_angle_rad));
  return json;
}

Json weights(const Weights& weights) {
  Json json = Json::object();
  json.add("price", json_number(weights.price));
  json.add("loss", json_number(weights.loss));
  json.add("joint", json_number(weights.joint));
  json.add("length", json_number(weights.per_m * mm));
  json.add("friction_factor", json_number(weights.friction_factor));
  json.add("k_exponent", json_number(weights.k_exponent));
  return json;
}

Json keep_out(const KeepOut& keep_out) {
  Json json = Json::object();
  std::visit([&](const auto& shape) { add_solid(json, shape); }, keep_out.shape);
  json.add("clearance", json_length(keep_out.clearance_m));
  if (!keep_out.name.empty())
    json.add("name", Json::string(keep_out.name));
  if (keep_out.not_from_start_m != 0)
    json.add("not_from_start", json_length(keep_out.not_from_start_m));
  if (keep_out.not_to_end_m != 0)
    json.add("not_to_end", json_length(keep_out.not_to_end_m));
  return json;
}

} // namespace

std::string write_problem(const Problem& problem) {
  const double at_ports_m = std::min(problem.start.straight_m, problem.end.straight_m);
  Json json = Json::object();
  json.add("format", Json::string("route-problem/1"));
  json.add("name", Json::string(problem.name));
  json.add("class", Json::string(problem.class_name));
  Json& units = json.add("units", Json::object());
  units.add("length", Json::string("mm"));
  units.add("angle", Json::string("deg"));
  json.add("start", end(problem.start, at_ports_m)).add("reference", json_direction(problem.reference));
  json.add("end", end(problem.end, at_ports_m));
  json.add("stock", stock(problem));
  json.add("rules", rules(problem.rules, at_ports_m));
  json.add("weights", weights(problem.weights));
  Json& keep_outs = json.add("keepouts", Json::array());
  for (const KeepOut& one : problem.keep_outs)
    keep_outs.items.push_back(keep_out(one));
  if (!problem.waypoints.empty()) {
    Json& waypoints = json.add("waypoints", Json::array());
    for (const Waypoint& waypoint : problem.waypoints) {
      Json& one = waypoints.items.emplace_back(Json::object());
      std::visit([&](const auto& shape) { add_solid(one, shape); }, waypoint.shape);
      if (!waypoint.name.empty())
        one.add("name", Json::string(waypoint.name));
    }
  }
  if (problem.apart_m)
    json.add("apart", json_length(*problem.apart_m));
  return build::print(json);
}

} // namespace bellmouth::way
