// SPDX-License-Identifier: GPL-3.0-or-later
// Tees: I. E. Idelchik, Handbook of Hydraulic Resistance, 3rd ed. (1994/2006), sections 7-15 and 7-16, run
// bore = combined bore, sharp edges; as in tests/reference/tees.csv. With a the area of the branch over that
// of the combined leg, q the flow of the branch over the combined flow, t the angle:
//   joining, branch:    A (1 + (q/a)^2 - 2 (1-q)^2 - 2 q^2/a cos t)
//                       A = 1 for a <= 0.35, else 0.9 (1 - q) up to q = 0.4 and 0.55 beyond
//   joining, run:       1 - (1-q)^2 - 2 q^2/a cos t to 60 degrees, 1.55 q - q^2 at 90, a straight line in t
//                       between the two (ours)
//   splitting, branch:  A (1 + (q/a)^2 - 2 q/a cos t)
//                       a <= 0.35: A = 1.1 - 0.7 q up to q = 0.4, 0.85 beyond
//                       a > 0.35:  A = 1 - 0.6 q up to q = 0.6, 0.6 beyond
//   splitting, run:     A q^2
//                       a <= 0.4: A = 0.4, else 2 (2q - 1) up to q = 0.5, 0.3 (2q - 1) beyond
// Where a factor jumps in q at the join of its pieces (0.54 to 0.55, 0.82 to 0.85, 0.64 to 0.60), a straight
// line over the next 0.05 of q carries it across, so that a solver meets no step (ours). Crane, Technical
// Paper 410 (2009), is the same family. Band: the larger of 30 % and 0.15
// (tests/reference/DEFAULTS_AND_SPREAD.md). Range: 30 to 90 degrees, a up to 1, run bore = combined bore;
// else twice the band. Rounded corner: 10 to 20 % less (P. A. Costa, R. Maia, M. A. Proenca & F. T. Pinho, J.
// Fluids Eng. 128 (2006)): what is a loss is taken 15 % less, with the same band.
//
// Wyes of two equal legs, q the leg's share, a the leg's area over the combined one. Joining: momentum along
// the axis with equal pressure in both mouths,
//   K = A (1 + (q/a)^2 - 2 cos t (q^2 + (1-q)^2) / a),  A as in the joining branch;
// at 90 degrees it meets Idelchik's diagram 7-29, A (1 + 1/a^2 + 3 (q^2 - q)/a^2), at q = 0.5 and 1, where a
// leg carries half or all; below half the diagram lies higher. Splitting:
//   K = 1 + k (q/a)^2 - 2 q/a cos t,  k = 1 sharp, 0.3 rounded;
// diagram 7-29 (90 degrees) has 1 + k (q/a)^2 with k from 0.3, well made, to 1.5, a plain threaded tee. Band:
// the larger of 50 % and 0.25. Range: 15 to 90 degrees, a up to 1.
#include "interpolate.hpp"

#include <bellmouth/loss/tee.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::loss {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double square_rad = 90 * degree;
constexpr double slanted_rad = 60 * degree;
constexpr double slack = 1e-9;

// Factors A over the share q of the branch.
constexpr std::array<TablePoint, 4> joining_branch_wide{{{0, 0.9}, {0.4, 0.54}, {0.45, 0.55}, {1, 0.55}}};
constexpr std::array<TablePoint, 4> splitting_branch_narrow{{{0, 1.1}, {0.4, 0.82}, {0.45, 0.85}, {1, 0.85}}};
constexpr std::array<TablePoint, 4> splitting_branch_wide{{{0, 1.0}, {0.6, 0.64}, {0.65, 0.60}, {1, 0.60}}};
constexpr double narrow_branch = 0.35, narrow_branch_of_split = 0.4;

double area_ratio(double bore_m, double of_m) {
  return (bore_m / of_m) * (bore_m / of_m);
}

double joining_factor(double a, double q) {
  return a <= narrow_branch * (1 + slack) ? 1.0 : interpolate(joining_branch_wide, q);
}

/// Cosine of the angle; a square tee has exactly none.
double lean(double angle_rad) {
  return std::abs(angle_rad - square_rad) < slack ? 0.0 : std::cos(angle_rad);
}

Coefficient banded(double value, bool rounded, bool outside, double relative, double absolute) {
  if (rounded && value > 0)
    value *= 0.85;
  const double half = std::max(relative * std::abs(value), absolute) * (outside ? 2 : 1);
  return {value, value - half, value + half, outside, {}, {}};
}

