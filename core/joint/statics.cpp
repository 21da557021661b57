// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/build/vectors.hpp>
#include <bellmouth/joint/hoses.hpp>
#include <bellmouth/joint/statics.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::joint {

namespace {

using build::ClampType;

/// Bands from which a worm clamp counts as one of 14 mm, and up to which as a narrow one [m].
constexpr double wide_band_m = 13e-3, narrow_band_m = 8e-3;

Torque worm_torque(double band_m, const trade::Limits& limits) {
  if (band_m <= narrow_band_m)
    return {limits.worm_narrow_torque_Nm, "worm clamp, band up to 8 mm"};
  if (band_m >= wide_band_m)
    return {limits.worm_wide_torque_Nm, "worm clamp, band of 14 mm, new hose"};
  return {limits.worm_torque_Nm, "worm clamp, band of 12 mm, new hose"};
}

/// Diameter of the screw that closes a clamp.
std::optional<double> screw_m(ClampType type, const trade::Limits& limits) {
  switch (type) {
  case ClampType::worm:
  case ClampType::lined_worm:
  case ClampType::constant_tension:
    return limits.worm_screw_m;
  case ClampType::round_bolt:
    return limits.round_bolt_screw_m;
  case ClampType::lug:
  case ClampType::spring:
    break;
  }
  return std::nullopt;
}

} // namespace

std::optional<Torque> torque(const build::StockItem& clamp, const trade::Limits& limits) {
  if (clamp.clamp_type == ClampType::spring)
    return std::nullopt;
  if (clamp.torque_Nm)
    return Torque{*clamp.torque_Nm, "the clamp's own"};
  if (!clamp.clamp_type)
    return std::nullopt;
  switch (*clamp.clamp_type) {
  case ClampType::worm:
  case ClampType::lined_worm:
    return worm_torque(clamp.band_width_m.value_or(limits.clamp_band_m), limits);
  case ClampType::round_bolt:
    return Torque{limits.round_bolt_torque_Nm, "round-bolt clamp"};
  case ClampType::constant_tension:
    return Torque{limits.constant_tension_torque_Nm, "constant-tension clamp"};
  case ClampType::lug:
  case ClampType::spring:
    break;
  }
  return std::nullopt;
}

std::optional<double> band_tension_N(const build::StockItem& clamp, const trade::Limits& limits) {
  const auto turned = torque(clamp, limits);
  if (!turned || !clamp.clamp_type)
    return std::nullopt;
  const auto diameter_m = screw_m(*clamp.clamp_type, limits);
  if (!diameter_m)
    return std::nullopt;
  return turned->torque_Nm / (limits.nut_factor * *diameter_m);
}

Hold hold(double band_tension_N, bool beaded, const trade::Limits& limits) {
  const auto held_N = [&](double kept, double friction, double width_m) {
    const double slope_rad = beaded ? std::atan2(limits.bead_height_m, width_m) : 0;
    constexpr double steepest_rad = 89 * std::numbers::pi / 180;
    const double climb_rad = std::min(slope_rad + std::atan(friction), steepest_rad);
    return 2 * std::numbers::pi * kept * band_tension_N * std::tan(climb_rad);
  };
  return {held_N(limits.clamp_kept_low, limits.friction_low, limits.bead_width_m),
          held_N(limits.clamp_kept_high, limits.friction_high, limits.bead_width_m / 2)};
}

double hoop_stress_Pa(double gauge_Pa, double mean_diameter_m, double wall_m) {
  return gauge_Pa * mean_diameter_m / (2 * wall_m);
}

Load load(const Joint& joint, double gauge_Pa, const trade::Limits& limits,
          std::optional<double> hose_working_Pa) {
  assert(joint.kind == Kind::hose);
  const double spigot_m = joint.spigot().outer_diameter_m;
  const double wall_m = (joint.installed_diameter_m - spigot_m) / 2;
  const double pressing_Pa = std::max(gauge_Pa, 0.0);
  Load load;
  load.gauge_Pa = gauge_Pa;
  load.parting_force_N = parting_force_N(pressing_Pa, spigot_m);
  load.hoop_stress_Pa = hoop_stress_Pa(pressing_Pa, spigot_m + wall_m, wall_m);
  const auto tension_N =
      joint.clamp != nullptr ? band_tension_N(*joint.clamp, limits) : std::optional<double>();
  if (tension_N) {
    const Hold held = hold(*tension_N, joint.spigot().beaded, limits);
    const double working_Pa =
        hose_working_Pa ? *hose_working_Pa : usual_working_gauge_Pa(wall_m, joint.hose().bore_m, limits);
    const double tears_N = parting_force_N(limits.hose_burst_factor * working_Pa, spigot_m);
    load.held_low_N = std::min(held.low_N, tears_N);
    load.held_high_N = std::min(held.high_N, tears_N);
    load.held_known = true;
  }
  return load;
}

build::Vector resultant_N(const CrossSection& inlet, const CrossSection& outlet) {
  const auto push_N = [](const CrossSection& section) {
    return parting_force_N(section.gauge_Pa, section.pressed_diameter_m) +
           section.mass_flow_kg_s * section.velocity_m_s;
  };
  return build::plus(build::times(push_N(inlet), inlet.direction), -push_N(outlet), outlet.direction);
}

double growth_per_K(build::Material material) {
  switch (material) {
  case build::Material::aluminium:
    return 23.6e-6;
  case build::Material::mild_steel:
    return 11.7e-6;
  case build::Material::stainless_steel:
    return 17.3e-6;
  case build::Material::silicone:
  case build::Material::rubber:
  case build::Material::plastic:
    break;
  }
  return 0;
}

} // namespace bellmouth::joint
