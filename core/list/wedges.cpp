// SPDX-License-Identifier: GPL-3.0-or-later
// Segmented bends: wedges and ends.
#include "parts.hpp"

#include <cmath>
#include <variant>

namespace bellmouth::list {
namespace {

WedgeLine::Sides end_of(const WedgeLine::Sides& wedge, double leg_m) {
  return {leg_m + wedge.long_m / 2, leg_m + wedge.centre_m / 2, leg_m + wedge.short_m / 2};
}

void measure(const build::MitredBend& bend, const trade::Limits& limits, WedgeLine& line) {
  const joint::Wedge wedge = joint::wedge(bend.outer_diameter_m, bend.radius_m, bend.angle_rad, bend.joints);
  line.outer_diameter_m = bend.outer_diameter_m;
  line.radius_m = bend.radius_m;
  line.angle_rad = bend.angle_rad;
  line.joints = bend.joints;
  line.saw_angle_rad = wedge.cut_angle_rad;
  line.wedge = {wedge.long_side_m, (wedge.long_side_m + wedge.short_side_m) / 2, wedge.short_side_m};
  line.end_in = end_of(line.wedge, bend.leg_in_m);
  line.end_out = end_of(line.wedge, bend.leg_out_m);
  line.kerf_m = limits.kerf_m;
  line.material_m = line.end_in.centre_m + line.full_wedges() * line.wedge.centre_m + line.end_out.centre_m +
                    line.joints * limits.kerf_m / std::cos(line.saw_angle_rad);
  line.too_short = line.full_wedges() > 0 && line.wedge.short_m < limits.wedge_short_side_m;
}

} // namespace

void list_wedges(const Work& work, const trade::Limits& limits, Lists& lists) {
  for (const build::Run* const run : work.runs)
    for (std::size_t row = 0; row < run->pieces.size(); ++row) {
      const build::Piece& piece = run->pieces[row];
      const auto* const bend = std::get_if<build::MitredBend>(&piece.shape);
      if (bend == nullptr)
        continue;
      WedgeLine& line = lists.wedges.emplace_back();
      line.piece = reference(work, *run, row);
      line.title = build::title(piece);
      line.bought = bought_welded(work, piece);
      measure(*bend, limits, line);
    }
}

} // namespace bellmouth::list
