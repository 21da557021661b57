// SPDX-License-Identifier: GPL-3.0-or-later
// Beads to roll.
#include "parts.hpp"

namespace bellmouth::list {
namespace {

void add(const Work& work, const build::Run& run, const joint::Joint& joint, bool inlet,
         const trade::Limits& limits, std::vector<BeadLine>& beads) {
  const joint::End& end = inlet ? joint.downstream : joint.upstream;
  if (!end.row || !end.beaded || end.flexible)
    return; // a port's bead is there already
  BeadLine& line = beads.emplace_back();
  line.piece = reference(work, run, *end.row);
  line.title = build::title(run.pieces[*end.row]);
  line.inlet = inlet;
  line.outer_diameter_m = end.outer_diameter_m;
  line.from_end_m = limits.bead_from_end_m;
  line.width_m = limits.bead_width_m;
  line.height_m = limits.bead_height_m;
  line.welded = joint.kind == joint::Kind::weld;
  line.land_m = end.land_m;
  if (joint.kind != joint::Kind::hose)
    return;
  line.over_bead_m = line.bead_diameter_m() + (joint.hose().outer_diameter_m - joint.hose().bore_m);
  if (joint.clamp != nullptr)
    line.clamp_opens_m = joint.clamp->clamp_max_m;
}

} // namespace

void list_beads(const Work& work, const trade::Limits& limits, Lists& lists) {
  for (std::size_t i = 0; i < work.runs.size(); ++i)
    for (const joint::Joint& joint : work.fits[i].joints) {
      add(work, *work.runs[i], joint, false, limits, lists.beads);
      add(work, *work.runs[i], joint, true, limits, lists.beads);
    }
}

} // namespace bellmouth::list
