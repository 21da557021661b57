// SPDX-License-Identifier: GPL-3.0-or-later
// All dimensions, by the names that the reference tables use.
#pragma once

#include <bellmouth/quantity.hpp>

#include <array>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

namespace bellmouth::test {

inline constexpr std::array<std::pair<std::string_view, quantity::Dimension>, 18> dimensions = {{
    {"length", quantity::Dimension::length},
    {"area", quantity::Dimension::area},
    {"volume", quantity::Dimension::volume},
    {"angle", quantity::Dimension::angle},
    {"pressure", quantity::Dimension::pressure},
    {"temperature", quantity::Dimension::temperature},
    {"temperature_difference", quantity::Dimension::temperature_difference},
    {"mass_flow", quantity::Dimension::mass_flow},
    {"volume_flow", quantity::Dimension::volume_flow},
    {"velocity", quantity::Dimension::velocity},
    {"rotational_speed", quantity::Dimension::rotational_speed},
    {"force", quantity::Dimension::force},
    {"power", quantity::Dimension::power},
    {"density", quantity::Dimension::density},
    {"viscosity", quantity::Dimension::viscosity},
    {"mass", quantity::Dimension::mass},
    {"torque", quantity::Dimension::torque},
    {"ratio", quantity::Dimension::ratio},
}};

inline quantity::Dimension dimension(std::string_view name) {
  for (const auto& [known, value] : dimensions)
    if (known == name)
      return value;
  throw std::runtime_error("no dimension " + std::string(name));
}

} // namespace bellmouth::test
