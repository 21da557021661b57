// SPDX-License-Identifier: GPL-3.0-or-later
// Elbows known from handbook tables only: segmented (gored) and pleated. All tables: ASHRAE Handbook
// Fundamentals (SI, 2009), chapter 21; read as text in a public copy, rows in
// tests/reference/mitre_segmented.csv and bends_published.csv. They are for sheet-metal duct and end at the
// bores where this trade begins.
#include "bend_spread.hpp"
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

// Loss against bore [m]. CD3-9: 5 pieces, 90 degrees, radius ratio 1.5.
constexpr std::array<TablePoint, 11> four_joints{{{0.075, 0.51},
                                                  {0.15, 0.28},
                                                  {0.23, 0.21},
                                                  {0.30, 0.18},
                                                  {0.38, 0.16},
                                                  {0.45, 0.15},
                                                  {0.53, 0.14},
                                                  {0.60, 0.13},
                                                  {0.69, 0.12},
                                                  {0.75, 0.12},
                                                  {1.50, 0.12}}};
// CD3-10: 7 pieces, 90 degrees, radius ratio 2.5.
constexpr std::array<TablePoint, 8> six_joints{{{0.075, 0.16},
                                                {0.15, 0.12},
                                                {0.23, 0.10},
                                                {0.30, 0.08},
                                                {0.38, 0.07},
                                                {0.45, 0.06},
                                                {0.69, 0.05},
                                                {1.50, 0.03}}};
// CD3-12: 3 pieces, 90 degrees, against the radius ratio; any bore.
constexpr std::array<TablePoint, 4> two_joints{{{0.75, 0.54}, {1.0, 0.42}, {1.5, 0.34}, {2.0, 0.33}}};
// CD3-13: 3 pieces, 60 degrees, radius ratio 1.5.
constexpr std::array<TablePoint, 11> two_joints_60{{{0.075, 0.40},
                                                    {0.15, 0.21},
                                                    {0.23, 0.16},
                                                    {0.30, 0.14},
                                                    {0.38, 0.12},
                                                    {0.45, 0.12},
                                                    {0.53, 0.11},
                                                    {0.60, 0.10},
                                                    {0.69, 0.09},
                                                    {0.75, 0.09},
                                                    {1.50, 0.09}}};
// CD3-14: 3 pieces, 45 degrees, radius ratio 1.5.
constexpr std::array<TablePoint, 11> two_joints_45{{{0.075, 0.31},
                                                    {0.15, 0.17},
                                                    {0.23, 0.13},
                                                    {0.30, 0.11},
                                                    {0.38, 0.11},
                                                    {0.45, 0.09},
                                                    {0.53, 0.08},
                                                    {0.60, 0.08},
                                                    {0.69, 0.07},
                                                    {0.75, 0.07},
                                                    {1.50, 0.07}}};
// Pleated elbows against bore [m]. CD3-5: 90 degrees; CD3-7: 45 degrees; radius ratio 1.5.
constexpr std::array<TablePoint, 7> pleated_90{
    {{0.10, 0.57}, {0.15, 0.43}, {0.20, 0.34}, {0.25, 0.28}, {0.30, 0.26}, {0.35, 0.25}, {0.40, 0.25}}};
constexpr std::array<TablePoint, 7> pleated_45{
    {{0.10, 0.34}, {0.15, 0.26}, {0.20, 0.21}, {0.25, 0.17}, {0.30, 0.16}, {0.35, 0.15}, {0.40, 0.15}}};

bool same(double a, double b) {
  return std::abs(a - b) < 1e-6;
}

/// A value and whether a table holds just this shape.
struct Tabled {
  double k;
  bool tabled;
};

Tabled two_joint_bend(double angle_deg, double radius_ratio, double bore_m) {
  const double shape = interpolate(two_joints, radius_ratio) / interpolate(two_joints, 1.5);
  if (angle_deg <= 45)
    return {shape * interpolate(two_joints_45, bore_m) * idelchik_angle_factor(angle_deg) /
                idelchik_angle_factor(45),
            same(angle_deg, 45) && same(radius_ratio, 1.5)};
  const std::array<TablePoint, 3> by_angle{{{45, shape * interpolate(two_joints_45, bore_m)},
                                            {60, shape * interpolate(two_joints_60, bore_m)},
                                            {90, interpolate(two_joints, radius_ratio)}}};
  if (angle_deg > 90)
    return {by_angle.back().y * idelchik_angle_factor(angle_deg), same(angle_deg, 90)};
  const bool right_angle = same(angle_deg, 90) && radius_ratio > 0.75 - 1e-6 && radius_ratio < 2 + 1e-6;
  return {interpolate(by_angle, angle_deg), right_angle || same(radius_ratio, 1.5)};
}

