// SPDX-License-Identifier: GPL-3.0-or-later
// What the engine draws.
#include <bellmouth/machine.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

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

double Engine::crank_work_J_kg() const {
  return work_per_air_J_kg.value_or(default_work_per_air_J_kg);
}

double Engine::crank_power_W(double mass_flow_kg_s) const {
  return mass_flow_kg_s * (1 - lost_in_scavenging) * crank_work_J_kg();
}

double pulsation_factor_undamped(int cylinders, int strokes) {
  assert(cylinders >= 1 && (strokes == 2 || strokes == 4));
  using std::numbers::pi;
  const double interval = pi * strokes / cylinders;
  // Mean square from the pulse's correlation with those it overlaps; the mean of a pulse is 2/interval.
  double sum = pi / 2;
  const int overlapped = static_cast<int>(std::ceil(pi / interval)) - 1; // nearer than a pulse is long
  for (int k = 1; k <= overlapped; ++k) {
    const double shift = k * interval;
    sum += (pi - shift) * std::cos(shift) + std::sin(shift);
  }
  return interval / 4 * sum;
}

} // namespace bellmouth::machine
