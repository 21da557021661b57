// SPDX-License-Identifier: GPL-3.0-or-later
#include "walls.hpp"

#include <bellmouth/flow/heat.hpp>

#include <algorithm>
#include <cmath>

namespace bellmouth::flow {
namespace {

/// Relative change of a conductance that no longer matters: it moves the temperatures a thousandth as much.
constexpr double settled = 1e-8;
constexpr int most_turns = 12;

/// What each wall lets through in the state of a trace.
std::vector<double> conductances(const Path::Impl& path, const Variation& variation, const Trace& trace) {
  std::vector<double> found(path.walls.size(), 0.0);
  for (std::size_t i = 0; i < variation.elements->size(); ++i) {
    const auto* heat = std::get_if<HeatElement>(&(*variation.elements)[i].law);
    if (heat == nullptr)
      continue;
    const Wall& wall = path.walls[heat->wall];
    const auto& passage = trace.passages[i];
    const double reynolds = passage.flow_before_kg_s * wall.bore_m /
                            (disc_m2(wall.bore_m) * path.air.viscosity_Pa_s(passage.temperature_before_K));
    found[heat->wall] =
        wall_heat(path.air, {wall.bore_m,
                             wall.bore_m + 2 * wall.wall_m,
                             wall.length_m,
                             wall.material,
                             wall.lagging,
                             passage.flow_before_kg_s,
                             passage.temperature_before_K,
                             loss::darcy_friction_factor(reynolds, wall.relative_roughness),
                             {path.bay->temperature_K, path.bay->speed_m_s, path.ambient_pressure_Pa}})
            .conductance_W_K;
  }
  return found;
}

} // namespace

Solution settle(const Path::Impl& path, Variation& variation, double engine_speed_rev_s,
                const OperatingPoint* near) {
  Solution solution = solve(path, variation, engine_speed_rev_s, near);
  if (path.walls.empty())
    return solution;
  int marches = solution.point.iterations;
  for (int turn = 0; turn < most_turns && solution.point.usable(); ++turn) {
    auto found = conductances(path, variation, trace(path, variation, solution));
    double change = 0;
    for (std::size_t i = 0; i < found.size(); ++i)
      change = std::max(change, variation.conductance_W_K.empty()
                                    ? 1.0
                                    : std::abs(found[i] / variation.conductance_W_K[i] - 1));
    variation.conductance_W_K = std::move(found);
    if (change < settled)
      break;
    const OperatingPoint from = solution.point;
    solution = solve(path, variation, engine_speed_rev_s, &from);
    marches += solution.point.iterations;
  }
  solution.point.iterations = marches;
  return solution;
}

} // namespace bellmouth::flow
