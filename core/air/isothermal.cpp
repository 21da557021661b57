// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/air/isothermal.hpp>

#include <cassert>
#include <cmath>

namespace bellmouth::air {
namespace {

constexpr double isothermal_gamma = 1; ///< with which Fanno flow keeps its temperature

double lengthening(double pressure_ratio, Acceleration acceleration) {
  return acceleration == Acceleration::counted ? -2 * std::log(pressure_ratio) : 0;
}

} // namespace

double isothermal_friction_length(double psi, double pressure_ratio, Acceleration acceleration) {
  assert(psi > 0 && pressure_ratio > 0 && pressure_ratio <= 1);
  return (1 - pressure_ratio) * (1 + pressure_ratio) / psi - lengthening(pressure_ratio, acceleration);
}

tl::expected<double, Choked> isothermal_pressure_ratio(double psi, double friction_length,
                                                       Acceleration acceleration) {
  assert(psi > 0 && psi <= 1 && friction_length >= 0);
  if (acceleration == Acceleration::left_out) {
    const double left = 1 - psi * friction_length;
    if (!(left > 0))
      return tl::unexpected(Choked{1 / psi});
    return std::sqrt(left);
  }
  const double inlet = std::sqrt(psi);
  const auto outlet = fanno_outlet_mach(inlet, friction_length, isothermal_gamma);
  if (!outlet)
    return tl::unexpected(outlet.error());
  return inlet / *outlet; // p V is constant
}

double isothermal_flow(double pressure_ratio, double friction_length, Acceleration acceleration) {
  assert(pressure_ratio > 0 && pressure_ratio <= 1 && friction_length > 0);
  return (1 - pressure_ratio) * (1 + pressure_ratio) /
         (friction_length + lengthening(pressure_ratio, acceleration));
}

} // namespace bellmouth::air
