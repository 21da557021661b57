// SPDX-License-Identifier: GPL-3.0-or-later
// The solids of a route problem, measured straight from its JSON and without any of the program's own code.
#pragma once

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

namespace bellmouth::test {

using Json = nlohmann::json;

/// \name Points in millimetres
///@{
using Spot = std::array<double, 3>;
using Turning = std::array<Spot, 3>; ///< its columns

[[nodiscard]] inline Spot spot(const Json& json) {
  return {json.at(0).get<double>(), json.at(1).get<double>(), json.at(2).get<double>()};
}
[[nodiscard]] inline Spot gone(const Spot& from, double factor, const Spot& way) {
  return {from[0] + factor * way[0], from[1] + factor * way[1], from[2] + factor * way[2]};
}
[[nodiscard]] inline double inner(const Spot& a, const Spot& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
[[nodiscard]] inline Spot across(const Spot& a, const Spot& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
[[nodiscard]] inline double size(const Spot& a) {
  return std::hypot(a[0], a[1], a[2]);
}
[[nodiscard]] inline double between(const Spot& a, const Spot& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}
[[nodiscard]] inline Spot applied(const Turning& turning, const Spot& x) {
  return gone(gone(gone({0, 0, 0}, x[0], turning[0]), x[1], turning[1]), x[2], turning[2]);
}
/// The matrix of a turn about an axis (Rodrigues).
[[nodiscard]] inline Turning turn_about(const Spot& axis, double angle_rad) {
  const double c = std::cos(angle_rad), s = std::sin(angle_rad);
  Turning turning{};
  for (std::size_t column = 0; column < 3; ++column) {
    Spot unit{};
    unit[column] = 1;
    turning[column] =
        gone(gone(gone({0, 0, 0}, c, unit), s, across(axis, unit)), (1 - c) * axis[column], axis);
  }
  return turning;
}
///@}

/// \name Solids
///@{
[[nodiscard]] inline double to_segment(const Spot& point, const Spot& from, const Spot& to) {
  const Spot way = gone(to, -1, from);
  const double whole = inner(way, way);
  const double share = whole > 0 ? std::clamp(inner(gone(point, -1, from), way) / whole, 0.0, 1.0) : 0;
  return between(point, gone(from, share, way));
}
/// To the plane where the foot lies within, else to the three sides.
[[nodiscard]] inline double to_triangle(const Spot& point, const std::array<Spot, 3>& corners) {
  const Spot normal = across(gone(corners[1], -1, corners[0]), gone(corners[2], -1, corners[0]));
  bool within = size(normal) > 0;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < 3; ++i) {
    const Spot& from = corners[i];
    const Spot& to = corners[(i + 1) % 3];
    within = within && inner(across(normal, gone(to, -1, from)), gone(point, -1, from)) >= 0;
    least = std::min(least, to_segment(point, from, to));
  }
  return within ? std::abs(inner(gone(point, -1, corners[0]), normal)) / size(normal) : least;
}

/// A solid as the problem gives it.
struct RouteSolid {
  std::string type, name;
  Spot centre{},
      other{}; ///< the middle, the first end, the plane's point; the second end, the plane's normal
  double radius = 0, clearance = 0;
  Spot half{};
  std::array<Spot, 3> axes{};
  std::vector<std::array<Spot, 3>> triangles;

  explicit RouteSolid(const Json& json) : type(json.at("type")), name(json.value("name", "")) {
    clearance = json.value("clearance", 0.0);
    if (type == "box") {
      centre = spot(json.at("center"));
      half = spot(json.at("half"));
      for (std::size_t i = 0; i < 3; ++i)
        axes[i] = spot(json.at("axes").at(i));
    } else if (type == "sphere") {
      centre = spot(json.at("center"));
      radius = json.at("radius");
    } else if (type == "cylinder") {
      centre = spot(json.at("a"));
      other = spot(json.at("b"));
      radius = json.at("radius");
    } else if (type == "halfspace") {
      centre = spot(json.at("point"));
      other = spot(json.at("normal"));
    } else if (type == "mesh") {
      for (const Json& triangle : json.at("triangles"))
        triangles.push_back({spot(json.at("vertices").at(triangle.at(0).get<std::size_t>())),
                             spot(json.at("vertices").at(triangle.at(1).get<std::size_t>())),
                             spot(json.at("vertices").at(triangle.at(2).get<std::size_t>()))});
    }
  }

  /// From its surface, below zero inside.
  [[nodiscard]] double distance(const Spot& point) const {
    if (type == "sphere")
      return between(point, centre) - radius;
    if (type == "halfspace")
      return inner(gone(centre, -1, point), other) / size(other);
    if (type == "box")
      return to_box(point);
    if (type == "cylinder")
      return to_cylinder(point);
    double least = std::numeric_limits<double>::infinity();
    for (const auto& triangle : triangles)
      least = std::min(least, to_triangle(point, triangle));
    return std::abs(turns_round(point)) > 0.5 ? -least : least;
  }

private:
  [[nodiscard]] double to_box(const Spot& point) const {
    const Spot away = gone(point, -1, centre);
    Spot nearest = centre;
    double to_side = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < 3; ++i) {
      const double x = inner(away, axes[i]);
      nearest = gone(nearest, std::clamp(x, -half[i], half[i]), axes[i]);
      to_side = std::min(to_side, half[i] - std::abs(x));
    }
    return to_side > 0 ? -to_side : between(point, nearest);
  }
  [[nodiscard]] double to_cylinder(const Spot& point) const {
    const Spot way = gone(other, -1, centre);
    const double whole = size(way), along = inner(gone(point, -1, centre), way) / whole;
    const double from_axis = size(across(gone(point, -1, centre), way)) / whole;
    if (from_axis <= radius && along >= 0 && along <= whole)
      return -std::min({radius - from_axis, along, whole - along});
    const double out = std::max(from_axis - radius, 0.0), beyond = std::max({-along, along - whole, 0.0});
    return std::hypot(out, beyond);
  }
  /// How often the surface goes round a point: the solid angles that its triangles are seen under, by
  /// L'Huilier's theorem, over that of the whole sphere.
  [[nodiscard]] double turns_round(const Spot& point) const {
    double sum = 0;
    for (const auto& triangle : triangles) {
      std::array<Spot, 3> seen;
      for (std::size_t i = 0; i < 3; ++i) {
        const Spot away = gone(triangle[i], -1, point);
        seen[i] = gone({0, 0, 0}, 1 / size(away), away);
      }
      const auto angle = [&](std::size_t i, std::size_t k) {
        return 2 * std::asin(std::min(1.0, between(seen[i], seen[k]) / 2));
      };
      const double a = angle(0, 1), b = angle(1, 2), c = angle(2, 0), s = (a + b + c) / 2;
      const double product = std::tan(s / 2) * std::tan(std::max(s - a, 0.0) / 2) *
                             std::tan(std::max(s - b, 0.0) / 2) * std::tan(std::max(s - c, 0.0) / 2);
      const double excess = 4 * std::atan(std::sqrt(std::max(product, 0.0)));
      sum += std::copysign(excess, inner(seen[0], across(seen[1], seen[2])));
    }
    return sum / (4 * std::numbers::pi);
  }
};
///@}

} // namespace bellmouth::test
