// SPDX-License-Identifier: GPL-3.0-or-later
#include "monotone.hpp"

#include <bellmouth/machine/maps.hpp>

#include <algorithm>
#include <cassert>
#include <iterator>
#include <set>
#include <utility>

namespace bellmouth::machine {

std::optional<std::string> map_fault(const std::vector<BlowerMapPoint>& map) {
  std::set<double> speeds, ratios;
  std::set<std::pair<double, double>> places;
  for (const auto& point : map) {
    speeds.insert(point.speed_rev_s);
    ratios.insert(point.pressure_ratio);
    if (!places.emplace(point.speed_rev_s, point.pressure_ratio).second)
      return "a speed and pressure ratio that stand there twice";
  }
  if (speeds.size() < 2 || ratios.size() < 2)
    return "fewer than two speeds or two pressure ratios";
  if (places.size() != speeds.size() * ratios.size())
    return "a speed that lacks one of the pressure ratios of the others";
  return std::nullopt;
}

std::optional<std::string> map_fault(const CompressorMap& map) {
  std::size_t lines = 0;
  for (std::size_t begin = 0; begin < map.points.size(); ++lines) {
    const double speed = map.points[begin].corrected_speed_rev_s;
    std::size_t end = begin + 1;
    for (; end < map.points.size() && map.points[end].corrected_speed_rev_s == speed; ++end)
      if (map.points[end].corrected_flow_kg_s <= map.points[end - 1].corrected_flow_kg_s)
        return "a line of constant speed whose flows do not rise";
    if (end - begin < 2)
      return "a line of constant speed with a single point";
    if (map.points[begin].pressure_ratio <= 1)
      return "a line of constant speed that does not raise the pressure at its first point";
    if (end < map.points.size() && map.points[end].corrected_speed_rev_s < speed)
      return "lines whose speeds do not rise";
    begin = end;
  }
  if (lines < 2)
    return "fewer than two lines of constant speed";
  return std::nullopt;
}

namespace {

/// Where a value lies in a rising grid: the step it is in and how far along that, 0 to 1; held at the ends.
struct InGrid {
  std::size_t step;
  double share;
  bool outside;
};
InGrid in_grid(const std::vector<double>& grid, double value) {
  const auto above = std::ranges::upper_bound(grid, value);
  if (above == grid.begin())
    return {0, 0, true};
  if (above == grid.end())
    return {grid.size() - 2, 1, value > grid.back()};
  const auto step = static_cast<std::size_t>(above - grid.begin()) - 1;
  return {step, (value - grid[step]) / (grid[step + 1] - grid[step]), false};
}

} // namespace

BlowerMap::BlowerMap(const std::vector<BlowerMapPoint>& map) {
  assert(!map_fault(map));
  std::vector<BlowerMapPoint> sorted = map;
  std::ranges::sort(sorted, [](const BlowerMapPoint& a, const BlowerMapPoint& b) {
    return std::pair(a.speed_rev_s, a.pressure_ratio) < std::pair(b.speed_rev_s, b.pressure_ratio);
  });
  for (const BlowerMapPoint& point : sorted) {
    if (point.speed_rev_s == sorted.front().speed_rev_s)
      ratios_.push_back(point.pressure_ratio);
    if (speeds_.empty() || point.speed_rev_s != speeds_.back())
      speeds_.push_back(point.speed_rev_s);
  }
  std::vector<double> volumetric(ratios_.size()), adiabatic(ratios_.size());
  for (auto row = sorted.begin(); row != sorted.end(); row += std::ssize(ratios_)) {
    for (std::size_t i = 0; i < ratios_.size(); ++i) {
      const BlowerMapPoint& point = row[static_cast<std::ptrdiff_t>(i)];
      volumetric[i] = point.volumetric_efficiency;
      adiabatic[i] = point.adiabatic_efficiency;
    }
    const auto volumetric_slopes = monotone_slopes(ratios_, volumetric);
    const auto adiabatic_slopes = monotone_slopes(ratios_, adiabatic);
    for (std::size_t i = 0; i < ratios_.size(); ++i)
      nodes_.push_back({volumetric[i], volumetric_slopes[i], adiabatic[i], adiabatic_slopes[i]});
  }
}

BlowerMap::Reading BlowerMap::at(double speed_rev_s, double pressure_ratio) const {
  const InGrid speed = in_grid(speeds_, speed_rev_s), ratio = in_grid(ratios_, pressure_ratio);
  const double width = ratios_[ratio.step + 1] - ratios_[ratio.step];
  Reading found{0, 0, 0, 0, speed.outside || ratio.outside};
  for (const std::size_t side : {std::size_t{0}, std::size_t{1}}) {
    const double weight = side == 0 ? 1 - speed.share : speed.share;
    const Node* node = &nodes_[(speed.step + side) * ratios_.size() + ratio.step];
    const CurveValue volumetric = hermite(ratio.share, width, node[0].volumetric, node[0].volumetric_slope,
                                          node[1].volumetric, node[1].volumetric_slope);
    const CurveValue adiabatic = hermite(ratio.share, width, node[0].adiabatic, node[0].adiabatic_slope,
                                         node[1].adiabatic, node[1].adiabatic_slope);
    found.volumetric_efficiency += weight * volumetric.value;
    found.adiabatic_efficiency += weight * adiabatic.value;
    if (!ratio.outside) {
      found.volumetric_by_ratio += weight * volumetric.slope;
      found.adiabatic_by_ratio += weight * adiabatic.slope;
    }
  }
  return found;
}

} // namespace bellmouth::machine