Coefficient of_tee(const Tee& tee, double value) {
  const bool outside = tee.angle_rad < 30 * degree * (1 - slack) ||
                       tee.angle_rad > square_rad * (1 + slack) ||
                       tee.bore_branch_m > tee.bore_combined_m * (1 + slack) ||
                       std::abs(tee.bore_run_m / tee.bore_combined_m - 1) > 0.02;
  Coefficient coefficient = banded(value, tee.rounded, outside, 0.30, 0.15);
  coefficient.source = "Idelchik (2006), sections 7-15 and 7-16";
  coefficient.range = "30 to 90 degrees, branch no larger than the run, run of one bore; turbulent";
  return coefficient;
}

double checked_area_ratio(const Tee& tee, [[maybe_unused]] double q) {
  assert(q >= 0 && q <= 1);
  assert(tee.angle_rad > 0 && tee.angle_rad <= std::numbers::pi);
  assert(tee.bore_combined_m > 0 && tee.bore_branch_m > 0 && tee.bore_run_m > 0);
  return area_ratio(tee.bore_branch_m, tee.bore_combined_m);
}

Coefficient of_wye(const Wye& wye, double value) {
  const bool outside = wye.angle_rad < 15 * degree * (1 - slack) ||
                       wye.angle_rad > square_rad * (1 + slack) ||
                       wye.bore_leg_m > wye.bore_combined_m * (1 + slack);
  Coefficient coefficient = banded(value, false, outside, 0.50, 0.25);
  coefficient.source = "momentum; Idelchik (2006), diagram 7-29";
  coefficient.range = "15 to 90 degrees, legs no larger than the combined bore; turbulent";
  return coefficient;
}

double checked_area_ratio(const Wye& wye, [[maybe_unused]] double q) {
  assert(q >= 0 && q <= 1);
  assert(wye.angle_rad > 0 && wye.angle_rad <= std::numbers::pi);
  assert(wye.bore_combined_m > 0 && wye.bore_leg_m > 0);
  return area_ratio(wye.bore_leg_m, wye.bore_combined_m);
}

} // namespace

Coefficient combining_branch(const Tee& tee, double flow_share_of_branch) {
  const double q = flow_share_of_branch, a = checked_area_ratio(tee, q);
  const double mixing = 1 + q * q / (a * a) - 2 * (1 - q) * (1 - q) - 2 * q * q / a * lean(tee.angle_rad);
  return of_tee(tee, joining_factor(a, q) * mixing);
}

Coefficient combining_run(const Tee& tee, double flow_share_of_branch) {
  const double q = flow_share_of_branch, a = checked_area_ratio(tee, q);
  const double cosine = std::cos(std::min(tee.angle_rad, slanted_rad));
  const double slanted = 1 - (1 - q) * (1 - q) - 2 * q * q / a * cosine;
  const double square = 1.55 * q - q * q;
  const double share = std::clamp((tee.angle_rad - slanted_rad) / (square_rad - slanted_rad), 0.0, 1.0);
  return of_tee(tee, slanted + (square - slanted) * share);
}

Coefficient dividing_branch(const Tee& tee, double flow_share_of_branch) {
  const double q = flow_share_of_branch, a = checked_area_ratio(tee, q);
  const double factor = a <= narrow_branch * (1 + slack) ? interpolate(splitting_branch_narrow, q)
                                                         : interpolate(splitting_branch_wide, q);
  return of_tee(tee, factor * (1 + q * q / (a * a) - 2 * q / a * lean(tee.angle_rad)));
}

Coefficient dividing_run(const Tee& tee, double flow_share_of_branch) {
  const double q = flow_share_of_branch, a = checked_area_ratio(tee, q);
  const double wide = (q <= 0.5 ? 2.0 : 0.3) * (2 * q - 1);
  return of_tee(tee, (a <= narrow_branch_of_split * (1 + slack) ? 0.4 : wide) * q * q);
}

Coefficient combining_leg(const Wye& wye, double flow_share_of_leg) {
  const double q = flow_share_of_leg, a = checked_area_ratio(wye, q);
  const double along = 2 * lean(wye.angle_rad) * (q * q + (1 - q) * (1 - q)) / a;
  double value = joining_factor(a, q) * (1 + q * q / (a * a) - along);
  if (wye.rounded && value > 0)
    value *= 0.85;
  return of_wye(wye, value);
}

Coefficient dividing_leg(const Wye& wye, double flow_share_of_leg) {
  const double q = flow_share_of_leg, a = checked_area_ratio(wye, q);
  const double kept = wye.rounded ? 0.3 : 1.0;
  return of_wye(wye, 1 + kept * q * q / (a * a) - 2 * q / a * lean(wye.angle_rad));
}

} // namespace bellmouth::loss
