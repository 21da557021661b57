// SPDX-License-Identifier: GPL-3.0-or-later
#include "varied.hpp"

#include <bellmouth/machine/bands.hpp>

#include <algorithm>
#include <cassert>

namespace bellmouth::flow {

Variation as_it_is(const Path::Impl& path) {
  return {&path.elements, &path.joined, path.tuning, {}};
}

Varied::Varied(const Path::Impl& path, const OperatingPoint& point)
    : path_(path), variation_(as_it_is(path)),
      solution_(settle(path, variation_, point.engine_speed_rev_s, &point)),
      trace_(flow::trace(path, variation_, solution_)) {
  assert(solution_.point.usable());
}

namespace {

/// A factor moved by `deviation` half widths of its band; it stays a factor.
double moved(double deviation, double low, double high) {
  return std::max(0.0, 1 + deviation * (deviation < 0 ? low : high));
}

} // namespace

std::pair<double, double> Varied::width_of(const TunedDoubt& doubt) const {
  const bool of_blower = doubt.what == &Tuning::blower_filling || doubt.what == &Tuning::blower_efficiency;
  bool outside = of_blower && std::ranges::any_of(trace_.blown, &Blown::outside_map);
  if (doubt.what == &Tuning::cooling)
    for (std::size_t i = 0; i < trace_.passages.size(); ++i)
      if (const auto* cooling = std::get_if<CoolingElement>(&path_.elements[i].law)) {
        const auto& passage = trace_.passages[i];
        outside =
            outside || path_.coolers[cooling->cooler]
                           .act(passage.flow_before_kg_s, path_.air.cp_J_kgK(passage.temperature_before_K))
                           .outside_table;
      }
  const double least = outside ? machine::outside_points_band.half_width : 0;
  return {std::max(doubt.plan.low, least), std::max(doubt.plan.high, least)};
}

Path::Deviated Varied::deviated(const std::vector<double>& deviations) const {
  assert(deviations.size() == path_.doubts.size() + path_.tuned_doubts.size());
  std::vector<Element> elements = path_.elements;
  Variation variation{&elements, &elements, variation_.tuning, variation_.conductance_W_K};
  for (std::size_t i = 0; i < elements.size(); ++i) {
    Element& element = elements[i];
    if (element.doubt == none || deviations[element.doubt] == 0)
      continue;
    const DoubtPlan& plan = path_.doubts[element.doubt];
    double low = plan.low, high = plan.high;
    if (plan.own) {
      const auto& passage = trace_.passages[i];
      const double drop = passage.pressure_before_Pa - passage.pressure_behind_Pa;
      if (drop <= 0)
        continue;
      low = 1 - passage.low_Pa / drop;
      high = passage.high_Pa / drop - 1;
    }
    element.scale *= moved(deviations[element.doubt], low, high);
  }
  for (std::size_t i = 0; i < path_.tuned_doubts.size(); ++i) {
    const TunedDoubt& doubt = path_.tuned_doubts[i];
    const auto [low, high] = width_of(doubt);
    variation.tuning.*doubt.what *= moved(deviations[path_.doubts.size() + i], low, high);
  }
  for (double& conductance : variation.conductance_W_K)
    conductance *= variation.tuning.wall_heat;
  const Solution found = solve(path_, variation, solution_.point.engine_speed_rev_s, &solution_.point);
  Path::Deviated result{found.point, {}};
  if (found.point.usable())
    result.run_drops_Pa = run_drops_Pa(path_, flow::trace(path_, variation, found));
  return result;
}

} // namespace bellmouth::flow
