// SPDX-License-Identifier: GPL-3.0-or-later
// Smooth bends and single mitres: Rennels & Hudson, Pipe Flow (2012), read in the documentation of
// CalebBell/fluids. a is the angle in radians, s = sin(a / 2), f the Darcy factor in the bend, friction of
// the arc included:
//
//   bend   K = f a r/D + (0.10 + 2.4 f) s + 6.6 f (sqrt(s) + s) / (r/D)^(4 a / pi)
//   mitre  K = 0.42 s + 2.56 s^3
//
// Band: the envelope of the laws in bend_spread.cpp over Re 4e4 to 1e6, and a tenth more on either side for
// measurement and making: pairs of like elbows far apart measured within about 10 % of twice one (Mylaram &
// Idem, Pressure loss coefficient measurements of two close-coupled HVAC elbows, ASHRAE winter meeting 2005,
// abstract).
//
// Range of the bend: Reynolds number from 1e4, the end of Miller's correction for it (Internal Flow Systems,
// fig. 9.3, which lies inside the band from there to 1e6); angle 15 to 180 degrees and radius
// ratio 1 to 5, where at least four laws were compared and none is stretched. Outside it the laws are
// evaluated where they were not measured and the band is as wide as they come apart.
#include "bend_spread.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::loss {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double making = 0.10;

/// The envelope and what making adds, and never less than `least` on either side.
void set_band(Law& law, const Spread& spread, double least) {
  law.band_low = std::max(least, 1 - (1 - making) * spread.low);
  law.band_high = std::max(least, (1 + making) * spread.high - 1);
}

} // namespace

Law law(const Bend& bend) {
  assert(bend.angle_rad > 0 && bend.angle_rad <= 2 * std::numbers::pi && bend.radius_ratio > 0);
  assert(bend.relative_roughness >= 0 && bend.ready_made_bore_m >= 0);
  const double half_sine = std::sin(bend.angle_rad / 2);
  Law law;
  law.source = "Rennels & Hudson, Pipe Flow (2012), smooth bends";
  law.range = "angle 15 to 180 degrees, radius ratio 1 to 5, Reynolds number from 10 000";
  law.least_reynolds = 1e4;
  law.constant = 0.10 * half_sine;
  law.per_friction = bend.angle_rad * bend.radius_ratio + 2.4 * half_sine +
                     6.6 * (std::sqrt(half_sine) + half_sine) /
                         std::pow(bend.radius_ratio, 4 * bend.angle_rad / std::numbers::pi);
  const double angle_deg = bend.angle_rad / degree;
  const bool bent_too_little_or_far = angle_deg < 15 - 1e-9 || angle_deg > 180 + 1e-9;
  law.outside_range = bent_too_little_or_far || bend.radius_ratio < 1 || bend.radius_ratio > 5;
  set_band(law, spread_about(law, bend), !law.outside_range ? making : bent_too_little_or_far ? 0.50 : 0.30);
  return law;
}

Law law(const Mitre& mitre) {
  assert(mitre.angle_rad > 0 && mitre.angle_rad <= std::numbers::pi);
  const double half_sine = std::sin(mitre.angle_rad / 2);
  Law law;
  law.source = "Rennels & Hudson, Pipe Flow (2012), mitre bends";
  law.range = "angle up to 150 degrees, Reynolds number from 40 000";
  law.least_reynolds = 4e4;
  law.constant = half_sine * (0.42 + 2.56 * half_sine * half_sine);
  law.outside_range = mitre.angle_rad > (150 + 1e-9) * degree;
  set_band(law, spread_about(law, mitre), law.outside_range ? 0.50 : making);
  return law;
}

} // namespace bellmouth::loss
