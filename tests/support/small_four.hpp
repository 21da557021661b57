// SPDX-License-Identifier: GPL-3.0-or-later
// Machines round a small four-cylinder engine, and the metal between them. Everything in it is invented.
#pragma once

#include "support/sample_parts.hpp"

#include <bellmouth/build.hpp>

#include <vector>

namespace bellmouth::test {

/// Filter, displacement blower, charge cooler and throttle.
[[nodiscard]] inline std::vector<build::Machine> small_four_machines() {
  using build::Mounting;
  return {
      {{"filter"}, "Cone filter", Mounting::body, machine::Filter{{{0.1, 300.0}}, 1.0, true, false}},
      {{"blower"},
       "Two-lobe blower",
       Mounting::engine,
       machine::DisplacementBlower{0.0009, 1.3, 0.9, std::nullopt, 0.95, 233.0, 423.15}},
      {{"cooler"}, "Front cooler", Mounting::body, machine::ChargeCooler{{{0.1, 2100.0}}, 0.7, 5.0, false}},
      {{"throttle"}, "Throttle", Mounting::engine, machine::Throttle{mm(60), 0.2}},
  };
}
/// Aluminium, on a radius of 1.5 outside diameters, with legs of 100 mm.
[[nodiscard]] inline build::Piece bend(double outer_mm, double angle_deg, build::Beads beads) {
  return {build::TubeBend{mm(outer_mm), mm(1.65), deg(angle_deg), mm(1.5 * outer_mm), mm(100), mm(100), 0.0,
                          beads},
          build::Material::aluminium,
          {},
          ""};
}
[[nodiscard]] inline build::Piece tube(double outer_mm, double length_mm, build::Beads beads) {
  return {build::Tube{mm(outer_mm), mm(1.65), mm(length_mm), beads}, build::Material::aluminium, {}, ""};
}

} // namespace bellmouth::test
