// SPDX-License-Identifier: GPL-3.0-or-later
// The published laws whose envelope is the band of a bend. K counts the friction of the arc, f a r/D; a is
// the angle in radians, t the same in degrees, r/D the radius ratio, e/D the relative roughness, f the Darcy
// factor at the Reynolds number Re.
//
// Ito, J. Basic Engineering 82 (1960) 131, as Blevins prints it (tests/reference/DEFAULTS_AND_SPREAD.md):
//   K = 0.00431 alpha t Re^-0.17 (r/D)^0.84, alpha(45) = 1 + 5.13 (r/D)^-1.47,
//   alpha(90) = 0.95 + 4.42 (r/D)^-1.96 (1 from r/D 9.85), alpha(180) = 1 + 5.06 (r/D)^-4.52,
//   straight between, held below 45 degrees.
//
// Idelchik, diagram 6-1 (tests/reference/bends.csv): K = A1(t) B1(r/D) k_Re k_e + f a r/D,
//   B1 = 0.21 (r/D)^-0.5, below r/D 1 0.21 (r/D)^-2.5; k_Re = 11.5 Re^-0.19 to Re 3e5, then 1;
//   for rough walls k_e = 1 + 1000 e/D, at most 2 (k_e from memory).
//   A tight bend loses no more than the mitre it rounds off and its own friction: below r/D 1 the diagram,
//   which at small angles exceeds that, is held to it.
//
// Hofmann; Wasielewski; Mitt. Hydr. Inst. TH Muenchen 3 (1929) and 5 (1932): measured on smooth brass bends
//   at Re 2.25e5, here to 45 degrees, the table of German handbooks (from memory); with Ito's Re^-0.17 and
//   the friction of the arc, which they took off.
//
// ASHRAE Fundamentals (2009), CD3-1 and CD3-3 (tests/reference/bends_published.csv): elbows pressed from
//   sheet, r/D 1.5, by bore. For elbows bought ready made, of whatever radius ratio.
#include "bend_spread.hpp"

#include "interpolate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace bellmouth::loss {
namespace {

constexpr double degree = std::numbers::pi / 180;

// The laws are compared over the range in which the law of bends.cpp is used.
constexpr std::array<double, 4> reynolds_numbers{4e4, 1e5, 3e5, 1e6};
constexpr double hofmann_reynolds = 2.25e5;

double ito_at_reynolds_1(double angle_deg, double radius_ratio) {
  const std::array<TablePoint, 3> alpha{
      {{45, 1 + 5.13 * std::pow(radius_ratio, -1.47)},
       {90, radius_ratio < 9.85 ? 0.95 + 4.42 * std::pow(radius_ratio, -1.96) : 1.0},
       {180, 1 + 5.06 * std::pow(radius_ratio, -4.52)}}};
  return 0.00431 * interpolate(alpha, angle_deg) * angle_deg * std::pow(radius_ratio, 0.84);
}

double idelchik_reynolds_factor(double reynolds) {
  return reynolds >= 3e5 ? 1.0 : 11.5 * std::pow(reynolds, -0.19);
}

double idelchik_local(double angle_deg, double radius_ratio, double relative_roughness) {
  const double exponent = radius_ratio >= 1 ? -0.5 : -2.5;
  const double rough = std::min(2.0, 1 + 1000 * relative_roughness);
  return idelchik_angle_factor(angle_deg) * 0.21 * std::pow(radius_ratio, exponent) * rough;
}

// Local loss of 15 and 22.5 degrees, of any radius ratio, and of 45 degrees against the radius ratio.
constexpr double hofmann_greatest_deg = 45;
constexpr std::array<TablePoint, 5> hofmann_45{{{1, 0.14}, {2, 0.09}, {4, 0.08}, {6, 0.075}, {10, 0.07}}};

double hofmann_local(double angle_deg, double radius_ratio) {
  const std::array<TablePoint, 4> by_angle{
      {{0, 0}, {15, 0.03}, {22.5, 0.045}, {hofmann_greatest_deg, interpolate(hofmann_45, radius_ratio)}}};
  return interpolate(by_angle, angle_deg);
}

constexpr std::array<TablePoint, 8> pressed_90{{{0.075, 0.30},
                                                {0.10, 0.21},
                                                {0.125, 0.16},
                                                {0.15, 0.14},
                                                {0.18, 0.12},
                                                {0.20, 0.11},
                                                {0.23, 0.11},
                                                {0.25, 0.11}}};
constexpr std::array<TablePoint, 8> pressed_45{{{0.075, 0.18},
                                                {0.10, 0.13},
                                                {0.125, 0.10},
                                                {0.15, 0.08},
                                                {0.18, 0.07},
                                                {0.20, 0.07},
                                                {0.23, 0.07},
                                                {0.25, 0.07}}};

double pressed_local(double angle_deg, double bore_m) {
  const double right_angle = interpolate(pressed_90, bore_m);
  if (angle_deg > 90)
    return right_angle * idelchik_angle_factor(angle_deg);
  const std::array<TablePoint, 3> by_angle{
      {{0, 0}, {45, interpolate(pressed_45, bore_m)}, {90, right_angle}}};
  return interpolate(by_angle, angle_deg);
}

/// The parts of the laws that hang on the Reynolds number alone.
struct Flow {
  double reynolds, smooth_friction, ito_power, idelchik_factor;
};

std::array<Flow, reynolds_numbers.size()> flows_compared() {
  std::array<Flow, reynolds_numbers.size()> flows{};
  std::ranges::transform(reynolds_numbers, flows.begin(), [](double reynolds) {
    return Flow{reynolds, darcy_friction_factor(reynolds, 0), std::pow(reynolds, -0.17),
                idelchik_reynolds_factor(reynolds)};
  });
  return flows;
}

} // namespace

