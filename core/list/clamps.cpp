// SPDX-License-Identifier: GPL-3.0-or-later
// Clamp list: the clamps of all hose joints, by size.
#include "parts.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bellmouth::list {
namespace {

/// Installed diameters closer than this take the same line of the clamp list.
constexpr double same_diameter_m = 0.05e-3;

void describe(const build::StockItem& clamp, const trade::Limits& limits, ClampLine& line) {
  line.stock = clamp.id;
  line.description = clamp.name;
  line.type = clamp.clamp_type;
  line.least_m = clamp.clamp_min_m;
  line.most_m = clamp.clamp_max_m;
  if (line.least_m && line.most_m && *line.most_m > *line.least_m)
    line.share_of_range = (line.installed_diameter_m - *line.least_m) / (*line.most_m - *line.least_m);
  line.torque = joint::torque(clamp, limits);
}

void add(std::vector<ClampLine>& clamps, const joint::Joint& joint, const trade::Limits& limits,
         build::PieceRef hose) {
  const auto same = [&](const ClampLine& line) {
    return std::abs(line.installed_diameter_m - joint.installed_diameter_m) < same_diameter_m &&
           line.stock.has_value() == (joint.clamp != nullptr) &&
           (!line.stock || *line.stock == joint.clamp->id);
  };
  auto found = std::ranges::find_if(clamps, same);
  if (found == clamps.end()) {
    ClampLine line;
    line.installed_diameter_m = joint.installed_diameter_m;
    if (joint.clamp != nullptr)
      describe(*joint.clamp, limits, line);
    else
      line.description = "none in stock";
    found = clamps.insert(clamps.end(), std::move(line));
  }
  found->count += joint::clamps_needed(joint);
  found->pieces.push_back(std::move(hose));
}

} // namespace

void list_clamps(const Work& work, const trade::Limits& limits, Lists& lists) {
  for (std::size_t i = 0; i < work.runs.size(); ++i)
    for (const joint::Joint& joint : work.fits[i].joints)
      if (joint::clamps_needed(joint) > 0)
        add(lists.clamps, joint, limits, reference(work, *work.runs[i], *joint.hose().row));
  std::ranges::stable_sort(lists.clamps, {}, &ClampLine::installed_diameter_m);
}

} // namespace bellmouth::list