/// Four or six joints: one table each, carried to other radius ratios as the table for two joints varies, and
/// to other angles by the angle factor.
Tabled many_joint_bend(bool six, double angle_deg, double radius_ratio, double bore_m) {
  const double table_ratio = six ? 2.5 : 1.5;
  const double k = six ? interpolate(six_joints, bore_m) : interpolate(four_joints, bore_m);
  return {k * idelchik_angle_factor(angle_deg) * interpolate(two_joints, radius_ratio) /
              interpolate(two_joints, table_ratio),
          same(angle_deg, 90) && same(radius_ratio, table_ratio)};
}

Tabled mean(const Tabled& a, const Tabled& b) {
  return {(a.k + b.k) / 2, a.tabled && b.tabled};
}

Tabled tabled_bend(int joints, double angle_deg, double radius_ratio, double bore_m) {
  const Tabled two = two_joint_bend(angle_deg, radius_ratio, bore_m);
  const Tabled four = many_joint_bend(false, angle_deg, radius_ratio, bore_m);
  const Tabled six = many_joint_bend(true, angle_deg, radius_ratio, bore_m);
  switch (joints) {
  case 2:
    return two;
  case 3:
    return mean(two, four);
  case 4:
    return four;
  case 5:
    return mean(four, six);
  default:
    return {six.k, six.tabled && joints == 6};
  }
}

} // namespace

namespace {

/// Of a smooth bend of that shape at Reynolds number 1e5, the friction along its arc left out.
double smooth_without_friction(const SegmentedBend& bend) {
  const double friction = darcy_friction_factor(1e5, 0);
  return law(Bend{bend.angle_rad, bend.radius_ratio}).at(friction) -
         friction * bend.angle_rad * bend.radius_ratio;
}

} // namespace

Law law(const SegmentedBend& bend) {
  assert(bend.joints >= 1 && bend.angle_rad > 0 && bend.radius_ratio > 0 && bend.bore_m > 0);
  if (bend.joints == 1)
    return law(Mitre{bend.angle_rad});
  const auto [table, tabled] =
      tabled_bend(bend.joints, bend.angle_rad / degree, bend.radius_ratio, bend.bore_m);
  // Joints that are close together lose less than as many far apart. In the smallest bores the tables, whose
  // elbows have lapped seams, exceed that bound; the band then reaches up to them.
  const double apart = bend.joints * law(Mitre{bend.angle_rad / bend.joints}).constant;
  Law law;
  law.source = "ASHRAE Fundamentals (2009), fittings CD3-9 to CD3-14";
  law.range =
      "the shapes tabled: 2 joints of 45, 60 or 90 degrees, 4 joints of radius ratio 1.5 and 6 of 2.5 of "
      "90 degrees, and between them; bore 75 mm to 1.5 m";
  // Carried to other shapes, the tables would put many cuts below a smooth bend: no cut is smoother.
  const double least = tabled || bend.radius_ratio < 1 ? 0.0 : smooth_without_friction(bend);
  law.constant = std::min(std::max(table, least), apart);
  law.outside_range = !tabled || bend.bore_m < 0.075 - 1e-9 || bend.bore_m > 1.5;
  law.band_low = law.outside_range ? 0.50 : 0.30;
  law.band_high = std::max(law.band_low, table / law.constant - 1);
  return law;
}

Law law(const PleatedElbow& elbow) {
  assert(elbow.angle_rad > 0 && elbow.bore_m > 0);
  const double angle_deg = elbow.angle_rad / degree;
  const std::array<TablePoint, 3> by_angle{
      {{0, 0}, {45, interpolate(pleated_45, elbow.bore_m)}, {90, interpolate(pleated_90, elbow.bore_m)}}};
  Law law;
  law.source = "ASHRAE Fundamentals (2009), fittings CD3-5 and CD3-7";
  law.range = "angle 45 to 90 degrees, bore 100 to 400 mm, radius ratio 1.5";
  law.constant = interpolate(by_angle, angle_deg) * (angle_deg > 90 ? idelchik_angle_factor(angle_deg) : 1.0);
  law.outside_range = angle_deg < 45 - 1e-6 || angle_deg > 90 + 1e-6 || elbow.bore_m < 0.10 - 1e-9 ||
                      elbow.bore_m > 0.40 + 1e-9;
  const double factor = law.outside_range ? 2.0 : 1.5; // within this factor both ways
  law.band_low = 1 - 1 / factor;
  law.band_high = factor - 1;
  return law;
}

} // namespace bellmouth::loss
