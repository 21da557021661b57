// SPDX-License-Identifier: GPL-3.0-or-later
// Cones and steps, both ways: Rennels & Hudson, Pipe Flow (2012), read in the documentation of
// CalebBell/fluids. b is the smaller over the larger bore, t the included angle (pi: a step), f the Darcy
// factor in the smaller bore; coefficients are on the velocity in the smaller bore; b from 0 to 1.
//
//   converging  K = 0.0696 sin(t/2) (1 - b^5) l^2 + (l - 1)^2 + F,
//               l = 1 + 0.622 (t/pi)^0.8 (1 - 0.215 b^2 - 0.785 b^5), F = f (1 - b^4) / (8 sin(t/2))
//   rounded     K = 0.0696 (1 - 0.569 r) (1 - sqrt(r) b) (1 - b^5) l^2 + (l - 1)^2,
//               r = edge radius over small bore,
//               l = 1 + 0.622 (1 - 0.30 sqrt(r) - 0.70 r)^4 (1 - 0.215 b^2 - 0.785 b^5)
//   diverging   K = s (1 - b^2)^2 + F; to 20 degrees s = 8.30 tan(t/2)^1.75; wider in diffuser_share below;
//               F without wall contact (above 60 degrees) 0
//
// Bands (tests/reference/DEFAULTS_AND_SPREAD.md and the counts in cones_test.cpp). Converging: 30 % and 0.03;
// Crane's formula, two to three times every other from 20 to 60 degrees, lies outside. Rounded: +10/-50 %
// (-80 % from an edge of 0.2) and 0.03, since Rennels & Hudson's is the highest of three. Diverging: -30/+25
// % and 0.04, since the lowest contours of Miller's chart lie so far above every formula, the sudden
// expansion among them. From an area ratio of 2 a diffuser may stall, on which the laws disagree: its loss
// then lies between that of one that runs full and the sudden expansion. The upper end rises to half way
// between the two at 2.5 and stays there.
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

// The pieces of the diffuser formula do not quite meet, so a cone meant to have just these angles must not be
// put on the wrong side by rounding.
constexpr double gentle_deg = 20 + 1e-9;
constexpr double attached_deg = 60 + 1e-9;

/// Vena contracta and spreading behind it: Rennels & Hudson, conical contraction of included angle
/// `angle_rad` (pi: a step). Friction excluded.
double contraction(double beta, double angle_rad) {
  const double beta2 = beta * beta;
  const double beta5 = beta2 * beta2 * beta;
  const double over =
      0.622 * std::pow(angle_rad / std::numbers::pi, 0.8) * (1 - 0.215 * beta2 - 0.785 * beta5); // lambda - 1
  return 0.0696 * std::sin(angle_rad / 2) * (1 - beta5) * (1 + over) * (1 + over) + over * over;
}

/// Borda & Carnot.
double expansion(double beta) {
  return (1 - beta * beta) * (1 - beta * beta);
}

/// Rennels & Hudson, conical diffuser, as a share of the sudden expansion. Friction excluded.
double diffuser_share(double beta, double angle_rad) {
  const double angle_deg = angle_rad / degree;
  const double beta4 = beta * beta * beta * beta;
  const double small_bore = beta < 0.5 ? 3.28 * (0.0625 - beta4) : 0.0;
  if (angle_deg <= gentle_deg)
    return 8.30 * std::pow(std::tan(angle_rad / 2), 1.75);
  if (angle_deg <= attached_deg)
    return 1.366 * std::sqrt(std::sin(2 * (angle_rad - 15 * degree))) - 0.170 -
           small_bore * std::sqrt(std::max(0.0, angle_deg - 20) / 40);
  const double beyond = std::sqrt((angle_deg - 60) / 120);
  if (beta < 0.5)
    return 1.205 - small_bore - 12.8 * beta4 * beta * beta * beyond;
  return 1.205 - 0.20 * beyond;
}

/// A cone's doubt in K: `greatest`, but none as the change of bore vanishes.
double doubt(double greatest, double beta) {
  return std::min(greatest, 1 - beta * beta);
}

Law converging(double beta, double angle_rad) {
  Law law;
  law.range = "included angle up to 120 degrees";
  law.source = "Rennels & Hudson, Pipe Flow (2012), conical contraction";
  law.basis = Basis::outlet;
  law.constant = contraction(beta, angle_rad);
  law.outside_range = angle_rad > (120 + 1e-9) * degree;
  law.band_low = law.band_high = law.outside_range ? 0.50 : 0.30;
  law.band_absolute = doubt(0.03, beta);
  return law;
}

/// How far a diffuser of that area ratio is in doubt between running full and stalled: 0 to 2, 1 from 2.5.
double stall_doubt(double beta) {
  return std::clamp((1 / (beta * beta) - 2.0) / 0.5, 0.0, 1.0);
}

