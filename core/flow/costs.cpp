// SPDX-License-Identifier: GPL-3.0-or-later
// What each thing costs the engine: found by solving again with that thing lossless.
#include "varied.hpp"

namespace bellmouth::flow {

Costs costs(const Path::Impl& path, const OperatingPoint& point) {
  const Varied varied(path, point);
  const OperatingPoint& now = varied.solution().point;
  const auto cost = [&](const auto& ideal) {
    const OperatingPoint then = varied.with_ideal(ideal);
    if (!then.usable())
      return Cost{};
    return Cost{true, then.mass_flow_kg_s - now.mass_flow_kg_s, then.crank_power_W - now.crank_power_W,
                then.manifold_pressure_Pa - now.manifold_pressure_Pa};
  };
  Costs out;
  for (std::size_t step = 0; step < path.steps.size(); ++step) {
    const StepPlan& plan = path.steps[step];
    const auto of_step = [step](const Element& element) { return element.step == step; };
    if (!plan.is_run) {
      out.machines.push_back(cost(of_step));
      continue;
    }
    Costs::Run run{cost(of_step), {}};
    for (std::size_t row = 0; row < plan.rows.size(); ++row)
      run.rows.push_back(
          cost([&](const Element& element) { return element.step == step && element.row == row; }));
    out.runs.push_back(std::move(run));
  }
  out.ducting = cost([&](const Element& element) { return path.steps[element.step].is_run; });
  return out;
}

} // namespace bellmouth::flow
