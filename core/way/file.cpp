// SPDX-License-Identifier: GPL-3.0-or-later
// Reading problems.
#include "json_object.hpp"
#include "winding.hpp"

#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/way/file.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace bellmouth::way {
namespace {

constexpr std::size_t most_items = 100'000;
constexpr std::size_t most_bends = 64;
constexpr double square = 1e-6; ///< cosine that still counts as a right angle

class ProblemReader {
public:
  ProblemReader(JsonText& text, const build::Json& root) : text_(text), root_(text, root, "$") {}

  Problem read() && {
    root_.format("route-problem/1");
    problem_.name = root_.text("name");
    problem_.class_name = root_.text("class");
    units();
    JsonObject rules = root_.object("rules");
    const double at_ports_m = rules.length_m("min_straight_at_ports");
    start_and_end(at_ports_m);
    stock();
    read_rules(rules);
    weights();
    for (const JsonObject::Item& item : root_.list("keepouts", most_items))
      keep_out(item);
    if (root_.has("waypoints"))
      for (const JsonObject::Item& item : root_.list("waypoints", most_items))
        waypoint(item);
    if (root_.has("apart"))
      problem_.apart_m = root_.length_m("apart");
    root_.done();
    return std::move(problem_);
  }

private:
  void units() {
    JsonObject units = root_.object("units");
    (void)units.word("length", {"mm"});
    (void)units.word("angle", {"deg"});
    units.done();
  }

  void start_and_end(double at_ports_m) {
    JsonObject start = root_.object("start");
    problem_.start = end(start, at_ports_m);
    const Vector& direction = problem_.start.direction;
    const Vector reference = start.direction("reference");
    const double along = bay::dot(reference, direction);
    if (std::abs(along) <= square)
      problem_.reference = bay::unit(bay::plus(reference, -along, direction));
    else
      start.refuse("reference", "a vector at right angles to the direction (within 1e-6)");
    start.done();
    JsonObject other = root_.object("end");
    problem_.end = end(other, at_ports_m);
    other.done();
  }
  static End end(JsonObject& object, double at_ports_m) {
    End end;
    end.position_m = object.point_m("position");
    end.direction = object.direction("direction");
    end.outer_diameter_m = object.length_m("od");
    end.mounting =
        object.word("mount", {"engine", "body"}) == 0 ? build::Mounting::engine : build::Mounting::body;
    end.straight_m = object.has("straight") ? object.length_m("straight") : at_ports_m;
    if (object.has("straight_to_silicone"))
      end.straight_to_silicone_m = object.length_m("straight_to_silicone");
    if (object.has("takes_silicone"))
      end.takes_silicone = object.flag("takes_silicone");
    return end;
  }

  void stock() {
    JsonObject stock = root_.object("stock");
    for (const JsonObject::Item& item : stock.list("bends", most_items))
      bend(item);
    JsonObject tube = stock.object("tube");
    problem_.tube.price_per_m = tube.number("price_per_mm") / mm;
    problem_.tube.longest_m = tube.length_m("max_length");
    tube.done();
    JsonObject joint = stock.object("joint");
    problem_.joint_price = joint.number("price");
    if (joint.has("weld_price"))
      problem_.weld_price = joint.number("weld_price");
    joint.done();
    if (stock.has("reducer")) {
      JsonObject reducer = stock.object("reducer");
      problem_.reducer = Reducer{reducer.length_m("length"), reducer.length_m("clamp"),
                                 reducer.number("price"), reducer.number("k")};
      reducer.done();
    }
    stock.done();
  }
  void bend(const JsonObject::Item& item) {
    JsonObject object(text_, *item.json, item.path);
    Bend bend;
    bend.id = object.text("id");
    bend.kind = object.word("kind", {"mandrel", "silicone"}) == 0 ? BendKind::mandrel : BendKind::silicone;
    bend.outer_diameter_m = object.length_m("od");
    bend.angle_rad = object.angle_rad("angle");
    bend.radius_m = object.length_m("clr");
    bend.leg_m = object.length_m("leg");
    bend.price = object.number("price");
    bend.k90 = object.number("k90");
    constexpr std::size_t most_owned = 1'000'000;
    if (object.has("owned"))
      bend.owned = static_cast<int>(object.count("owned", most_owned));
    object.done();
    problem_.bends.push_back(std::move(bend));
  }

