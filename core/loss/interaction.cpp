// SPDX-License-Identifier: GPL-3.0-or-later
#include "interpolate.hpp"

#include <bellmouth/loss.hpp>
#include <bellmouth/loss/interaction.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::loss {
namespace {

constexpr double degree = std::numbers::pi / 180;

// Factor against the twist: 180, 150, ... 0 degrees; the book counts the combination angle from the S bend.
using ByTwist = std::array<double, 7>;
constexpr std::array<double, 4> spacings{0, 1, 4, 8};
using BySpacing = std::array<ByTwist, spacings.size()>;

// table[first][second] for radius ratios 1, 2, 3. Two cells of the first block (0.94 at 4 bores, 0.91 at 8)
// stand out from their neighbours and may be slips; they are kept as read.
constexpr std::array<std::array<BySpacing, 3>, 3> table{{
    {{
        {{{1.00, 1.16, 1.04, 0.81, 0.69, 0.60, 0.53},
          {0.86, 1.04, 0.93, 0.79, 0.69, 0.63, 0.58},
          {0.71, 0.94, 0.76, 0.74, 0.72, 0.73, 0.71},
          {0.81, 0.83, 0.82, 0.82, 0.81, 0.91, 0.80}}},
        {{{1.06, 1.15, 1.01, 0.81, 0.71, 0.64, 0.60},
          {0.91, 1.05, 0.96, 0.86, 0.78, 0.71, 0.64},
          {0.74, 0.85, 0.82, 0.80, 0.79, 0.78, 0.77},
          {0.83, 0.84, 0.84, 0.82, 0.81, 0.81, 0.81}}},
        {{{1.02, 1.06, 0.97, 0.86, 0.78, 0.72, 0.67},
          {0.93, 1.05, 0.92, 0.90, 0.82, 0.78, 0.72},
          {0.78, 0.83, 0.83, 0.82, 0.82, 0.81, 0.81},
          {0.87, 0.83, 0.83, 0.83, 0.83, 0.84, 0.85}}},
    }},
    {{
        {{{0.76, 0.73, 0.71, 0.67, 0.64, 0.60, 0.57},
          {0.74, 0.72, 0.70, 0.68, 0.66, 0.64, 0.62},
          {0.69, 0.73, 0.74, 0.74, 0.75, 0.75, 0.75},
          {0.74, 0.79, 0.80, 0.80, 0.81, 0.81, 0.81}}},
        {{{0.86, 0.79, 0.77, 0.73, 0.68, 0.63, 0.58},
          {0.83, 0.79, 0.74, 0.71, 0.68, 0.65, 0.62},
          {0.72, 0.71, 0.70, 0.70, 0.69, 0.69, 0.72},
          {0.77, 0.81, 0.81, 0.80, 0.80, 0.80, 0.80}}},
        {{{0.88, 0.84, 0.81, 0.78, 0.76, 0.72, 0.69},
          {0.85, 0.83, 0.81, 0.79, 0.77, 0.75, 0.73},
          {0.74, 0.77, 0.79, 0.81, 0.82, 0.82, 0.83},
          {0.83, 0.82, 0.83, 0.84, 0.85, 0.86, 0.87}}},
    }},
    {{
        {{{0.79, 0.76, 0.73, 0.70, 0.68, 0.65, 0.64},
          {0.76, 0.75, 0.73, 0.72, 0.70, 0.69, 0.68},
          {0.70, 0.73, 0.75, 0.77, 0.78, 0.78, 0.79},
          {0.76, 0.81, 0.81, 0.81, 0.82, 0.82, 0.82}}},
        {{{0.85, 0.83, 0.80, 0.76, 0.73, 0.69, 0.65},
          {0.83, 0.81, 0.79, 0.76, 0.74, 0.71, 0.68},
          {0.72, 0.74, 0.75, 0.76, 0.77, 0.77, 0.77},
          {0.77, 0.81, 0.80, 0.80, 0.80, 0.80, 0.80}}},
        {{{0.86, 0.83, 0.81, 0.78, 0.76, 0.74, 0.71},
          {0.87, 0.85, 0.83, 0.79, 0.77, 0.75, 0.73},
          {0.82, 0.81, 0.81, 0.80, 0.80, 0.79, 0.79},
          {0.85, 0.85, 0.85, 0.85, 0.85, 0.85, 0.85}}},
    }},
}};

/// Where a value lies on a grid of steps of one: the cell below and the share of the next.
struct Place {
  std::size_t below;
  double share;
};
Place place(double steps, std::size_t last) {
  const double held = std::clamp(steps, 0.0, static_cast<double>(last));
  const std::size_t below = std::min(static_cast<std::size_t>(held), last - 1);
  return {below, held - static_cast<double>(below)};
}

double between(double a, double b, double share) {
  return a + (b - a) * share;
}

double at_twist(const ByTwist& row, const Place& twist) {
  return between(row[twist.below], row[twist.below + 1], twist.share);
}

double at_spacing(const BySpacing& block, const Place& twist, double spacing) {
  std::array<TablePoint, spacings.size() + 1> points{};
  for (std::size_t i = 0; i < spacings.size(); ++i)
    points[i] = {std::log1p(spacings[i]), at_twist(block[i], twist)};
  points.back() = {std::log1p(interaction_ends_at), 1.0};
  return interpolate(points, std::log1p(spacing));
}

double of_right_angles(const BendPair& pair) {
  // 0 to pi, whatever the sign and however many turns; counted from the S bend in steps of 30 degrees.
  const double twist_rad = std::abs(std::remainder(pair.twist_rad, 2 * std::numbers::pi));
  const Place twist = place((std::numbers::pi - twist_rad) / (30 * degree), 6);
  const Place first = place(pair.first_radius_ratio - 1, 2);
  const Place second = place(pair.second_radius_ratio - 1, 2);
  const auto of = [&](std::size_t i, std::size_t j) {
    return at_spacing(table[i][j], twist, pair.spacing_ratio);
  };
  return between(
      between(of(first.below, second.below), of(first.below, second.below + 1), second.share),
      between(of(first.below + 1, second.below), of(first.below + 1, second.below + 1), second.share),
      first.share);
}

bool is_right_angle(double angle_rad) {
  return std::abs(angle_rad - std::numbers::pi / 2) < (5 + 1e-9) * degree;
}
bool tabled(double radius_ratio) {
  return radius_ratio > 1 - 1e-9 && radius_ratio < 3 + 1e-9;
}

double turn(double angle_rad) {
  return std::sin(std::min(angle_rad, std::numbers::pi / 2));
}

} // namespace

