// SPDX-License-Identifier: GPL-3.0-or-later
// Entries and exits. Tables: I. E. Idelchik, Handbook of Hydraulic Resistance (1986), as reprinted by ASHRAE
// (Fitting Loss Coefficients, items 1-1 to 1-5) and as in python3-fluids; rows in
// tests/reference/entrances_exits.csv. Between points straight lines. K on the velocity in the duct; the one
// dynamic pressure that the air takes up is not a loss and not in K.
//
// Bellmouth, r lip radius, D bore (diagram 3-4): r / D from 0 to 0.2; larger lips as 0.2. -0.02/+0.08 in K:
// other correlations lie higher. Flush, sharp (diagram 3-1): 0.50. 15 %. Projecting by b from a wall, wall
// thickness t (diagrams 3-1 and 3-2):
//   K = 0.5 + (K_far(t / D) - 0.5) g(b / D, t / D),
// K_far for b >= D / 2, g how much of it a short projection has (between walls of no thickness and of 0.02 D
// in a straight line; thicker walls as 0.02 D). 15 %. Bevelled, flush in a wall, angle to the axis, length l
// along it (diagram 3-7): table; from no length (a sharp edge, ours) to 0.025 D a straight line; longer than
// 0.6 D as 0.6 D, outside the range. -20 %/+40 %: Miller's chart lies below, Rennels & Hudson's formula
// above, for long bevels up to twice.
//
// Exit: the kinetic energy of the stream, over that of the flat profile: a = 1 flat, 2 laminar, and after
// long turbulent flow a = 1 + 2.7 f with the Darcy factor f (a logarithmic profile; V. L. Streeter's and V.
// T. Chow's texts; from memory; the test integrates the profile). Flat: 0/+10 %, for a real profile has 1.04
// to 1.10.
#include "interpolate.hpp"

#include <bellmouth/loss.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <numbers>