Law diverging(double beta, double angle_rad) {
  Law law;
  law.source = "Rennels & Hudson, Pipe Flow (2012), conical diffuser";
  law.range = "included angle up to 60 degrees, area ratio up to 2.5, long straight tube ahead";
  law.basis = Basis::inlet;
  law.constant = diffuser_share(beta, angle_rad) * expansion(beta);
  const bool wide = angle_rad > attached_deg * degree;
  law.outside_range = wide || stall_doubt(beta) >= 1;
  law.band_low = wide ? 0.40 : 0.30;
  law.band_high = wide ? 0.40 : 0.25;
  const double half_way = 0.5 * stall_doubt(beta) * (expansion(beta) - law.constant);
  if (half_way > 0)
    law.band_high = std::max(law.band_high, half_way / law.constant);
  law.band_absolute = doubt(0.04, beta);
  return law;
}

} // namespace

Law law(const Step& step) {
  assert(step.bore_in_m > 0 && step.bore_out_m > 0);
  Law law;
  if (step.bore_out_m == step.bore_in_m) {
    law.source = "no step";
    law.range = "equal bores";
    return law;
  }
  if (step.bore_out_m > step.bore_in_m) {
    law.source = "Borda & Carnot";
    law.range = "any bores, turbulent flow, long straight tube behind";
    law.basis = Basis::inlet;
    law.constant = expansion(step.bore_in_m / step.bore_out_m);
    law.band_low = law.band_high = 0.05;
    return law;
  }
  const double beta = step.bore_out_m / step.bore_in_m;
  law.source = "Rennels & Hudson, Pipe Flow (2012), sudden contraction";
  law.range = "any bores, turbulent flow";
  law.basis = Basis::outlet;
  law.constant = contraction(beta, std::numbers::pi);
  // Small steps are those of joints, on which no measurement was found.
  const bool joint = beta > 0.8;
  law.band_low = joint ? 0.50 : 0.25;
  law.band_high = joint ? 0.50 : 0.05;
  return law;
}

Law law(const Cone& cone) {
  assert(cone.bore_in_m > 0 && cone.bore_out_m > 0 && cone.length_m >= 0);
  if (cone.bore_in_m == cone.bore_out_m)
    return law(Straight{cone.length_m, cone.bore_in_m});
  if (cone.length_m == 0)
    return law(Step{cone.bore_in_m, cone.bore_out_m});
  const double large = std::max(cone.bore_in_m, cone.bore_out_m);
  const double beta = std::min(cone.bore_in_m, cone.bore_out_m) / large;
  const double rise = 0.5 * large * (1 - beta);
  const double angle_rad = 2 * std::atan(rise / cone.length_m);
  const bool widens = cone.bore_out_m > cone.bore_in_m;
  Law law = widens ? diverging(beta, angle_rad) : converging(beta, angle_rad);
  // Wall friction f (1 - beta^4) / (8 sin(angle/2)), written so that it stays exact as beta approaches 1. The
  // correlation has none in diffusers above 60 degrees, where the stream has left the wall.
  if (!widens || angle_rad <= attached_deg * degree)
    law.per_friction = (1 + beta) * (1 + beta * beta) * std::hypot(rise, cone.length_m) / (4 * large);
  return law;
}

Law law(const RoundedContraction& rounded) {
  assert(rounded.bore_out_m > 0 && rounded.bore_in_m > rounded.bore_out_m && rounded.edge_radius_m >= 0);
  const double beta = rounded.bore_out_m / rounded.bore_in_m;
  const double ratio = rounded.edge_radius_m / rounded.bore_out_m;
  // From an edge radius of the whole small bore on, the stream clings to the edge and nothing more is gained.
  const double r = std::min(ratio, 1.0);
  const double beta2 = beta * beta;
  const double beta5 = beta2 * beta2 * beta;
  const double over =
      0.622 * std::pow(1 - 0.30 * std::sqrt(r) - 0.70 * r, 4) * (1 - 0.215 * beta2 - 0.785 * beta5);
  Law law;
  law.source = "Rennels & Hudson, Pipe Flow (2012), rounded contraction";
  law.range = "edge radius up to the small bore";
  law.basis = Basis::outlet;
  law.constant =
      0.0696 * (1 - 0.569 * r) * (1 - std::sqrt(r) * beta) * (1 - beta5) * (1 + over) * (1 + over) +
      over * over;
  law.outside_range = ratio > 1;
  constexpr std::array<TablePoint, 2> band_low{{{0.1, 0.50}, {0.2, 0.80}}};
  law.band_low = interpolate(band_low, ratio);
  law.band_high = law.outside_range ? 0.50 : 0.10;
  law.band_absolute = doubt(0.03, beta);
  return law;
}

} // namespace bellmouth::loss
