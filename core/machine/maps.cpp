// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/machine/maps.hpp>

#include <algorithm>
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
    if (end < map.points.size() && map.points[end].corrected_speed_rev_s < speed)
      return "lines whose speeds do not rise";
    begin = end;
  }
  if (lines < 2)
    return "fewer than two lines of constant speed";
  return std::nullopt;
}

} // namespace bellmouth::machine
