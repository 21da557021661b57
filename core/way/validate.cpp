// SPDX-License-Identifier: GPL-3.0-or-later
#include "json_object.hpp"

#include <bellmouth/bay/vectors.hpp>
#include <bellmouth/way.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

namespace bellmouth::way {
namespace {

/// Asks one thing after the other and keeps the first complaint.
class Validator {
public:
  std::optional<Error> check(const Problem& problem) && {
    end(problem.start, "$.start");
    end(problem.end, "$.end");
    const double along = bay::dot(problem.reference, problem.start.direction);
    require(is_unit(problem.reference) && std::abs(along) <= rounding, "$.start.reference", along,
            "a unit vector at right angles to the direction");
    bends(problem.bends);
    not_below_zero(problem.tube.price_per_m * mm, "$.stock.tube.price_per_mm");
    above_zero_length(problem.tube.longest_m, "$.stock.tube.max_length");
    not_below_zero(problem.joint_price, "$.stock.joint.price");
    if (problem.apart_m)
      not_below_zero(*problem.apart_m, "$.apart");
    if (problem.weld_price)
      not_below_zero(*problem.weld_price, "$.stock.joint.weld_price");
    reducer(problem);
    rules(problem.rules);
    weights(problem.weights);
    for (std::size_t i = 0; i < problem.keep_outs.size(); ++i)
      keep_out(problem.keep_outs[i], fmt::format("$.keepouts[{}]", i));
    for (std::size_t i = 0; i < problem.waypoints.size(); ++i)
      std::visit([&](const auto& shape) { solid(shape, fmt::format("$.waypoints[{}]", i)); },
                 problem.waypoints[i].shape);
    return std::move(error_);
  }

private:
  static constexpr double rounding = 1e-6;

  void complain(const std::string& path, std::string found, std::string accepted) {
    if (error_)
      return;
    error_.emplace();
    error_->place.path = path;
    error_->found = std::move(found);
    error_->accepted = std::move(accepted);
  }
  void require(bool holds, const std::string& path, double found, std::string accepted) {
    if (!holds)
      complain(path, build::number_text(found), std::move(accepted));
  }
  void not_below_zero(double value, const std::string& path) {
    require(value >= 0 && std::isfinite(value), path, value, "a number from 0 on");
  }
  void above_zero_length(double value_m, const std::string& path) {
    require(value_m > 0 && std::isfinite(value_m), path, value_m / mm, "a length in mm of more than 0");
  }
  void length_from_zero(double value_m, const std::string& path) {
    require(value_m >= 0 && std::isfinite(value_m), path, value_m / mm, "a length in mm from 0 on");
  }
  void angle(double angle_rad, double most_degrees, const std::string& path) {
    const double degrees = angle_rad * 180 / std::numbers::pi;
    require(degrees > 0 && degrees <= most_degrees + rounding, path, degrees,
            fmt::format("an angle of more than 0 and at most {} degrees", most_degrees));
  }
  static bool is_unit(const Vector& vector) { return std::abs(bay::length(vector) - 1) <= rounding; }
  void unit(const Vector& vector, const std::string& path) {
    require(is_unit(vector), path, bay::length(vector), "a vector of length 1 (within 1e-6)");
  }
  void point(const Vector& point_m, const std::string& path) {
    for (std::size_t i = 0; i < point_m.size(); ++i)
      require(std::abs(point_m[i]) <= furthest_mm * mm, fmt::format("{}[{}]", path, i), point_m[i] / mm,
              "a number of mm, at most 1000000");
  }

