// SPDX-License-Identifier: GPL-3.0-or-later
// Smooth bends and single mitres. The bands are computed from the spread between published correlations;
// table and figures in tests/reference/DEFAULTS_AND_SPREAD.md.
#include "interpolate.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::loss {
namespace {

constexpr double degree = std::numbers::pi / 180;

// Half width of the band of a bend with a radius ratio of 1 to 5, against the angle in degrees: 15 % from 45
// to 120 (12 % at 90), -50/+10 % from 15 to 30 where this correlation is the highest of four, 30 % from 150;
// straight between.
constexpr std::array<TablePoint, 7> bend_band_low{
    {{30, 0.50}, {45, 0.15}, {85, 0.15}, {90, 0.12}, {95, 0.15}, {120, 0.15}, {150, 0.30}}};
constexpr std::array<TablePoint, 7> bend_band_high{
    {{30, 0.10}, {45, 0.15}, {85, 0.15}, {90, 0.12}, {95, 0.15}, {120, 0.15}, {150, 0.30}}};

} // namespace

Law law(const Bend& bend) {
  assert(bend.angle_rad > 0 && bend.angle_rad <= 2 * std::numbers::pi && bend.radius_ratio > 0);
  const double half_sine = std::sin(bend.angle_rad / 2);
  Law law;
  law.source = "Rennels & Hudson, Pipe Flow (2012), smooth bends";
  law.constant = 0.10 * half_sine;
  law.per_friction = bend.angle_rad * bend.radius_ratio + 2.4 * half_sine +
                     6.6 * (std::sqrt(half_sine) + half_sine) /
                         std::pow(bend.radius_ratio, 4 * bend.angle_rad / std::numbers::pi);
  const double angle_deg = bend.angle_rad / degree;
  law.band_low = interpolate(bend_band_low, angle_deg);
  law.band_high = interpolate(bend_band_high, angle_deg);
  if (bend.radius_ratio < 1 || bend.radius_ratio > 5) {
    law.outside_range = true;
    const double wider = bend.radius_ratio < 1 ? 0.40 : 0.30;
    law.band_low = std::max(law.band_low, wider);
    law.band_high = std::max(law.band_high, wider);
  }
  if (angle_deg < 15 - 1e-9 || angle_deg > 180 + 1e-9 || bend.radius_ratio < 0.5) {
    law.outside_range = true;
    law.band_low = std::max(law.band_low, 0.50);
    law.band_high = std::max(law.band_high, 0.50);
  }
  return law;
}

Law law(const Mitre& mitre) {
  assert(mitre.angle_rad > 0 && mitre.angle_rad <= std::numbers::pi);
  const double half_sine = std::sin(mitre.angle_rad / 2);
  Law law;
  law.source = "Rennels & Hudson, Pipe Flow (2012), mitre bends";
  law.constant = half_sine * (0.42 + 2.56 * half_sine * half_sine);
  law.outside_range = mitre.angle_rad > (150 + 1e-9) * degree;
  law.band_low = law.band_high = law.outside_range ? 0.50 : 0.25;
  return law;
}

} // namespace bellmouth::loss