namespace bellmouth::loss {
namespace {

// Loss against lip radius over bore. Diagram 3-4: bellmouth in free air, no wall.
constexpr std::array<TablePoint, 12> free_bellmouth{{{0, 1.0},
                                                     {0.01, 0.87},
                                                     {0.02, 0.74},
                                                     {0.03, 0.61},
                                                     {0.04, 0.51},
                                                     {0.05, 0.40},
                                                     {0.06, 0.32},
                                                     {0.08, 0.20},
                                                     {0.10, 0.15},
                                                     {0.12, 0.10},
                                                     {0.16, 0.06},
                                                     {0.20, 0.03}}};
// The same with the lip flush in an end wall.
constexpr std::array<TablePoint, 11> bellmouth_in_wall{{{0, 0.5},
                                                        {0.01, 0.44},
                                                        {0.02, 0.37},
                                                        {0.03, 0.31},
                                                        {0.04, 0.26},
                                                        {0.05, 0.22},
                                                        {0.06, 0.20},
                                                        {0.08, 0.15},
                                                        {0.12, 0.09},
                                                        {0.16, 0.06},
                                                        {0.20, 0.03}}};

constexpr double sharp = 0.5;

// Diagram 3-2, half a bore and more out of the wall: loss against wall thickness over bore.
constexpr std::array<TablePoint, 10> far_out{{{0, 1.00},
                                              {0.004, 0.94},
                                              {0.008, 0.88},
                                              {0.012, 0.83},
                                              {0.016, 0.77},
                                              {0.020, 0.72},
                                              {0.024, 0.68},
                                              {0.030, 0.61},
                                              {0.040, 0.54},
                                              {0.050, 0.50}}};
// Diagram 3-1: loss against projection over bore, of tubes without thickness and of 0.02 bore.
constexpr std::array<TablePoint, 6> out_thin{
    {{0, 0.50}, {0.002, 0.57}, {0.01, 0.68}, {0.05, 0.80}, {0.2, 0.92}, {0.5, 1.00}}};
constexpr std::array<TablePoint, 6> out_thick{
    {{0, 0.50}, {0.002, 0.51}, {0.01, 0.52}, {0.05, 0.55}, {0.2, 0.66}, {0.5, 0.72}}};
constexpr double thick_ratio = 0.02;

double projecting(double projection, double wall) {
  const auto share = [&](const std::array<TablePoint, 6>& table) {
    return (interpolate(table, projection) - sharp) / (table.back().y - sharp);
  };
  const double thick = std::min(1.0, wall / thick_ratio);
  const double seen = (1 - thick) * share(out_thin) + thick * share(out_thick);
  return sharp + (interpolate(far_out, wall) - sharp) * seen;
}

// Diagram 3-7: loss against the included angle [degrees], one row for each length over bore.
using BevelRow = std::array<TablePoint, 9>;
constexpr BevelRow bevel_row(std::array<double, 9> losses) {
  constexpr std::array<double, 9> angles_deg{0, 10, 20, 30, 40, 60, 100, 140, 180};
  BevelRow row{};
  for (std::size_t i = 0; i < row.size(); ++i)
    row[i] = {angles_deg[i], losses[i]};
  return row;
}
constexpr std::array<double, 7> bevel_lengths{0, 0.025, 0.05, 0.075, 0.1, 0.15, 0.6};
constexpr std::array<BevelRow, 7> bevels{bevel_row({0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5}),
                                         bevel_row({0.5, 0.47, 0.45, 0.43, 0.41, 0.40, 0.42, 0.45, 0.5}),
                                         bevel_row({0.5, 0.45, 0.41, 0.36, 0.33, 0.30, 0.35, 0.42, 0.5}),
                                         bevel_row({0.5, 0.42, 0.35, 0.30, 0.26, 0.23, 0.30, 0.40, 0.5}),
                                         bevel_row({0.5, 0.39, 0.32, 0.25, 0.22, 0.18, 0.27, 0.38, 0.5}),
                                         bevel_row({0.5, 0.37, 0.27, 0.20, 0.16, 0.15, 0.25, 0.37, 0.5}),
                                         bevel_row({0.5, 0.27, 0.18, 0.13, 0.11, 0.12, 0.23, 0.36, 0.5})};

double bevelled(double angle_rad, double length) {
  const double included_deg = 2 * angle_rad * 180 / std::numbers::pi;
  std::array<TablePoint, bevels.size()> at_angle{};
  for (std::size_t i = 0; i < bevels.size(); ++i)
    at_angle[i] = {bevel_lengths[i], interpolate(bevels[i], included_deg)};
  return interpolate(at_angle, length);
}

} // namespace

Law law(const Entry& entry) {
  assert(entry.radius_ratio >= 0 && entry.projection_ratio >= 0 && entry.wall_ratio >= 0);
  assert(entry.bevel_angle_rad >= 0 && entry.bevel_angle_rad <= std::numbers::pi / 2 * (1 + 1e-9));
  assert(entry.bevel_length_ratio >= 0);
  Law law;
  law.band_low = law.band_high = 0.15;
  law.least_reynolds = 1e4; // Idelchik's tables
  switch (entry.kind) {
  case EntryKind::bellmouth:
    law.source = "Idelchik (1986), diagram 3-4";
    law.range = "lip radius from nothing to 0.2 bores; larger lips as 0.2";
    law.constant = entry.in_wall ? interpolate(bellmouth_in_wall, entry.radius_ratio)
                                 : interpolate(free_bellmouth, entry.radius_ratio);
    law.band_low = 0.02 / law.constant;
    law.band_high = 0.08 / law.constant;
    break;
  case EntryKind::flush:
    law.source = "Idelchik (1986), diagram 3-1";
    law.range = "sharp edge, flush in a large wall";
    law.constant = sharp;
    break;
  case EntryKind::projecting:
    law.source = "Idelchik (1986), diagrams 3-1 and 3-2";
    law.range = "sharp edge, any projection and thickness";
    law.constant = projecting(entry.projection_ratio, entry.wall_ratio);
    break;
  case EntryKind::bevelled:
    law.source = "Idelchik (1986), diagram 3-7";
    law.range = "0 to 90 degrees from the axis, length up to 0.6 bores";
    law.constant = bevelled(entry.bevel_angle_rad, entry.bevel_length_ratio);
    law.outside_range = entry.bevel_length_ratio > 0.6;
    law.band_low = law.outside_range ? 0.50 : 0.20;
    law.band_high = law.outside_range ? 1.0 : 0.40;
    break;
  }
  return law;
}

Law law(const Exit& exit) {
  Law law;
  law.source = "kinetic energy of the stream";
  switch (exit.profile) {
  case ExitProfile::flat:
    law.constant = 1.0;
    law.band_high = 0.10;
    law.range = "short or disturbed flow; a real profile has up to 1.10";
    break;
  case ExitProfile::turbulent:
    law.constant = 1.0;
    law.per_friction = 2.7;
    law.least_reynolds = 4000;
    law.band_low = law.band_high = 0.03;
    law.range = "after some 40 bores of straight tube, Reynolds number above 4000";
    break;
  case ExitProfile::laminar:
    law.constant = 2.0;
    law.band_low = law.band_high = 0.03;
    law.range = "long straight tube, Reynolds number below 2000";
    break;
  }
  return law;
}

} // namespace bellmouth::loss