  void read_rules(JsonObject& object) {
    Rules& rules = problem_.rules;
    rules.bends_may_be_cut = object.flag("bends_may_be_cut");
    rules.least_cut_angle_rad = object.angle_rad("min_cut_angle");
    rules.least_bends = object.count("min_bends", most_bends);
    rules.most_bends = object.count("max_bends", most_bends);
    rules.straight_between_bends_m = object.length_m("min_straight_between_bends");
    rules.flexible_straight_m = object.length_m("flexible_min_straight");
    rules.self_gap_m = object.length_m("self_gap");
    rules.end_gap_m = object.length_m("end_tolerance_mm");
    rules.end_angle_rad = object.angle_rad("end_tolerance_deg");
    object.done();
  }
  void weights() {
    JsonObject object = root_.object("weights");
    problem_.weights = {object.number("price"),           object.number("loss"),
                        object.number("joint"),           object.number("length") / mm,
                        object.number("friction_factor"), object.number("k_exponent")};
    object.done();
  }

  void keep_out(const JsonObject::Item& item) {
    JsonObject object(text_, *item.json, item.path);
    KeepOut keep_out;
    const std::size_t type = object.word("type", {"box", "cylinder", "sphere", "halfspace", "mesh", "pipe"});
    if (text_.failed() || object.json().member("type") == nullptr)
      return object.tell_missing();
    constexpr std::size_t mesh = 4, pipe = 5;
    if (type == mesh)
      keep_out.shape = surface(object);
    else if (type == pipe)
      keep_out.shape = Pipe{object.point_m("a"), object.point_m("b"), object.length_m("radius_a"),
                            object.length_m("radius_b")};
    else
      std::visit([&](auto shape) { keep_out.shape = std::move(shape); }, solid(object, type));
    if (object.has("name"))
      keep_out.name = object.text("name");
    keep_out.clearance_m = object.length_m("clearance");
    if (object.has("not_from_start"))
      keep_out.not_from_start_m = object.length_m("not_from_start");
    if (object.has("not_to_end"))
      keep_out.not_to_end_m = object.length_m("not_to_end");
    object.done();
    problem_.keep_outs.push_back(std::move(keep_out));
  }
  void waypoint(const JsonObject::Item& item) {
    JsonObject object(text_, *item.json, item.path);
    Waypoint waypoint;
    const std::size_t type = object.word("type", {"box", "cylinder", "sphere", "halfspace"});
    if (text_.failed() || object.json().member("type") == nullptr)
      return object.tell_missing();
    waypoint.shape = solid(object, type);
    if (object.has("name"))
      waypoint.name = object.text("name");
    object.done();
    problem_.waypoints.push_back(std::move(waypoint));
  }
  decltype(Waypoint::shape) solid(JsonObject& object, std::size_t type) {
    switch (type) {
    case 0:
      return box(object);
    case 1:
      return build::Cylinder{object.point_m("a"), object.point_m("b"), object.length_m("radius")};
    case 2:
      return build::Sphere{object.point_m("center"), object.length_m("radius")};
    default:
      return build::HalfSpace{object.point_m("point"), object.direction("normal")};
    }
  }
  build::Box box(JsonObject& object) {
    build::Box box;
    box.centre_m = object.point_m("center");
    box.half_size_m = object.point_m("half");
    const std::vector<JsonObject::Item> axes = object.list("axes", box.axes.size());
    if (axes.size() != box.axes.size()) {
      object.refuse("axes", "three unit vectors");
      return box;
    }
    for (std::size_t i = 0; i < axes.size(); ++i)
      box.axes[i] = object.direction(axes[i]);
    for (std::size_t i = 0; i < axes.size(); ++i)
      if (std::abs(bay::dot(box.axes[i], box.axes[(i + 1) % 3])) > square)
        object.refuse("axes", "three vectors at right angles (within 1e-6)");
    return box;
  }