double idelchik_angle_factor(double angle_deg) {
  if (angle_deg <= 70)
    return 0.9 * std::sin(angle_deg * degree);
  if (angle_deg >= 100)
    return 0.7 + 0.35 * angle_deg / 90;
  const std::array<TablePoint, 3> between{
      {{70, 0.9 * std::sin(70 * degree)}, {90, 1.0}, {100, 0.7 + 0.35 * 100 / 90}}};
  return interpolate(between, angle_deg);
}

Spread spread_about(const Law& law, const Bend& bend) {
  static const auto flows = flows_compared();
  static const double hofmann_power = std::pow(hofmann_reynolds, -0.17);
  const double angle_deg = bend.angle_rad / degree;
  const double ito = ito_at_reynolds_1(angle_deg, bend.radius_ratio);
  const double idelchik = idelchik_local(angle_deg, bend.radius_ratio, bend.relative_roughness);
  const bool tight = bend.radius_ratio < 1;
  const double rounded_off =
      tight ? loss::law(Mitre{std::min(bend.angle_rad, std::numbers::pi)}).constant : 0;
  const double hofmann =
      angle_deg <= hofmann_greatest_deg ? hofmann_local(angle_deg, bend.radius_ratio) / hofmann_power : 0;
  Spread spread;
  for (const Flow& flow : flows) {
    const double friction = bend.relative_roughness > 0
                                ? darcy_friction_factor(flow.reynolds, bend.relative_roughness)
                                : flow.smooth_friction;
    const double k = law.at(friction);
    const double arc = friction * bend.angle_rad * bend.radius_ratio;
    spread.take_in(ito * flow.ito_power / k);
    const double local = idelchik * flow.idelchik_factor;
    spread.take_in((tight ? std::min(local + arc, std::max(rounded_off + arc, k)) : local + arc) / k);
    if (hofmann > 0)
      spread.take_in((hofmann * flow.ito_power + arc) / k);
    if (bend.ready_made_bore_m > 0)
      spread.take_in((pressed_local(angle_deg, bend.ready_made_bore_m) + arc) / k);
  }
  return spread;
}

Spread spread_about(const Law& law, const Mitre& mitre) {
  // Idelchik, diagram 6-7 (tests/reference/mitre_bends.csv), and Blevins, Applied Fluid Dynamics Handbook
  // (1984): a table at Re 2e5 times (2e5 / Re)^0.2, held beyond its 120 degrees as a share of the law.
  constexpr std::array<TablePoint, 11> blevins{{{0, 0},
                                                {10, 0.025},
                                                {20, 0.055},
                                                {30, 0.10},
                                                {40, 0.20},
                                                {50, 0.35},
                                                {60, 0.50},
                                                {70, 0.70},
                                                {80, 0.90},
                                                {90, 1.10},
                                                {120, 1.50}}};
  static const double slow = std::pow(2e5 / reynolds_numbers.front(), 0.2);
  static const double fast = std::pow(2e5 / reynolds_numbers.back(), 0.2);
  const double angle_deg = mitre.angle_rad / degree;
  const double half_sine = std::sin(mitre.angle_rad / 2);
  const double square = half_sine * half_sine;
  const double idelchik = (0.95 + 33.5 / angle_deg) * square * (0.95 + 2.05 * square);
  Spread spread;
  spread.take_in(idelchik / law.constant);
  if (angle_deg <= 120) {
    const double table = interpolate(blevins, angle_deg) / law.constant;
    spread.take_in(table * slow);
    spread.take_in(table * fast);
  } else {
    const double table = blevins.back().y / loss::law(Mitre{120 * degree}).constant;
    spread.take_in(table * slow);
    spread.take_in(table * fast);
  }
  return spread;
}

} // namespace bellmouth::loss
