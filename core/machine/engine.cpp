// SPDX-License-Identifier: GPL-3.0-or-later
// What the engine draws.
#include <bellmouth/machine.hpp>

#include <algorithm>
#include <cassert>

namespace bellmouth::machine {

double Engine::volumetric_efficiency(double speed_rev_s) const {
  assert(!efficiency.empty());
  const auto above =
      std::upper_bound(efficiency.begin(), efficiency.end(), speed_rev_s,
                       [](double speed, const EfficiencyPoint& point) { return speed < point.speed_rev_s; });
  if (above == efficiency.begin())
    return efficiency.front().volumetric_efficiency;
  if (above == efficiency.end())
    return efficiency.back().volumetric_efficiency;
  const auto& low = *(above - 1);
  const double share = (speed_rev_s - low.speed_rev_s) / (above->speed_rev_s - low.speed_rev_s);
  return low.volumetric_efficiency + share * (above->volumetric_efficiency - low.volumetric_efficiency);
}

double Engine::mass_flow_kg_s(double speed_rev_s, double manifold_density_kg_m3) const {
  const double fillings_per_turn = 2.0 / strokes;
  return volumetric_efficiency(speed_rev_s) * displacement_m3 * fillings_per_turn * speed_rev_s *
         manifold_density_kg_m3;
}

} // namespace bellmouth::machine