  void end(const End& end, const std::string& path) {
    point(end.position_m, path + ".position");
    unit(end.direction, path + ".direction");
    above_zero_length(end.outer_diameter_m, path + ".od");
    length_from_zero(end.straight_m, path + ".straight");
    length_from_zero(end.straight_to_silicone_m, path + ".straight_to_silicone");
  }
  void bends(const std::vector<Bend>& bends) {
    constexpr double half_turn = 180;
    std::set<std::string> ids;
    for (std::size_t i = 0; i < bends.size(); ++i) {
      const Bend& bend = bends[i];
      const std::string path = fmt::format("$.stock.bends[{}]", i);
      if (bend.id.empty())
        complain(path + ".id", "\"\"", "a name");
      if (!ids.insert(bend.id).second)
        complain(path + ".id", fmt::format("\"{}\"", bend.id), "an id that no bend before it has");
      above_zero_length(bend.outer_diameter_m, path + ".od");
      angle(bend.angle_rad, half_turn, path + ".angle");
      above_zero_length(bend.radius_m, path + ".clr");
      length_from_zero(bend.leg_m, path + ".leg");
      not_below_zero(bend.price, path + ".price");
      not_below_zero(bend.k90, path + ".k90");
      not_below_zero(bend.owned, path + ".owned");
    }
  }
  void reducer(const Problem& problem) {
    const bool differ = problem.start.outer_diameter_m != problem.end.outer_diameter_m;
    if (!problem.reducer) {
      if (differ)
        complain("$.stock.reducer", "no reducer", "a reducer, for the ports differ in diameter");
      return;
    }
    above_zero_length(problem.reducer->length_m, "$.stock.reducer.length");
    length_from_zero(problem.reducer->clamp_m, "$.stock.reducer.clamp");
    not_below_zero(problem.reducer->price, "$.stock.reducer.price");
    not_below_zero(problem.reducer->k, "$.stock.reducer.k");
  }
  void rules(const Rules& rules) {
    constexpr double half_turn = 180;
    const std::string path = "$.rules";
    if (rules.bends_may_be_cut || rules.least_cut_angle_rad != 0)
      angle(rules.least_cut_angle_rad, half_turn, path + ".min_cut_angle");
    require(rules.least_bends <= rules.most_bends, path + ".min_bends",
            static_cast<double>(rules.least_bends),
            fmt::format("a number up to that of max_bends, {}", rules.most_bends));
    length_from_zero(rules.straight_between_bends_m, path + ".min_straight_between_bends");
    length_from_zero(rules.flexible_straight_m, path + ".flexible_min_straight");
    length_from_zero(rules.self_gap_m, path + ".self_gap");
    above_zero_length(rules.end_gap_m, path + ".end_tolerance_mm");
    angle(rules.end_angle_rad, half_turn, path + ".end_tolerance_deg");
  }
  void weights(const Weights& weights) {
    const std::string path = "$.weights";
    not_below_zero(weights.price, path + ".price");
    not_below_zero(weights.loss, path + ".loss");
    not_below_zero(weights.joint, path + ".joint");
    not_below_zero(weights.per_m, path + ".length");
    not_below_zero(weights.friction_factor, path + ".friction_factor");
    not_below_zero(weights.k_exponent, path + ".k_exponent");
  }

  void keep_out(const KeepOut& keep_out, const std::string& path) {
    std::visit([&](const auto& shape) { solid(shape, path); }, keep_out.shape);
    length_from_zero(keep_out.clearance_m, path + ".clearance");
    length_from_zero(keep_out.not_from_start_m, path + ".not_from_start");
    length_from_zero(keep_out.not_to_end_m, path + ".not_to_end");
  }
  void solid(const build::Box& box, const std::string& path) {
    point(box.centre_m, path + ".center");
    for (std::size_t i = 0; i < 3; ++i) {
      above_zero_length(box.half_size_m[i], fmt::format("{}.half[{}]", path, i));
      unit(box.axes[i], fmt::format("{}.axes[{}]", path, i));
      const double square = bay::dot(box.axes[i], box.axes[(i + 1) % 3]);
      require(std::abs(square) <= rounding, path + ".axes", square, "three vectors at right angles");
    }
  }
  void solid(const build::Cylinder& cylinder, const std::string& path) {
    point(cylinder.from_m, path + ".a");
    point(cylinder.to_m, path + ".b");
    above_zero_length(bay::length(bay::minus(cylinder.to_m, cylinder.from_m)), path + ".b",
                      "a point that is not that of a");
    above_zero_length(cylinder.radius_m, path + ".radius");
  }
  void solid(const build::Sphere& sphere, const std::string& path) {
    point(sphere.centre_m, path + ".center");
    above_zero_length(sphere.radius_m, path + ".radius");
  }
  void solid(const build::HalfSpace& half, const std::string& path) {
    point(half.point_m, path + ".point");
    unit(half.normal, path + ".normal");
  }
  void solid(const Surface& surface, const std::string& path) {
    if (!surface.scan || surface.scan->surface.triangles.empty())
      complain(path + ".triangles", "no triangles", "a surface");
  }
  void solid(const Pipe& pipe, const std::string& path) {
    point(pipe.from_m, path + ".a");
    point(pipe.to_m, path + ".b");
    length_from_zero(pipe.radius_from_m, path + ".radius_a");
    length_from_zero(pipe.radius_to_m, path + ".radius_b");
  }
  void above_zero_length(double value_m, const std::string& path, std::string accepted) {
    require(value_m > 0, path, value_m / mm, std::move(accepted));
  }

  std::optional<Error> error_;
};

} // namespace

std::optional<Error> validate(const Problem& problem) {
  return Validator().check(problem);
}

} // namespace bellmouth::way