  Surface surface(JsonObject& object) {
    mesh::Surface surface;
    const bool closed = !object.has("closed") || object.flag("closed");
    for (const JsonObject::Item& item : object.list("vertices", most_items))
      surface.points.push_back(object.point_m(item));
    const std::vector<JsonObject::Item> triangles = object.list("triangles", 2 * most_items);
    for (const JsonObject::Item& item : triangles)
      surface.triangles.push_back(triangle(item, surface));
    if (surface.triangles.empty())
      object.refuse("triangles", "at least one triangle");
    if (text_.failed() || surface.triangles.empty())
      return {};
    if (closed && !is_closed(surface, triangles))
      return {};
    if (closed && six_volumes(surface) < 0)
      for (mesh::Triangle& one : surface.triangles)
        std::swap(one[1], one[2]);
    return {mesh::make_scan(std::move(surface)), {}, closed};
  }
  mesh::Triangle triangle(const JsonObject::Item& item, const mesh::Surface& surface) {
    mesh::Triangle triangle{};
    const auto refuse = [&](std::string accepted) {
      text_.refuse(*item.json, item.path, std::move(accepted));
      return triangle;
    };
    const std::string words =
        fmt::format("three vertex numbers from 0 to {}", std::max<std::size_t>(surface.points.size(), 1) - 1);
    if (item.json->kind != build::Json::Kind::array || item.json->items.size() != triangle.size())
      return refuse(words);
    for (std::size_t i = 0; i < triangle.size(); ++i) {
      const build::Json& number = item.json->items[i];
      const bool digits = number.kind == build::Json::Kind::number && number.text.size() <= 6 &&
                          std::ranges::all_of(number.text, [](char c) { return c >= '0' && c <= '9'; });
      const std::size_t index = digits ? std::stoul(number.text) : surface.points.size();
      if (index >= surface.points.size())
        return refuse(words);
      triangle[i] = static_cast<std::uint32_t>(index);
    }
    const Vector& a = surface.points[triangle[0]];
    const Vector normal =
        bay::cross(bay::minus(surface.points[triangle[1]], a), bay::minus(surface.points[triangle[2]], a));
    constexpr double no_area_m2 = 1e-15;
    return bay::length(normal) > no_area_m2 ? triangle : refuse("a triangle with an area");
  }
  /// Each side of a triangle is that of one other, the other way round.
  bool is_closed(const mesh::Surface& surface, const std::vector<JsonObject::Item>& items) {
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::size_t> sides;
    const auto open = [&](std::size_t triangle) {
      text_.refuse(*items[triangle].json, items[triangle].path,
                   "a closed surface: each side of a triangle belongs to one other that turns the same way "
                   "round (or \"closed\": false)");
      return false;
    };
    for (std::size_t i = 0; i < surface.triangles.size(); ++i)
      for (std::size_t k = 0; k < 3; ++k)
        if (!sides.try_emplace({surface.triangles[i][k], surface.triangles[i][(k + 1) % 3]}, i).second)
          return open(i);
    for (const auto& [side, triangle] : sides)
      if (!sides.contains({side.second, side.first}))
        return open(triangle);
    return true;
  }

  JsonText& text_;
  JsonObject root_;
  Problem problem_;
};

} // namespace

bool is_problem(std::string_view text) {
  const auto root = build::parse({text, {}});
  if (!root)
    return false;
  const build::Json* format = root->member("format");
  return format != nullptr && format->text.starts_with("route-problem/");
}

Result<Problem> read_problem(std::string_view text, const std::string& file) {
  const build::Source source{text, file};
  const auto root = build::parse(source);
  if (!root)
    return fail(root.error());
  JsonText reading(source);
  Problem problem = ProblemReader(reading, *root).read();
  if (reading.failed())
    return fail(reading.error());
  if (const std::optional<Error> error = validate(problem)) {
    const build::Found at = build::follow(*root, error->place.path);
    return fail(source.error(at.value->begin, error->place.path,
                             at.exact ? source.excerpt(*at.value) : error->found, error->accepted));
  }
  return problem;
}

} // namespace bellmouth::way
