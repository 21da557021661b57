// SPDX-License-Identifier: GPL-3.0-or-later
// Cones and steps, both ways. beta = smaller over larger bore; coefficients are on the velocity in the
// smaller. Bands from tests/reference/DEFAULTS_AND_SPREAD.md.
#include <bellmouth/loss.hpp>

#include <algorithm>
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

Law converging(const Cone& cone, double beta, double angle_rad) {
  Law law;
  law.source = "Rennels & Hudson, Pipe Flow (2012), conical contraction";
  law.basis = Basis::outlet;
  law.constant = contraction(beta, angle_rad);
  law.outside_range = angle_rad > (120 + 1e-9) * degree;
  law.band_low = law.band_high = law.outside_range ? 0.50 : 0.30;
  // A cone loses no more than the step it replaces; nor is the doubt about it larger.
  law.band_absolute = std::min(0.03, contraction(cone.bore_out_m / cone.bore_in_m, std::numbers::pi));
  return law;
}

Law diverging(double beta, double angle_rad) {
  Law law;
  law.source = "Rennels & Hudson, Pipe Flow (2012), conical diffuser";
  law.basis = Basis::inlet;
  law.constant = diffuser_share(beta, angle_rad) * expansion(beta);
  law.outside_range = angle_rad > attached_deg * degree;
  law.band_low = law.band_high = law.outside_range ? 0.40 : 0.25;
  law.band_absolute = std::min(0.03, expansion(beta));
  return law;
}

} // namespace

Law law(const Step& step) {
  assert(step.bore_in_m > 0 && step.bore_out_m > 0);
  Law law;
  if (step.bore_out_m == step.bore_in_m) {
    law.source = "no step";
    return law;
  }
  if (step.bore_out_m > step.bore_in_m) {
    law.source = "Borda & Carnot";
    law.basis = Basis::inlet;
    law.constant = expansion(step.bore_in_m / step.bore_out_m);
    law.band_low = law.band_high = 0.05;
    return law;
  }
  const double beta = step.bore_out_m / step.bore_in_m;
  law.source = "Rennels & Hudson, Pipe Flow (2012), sudden contraction";
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
  Law law = widens ? diverging(beta, angle_rad) : converging(cone, beta, angle_rad);
  // Wall friction f (1 - beta^4) / (8 sin(angle/2)), written so that it stays exact as beta approaches 1. The
  // correlation has none in diffusers above 60 degrees, where the stream has left the wall.
  if (!widens || angle_rad <= attached_deg * degree)
    law.per_friction = (1 + beta) * (1 + beta * beta) * std::hypot(rise, cone.length_m) / (4 * large);
  return law;
}

} // namespace bellmouth::loss
