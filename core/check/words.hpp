// SPDX-License-Identifier: GPL-3.0-or-later
// Figures as findings print them.
#pragma once

#include <bellmouth/quantity.hpp>

#include <string>
#include <string_view>

namespace bellmouth::check {

[[nodiscard]] inline std::string millimetres(double value_m) {
  return quantity::write(quantity::Dimension::length, value_m, "mm", 4);
}
[[nodiscard]] inline std::string degrees(double value_rad) {
  return quantity::write_fixed(quantity::Dimension::angle, value_rad, "°", 1);
}
[[nodiscard]] inline std::string kilopascals(double value_Pa) {
  return quantity::write_fixed(quantity::Dimension::pressure, value_Pa, "kPa", 1);
}
[[nodiscard]] inline std::string celsius(double value_K) {
  return quantity::write_fixed(quantity::Dimension::temperature, value_K, "°C", 0);
}
[[nodiscard]] inline std::string metres_per_second(double value_m_s) {
  return quantity::write_fixed(quantity::Dimension::velocity, value_m_s, "m/s", 0);
}
[[nodiscard]] inline std::string newtons(double value_N) {
  return quantity::write_fixed(quantity::Dimension::force, value_N, "N", 0);
}
[[nodiscard]] inline std::string per_minute(double value_rev_s) {
  return quantity::write_fixed(quantity::Dimension::rotational_speed, value_rev_s, "rpm", 0);
}

[[nodiscard]] inline std::string newton_metres(double value_Nm) {
  return quantity::write_fixed(quantity::Dimension::torque, value_Nm, "N m", 1);
}

/// An id as people read it: "hot_side" is "hot side".
[[nodiscard]] inline std::string words(std::string_view id) {
  std::string text(id);
  for (char& c : text)
    if (c == '_')
      c = ' ';
  return text;
}

/// Above a limit, not counting the last digits of a sum.
[[nodiscard]] constexpr bool above(double value, double limit) {
  return value > limit + 1e-9 * (limit < 0 ? -limit : limit);
}
[[nodiscard]] constexpr bool below(double value, double limit) {
  return above(limit, value);
}

} // namespace bellmouth::check
