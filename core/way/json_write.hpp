// SPDX-License-Identifier: GPL-3.0-or-later
// Metres and radians as the JSON of millimetres and degrees.
#pragma once

#include "json_object.hpp"

#include <numbers>

namespace bellmouth::way {

[[nodiscard]] inline build::Json json_number(double value) {
  return build::Json::number(build::number_text(value));
}
[[nodiscard]] inline build::Json json_length(double length_m) {
  return json_number(length_m / mm);
}
[[nodiscard]] inline build::Json json_angle(double angle_rad) {
  return json_number(angle_rad * 180 / std::numbers::pi);
}
[[nodiscard]] inline build::Json json_direction(const Vector& direction) {
  return build::Json::array(
      {json_number(direction[0]), json_number(direction[1]), json_number(direction[2])});
}
[[nodiscard]] inline build::Json json_point(const Vector& point_m) {
  return build::Json::array({json_length(point_m[0]), json_length(point_m[1]), json_length(point_m[2])});
}

} // namespace bellmouth::way