Interaction interaction(const BendPair& pair) {
  assert(pair.spacing_ratio >= 0 && std::isfinite(pair.twist_rad));
  assert(pair.first_angle_rad > 0 && pair.first_radius_ratio > 0);
  assert(pair.second_angle_rad > 0 && pair.second_radius_ratio > 0);
  Interaction result;
  result.source = "Miller, Internal Flow Systems (1990), table 10.1";
  result.range = "two near bends of radius ratio 1 to 3 each";
  if (pair.spacing_ratio >= interaction_ends_at)
    return result;
  const double effect = turn(pair.first_angle_rad) * turn(pair.second_angle_rad);
  result.factor = 1 - effect * (1 - of_right_angles(pair));
  result.outside_range = !tabled(pair.first_radius_ratio) || !tabled(pair.second_radius_ratio);
  const bool carried =
      result.outside_range || !is_right_angle(pair.first_angle_rad) || !is_right_angle(pair.second_angle_rad);
  const double last = std::log1p(spacings.back()), end = std::log1p(interaction_ends_at);
  const double left = std::min(1.0, (end - std::log1p(pair.spacing_ratio)) / (end - last));
  result.band = (carried ? 0.25 : 0.10) * left;
  return result;
}

Law beside(Law bend, const Interaction& neighbour) {
  bend.constant *= neighbour.factor;
  bend.per_friction *= neighbour.factor;
  bend.per_inverse_reynolds *= neighbour.factor;
  bend.band_absolute *= neighbour.factor;
  bend.band_low = std::min(1.0, bend.band_low + neighbour.band);
  bend.band_high += neighbour.band;
  if (neighbour.outside_range && !bend.outside_range) {
    bend.outside_range = true;
    bend.range = neighbour.range;
  }
  return bend;
}

Law behind_disturbance(Law diffuser, double spacing_ratio) {
  assert(spacing_ratio >= 0);
  constexpr std::array<TablePoint, 2> doubling{{{4, 2}, {10, 1}}};
  const double wider = interpolate(doubling, spacing_ratio);
  diffuser.band_low = std::min(1.0, diffuser.band_low * wider);
  diffuser.band_high *= wider;
  diffuser.band_absolute *= wider;
  diffuser.outside_range |= wider > 1;
  return diffuser;
}

} // namespace bellmouth::loss
