// SPDX-License-Identifier: GPL-3.0-or-later
// The two-term law of filters and cooler cores.
#include <bellmouth/machine.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::machine {

double TwoTermDrop::drop_Pa(double volume_flow_m3_s, double density_kg_m3, double viscosity_Pa_s) const {
  return volume_flow_m3_s *
         (viscous_per_m3 * viscosity_Pa_s + inertial_per_m4 * density_kg_m3 * std::abs(volume_flow_m3_s));
}

TwoTermDrop fit_drop(const std::vector<RatedPoint>& points, double density_kg_m3, double viscosity_Pa_s) {
  assert(!points.empty() && density_kg_m3 > 0 && viscosity_Pa_s > 0);
  // y = A + B Q with y = dp / Q.
  const auto count = static_cast<double>(points.size());
  double mean_flow = 0, mean_ratio = 0;
  for (const auto& point : points) {
    assert(point.volume_flow_m3_s > 0 && point.drop_Pa > 0);
    mean_flow += point.volume_flow_m3_s / count;
    mean_ratio += point.drop_Pa / point.volume_flow_m3_s / count;
  }
  double flow_spread = 0, both_spread = 0, flow_square = 0, drop_sum = 0;
  for (const auto& point : points) {
    const double off = point.volume_flow_m3_s - mean_flow;
    flow_spread += off * off;
    both_spread += off * (point.drop_Pa / point.volume_flow_m3_s - mean_ratio);
    flow_square += point.volume_flow_m3_s * point.volume_flow_m3_s;
    drop_sum += point.drop_Pa; // y Q
  }
  const TwoTermDrop inertial_alone{0.0, drop_sum / flow_square / density_kg_m3};
  if (flow_spread <= 1e-18 * flow_square)
    return inertial_alone;
  const double slope = both_spread / flow_spread;
  const double intercept = mean_ratio - slope * mean_flow;
  if (intercept < 0)
    return inertial_alone;
  if (slope < 0)
    return {mean_ratio / viscosity_Pa_s, 0.0};
  return {intercept / viscosity_Pa_s, slope / density_kg_m3};
}

TwoTermDrop fit_rated(const std::vector<RatedPoint>& points) {
  const air::Mixture dry;
  return fit_drop(points, dry.density_kg_m3(rating_pressure_Pa, rating_temperature_K),
                  dry.viscosity_Pa_s(rating_temperature_K));
}

double Filter::factor() const {
  switch (state) {
  case FilterState::clean:
    return 1;
  case FilterState::dirty:
    return dirty_factor;
  case FilterState::wet:
    return dirty_factor * wet_factor;
  }
  assert(false);
  return 1;
}

TwoTermDrop Filter::drop(double pulsation_factor) const {
  assert(pulsation_factor >= 1);
  const TwoTermDrop clean = fit_rated(rated);
  return {factor() * clean.viscous_per_m3, factor() * pulsation_factor * clean.inertial_per_m4};
}

} // namespace bellmouth::machine
